"""One line of an opening schedule: the fields that belong to it and not to its kind, and what alternates make of it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from operator import itemgetter
from typing import Any, NamedTuple

from estimating.core.kind_reading import kind_fields
from estimating.core.length_fields import names_of_lengths
from rates.core.fields import Faults, Field, ListOf, Reader, Record, choice, text, whole
from rates.core.problems import Problem

MOST_QUANTITY = 1_000_000
MOST_NAME, MOST_NOTE = 80, 1000  # characters
DASHES = re.compile("[\u2010-\u2015\u2212\ufe58\ufe63\uff0d]")
ALTERNATE_KINDS = ADD, DEDUCT, SUBSTITUTE = "add", "deduct", "substitute"


class Alternate(NamedTuple):
    """A named alternate as a line says it.

    add: the line comes in where the alternate is accepted; deduct: it stands in the base and goes out; substitute: it
    comes in and every base line of the marks that it replaces goes out.
    """

    name: str
    kind: str = ADD
    replaces: tuple[str, ...] = ()


def check_alternate(alternate: Alternate, pointer: str, faults: Faults) -> None:
    """A substitute, and nothing else, replaces marks."""
    if alternate.kind == SUBSTITUTE and not alternate.replaces:
        faults.append(Problem(pointer + "/replaces", "missing", "a substitute names the marks that it replaces"))
    elif alternate.kind != SUBSTITUTE and alternate.replaces:
        detail = f"only a substitute replaces marks; this alternate is a kind of {alternate.kind}"
        faults.append(Problem(pointer + "/replaces", "not_for_alternate", detail))


class Replaced:
    """Reader of one mark, or of a list of them."""

    schema: Mapping[str, Any] = {"oneOf": [text(80).schema, ListOf(text(80), 1, 500).schema]}

    def read(self, raw: object, pointer: str, faults: Faults) -> Any:
        """The marks."""
        if isinstance(raw, list | tuple):
            return ListOf(text(80), 1, 500).read(raw, pointer, faults)
        return (text(80).read(raw, pointer, faults),)


NAMED = Record(
    lambda name, kind, replaces: Alternate(name, kind, replaces or ()),
    (
        Field("name", text(40), "the alternate's number or name", required=True),
        Field("kind", choice(*ALTERNATE_KINDS), "what accepting it does to the line", default=ADD),
        Field("replaces", Replaced(), "marks of the base that a substitute stands for"),
    ),
    check_alternate,
    title="Alternate",
)


class AlternateReader:
    """Reader of an alternate: its number alone (an add), or {name, kind, replaces}."""

    schema: Mapping[str, Any] = {"oneOf": [text(40).schema, NAMED.schema]}
    fields = NAMED.fields

    def read(self, raw: object, pointer: str, faults: Faults) -> Any:
        """The alternate."""
        if isinstance(raw, Mapping):
            return NAMED.read(raw, pointer, faults)
        return Alternate(text(40).read(raw, pointer, faults))


EXCLUDED = Record(lambda reason: reason, (Field("reason", text(300), "why it is not priced", required=True),))
SOURCE = Record(
    lambda **v: tuple(v.items()),
    (
        Field("sheet", text(100), "drawing sheet"),
        Field("detail", text(100), "detail"),
        Field("revision", text(100), "revision"),
        Field("date", text(40), "date"),
        Field("counted_by", text(100), "who counted"),
    ),
)
ANY_LENGTH = Reader(lambda raw: raw if isinstance(raw, int | str) else str(raw), {"type": ["string", "number"]})


@lru_cache(maxsize=32)
def line_fields(unit: str | None) -> tuple[Field, ...]:
    """The fields that belong to the line and not to its kind, lengths in the document's unit."""
    return (
        Field("id", text(MOST_NAME), "a stable id of the line"),
        Field("mark", text(MOST_NAME), "the opening's label as drawn", required=True),
        Field("quantity", whole(0, MOST_QUANTITY), "how many", required=True),
        Field("elevation", text(MOST_NAME, blank=True), "elevation", default=""),
        Field("storey", text(MOST_NAME, blank=True), "storey", default=""),
        Field("building", text(MOST_NAME, blank=True), "building, by which a price can be broken out", default=""),
        Field("phase", text(MOST_NAME, blank=True), "phase, by which a price can be broken out", default=""),
        Field("storey_elevation", ANY_LENGTH, "height of the storey's floor; kept, not priced"),
        Field("excluded", EXCLUDED, "stays visible, priced 0"),
        Field("alternate", AlternateReader(), "the alternate it belongs to; only of a deduct is it priced in the base"),
        Field("source", SOURCE, "where it was read"),
        Field("confidence", choice("counted", "scaled", "assumed"), "how sure the count is"),
        Field("note", text(MOST_NOTE, blank=True), "a note"),
    )


