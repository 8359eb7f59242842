"""Columns of words whose cells say better than a two-way heading what they hold: methods, exterior or interior."""

from __future__ import annotations

import re
from dataclasses import replace

from estimating.intake.cell_sizes import LEVELS
from estimating.intake.column_contents import ENOUGH, cells_of, share
from estimating.intake.headings import Heading
from estimating.intake.scope_words import read_words
from estimating.intake.tables import Table
from estimating.intake.wall_words import is_construction, is_elevation, says_outside
from estimating.intake.words import method_word

# Smaller bare numbers under HEAD and SILL are of details, or of a level that a known height has no need of
LEAST_LEVEL = 16
_JAMB = re.compile(r"jambs?", re.IGNORECASE)
_CODE = re.compile(r"\w{1,3}|.*\d.*")


def refine_words(table: Table) -> None:
    """A system that no cell calls fluid or tape is a type; flashing one does, a method; Wall: Ext. or CMU, no place."""
    take_details(table)
    for column, heading in list(table.columns.items()):
        cells = cells_of(table, column)
        methods = any(method_word(cell)[0] for cell in cells)
        if heading.field == "method" and "type" in heading.choices and cells and not methods:
            if not all(map(_CODE.fullmatch, cells)):
                name = "type" if table.column("type") is None else "property"
                table.columns[column] = replace(heading, field=name, path=(name,))
        elif heading.field == "scope" and "method" in heading.choices and methods:
            if names_methods(table):  # heard with the remarks: FLASHING: tape beside METHOD: fluid
                table.columns[column] = replace(heading, field="note", path=("note",))
                continue
            if (held := table.column("method")) is not None:  # FLASHING | TAPE, of which that one has widths or nothing
                table.columns[held] = replace(table.columns[held], field="property", path=("property",))
            table.columns[column] = replace(heading, field="method", path=("method",))
        elif heading.field in ("elevation", "room") and share(cells, says_outside) >= ENOUGH:
            if table.column("external") is None:
                table.columns[column] = replace(heading, field="external", path=("external",))
        elif heading.field == "elevation" and share(cells, is_construction) >= ENOUGH:
            name = "substrate" if table.column("substrate") is None else "property"
            table.columns[column] = replace(heading, field=name, path=(name,))
        elif heading.field == "substrate" and table.column("elevation") is None and cells:
            if all(map(is_elevation, cells)) and not any(map(is_construction, cells)):
                table.columns[column] = replace(heading, field="elevation", path=("elevation",))


def names_methods(table: Table) -> bool:
    """Whether a cell of the column of methods names one."""
    held = table.column("method")
    return held is not None and any(method_word(cell)[0] for cell in cells_of(table, held))


def take_details(table: Table) -> None:
    """HEAD, JAMB and SILL over small numbers are the numbers of details, where the height has a column of its own."""
    if table.column("height") is None and table.column("size") is None:
        return
    for column, head in enumerate(table.headings):
        meant = table.columns.get(column)
        level = meant is not None and meant.field in LEVELS and "source" in meant.choices and not meant.unit
        cells = cells_of(table, column) if level or _JAMB.fullmatch(head.strip()) else []
        if cells and all(cell.isdecimal() and int(cell) < LEAST_LEVEL for cell in cells):
            table.columns[column] = Heading("source", path=("source",), title=head)


def is_out(cell: str) -> bool:
    """Whether a cell of a column of methods says that no work is done, or whose it is."""
    return bool(read_words(cell).of("scope")) or cell.strip(" .").lower() in ("none", "no", "nil")
