"""The law of cells over random sheets, and readings altered on purpose that it must refuse."""

from __future__ import annotations

import csv
import io
import os
import random
from collections.abc import Callable, Iterable
from dataclasses import replace

import pytest
from xlsxwriter.worksheet import Worksheet

from estimating.intake.ends import CellEnd
from estimating.intake.reading import Intake, read_file
from tests.intake.law_of_cells import broken
from tests.intake.random_sheets import FIELD, QUESTION, SET_ASIDE, RandomSheet, make_sheet
from tests.intake.workbooks import workbook
from tests.length import tries

SHEETS = int(os.environ.get("LAW_SHEETS") or tries(400, 2000))
PARTS = 8


def text_of(sheet: RandomSheet) -> str:
    """A sheet as CSV."""
    stream = io.StringIO()
    csv.writer(stream, lineterminator="\n").writerows(sheet.texts())
    return stream.getvalue()


def read_sheet(sheet: RandomSheet, seed: int = 0) -> Intake:
    """The reading of a sheet: of a workbook every tenth time, of CSV else."""
    if seed % 10 != 1:
        return read_file(text_of(sheet).encode())

    def add_parts(made: dict[str, Worksheet]) -> None:
        made["Openings"].set_header(f"&L{sheet.page}" if sheet.page else "")
        for (row, column), comment in sheet.comments.items():
            made["Openings"].write_comment(row - 1, column, comment.text)

    return read_file(workbook({"Openings": [[text or None for text in row] for row in sheet.texts()]}, add_parts))


@pytest.mark.law
@pytest.mark.parametrize("part", range(PARTS))
def test_every_cell_of_random_sheets_ends_where_it_may(part: int) -> None:
    for seed in range(part, SHEETS, PARTS):
        sheet = make_sheet(seed)
        assert broken(sheet, read_sheet(sheet, seed)) == [], f"seed {seed}:\n{text_of(sheet)}"


def ending(intake: Intake, ends: Iterable[CellEnd]) -> Intake:
    """A reading whose cells end elsewhere."""
    altered = tuple(ends)
    return replace(intake, read_ends=lambda: altered)


def without(intake: Intake, gone: Callable[[CellEnd], bool]) -> Intake:
    """A reading that says nothing of some cells."""
    return ending(intake, (end for end in intake.ends if not gone(end)))


def drop_column(intake: Intake, sheet: RandomSheet, chance: random.Random) -> Intake:
    """A reading that passed over a column."""
    column = chance.randrange(len(sheet.columns))
    return without(intake, lambda end: end.column == column)


def drop_row(intake: Intake, sheet: RandomSheet, chance: random.Random) -> Intake:
    """A reading that passed over a row that is a line, the line with it."""
    row = chance.choice(sorted(sheet.lines))
    return without(intake, lambda end: end.row == row)


def drop_line(intake: Intake, sheet: RandomSheet, chance: random.Random) -> Intake:
    """A reading whose cells end well, but which lost the lines of a row (several, where it stands for some storeys)."""
    place = intake.place
    lost = place(chance.randrange(len(intake.lines)), None)
    kept = [i for i in range(len(intake.lines)) if place(i, None) != lost]
    return replace(intake, lines=[intake.lines[i] for i in kept], place=lambda i, name: place(kept[i], name))


def drop_heading(intake: Intake, sheet: RandomSheet, chance: random.Random) -> Intake:
    """A reading that passed over a row of headings."""
    row = chance.choice(sheet.headings)
    return without(intake, lambda end: end.row == row)


def set_aside(intake: Intake, sheet: RandomSheet, chance: random.Random) -> Intake:
    """A reading that set a cell aside which is read, or asked about."""
    must = {(r, c) for r, row in enumerate(sheet.rows, 1) for c, cell in row.items() if SET_ASIDE not in cell.ends}
    place = chance.choice(sorted(must))
    aside = {"end": SET_ASIDE, "name": "not used"}
    return ending(intake, (e._replace(**aside) if (e.row, e.column) == place else e for e in intake.ends))


def answer_nobody(intake: Intake, sheet: RandomSheet, chance: random.Random) -> Intake:
    """A reading that ends a cell in a question that it does not ask."""
    place = chance.choice([end for end in intake.ends if end.end == FIELD])
    return ending(intake, (e._replace(end=QUESTION, name="never_asked") if e == place else e for e in intake.ends))


def end_twice(intake: Intake, sheet: RandomSheet, chance: random.Random) -> Intake:
    """A reading that ends a cell in two places."""
    return ending(intake, (*intake.ends, chance.choice(intake.ends)))


@pytest.mark.parametrize(
    "alter",
    [drop_column, drop_row, drop_line, drop_heading, set_aside, answer_nobody, end_twice],
    ids=lambda alter: alter.__name__,
)
def test_a_reading_that_breaks_the_law_is_found_out(
    alter: Callable[[Intake, RandomSheet, random.Random], Intake],
) -> None:
    chance, lawful = random.Random(1), 0
    for sheet in map(make_sheet, range(100)):
        reading = read_sheet(sheet)
        if not broken(sheet, reading):
            lawful += 1
            assert broken(sheet, alter(reading, sheet, chance)) != []
    assert lawful >= 30


def test_random_sheets_hold_every_kind_of_cell() -> None:
    cells = [cell for seed in range(200) for row in make_sheet(seed).rows for cell in row.values()]
    assert {FIELD, QUESTION, SET_ASIDE} <= {end for cell in cells for end in cell.ends}
    assert any(cell.ends == {QUESTION} for cell in cells)