LINE_FIELDS = line_fields(None)
LINE_NAMES = tuple(f.name for f in LINE_FIELDS)
# every field of a line, its kind's as well, that is a length
LENGTH_NAMES = names_of_lengths((*LINE_FIELDS, *kind_fields(None)))


class Line(NamedTuple):
    """One line: `kind` indexes Schedule.kinds (None: excluded without a size); reason: why it is not priced.

    alternate: the name of the one that keeps it out of the base; offer: what is said of an alternate that does more
    than come in.
    """

    mark: str
    mark_key: str
    quantity: int
    elevation: str
    storey: str
    kind: int | None
    reason: str | None
    alternate: str | None
    source: tuple[tuple[str, str], ...] | None
    id: str | None
    building: str = ""
    phase: str = ""
    offer: Alternate | None = None

    @property
    def place(self) -> tuple[str, str, str, str]:
        """Elevation, storey, building and phase."""
        return self.elevation, self.storey, self.building, self.phase

    @property
    def priced(self) -> bool:
        """Whether the line counts in the base price."""
        return self.reason is None and self.alternate is None

    @property
    def alternate_name(self) -> str | None:
        """The alternate that it belongs to, in the base or out of it."""
        return self.alternate if self.offer is None else self.offer.name

    @property
    def alternate_kind(self) -> str:
        """What its alternate does to it."""
        return ADD if self.offer is None else self.offer.kind


class Place(tuple[str, str]):
    """(elevation, storey) as the first line there writes it, and the index of that line."""

    line: int


def places_of(lines: Sequence[Line], indexes: Sequence[int]) -> list[Place]:
    """Where the lines at these indexes are, each place once."""
    first = {(lines[i].elevation, lines[i].storey): i for i in reversed(indexes)}
    found = []
    for written, i in sorted(first.items(), key=itemgetter(1)):
        place = Place(written)
        place.line = i
        found.append(place)
    return found


def quantities(lines: Sequence[Line], worked: Iterable[int]) -> dict[int, int]:
    """How many openings of each kind the lines at these indexes ask for."""
    found: dict[int, int] = {}
    for i in worked:
        _, _, quantity, _, _, kind = lines[i][:6]
        if kind is not None and quantity:
            found[kind] = found.get(kind, 0) + quantity
    return found


def place_key(name: str) -> str:
    """An elevation or storey for comparing."""
    return " ".join(name.split()).casefold()


class LinesOfZone(NamedTuple):
    """The lines of one elevation and storey by their indexes, and how many openings of each kind they ask for."""

    lines: list[int]
    counts: dict[int, int]


def zoned(lines: Sequence[Line], indexes: Iterable[int]) -> list[LinesOfZone]:
    """The lines at these indexes by elevation and storey, in order of first appearance."""
    found: dict[tuple[str, str], list[int]] = {}
    keys: dict[tuple[str, str], tuple[str, str]] = {}
    for i in indexes:
        line = lines[i]
        written = (line.elevation, line.storey)
        key = keys.get(written)
        if key is None:
            key = keys[written] = (place_key(line.elevation), place_key(line.storey))
        found.setdefault(key, []).append(i)
    return [LinesOfZone(of_zone, quantities(lines, of_zone)) for of_zone in found.values()]


@lru_cache(maxsize=20_000)
def mark_key(mark: str) -> str:
    """A mark for comparing: upper case, trimmed, dashes unified; `01` never becomes `1`."""
    return DASHES.sub("-", " ".join(mark.upper().split()))


def check_alternates(lines: Sequence[tuple[int, Line]], base: str, faults: Faults) -> None:
    """An alternate is of one kind, and a substitute replaces marks that stand in the base."""
    kinds: dict[str, tuple[str, int]] = {}
    named = [(i, line) for i, line in lines if line.alternate is not None or line.offer is not None]
    known = {line.mark_key for _, line in lines if line.priced} if named else set()
    for i, line in named:
        name, kind, offer = line.alternate_name or "", line.alternate_kind, line.offer
        first, where = kinds.setdefault(name, (kind, i))
        if first != kind:
            detail = f'the alternate "{name}" is a kind of {first} on opening line {where + 1} and of {kind} here'
            faults.append(Problem(f"{base}/{i}/alternate", "alternate_of_two_kinds", detail))
        for mark in offer.replaces if offer is not None else ():
            if mark_key(mark) not in known:
                detail = f'the base has no line of the mark "{mark}" that this substitute replaces'
                faults.append(Problem(f"{base}/{i}/alternate/replaces", "unknown_mark", detail))
