"""Where openings stand, in a cell, a heading or a title: storeys, elevations, buildings, units; and multipliers.

Common practice, no source. English, German, French, Spanish. A list of places (LEVELS 2 THRU 5, BLDG A & B) is told
apart from a count of places that are not named (4 FLOORS, TYPICAL OF 4 UNITS), which multiplies. Whether a count holds
for each place of a list or for all of them is for a person to say.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from estimating.intake.count_words import RULES, CountPart, read_part
from estimating.intake.folding import compose, fold
from estimating.intake.place_patterns import (
    ELEVATION_WORDS,
    LETTERS,
    NAMED_ELEVATIONS,
    NAMED_STOREYS,
    NAMES,
    STOREY_PATTERNS,
    TYPICAL,
    TYPICAL_FLOORS,
    elevation_letters,
)  # fmt: skip

MOST = 300  # characters that are read; what stands behind is residue
SEPARATORS = " .,;:=|()[]{}-_+/&@"
MOST_PLACES = 200
_MULTIPLIERS = tuple((name, pattern) for name, pattern in RULES if name in ("typical", "per", "times_places"))
_NUMBERS = re.compile(r"\d{1,3}")
_BARE = re.compile(
    r"\s*\d{1,3}(?:st|nd|rd|th)?(?:\s*(?:-|to|thru|through|bis|,|&|and|/)\s*\d{1,3}(?:st|nd|rd|th)?)*\s*"
)
_STEP = re.compile(r"-|\b(?:to|thru|through|bis|a|al|au|hasta)\b")
_BETWEEN = r"\s*(?:-|TO|THRU|BIS|A)\s*"
_NUMBERED = re.compile(rf"([A-Z]?)(\d{{1,3}}){_BETWEEN}([A-Z]?)(\d{{1,3}})")
_LETTERED = re.compile(rf"([A-Z]){_BETWEEN}([A-Z])")
_UNITS_ON = re.compile(r"\w+s\b[^\w]*[lf]\d{1,2}(?!\d).*|\w+\b[^\w]*[lf]\d{1,2}\s*(?:-|to|thru)\s*[lf]\d{1,2}(?!\d).*")


@dataclass(frozen=True, slots=True)
class Place:
    """A place that a text names.

    kind: storey, elevation, building or unit; name: one spelling for each place (Level 2, 2.OG, North); could_be: the
    names it may have where it is two-way (O is east in German, west in French and Spanish).
    """

    kind: str
    name: str
    text: str
    could_be: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Places:
    """All places of a text, what multiplies a count there, and the rest.

    typical: TYP or the like stands with the places. bare: the storeys are numbers without a word beside them.
    """

    places: tuple[Place, ...] = ()
    multipliers: tuple[CountPart, ...] = ()
    typical: bool = False
    bare: bool = False
    residue: str = ""
    consumed: tuple[str, ...] = ()

    def names(self, kind: str) -> tuple[str, ...]:
        """The names of the places of a kind."""
        return tuple(dict.fromkeys(place.name for place in self.places if place.kind == kind))


Span = tuple[int, int]


class Scan:
    """A text from which stretches are taken, each once."""

    def __init__(self, text: str) -> None:
        self.plain = compose(text)
        self.folded = fold(self.plain[:MOST])
        self.spans: list[Span] = []
        self.found: list[tuple[int, Place | CountPart]] = []

    def take(self, span: Span, *found: Place | CountPart) -> bool:
        """Take a stretch with what it says, unless part of it is taken."""
        if span[0] == span[1] or any(start < span[1] and span[0] < end for start, end in self.spans):
            return False
        self.spans.append(span)
        self.found += [(span[0], one) for one in found]
        return True

    def text(self, span: Span) -> str:
        """A stretch as written."""
        return self.plain[span[0] : span[1]].strip()


@lru_cache(maxsize=20_000)
def read_places(text: str) -> Places:
    """The places and multipliers that a text names."""
    scan = Scan(text)
    bare = bool(_BARE.fullmatch(scan.folded))
    if bare:
        whole = (0, len(scan.folded))
        scan.take(whole, *(Place("storey", name, scan.plain.strip()) for name in numbered(scan.folded, "")))
    for match in TYPICAL_FLOORS.finditer(scan.folded):
        scan.take(match.span(), CountPart("per", None, scan.text(match.span()), "floor"))
    take_named(scan)
    for word, pattern in STOREY_PATTERNS:
        for match in pattern.finditer(scan.folded):
            names = numbered(match[0], word)
            scan.take(match.span(), *(Place("storey", name, scan.text(match.span())) for name in names))
    for kind, words in (("storey", NAMED_STOREYS), ("elevation", NAMED_ELEVATIONS)):
        for name, pattern in words:
            for match in pattern.finditer(scan.folded):
                scan.take(match.span(), Place(kind, name, scan.text(match.span())))
    take_letters(scan)
    for name, pattern in _MULTIPLIERS:
        for match in pattern.finditer(scan.folded):
            scan.take(match.span(), *read_part(name, match, scan.plain))
    typical = [match.span() for match in TYPICAL.finditer(scan.folded) if scan.take(match.span())]
    for match in ELEVATION_WORDS.finditer(scan.folded):
        scan.take(match.span())
    return gathered(scan, bool(typical), bare)


def gathered(scan: Scan, typical: bool, bare: bool) -> Places:
    """What was taken, in the order of the text."""
    found = [one for _, one in sorted(scan.found, key=lambda pair: pair[0])]
    spans = sorted(scan.spans)
    return Places(
        tuple(one for one in found if isinstance(one, Place)),
        tuple(one for one in found if isinstance(one, CountPart)),
        typical, bare, left_over(scan.plain, spans), tuple(scan.text(span) for span in spans),
    )  # fmt: skip


def numbered(text: str, word: str) -> list[str]:
    """The names of a range or a list of numbered storeys: Level 2 ... Level 5."""
    numbers = [int(number) for number in _NUMBERS.findall(text)]
    if len(numbers) == 2 and _STEP.search(text) and numbers[0] < numbers[1] <= numbers[0] + MOST_PLACES:
        numbers = list(range(numbers[0], numbers[1] + 1))
    return [word.format(number) if "{" in word else f"{word} {number}".strip() for number in numbers]


def take_named(scan: Scan) -> None:
    """Buildings, units and elevations with a name: BLDG A & B, UNITS 1-4, ELEVATION C; UNITS L2 are on a level."""
    for kind, word, pattern in NAMES:
        for match in pattern.finditer(scan.folded):
            if not (kind == "unit" and _UNITS_ON.fullmatch(match[0])):
                names = names_of(match["names"].upper())
                scan.take(match.span(), *(Place(kind, f"{word} {name}", scan.text(match.span())) for name in names))


def names_of(names: str) -> list[str]:
    """The names of a list or a range: A & B, 1-4, A1-A4."""
    parts = [part for part in re.split(r"\s*(?:,|&|/|\+|\bAND\b|\bUND\b|\bET\b|\bY\b)\s*", names) if part]
    if steps := _NUMBERED.fullmatch(names):
        first, last = int(steps[2]), int(steps[4])
        if first < last <= first + MOST_PLACES and steps[3] in ("", steps[1]):
            return [f"{steps[1]}{n}" for n in range(first, last + 1)]
    if (steps := _LETTERED.fullmatch(names)) and steps[1] < steps[2]:
        return [chr(n) for n in range(ord(steps[1]), ord(steps[2]) + 1)]
    return parts


def take_letters(scan: Scan) -> None:
    """Elevations by their letters, where a word of elevations stands beside them or nothing else does."""
    for match in elevation_letters(scan.folded):
        names = []
        for letter in re.findall(r"[a-z]+", match["letters"].replace(".", "")):
            could_be = LETTERS.get(letter, ())
            if could_be:
                doubt = could_be if len(could_be) > 1 else ()
                names.append(Place("elevation", could_be[0], scan.text(match.span()), doubt))
        if names:
            scan.take(match.span(), *names)


def left_over(plain: str, spans: list[Span]) -> str:
    """What stands outside the spans, without the signs around it."""
    pieces, behind = [], 0
    for start, end in [*spans, (len(plain), len(plain))]:
        pieces.append(" ".join(plain[behind:start].split()).strip(SEPARATORS))
        behind = max(behind, end)
    return " ".join(piece for piece in pieces if piece)
