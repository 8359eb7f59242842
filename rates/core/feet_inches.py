"""Feet and inches as drawings write them: one grammar for reading, and its inverse for printing.

After spelling variants are folded (curly quotes and primes to ' and ", two apostrophes to ", every kind of space to
one space, every kind of dash to -, ½ to 1/2, ² and ³ after a letter to 2 and 3, letters to lower case):

    length   = ["-"] ( feet [ join inches ] | amount unit )          a value with its unit
             | ["-"] amount                                          takes the unit the document declares
             | ["-"] whole "-" inches [ inch-mark ]                  only where the document declares "ft-in"
    feet     = amount foot-mark          foot-mark = ' | ft | foot | feet       (whole where inches follow)
    inches   = amount [ inch-mark ]      inch-mark = " | in | inch | inches     (under 12 where feet stand before)
    join     = a space, or a dash with or without spaces about it, or nothing (not in "5 ft2", which is an area)
    amount   = decimal | [ whole (space | "-") ] whole "/" whole     (after a whole part the fraction is under 1)
    decimal  = digits [ "." digits ] | "." digits                    ASCII digits only, no exponent
"""

from __future__ import annotations

import re
import unicodedata

from rates.core.exact import read_decimal, round_half_up, shorten
from rates.core.fraction import Fraction
from rates.core.problems import Unreadable

INCH_NM = 25_400_000
LONGEST_TEXT = 64

_FOLD = str.maketrans(
    {
        **dict.fromkeys("‘’‛′ʹʼ´＇", "'"),
        **dict.fromkeys("“”‟″ʺ＂", '"'),
        **dict.fromkeys("‐‑‒–—−－", "-"),
        **dict.fromkeys("\u00a0\u2007\u2009\u200a\u202f\u2002\u2003\t", " "),
        **dict.fromkeys("⁄∕", "/"),
        "μ": "u",
        "µ": "u",
    }
)
_FRACTIONS = {sign: unicodedata.normalize("NFKC", sign).replace("\u2044", "/") for sign in "½¼¾⅛⅜⅝⅞⅓⅔⅕⅖⅗⅘⅙⅚⅐⅑⅒"}
_FRACTION_SIGN = re.compile("[" + "".join(_FRACTIONS) + "]")
_POWER_SIGN = re.compile("(?<=[a-z])[²³]")
_DECIMAL = r"(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)"
_AMOUNT = rf"(?:(?:[0-9]+(?: |- ?))?[0-9]+ ?/ ?[0-9]+|{_DECIMAL})"
_FOOT_WORD = r"(?:ft\.?|foot|feet)"
_INCH_MARK = r"(?:\"|in\.?|inch|inches)"
# "5 ft2" is an area: behind a foot word, inches need something before them or their mark after them.
_FEET_INCHES = re.compile(
    rf"({_AMOUNT}) ?(?:'(?: ?-? ?({_AMOUNT}) ?{_INCH_MARK}?)?"
    rf"|{_FOOT_WORD}(?:(?: ?- ?| )({_AMOUNT}) ?{_INCH_MARK}?|({_AMOUNT}) ?{_INCH_MARK})?)"
)
_DASHED = re.compile(rf"([0-9]+)-({_AMOUNT}) ?{_INCH_MARK}?")
_MIXED = re.compile(r"(?:([0-9]+)(?: |- ?))?([0-9]+) ?/ ?([0-9]+)")
AMOUNT_UNIT = re.compile(rf"({_AMOUNT}) ?(\"|'|[a-z][a-z. ]*[23]?|)")


def fold(text: str) -> tuple[int, str]:
    """The sign (1 or -1) and the rest of the text in the spelling of the grammar above.

    Unreadable: blank, too_long (over 64 characters).
    """
    if len(text) > LONGEST_TEXT:
        raise Unreadable("too_long", f"{shorten(text)} is longer than {LONGEST_TEXT} characters.")
    plain = _FRACTION_SIGN.sub(lambda sign: f" {_FRACTIONS[sign[0]]} ", text.translate(_FOLD)).lower()
    plain = _POWER_SIGN.sub(lambda sign: "2" if sign[0] == "²" else "3", plain)
    plain = " ".join(word for word in plain.replace("''", '"').split(" ") if word)
    if not plain:
        raise Unreadable("blank", "The value is blank; a blank is unknown, not zero.")
    return (-1, plain[1:].lstrip(" ")) if plain.startswith("-") else (1, plain)


def read_amount(text: str) -> Fraction:
    """The exact value of a decimal, a fraction or a whole with a fraction (4 3/8, 4-3/8, 8 0/4).

    Unreadable: zero_denominator, improper_fraction (4 9/8), or as read_decimal.
    """
    match = _MIXED.fullmatch(text)
    if match is None:
        return read_decimal(text, max_digits=20, max_places=18)
    whole, top, bottom = (read_decimal(part or "0", max_digits=20) for part in match.groups())
    if bottom == 0:
        raise Unreadable("zero_denominator", f"{shorten(text)} divides by zero.")
    if match[1] is not None and top >= bottom:
        raise Unreadable("improper_fraction", f"In {shorten(text)} the fraction after the whole part is not under 1.")
    return whole + top / bottom


def match_feet(plain: str) -> tuple[str, str | None] | None:
    """The feet and the inches of a folded text with a foot mark, or None where it has no such form."""
    match = _FEET_INCHES.fullmatch(plain)
    return (match[1], match[2] or match[3] or match[4]) if match else None


def match_dashed(plain: str) -> tuple[str, str] | None:
    """The feet and the inches of 6-8, 7-0-1/2 or 7-0 1/2, which mean feet and inches only where so declared."""
    match = _DASHED.fullmatch(plain)
    return (match[1], match[2]) if match and not _MIXED.fullmatch(f"{match[1]}-{match[2]}") else None


def join_feet_inches(feet: str, inches: str) -> Fraction:
    """Feet and inches in inches, exact.

    Unreadable: feet_not_whole (6.5' 3"), inches_not_under_12 (5'-14"), or as read_amount.
    """
    foot, inch = read_amount(feet), read_amount(inches)
    if foot.denominator != 1 or not feet.isdigit():
        raise Unreadable("feet_not_whole", f"Inches follow {shorten(feet)} feet, which is no whole number of feet.")
    if inch >= 12:
        raise Unreadable("inches_not_under_12", f"{shorten(inches)} inches after feet is not under 12.")
    return 12 * foot + inch


def print_feet_inches(nm: Fraction | int, denominator: int = 16) -> str:
    """A length as 4'-2 1/8", or 2 1/8" under a foot; nm in nanometres.

    Rounded to 1/denominator in, half away from zero, the fraction in lowest terms. Reads back to the rounded length.
    """
    parts = round_half_up(abs(Fraction(nm)) * denominator / INCH_NM)
    whole, top = divmod(parts, denominator)
    feet, inches = divmod(whole, 12)
    rest = Fraction(top, denominator)
    fraction = f"{rest.numerator}/{rest.denominator}" if rest else ""
    shown = f"{inches} {fraction}".strip() if feet or inches or not rest else fraction
    text = f"{feet}'-{shown}\"" if feet else f'{shown}"'
    return "-" + text if nm < 0 and parts else text
