"""A count as people write it: its values, what multiplies it, per what, and which two readings it could have.

Common practice, no source. Nothing is added up or multiplied here: 2+3 has two addends, 2 pr two pairs (a pair of
doors is one rough opening and two leaves, so a person is asked), 4 per floor a 4 and "floor".
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import lru_cache

from estimating.intake.folding import compose, fold

MOST = 300  # characters that are read; what stands behind is residue
SEPARATORS = " .,;:=|()[]{}-_+/"
NUMERALS = {
    word: value
    for value, words in enumerate(
        (
            "zero null zéro cero", "one single ein eine eins einer un une uno una", "two zwei deux dos",
            "three drei trois tres",
            "four vier quatre cuatro", "five fünf cinq cinco", "six sechs seis", "seven sieben sept siete",
            "eight acht huit ocho", "nine neun neuf nueve", "ten zehn dix diez", "eleven elf onze once",
            "twelve zwölf douze doce",
        )
    )
    for word in fold(words).split()
}  # fmt: skip
NOTHING = frozenset(
    "- -- --- none no nil null n/a na nein keine kein k.a. aucun aucune neant ninguno ninguna sin /".split()
)
UNKNOWN = frozenset("? tbd tbc varies var var. unknown verify vif offen a definir a confirmer".split()) | {
    "a definir",
    "por definir",
    "por confirmar",
    "a confirmer",
}
_NUMERAL = "|".join(sorted(NUMERALS, key=len, reverse=True))
_DOZEN = r"(?:dozens?|do?z\b\.?|dutzend|douzaines?|docenas?)"
_PER = {
    "floor": (
        r"floors?|flrs?|fl|levels?|lvls?|store?ys?|stories|geschoss(?:e|en)?|etagen?|stockwerke?|og"
        r"|niveaux?|etages?|plantas?|niveles|nivel|pisos?"
    ),
    "building": r"buildings?|bldgs?|blocks?|towers?|gebaude|haus(?:er)?|batiments?|bat|edificios?|bloques?|torres?",
    "unit": (
        r"units?|apts?|apartments?|suites?|houses?|homes?|plots?|wohnung(?:en)?|we|einheit(?:en)?"
        r"|logements?|appartements?|maisons?|viviendas?|apartamentos?|casas?"
    ),
    "elevation": r"elevations?|elevs?|facades?|fassaden?|ansicht(?:en)?|fachadas?|alzados?|faces?",
    "side": r"sides?|seiten?|cotes?|lados?|ends?",
    "room": r"rooms?|rms?|raum|zimmer|pieces?|chambres?|habitacion(?:es)?|bays?",
    "opening": r"openings?|opngs?|ro|frames?|offnung(?:en)?|baies?|huecos?",
}
_ANY_PER = "|".join(f"(?P<per_{name}>{words})" for name, words in _PER.items())
_UNITS = (
    r"ea|each|pcs?|pieces?|no|nos|off|qty|units?|sets?|openings?|windows?|doors?|louv(?:er|re)s?|stk"
    r"|st|stuck|mal|u|un|ud|uds|unidades|unites?|ens|req(?:'?d)?|required|total|thus|places?|locations?|x"
)


RULES: tuple[tuple[str, re.Pattern[str]], ...] = tuple(
    (name, re.compile(pattern))
    for name, pattern in (
        ("half_dozen", rf"(?<![\w/])(?:half|halbes|demi|media)[\s-]*(?:a\s*)?{_DOZEN}(?![a-z])"),
        (
            "dozen",
            rf"(?<![\w.,/])(?:(?P<n>\d{{1,4}}(?![.,/]?\d)|{_NUMERAL}|an?)\s*)?(?<![a-z]){_DOZEN}(?:\s*(?:of|de))?(?![a-z])",
        ),
        ("fraction", r"(?P<n>\d+\s+\d+/\d+|\d+/\d+|\d*[¼½¾])(?!\s*(?:x|\d))"),
        ("thousands", r"(?P<n>\d{1,3}[.,]\d{3})(?!\d)"),
        ("decimal", r"(?P<n>\d+[.,](?!0+(?!\d))\d+)"),
        ("range", r"(?P<n>\d{1,4})\s*(?:-|to|bis|a)\s*(?P<m>\d{1,4})(?![\d'\"])"),
        ("part_of", r"(?P<n>\d{1,4})\s*(?:of|von|sur|de)\s*(?P<m>\d{1,4})(?!\d)"),
        ("either", r"(?P<n>\d{1,4})\s*(?:or|oder|ou|o)\s*(?P<m>\d{1,4})(?!\d)"),
        (
            "hands",
            (
                r"(?P<n>\d{1,4})\s*(?P<a>lhr?|rhr?|l|r|left|right|links|rechts|li|re|din l|din r|gauche|droite|g"
                r"|d|izq|dcha)\b\.?\s*(?:/|,|\+|&|and|und|et|y|;)?\s*(?P<m>\d{1,4})\s*(?P<b>lhr?|rhr?|l|r|left"
                r"|right|links|rechts|li|re|din l|din r|gauche|droite|g|d|izq|dcha)\b\.?"
            ),
        ),
        (
            "per",
            (
                rf"(?:(?P<n>\d{{1,6}})\s*(?:ea|each|stk|x|u)?\.?\s*)?(?:/|\bper\b|\beach\b|\bea\b\.?|\bevery\b"
                rf"|\ba\b|\bje\b|\bpro\b|\bpar\b|\bpor\b|\bcada\b|\bchaque\b|\bon "
                rf"each\b)\s*(?P<what>{_ANY_PER})\b\.?"
            ),
        ),
        (
            "times_places",
            (
                rf"(?:typ(?:ical)?\b\.?\s*)?(?:x|@|on|at|for"
                rf"|of)?\s*\(?(?P<n>\d{{1,4}})\)?\s*(?P<what>{_ANY_PER})\b\.?(?:\s*thus\b)?"
            ),
        ),
        (
            "typical",
            r"\(?\btyp(?:ical|isch|ique)?\b\.?\s*(?:x|of|at|for|@|\()?\s*(?P<n>\d{1,6})(?!\d|\s*(?:-|to|thru)\s*\d)\)?",
        ),
        ("typical", r"\(?(?P<n>\d{1,6})\s*typ(?:ical)?\b\.?\)?"),
        ("pairs", r"(?:\(?(?P<n>\d{1,4})\)?\s*)?(?:pairs?|prs?|paare?|paires?|pares|par)\b\.?"),
        ("times", r"\(?\bx\s*(?P<n>\d{1,6})\b\)?"),
        ("times", r"\(?(?<![\w.,])(?P<n>\d{1,6})\s*x(?![a-z0-9])\)?"),
        (
            "part",
            (
                r"\(?\s*(?:(?P<sign>\+|plus|less|minus|incl\.?|davon|dont)\s*)?(?P<n>\d{1,4})\s*(?P<word>future"
                r"|fut|existing|exist|exg|nic|new|opp(?:osite)?|alt(?:ernate)?|spare|deleted|added|by others|sim"
                r"|mirrored|reversed|handed|neu|bestand|existants?|existentes?|nuev[oa]s?"
                r"|futur[oae]?s?)\b\.?\s*\)?"
            ),
        ),
        ("add", r"(?:\+|&|\bplus\b|\band\b|\bund\b|\bet\b)\s*(?P<n>\d{1,6})(?![\d.,]*\d)"),
        ("less", r"(?:\b(?:less|minus)\b|(?<=\d)\s*-\s*(?=\d+\s*$))\s*(?P<n>\d{1,6})"),
        ("each", rf"\(?(?<![\w.,])(?P<n>\d{{1,9}})(?:[.,]0+)?\s*(?:{_UNITS})\b\.?\)?"),
        (
            "each",
            (
                r"(?:qty|quantity|count|total|no|nos|anzahl|menge|qte|cant)\b\.?\s*(?:of"
                r"|[:=])?\s*(?P<n>\d{1,9})(?:[.,]0+)?(?![\d.,]*\d)"
            ),
        ),
        ("bracket", r"\(\s*(?P<n>\d{1,9})(?:[.,]0+)?\s*\)|\[\s*(?P<n2>\d{1,9})\s*\]"),
        ("number", r"(?<![\w.,/'-])(?P<n>\d{1,9})(?:[.,]0+)?(?![\w,/'\"]|\.\d)"),
        ("word", rf"(?<![a-z])(?P<n>{_NUMERAL})(?![a-z])"),
    )
)


@dataclass(frozen=True, slots=True)
class CountPart:
    """One piece of a count.

    how: number, each (with a unit of counting), bracket, word, dozen (twelve times its number), times (x2),
    typical (TYP x 4), pairs, per (4 per floor: per says floor, building, unit, elevation, side, room or opening; count
    None without a number), places (4 floors), add (+ 3), less, part (2 future: `word` says which), left, right, part_of
    (12 of 16: 12), whole (the 16), low, high (2-4), either, readings (1,200 as 1200 and as 1.2), fraction (no count).
    """

    how: str
    count: int | None
    text: str
    per: str = ""
    word: str = ""


@dataclass(frozen=True, slots=True)
class CountText:
    """All that a count says. plain: the count where it is one and nothing else is said, None otherwise.

    signs: plus, minus, about and the like that belong to no part, as in 6+/- and (2) + (3).
    """

    parts: tuple[CountPart, ...] = ()
    state: str = "counted"  # counted, nothing (none, a dash, n/a), unknown (TBD, ?), unread
    readings: tuple[str, ...] = ()
    residue: str = ""
    consumed: tuple[str, ...] = field(default=())
    signs: str = ""

    @property
    def plain(self) -> int | None:
        """The one count that a cell such as 4, 4.0, (4), 4 EA or two says."""
        one = self.parts[0] if len(self.parts) == 1 else None
        plain = (
            one is not None
            and one.how in ("number", "each", "bracket", "word", "dozen")
            and not self.residue
            and not self.signs
        )
        return one.count if one is not None and plain else None

    @property
    def addends(self) -> tuple[int, ...]:
        """The counts that are written side by side, to be added or not: 2+3, 3R/2L, 2 + 1 opp."""
        hows = ("number", "each", "bracket", "word", "dozen", "add", "left", "right", "part", "pairs")
        return tuple(part.count for part in self.parts if part.how in hows and part.count is not None)

    @property
    def multipliers(self) -> tuple[CountPart, ...]:
        """What multiplies the count, or may: x2, TYP x 4, per floor, 4 floors."""
        return tuple(part for part in self.parts if part.how in ("times", "typical", "per", "places"))

    @property
    def doubtful(self) -> bool:
        """Whether a person must say what the count is."""
        return self.plain is None


@lru_cache(maxsize=20_000)
def read_count_text(text: str) -> CountText:
    """The pieces of a count, in their order."""
    plain = compose(text)
    folded = fold(plain[:MOST])
    bare = " ".join(folded.split())
    if not bare or bare in NOTHING or bare in UNKNOWN:
        state = "unknown" if not bare or bare in UNKNOWN else "nothing"
        return CountText(state=state, consumed=(plain.strip(),) if bare else ())
    spans: list[tuple[int, int, tuple[CountPart, ...]]] = []
    readings: tuple[str, ...] = ()
    for name, pattern in RULES:
        for match in pattern.finditer(folded):
            if any(start < match.end() and match.start() < end for start, end, _ in spans):
                continue
            parts = tuple(read_part(name, match, plain))
            if name in ("thousands", "fraction", "decimal"):
                readings += readings_of(match["n"]) if name == "thousands" else ()
            spans.append((match.start(), match.end(), parts))
    spans.sort(key=lambda span: span[0])
    parts = tuple(part for _, _, found in spans for part in found)
    consumed = tuple(plain[start:end].strip() for start, end, _ in spans)
    return CountText(
        parts, "counted" if parts else "unread", readings, left_over(plain, spans), consumed, loose_signs(folded, spans)
    )


def read_part(name: str, match: re.Match[str], plain: str) -> list[CountPart]:
    """What one stretch of a count says."""
    text = plain[match.start() : match.end()].strip()
    groups = match.groupdict()
    if name in ("thousands", "decimal", "fraction"):
        return [CountPart({"thousands": "readings"}.get(name, "fraction"), None, text)]
    count = number_of(groups.get("n") or groups.get("n2"))
    if name in ("dozen", "half_dozen"):
        return [CountPart("dozen", 6 if name == "half_dozen" else 12 * (1 if count is None else count), text)]
    second = number_of(groups.get("m"))
    if name in ("range", "part_of", "either"):
        hows = {"range": ("low", "high"), "part_of": ("part_of", "whole"), "either": ("either", "either")}[name]
        return [CountPart(hows[0], count, text), CountPart(hows[1], second, "")]
    if name == "hands":
        return [CountPart(hand_of(match["a"]), count, text), CountPart(hand_of(match["b"]), second, "")]
    if name in ("per", "times_places"):
        per = next(key[4:] for key, value in groups.items() if key.startswith("per_") and value)
        return [CountPart("per" if name == "per" else "places", count, text, per)]
    if name == "pairs":
        return [CountPart("pairs", 1 if count is None else count, text)]
    return [CountPart(name, count, text, word=groups.get("word") or "")]


def number_of(text: str | None) -> int | None:
    """A number in digits or in a word."""
    return None if text is None else int(text) if text.isdigit() else NUMERALS.get(text)


def hand_of(word: str) -> str:
    """Left or right."""
    return "left" if word.startswith(("l", "g", "izq", "din l")) else "right"


def readings_of(text: str) -> tuple[str, ...]:
    """The two numbers that 1,200 or 1.200 could be."""
    whole, places = re.split("[.,]", text)
    return (f"{whole}{places}", f"{whole}.{places}")


def loose_signs(folded: str, spans: list[tuple[int, int, tuple[CountPart, ...]]]) -> str:
    """The signs outside of the parts that make a count doubtful; a dash between blanks only sets words apart."""
    kept, behind = "", 0
    for start, end, _ in [*spans, (len(folded), len(folded), ())]:
        kept += folded[behind:start] + " "
        behind = max(behind, end)
    return "".join(re.findall(r"[+±~≈<>?*]|(?<![a-z0-9] )[-/](?=\s*$)", kept))


def left_over(plain: str, spans: list[tuple[int, int, tuple[CountPart, ...]]]) -> str:
    """What stands outside the spans, without the signs around it."""
    pieces, behind = [], 0
    for start, end, _ in [*spans, (len(plain), len(plain), ())]:
        pieces.append(" ".join(plain[behind:start].split()).strip(SEPARATORS))
        behind = max(behind, end)
    return " ".join(piece for piece in pieces if piece)
