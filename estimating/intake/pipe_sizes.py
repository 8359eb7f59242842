"""Outside diameters of pipe by its nominal size: ASME B36.10M, in inches; DN beside NPS (values from memory, to be
confirmed against the standard before a bid relies on one). Iron pipe sizes (IPS) have the same outside diameters.

A text is one nominal size, exactly, or none: 2-1/2, 2 1/2, 2½ and 2.5 are one number, 40/50 and 2.6 none."""

from __future__ import annotations

import re
import unicodedata

from estimating.intake.folding import compose, fold
from rates.core.fraction import Fraction
from rates.core.problems import Unreadable
from rates.core.units import LENGTH_NM, read_length

OUTSIDE_INCHES = {
    "1/8": "0.405", "1/4": "0.540", "3/8": "0.675", "1/2": "0.840", "3/4": "1.050", "1": "1.315", "1-1/4": "1.660",
    "1-1/2": "1.900", "2": "2.375", "2-1/2": "2.875", "3": "3.500", "3-1/2": "4.000", "4": "4.500", "5": "5.563",
    "6": "6.625", "8": "8.625", "10": "10.750", "12": "12.750",
} | {str(size): f"{size}.000" for size in (*range(14, 38, 2), *range(40, 50, 2))}  # fmt: skip
NPS_OF_DN = {
    6: "1/8", 8: "1/4", 10: "3/8", 15: "1/2", 20: "3/4", 25: "1", 32: "1-1/4", 40: "1-1/2", 50: "2",
    65: "2-1/2", 80: "3", 90: "3-1/2", 100: "4", 125: "5", 150: "6",
} | {size * 25: str(size) for size in (*range(8, 38, 2), *range(40, 50, 2))}  # fmt: skip
_NUMBER = r"[0-9]{1,4}(?:\.[0-9]{1,3})?(?:[ -]?[0-9]{1,2}/[0-9]{1,2})?|[0-9]{1,2}/[0-9]{1,2}"
_INCH = r"(?:\s*(?:\"|''|in(?:ch(?:es)?)?\b\.?))?"
_KIND = r"(?:nps|ips|nominal(?: pipe)?(?: size)?|nom\b\.?)"
_SCHEDULE = r"(?:\s*,?\s*(?:sch(?:ed(?:ule)?)?\b\.?\s*[0-9]{1,3}s?|std|xs|xxs)\b\.?)?"
_FORMS = tuple(
    re.compile(pattern)
    for pattern in (
        rf"{_KIND}\s*[-:]?\s*(?P<size>{_NUMBER}){_INCH}{_SCHEDULE}",
        rf"(?P<size>{_NUMBER}){_INCH}\s*\(?{_KIND}\)?{_SCHEDULE}",
        rf"(?P<size>{_NUMBER}){_INCH}\s*,?\s*sch(?:ed(?:ule)?)?\b\.?\s*[0-9]{{1,3}}s?",
    )
)
_DN = re.compile(r"(?:dn\s*-?\s*(?P<size>[0-9]{1,4})|(?P<size2>[0-9]{1,4})\s*dn)(?:\s*mm)?")
_WHOLE = re.compile(r"([0-9]{1,4})(?:\.0+)?\s*mm")
_SAID = re.compile(r"\bnom(?:inal)?\b", re.IGNORECASE)
_HEADING = re.compile(
    r"\bnps\b|\bips\b|\bdn\b|\bnominal pipe\b|\bpipe\b.*\bnom(?:inal)?\b|\bnom(?:inal)? dia|nennweite", re.IGNORECASE
)
BARE = re.compile(rf"(?:{_NUMBER}){_INCH}")
LONE = re.compile(rf"(?:{_NUMBER})\s*(?:\"|''|in(?:ch(?:es)?)?\b\.?|mm|cm)", re.IGNORECASE)  # a length with its unit
_SIGN = r"(?:[øØ⌀]|dia(?:m(?:eter)?)?\b\.?|round\b|rd\b\.?|o\.?\s?d\b\.?)"
_HOLE = r"(?:sleeves?|core(?:[ -]?(?:drill(?:ed)?|hole))?|cored(?: hole)?|pipes?|conduits?|emt)"
_ROUND = re.compile(rf"^{_SIGN}\s*[:=]?\s*|\s*(?:{_SIGN}|\b{_HOLE}|\bhole)(?:\s+{_HOLE})?$", re.IGNORECASE)
_OF_HOLE = re.compile(
    rf"(?P<length>{LONE.pattern})\s*(?:(?:pvc|abs|steel|galv\.?|iron)\s+)*"
    rf"(?:{_HOLE}|(?:round|rd\.?)(?: (?:ducts?|{_HOLE}))?)",
    re.IGNORECASE,
)  # a length beside what is round


def without_round(text: str) -> str:
    """A diameter without the signs and words that say it is one: Ø4 in, 4 in dia, 4 in OD, 4 in sleeve."""
    return _ROUND.sub("", text.strip()).strip()


def round_length(text: str) -> str:
    """The one length of a cell whose words tell of something round, 8" sleeve, 3" core drill; else blank."""
    found = _OF_HOLE.fullmatch(text.strip())
    return found["length"] if found else ""


def number_of(size: str) -> Fraction:
    """A nominal size such as 1-1/4, 1 1/4, 1.25 or 1/2 as a number; 0 where its fraction has no value."""
    parts = re.fullmatch(r"(?:([0-9]+(?:\.[0-9]+)?)(?:[ -]|$))?\s*(?:([0-9]+)/([0-9]+))?", size)
    if parts is None or (parts[3] and int(parts[3]) == 0):
        return Fraction(0)
    whole, _, places = (parts[1] or "0").partition(".")
    return Fraction(int(whole + places), 10 ** len(places)) + (
        Fraction(int(parts[2]), int(parts[3])) if parts[3] else Fraction(0)
    )


NAMES = {number_of(size): size for size in OUTSIDE_INCHES}


def outside_diameter(text: str) -> str | None:
    """The outside diameter of NPS 4, DN 100, or of a length such as 4 in; None where it is no one known size."""
    plain = " ".join(fold(spread_fractions(text)).split())
    size: str | None = ""
    if named := next((match for form in _FORMS if (match := form.fullmatch(plain))), None):
        size = NAMES.get(number_of(named["size"]))
    elif dn := _DN.fullmatch(plain) or _WHOLE.fullmatch(plain):
        size = NPS_OF_DN.get(int(next(group for group in dn.groups() if group)))
    else:
        try:
            size = NAMES.get(Fraction(read_length(text).nm, LENGTH_NM["in"]))
        except Unreadable:
            return None
    inches = OUTSIDE_INCHES.get(size or "")
    return f"{inches} in" if inches else None


def spread_fractions(text: str) -> str:
    """2½ as 2 1/2."""
    return "".join(
        f" {unicodedata.normalize('NFKD', char).replace(chr(0x2044), '/')}"
        if unicodedata.category(char) == "No"
        else char
        for char in compose(text)
    ).strip()


def says_nominal(text: str) -> bool:
    """Whether the words of a pipe's size say that it is a nominal one: 4" nominal."""
    return bool(_SAID.search(text))


def says_pipe(text: str) -> bool:
    """Whether a size is said as a nominal pipe size: NPS 2, DN 50."""
    return bool(_HEADING.search(text))


def nominal_heading(heading: str) -> str:
    """NPS or DN where a heading says that its sizes are nominal pipe sizes, blank where it doesn't."""
    found = _HEADING.search(heading)
    return ("DN" if found[0].lower() in ("dn", "nennweite") else "NPS") if found else ""
