"""An opening line on its way from a file to the schedule."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any


@dataclass(slots=True)
class Draft:
    """One opening line: its values, the row that it was read from, and where a value is not as it was written.

    identity: what answers and edits of this line are kept by, made when it was read; several: the marks that one cell
    names; storeys: those that it is counted for; at: another field of places, and those that it is counted at;
    beside: counts that stand beside its size (how, count, text, place);
    wants: the dimensions that its row does not give, and the place where they would stand.
    """

    values: dict[str, Any]
    table: int
    row: int
    written: dict[str, str] = field(default_factory=dict)
    places: dict[str, str] = field(default_factory=dict)  # field -> place, where no table says it
    asked: set[str] = field(default_factory=set)  # fields that a question of the line's own is about
    identity: str = ""
    size: str = ""  # its cells of sizes as they stand, with the unit that their headings declare
    edited: set[str] = field(default_factory=set)  # fields that an edit gave
    several: tuple[str, ...] = ()
    storeys: tuple[str, ...] = ()
    at: tuple[str, tuple[str, ...]] = ("", ())
    again: tuple[tuple[str, str], ...] = ()  # field and place of each section that repeats it
    beside: list[tuple[str, int, str, str]] = field(default_factory=list)
    wants: tuple[str, ...] = ()
    want_place: str = ""
    places_of: list[Draft] = field(default_factory=list)  # the lines of its row, one for each place that it counts
    dropped: bool = False  # an answer says that the row is no opening
    radius: str = ""  # of its head, as a length
    rough: bool = False  # an answer gave its rough size, to which nothing is added
    each_floor: bool = False  # the count says that it is one of each storey
    part_of_count: bool = False  # its count is of a column without a place, to which others of its row are added
    cells: int = 0  # a hash of all cells of its row, by which rows that are the same are found; 0 where no table has it
    issue: str = ""  # the revision that its row or the section over it is of
    in_all: bool = False  # the count says that it is the total of all storeys

    @property
    def lines(self) -> int:
        """How many lines it becomes: one for each of its marks and places."""
        return max(len(self.several), 1) * max(len(self.storeys), 1) * max(len(self.at[1]), 1)
