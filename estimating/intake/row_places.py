"""The cells of storey, elevation, building and phase: one each; several, counts and other words are asked about.

N & S, A-C, all, West (2 thus), N-4 S-2, 3 floors: the count is at each of these places, or in all of them.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from estimating.intake.doubts import Doubt, Doubts
from estimating.intake.draft import Draft
from estimating.intake.expansion import storeys_of
from estimating.intake.folding import compose, fold
from estimating.intake.multipliers import times_of
from estimating.intake.place_headings import BETWEEN, KINDS, LEVELS, MANY, SPAN, counts_in, says_several
from estimating.intake.places_words import read_places
from estimating.intake.remark_doubts import lists_places
from estimating.intake.row_words import Hearing, Own
from estimating.intake.scope_words import Heard, read_words

_ROOM = r"[A-Za-z]?[0-9]{1,4}[A-Za-z]?|\b[A-Z]\b"
_ROOMS = re.compile(
    rf"(?:(?:rooms?|rms?|units?|apts?|apartments?|flats?|suites?)\b\.?\s*)?((?:{_ROOM})(?:\s*(?:,|&|;|\band\b)\s*(?:{_ROOM}))+)",
    re.IGNORECASE,
)
_ROOM_RANGE = re.compile(
    r"(?:rooms|rms|units|apts|apartments|flats|suites)\.?\s*([0-9]{1,4})\s*(?:-|–|to|thru|through)\s*([0-9]{1,4})",
    re.IGNORECASE,
)
_NUMBERS = re.compile(r"([0-9]{3,4})\s*(?:-|–|to|thru)\s*([0-9]{3,4})")
_SIDES = re.compile(r"[nsew](?: [nsew])+|ns|sn|ew|we|(?=[nsew]{3,4}$)(?:([nsew])(?!.*\1))+")  # N S, NS, NSEW
_LETTERS = re.compile(r"[a-z]|[0-9]{1,2}")


@lru_cache(maxsize=20_000)
def names_in(cell: str, kind: str) -> tuple[str, ...]:
    """The places of a kind that a cell names one by one; none where it names them otherwise."""
    said = read_places(cell)
    names = tuple(dict.fromkeys(place.name for place in said.places if KINDS[place.kind] == kind))
    if not names and kind == "building" and len({place.kind for place in said.places}) == 1 and not said.bare:
        names = tuple(dict.fromkeys(place.name for place in said.places))
    if names or kind == "storey" or said.residue != cell.strip():
        return names if not said.residue and "All" not in names else ()
    parts = re.split(r"\s*(?:,|&|/|\+|;|\band\b)\s*", cell.strip())
    return tuple(parts) if len(parts) > 1 and all(_LETTERS.fullmatch(part.lower()) for part in parts) else ()


def doubt_of_places(draft: Draft, name: str, cell: str, place: str) -> Doubt | None:
    """The doubt of a cell that stands for several places; None where it stands for one, or is asked about elsewhere."""
    if counted := counts_in(cell):
        if draft.values.get("quantity") == sum(counted):
            return None
        return Doubt(
            "several_places",
            draft,
            place,
            cell,
            (),
            {"on_all": {}, str(sum(counted)): {"quantity": sum(counted)}},
            "",
            name,
        )
    folded = fold(compose(cell)).strip(" .")
    span = name == "storey" and bool(SPAN.fullmatch(folded))
    levels = name == "storey" and bool(LEVELS.fullmatch(folded))
    letters = name == "elevation" and bool(_SIDES.fullmatch(folded))
    kind = "building" if name == "phase" else name  # a phase is named as a building is
    if not (says_several(cell, kind) or span or letters or levels) or (name == "storey" and storeys_of(cell)):
        return None
    names, times = names_in(cell, kind), times_of(cell)
    parts = names if len(names) > 1 and not span else ()
    if levels and not parts and not span:
        parts = tuple(re.split(BETWEEN, cell.strip(), maxsplit=1))
    options: dict[str, dict[str, object]] = {"on_each": {}} if parts or times else {}
    return Doubt(
        "several_places",
        draft,
        place,
        cell,
        (),
        {**options, "on_all": {}},
        "" if parts else str(times or ""),
        name,
        parts,
    )


def hear_number(drafts: Sequence[Draft], name: str, cell: str, place: str, own: Own, doubts: Doubts) -> None:
    """A number where other lines have letters, a 2 among buildings A and B: its name, or how many of them."""
    for draft in drafts if int(cell) > 1 else ():
        options: dict[str, dict[str, object]] = {"on_each": {}, "on_all": {}}
        doubts.note(Doubt("several_places", draft, place, cell, (), options, cell, name))
        own("several_places")


def hear_rooms(drafts: Sequence[Draft], cell: str, place: str, own: Own, doubts: Doubts) -> None:
    """Several rooms or units in a cell, 101, 102 & 103, unless the line counts as many openings."""
    number = rooms_in(cell)
    for draft in drafts if number > 1 else ():
        if draft.values.get("quantity") not in (0, number):
            options: dict[str, dict[str, object]] = {"on_each": {}, "on_all": {}}
            doubts.note(Doubt("several_places", draft, place, cell, (), options, str(number), "room"))
            own("several_places")
    many = MANY.search(fold(compose(cell)).strip(" .")) or lists_places(cell)
    heard = any(finding.topic != "typical" for finding in read_words(cell).of("count"))
    for draft in drafts if number < 2 and many and not heard else ():
        doubts.note(Doubt("several_places", draft, place, cell, (), {"on_all": {}}, "", "room"))
        own("several_places")


@lru_cache(maxsize=20_000)
def rooms_in(cell: str) -> int:
    """How many rooms or units a cell names by their numbers or letters; 0 where it names them otherwise."""
    if span := _ROOM_RANGE.fullmatch(cell.strip()):
        return max(0, int(span[2]) - int(span[1]) + 1)
    if (bare := _NUMBERS.fullmatch(cell.strip())) and len(bare[1]) == len(bare[2]) and bare[1] < bare[2]:
        return int(bare[2]) - int(bare[1]) + 1
    found = _ROOMS.fullmatch(cell.strip())
    return len(re.findall(_ROOM, found[1])) if found else 0


@lru_cache(maxsize=20_000)
def says_one(name: str, cell: str) -> bool:
    """Whether a cell names one place and says nothing else, as most do."""
    said = read_places(cell)
    if said.residue or len(said.places) != 1 or said.multipliers or said.typical or read_words(cell).findings:
        return False
    return doubt_of_places(Draft({}, 0, 0), name, cell, "") is None


def hear_places(
    drafts: Sequence[Draft], name: str, cell: str, place: str, own: Own, hearing: Hearing, doubts: Doubts
) -> None:  # fmt: skip
    """All that is asked about one cell of places: several of them, and words of scope, shape and count in it."""
    if says_one(name, cell):
        return
    asked = False
    for draft in drafts:
        if (doubt := doubt_of_places(draft, name, cell, place)) is not None:
            doubts.note(doubt)
            own(doubt.code)
            asked = True
    heard = read_words(cell)
    left = bool(read_places(cell).residue)  # R-1 is a storey, no radius
    words = heard.of("scope", "shape") if left else ()
    listed = read_places(cell).names("building" if name == "phase" else name) or (name == "storey" and storeys_of(cell))
    count = () if asked or counts_in(cell) or listed else heard.of("count")
    if words or count or heard.of("delta"):
        hearing.findings(drafts, Heard((*words, *heard.of("delta"), *count)), cell, place, own)
