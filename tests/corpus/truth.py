"""Truth lines, and what of an opening line is compared: mark, kind, quantity, exact shape, place and state.

A line of truth is `mark | quantity kind | size | elevation, storey, building | state`. A size is `36 x 48 in`,
`900 x 1200 mm`, `3'-0" x 4'-0"`, `round 30 in`, `ellipse 48 x 30 in`, `pipe 4.5 in`, `half_round_top 36 s 48 in`,
`segmental_top 60 s 48 r 12 in`, `polygon 3 48 x 36 in` (corners and the box around them) or `-` (unknown).
A quantity `?` is one that the file does not give of a line set aside. A state is nothing (priced), `set_aside why` or
`alternate name`. `*` is a place that is not compared, and a storey of `2-5` stands for one line on each.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

MM = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000), "in": Fraction(254, 10), "ft": Fraction(3048, 10)}
ANY = "*"
UNKNOWN = -1  # a quantity that was not read, or that nobody can read
PRICED, SET_ASIDE, ALTERNATE = "priced", "set_aside", "alternate"
_FEET = re.compile(r"""(\d+)'-(\d+)(?: (\d+)/(\d+))?\"""")
_STOREY = re.compile(
    r"\b(?:levels?|lvl|floors?|fl|flr|storeys?|stories|l|f|niveau|étage|planta|piso)\b\.?|(?<=\d)(?:st|nd|rd|th|f)\b"
)
_ELEVATION = re.compile(r"\b(?:buildings?|bldg|block|elevations?|elev|side|wall|facade|façade|face|ansicht)\b\.?")
COMPASS = {"n": "north", "s": "south", "e": "east", "w": "west"}


@dataclass(frozen=True, order=True)
class Opening:
    """One kind of opening at one place, as it is compared; lengths in mm, `name` of an alternate."""

    mark: str
    kind: str
    shape: tuple[str, ...]
    elevation: str
    storey: str
    building: str
    state: str
    name: str = ""
    quantity: int = 0

    def __str__(self) -> str:
        """As a line of truth, lengths in inches."""
        name, *sizes = self.shape or ("-",)
        corners = sizes[:1] if name == "polygon" else []
        inches = [size if size == "?" else str(Fraction(size) / MM["in"]) for size in sizes[len(corners) :]]
        size = " ".join((name, *corners, *inches, "in"))
        place = ",".join((self.elevation, self.storey, self.building)).rstrip(",")
        return f"{self.mark}|{self.quantity} {self.kind}|{size}|{place}|{self.state} {self.name}".strip()


def read_truth(text: str) -> tuple[Opening, ...]:
    """The openings of a truth text."""
    found: list[Opening] = []
    for line in text.splitlines():
        if line.strip():
            found += read_line(line)
    return tuple(found)


def read_line(line: str) -> list[Opening]:
    """The openings of one line of truth: one, or one for each storey of a range."""
    mark, counted, size, place, state, *_ = [part.strip() for part in (line + " | | |").split("|")]
    count, kind = counted.split()
    quantity = UNKNOWN if count == "?" else int(count)
    elevation, storey, building = [part.strip() for part in (place + ",,").split(",")][:3]
    word, _, name = state.partition(" ")
    storeys = storeys_of(storey)
    share, rest = divmod(quantity, len(storeys))
    if rest:
        raise ValueError(f"{line}: the quantity is no multiple of the storeys")
    return [
        Opening(
            mark_key(mark),
            kind,
            read_size(size),
            place_key(elevation),
            storey_key(one),
            place_key(building),
            word or PRICED,
            name if word == ALTERNATE else "",
            share,
        )  # fmt: skip
        for one in storeys
    ]


def storeys_of(text: str) -> list[str]:
    """The storeys of `2-5`; the text itself where it is none."""
    match = re.fullmatch(r"(\d+)-(\d+)", text)
    return [str(n) for n in range(int(match[1]), int(match[2]) + 1)] if match else [text]


def mark_key(text: str) -> str:
    """A mark in capitals, its dashes alike, without what may stand beside it: (E), SIM, a footnote's sign, a size."""
    plain = re.sub(r"\s+", " ", text.upper().replace("–", "-").replace("—", "-")).strip()
    plain = re.sub(r"^\((?:E|N|EX|R)\) ?| \(.* X .*\)$", "", plain)
    return re.sub(r"(?<=\w)(?:\s*\*+| (?:SIM|OPP)\.?)$", "", plain)


def place_key(text: str) -> str:
    """An elevation or building without the word for it, the compass written out."""
    plain = " ".join(_ELEVATION.sub(" ", text.lower()).split())
    return COMPASS.get(plain, plain)


def storey_key(text: str) -> str:
    """A storey without the word for it: Level 2, 2nd floor and L2 are 2."""
    plain = re.sub(r"^[lf](?=\d)", "", text.lower().strip())
    return " ".join(_STOREY.sub(" ", plain).split())


def inches_of(feet: re.Match[str]) -> str:
    """3'-4 1/2" in inches."""
    return f"{int(feet[1]) * 12 + int(feet[2]) + Fraction(int(feet[3] or 0), int(feet[4] or 1))} in"


def read_size(text: str) -> tuple[str, ...]:
    """A shape's name and its exact dimensions in mm; nothing for `-`."""
    if text == "-":
        return ()
    words = _FEET.sub(inches_of, text)
    units = [word for word in words.split() if word in MM] or ["in"]
    numbers = [str(Fraction(word) * MM[units[0]]) for word in words.split() if re.fullmatch(r"[\d./]+", word)]
    name = words.split()[0] if words[0].isalpha() else "rectangle"
    if name == "polygon":
        numbers[0] = words.split()[1]
    return (name, *numbers)
