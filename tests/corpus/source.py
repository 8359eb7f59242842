"""Where the marks of a schedule stand in its file: as a person would find them, by sheet and row, or by column."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from dataclasses import dataclass

from xlsxwriter.utility import xl_cell_to_rowcol, xl_col_to_name

from tests.corpus.schedule import Schedule
from tests.corpus.truth import mark_key

_PLACE = re.compile(r"^(?:(?P<sheet>.*)!)?(?:row |column )?(?P<column>[A-Z]*)(?P<row>\d*)$")
DELIMITERS = ",;|\t"


@dataclass(frozen=True)
class Place:
    """A cell, row or column that a question names; row 0 for a whole column or sheet, no column for a whole row."""

    sheet: str
    row: int
    column: str


def place_of(text: str) -> Place:
    """The place that a question or a line names."""
    match = _PLACE.match(text)
    if match is None:
        return Place(text.rpartition("!")[0], 0, "")
    return Place(match["sheet"] or "", int(match["row"] or 0), match["column"])


class Source:
    """The cells of a described file."""

    def __init__(self, schedule: Schedule) -> None:
        marks = {opening.mark for opening in schedule.truth}
        self.transposed = "transposed" in schedule.layout
        self.places: dict[str, set[Place]] = {mark: set() for mark in marks}
        for place, text in cells(schedule):
            key = mark_key(text)
            for mark in marks:
                if key == mark or has_word(key, mark):
                    self.places[mark].add(place)
        self.marked = {self.band(place) for places in self.places.values() for place in places}

    def band(self, place: Place) -> tuple[str, str]:
        """The row that a place stands in; the column, where the openings are columns."""
        return (place.sheet, place.column if self.transposed and place.column else str(place.row))

    def holds(self, place: Place, mark: str) -> bool:
        """Whether a place stands in a row with this mark."""
        return self.band(place) in {self.band(one) for one in self.places.get(mark, ())}

    def general(self, place: Place) -> bool:
        """Whether a place is a heading, title, section, note or sheet: any row without a mark."""
        return self.band(place) not in self.marked


def cells(schedule: Schedule) -> Iterator[tuple[Place, str]]:
    """All cells of a described file."""
    said = schedule.described
    lines = str(said.get("csv", said.get("paste", ""))).split("\n")
    delimiter = max(DELIMITERS, key=lambda mark: sum(line.count(mark) for line in lines))
    for number, line in enumerate(lines, 1):
        for column, text in enumerate(next(csv.reader([line], delimiter=delimiter), ())):
            yield Place("", number, xl_col_to_name(column)), text.strip()
    for sheet in said.get("xlsx", ()):
        rows, columns = xl_cell_to_rowcol(sheet.get("start", "A1"))
        for r, line in enumerate(sheet["rows"].split("\n")):
            for c, text in enumerate(line.split("|")):
                yield Place(sheet["sheet"], rows + r + 1, xl_col_to_name(columns + c)), text.strip()


def has_word(text: str, word: str) -> bool:
    """Whether a text holds a mark as a word of its own."""
    return bool(word) and re.search(rf"(?<![\w-]){re.escape(word)}(?![\w-])", text.upper()) is not None
