"""The sizes of one row: width and height from their columns or one cell, diameters, springlines, feet and inches apart.

cells > the facts settled for the table (unit, decimal comma) > fields of the line, doubts for the rest
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field, replace

from estimating.core.schedule_lines import LENGTH_NAMES
from estimating.intake.cell_sizes import LEVELS, SizeCell, code_beside, differ, names_sides, read_dimension, read_size
from estimating.intake.cells import Reading, blank, day_readings, read_cell_length, read_cell_size
from estimating.intake.doubts import Doubt, Doubts
from estimating.intake.draft import Draft
from estimating.intake.ends import QUESTION
from estimating.intake.expansion import split_typical
from estimating.intake.headings import Heading
from estimating.intake.line_answers import SET_ASIDE
from estimating.intake.pipe_sizes import nominal_heading
from estimating.intake.row_curves import ask_around, ask_radius, names_radius, put_radius
from estimating.intake.row_levels import put_between_levels
from estimating.intake.row_pipes import is_nominal, put_nominal, size_of_pipe
from estimating.intake.sizes_again import columns_again, disagreeing
from estimating.intake.tables import Table
from rates.core.grid import DATE, ERROR, NO_VALUE, GridRow

NEEDED = ("width", "height", "diameter", "size")
_COUNT_BESIDE = re.compile(r"([0-9]{1,4})\s*(?:@|x|×|-|no\.?|nos\.?|ea\.?|pcs\.?|off|:)?")
_OUTSIDE = re.compile(r"\bout(?:side|er)\b|\bo\.?\s?d\b|außen|extérieur|exterior", re.IGNORECASE)


@dataclass
class Facts:
    """What is settled for a table: unit of bare numbers by column, what a comma is, whether each line is one."""

    units: dict[int, str] = field(default_factory=dict)
    comma: str = ""
    each_is_one: bool = False
    height_first: bool = False


class SizeReader:
    """Reads the sizes of the rows of one table."""

    def __init__(self, table: Table, facts: Facts, doubts: Doubts) -> None:
        self.table, self.facts, self.doubts = table, facts, doubts
        self.size, self.points = table.column("size"), table.column("points")
        self.whole = [(c, h.field) for c, h in table.columns.items() if h.field in LENGTH_NAMES and not h.part]
        self.levels = {h.field: c for c, h in table.columns.items() if h.field in LEVELS}
        self.parts: dict[str, dict[str, int]] = {}
        self.pipes: list[tuple[Draft, int, int]] = []  # line, row and column of a pipe's size
        read = [column for column, heading in sorted(table.columns.items()) if self.reads(heading)]
        units = [table.columns[column].unit or table.unit for column in read]
        self.declared = [(column, f" {unit}" if unit else "") for column, unit in zip(read, units, strict=True)]
        for column, heading in table.columns.items():
            if heading.part and heading.field in LENGTH_NAMES:
                self.parts.setdefault(heading.field, {})[heading.part] = column
        self.again = columns_again(table)
        self.radii = [column for column, head in enumerate(table.headings) if names_radius(head)]
        self.whole = [(column, name) for column, name in self.whole if column not in self.radii]
        self.levels = {name: column for name, column in self.levels.items() if column not in self.radii}
        for name, parts in list(self.parts.items()):
            if len(parts) == 1:
                self.whole.append((next(iter(parts.values())), name))
                del self.parts[name]

    @staticmethod
    def reads(heading: Heading) -> bool:
        """Whether a column is one of sizes."""
        return heading.field in LENGTH_NAMES or heading.field in LEVELS or heading.field == "size"

    def put(self, row: GridRow, draft: Draft) -> list[tuple[int, str]]:
        """Puts the sizes of a row into its line; the words that stand beside them, by column."""
        texts: list[tuple[int, str]] = []
        for name, parts in self.parts.items():
            self.put_parts(row, draft, name, parts)
        for column, name in self.whole:
            self.put_length(row, draft, name, column, texts)
        if self.size is not None:
            self.put_size(row, draft, self.size, texts)
        for column, name in disagreeing(row, draft.values, self.again, self.facts.comma):
            said = f"{self.heading(column)}: {row.cell(column)}, {name} {draft.values[name]}"
            self.doubt("words_beside_size", row, draft, column, said)
        put_between_levels(self, row, draft)
        self.check_needed(row, draft)
        draft.size = self.written(row)
        ask_around(self, row, draft)
        ask_radius(self, row, draft)
        for column in self.radii:
            put_radius(self, row, draft, column)
        return texts

    def sized(self) -> list[tuple[int, str]]:
        """The columns of sizes that are read whole, with their fields."""
        return [*self.whole, *([(self.size, "size")] if self.size is not None else [])]

    def written(self, row: GridRow) -> str:
        """The row's cells of sizes as they stand, each with the unit that its heading or the sheet declares for it."""
        return " x ".join(cell + unit for column, unit in self.declared if (cell := row.cell(column)))

    def place(self, row: GridRow, column: int | None) -> str:
        """A cell as a person finds it."""
        return self.table.sheet.place(row.number, column)

    def put_parts(self, row: GridRow, draft: Draft, name: str, parts: dict[str, int]) -> None:
        """Feet and inches of two columns."""
        feet, inches = (row.cell(parts[part]).strip() for part in ("feet", "inches"))
        if blank(feet) and blank(inches):
            return
        feet, inches = feet.rstrip("' ") or "0", inches.rstrip('" ') or "0"
        reading = read_cell_length(f"{feet}' {inches}\"", "")
        if reading.code:
            self.note(row, draft, name, parts["feet"], f"{feet} and {inches}", reading)
        else:
            draft.values[name] = reading.text
            draft.places[name] = self.place(row, parts["feet"])

    def put_length(self, row: GridRow, draft: Draft, name: str, column: int, texts: list[tuple[int, str]]) -> None:
        """A length of its own column."""
        cell, mark = row.cell(column), row.marked.get(column)
        if name in draft.values or (blank(cell) and mark is None):
            return
        if mark in SPECIAL:
            self.note(row, draft, name, column, cell, SPECIAL[mark](cell))
            return
        if is_nominal(self, draft, column, cell):
            return put_nominal(
                self, row, draft, column, cell, f"{nominal_heading(self.heading(column))} {cell}".strip()
            )
        self.take(
            row,
            draft,
            column,
            cell,
            read_dimension(cell, name, self.facts.units.get(column, ""), self.facts.comma),
            texts,
        )

    def put_size(self, row: GridRow, draft: Draft, column: int, texts: list[tuple[int, str]]) -> None:
        """Width and height, or a diameter, from one cell."""
        cell, mark = row.cell(column), row.marked.get(column)
        if blank(cell) and mark is None:
            return
        if mark in SPECIAL:
            self.note(row, draft, "size", column, cell, SPECIAL[mark](cell))
            return
        if is_nominal(self, draft, column, cell):
            return put_nominal(
                self, row, draft, column, cell, f"{nominal_heading(self.heading(column))} {cell}".strip()
            )
        said = read_size(size_of_pipe(draft, cell), self.facts.units.get(column, ""), self.facts.comma)
        if (self.facts.height_first or self.table.columns[column].order == "height_first") and not names_sides(cell):
            turned = {"width": "height", "height": "width"}
            said = replace(said, found={turned.get(name, name): reading for name, reading in said.found.items()})
        self.take(row, draft, column, cell, said, texts)

    def take(
        self, row: GridRow, draft: Draft, column: int, cell: str, said: SizeCell, texts: list[tuple[int, str]]
    ) -> None:
        """Puts what a cell says into the line; one doubt for all of it that can't be read."""
        if said.comma_open and not self.facts.comma:
            draft.asked.update(("size", *said.wrong))
            self.table.ends.cell(row.number, column, QUESTION, "decimal_comma")
            return
        if self.has_both_sides(row, column, said):
            both = tuple(dict.fromkeys(reading.text for reading in said.found.values()))
            name, why = self.names(column)[0], "the cell gives two lengths and the other side has a column of its own"
            self.note(row, draft, name, column, cell, Reading(code="not_a_size", detail=why, could_be=both))
            return
        draft.radius = said.radius or draft.radius
        for name, reading in said.found.items():
            if name in draft.values and name not in self.names(column):
                continue
            if name in draft.values and differ(draft.values[name], reading):
                self.doubt("words_beside_size", row, draft, column, f"{cell}, {name} {draft.values[name]}")
            draft.values[name] = reading.text
            if reading.changed or reading.snapped:
                draft.written[name] = cell
            if name not in self.names(column):
                draft.places[name] = self.place(row, column)
        if "diameter" in said.found and (said.outside or self.outside(column)) and "kind" not in draft.asked:
            draft.values.setdefault("kind", "pipe")  # an outside diameter is one of a pipe
        if said.nominal:
            put_nominal(self, row, draft, column, cell, said.nominal)
        if said.wrong:
            name, reading = next(iter(said.wrong.items()))
            if reading.could_be and not self.facts.comma and "," in cell:
                draft.asked.update(("size", *said.wrong))
                self.table.ends.cell(row.number, column, QUESTION, "decimal_comma")
            elif not (said.unit_missing and column not in self.facts.units):
                self.note(row, draft, name if len(said.wrong) == 1 else "size", column, cell, reading)
            else:
                draft.asked.update(("size", *said.wrong))
                self.table.ends.cell(row.number, column, QUESTION, "unit_unknown")
        elif (
            "diameter" in said.found
            and draft.values.get("kind") == "pipe"
            and not (said.nominal or said.outside or self.outside(column))
        ):
            self.pipes.append((draft, row.number, column))
        for times in said.counts:
            draft.beside.append((times.how, times.count, times.text, self.place(row, column)))
            if times.how == "pairs":
                self.doubt("count_words", row, draft, column, cell)
        if said.basis and "rough" not in said.basis:
            self.doubt("size_basis_of_line", row, draft, column, cell)
        count = _COUNT_BESIDE.fullmatch(said.rest.strip()) if said.rest else None
        typical = None if count else split_typical(said.rest)[1]
        if count or typical:
            number = int(count[1]) if count else typical or 1
            draft.beside.append(("times", number, said.rest, self.place(row, column)))
            return
        code = code_beside(cell, said.rest) if said.found and not set(self.names(column)) & {*LEVELS} else ""
        if code:
            self.doubt(code, row, draft, column, cell)
        if said.rest and code != "words_beside_size":
            texts.append((column, said.rest))

    def has_both_sides(self, row: GridRow, column: int, said: SizeCell) -> bool:
        """Whether a cell of widths or heights gives both sides though the row gives the other one as well."""
        names = self.names(column)
        if names not in (("width",), ("height",)) or not {"width", "height"} <= set(said.found):
            return False
        other = "height" if names == ("width",) else "width"
        cells = [row.cell(c) for c, name in self.whole if name == other] + [
            row.cell(c) for c in self.parts.get(other, {}).values()
        ]
        return any(not blank(cell) for cell in cells)

    def heading(self, column: int) -> str:
        """The heading of a column as written."""
        return self.table.headings[column] if column < len(self.table.headings) else ""

    def names(self, column: int) -> tuple[str, ...]:
        """The fields that a column is for."""
        heading = self.table.columns.get(column)
        if heading is None:
            return ()
        return ("width", "height") if heading.field == "size" else (heading.field,)

    def outside(self, column: int) -> bool:
        """Whether a column's heading says that its diameters are outside ones."""
        return bool(_OUTSIDE.search(self.heading(column)))

    def check_needed(self, row: GridRow, draft: Draft) -> None:
        """A line without the size that it can't do without."""
        values = draft.values
        if "diameter" in values or draft.asked & set(NEEDED) or (self.points is not None and row.cell(self.points)):
            return
        missing = [name for name in ("width", "height") if name not in values]
        if not missing or (values.get("springline") and missing == ["height"]):
            return
        column = self.size if self.size is not None else self.column_of(missing[0])
        draft.wants = tuple(missing)
        draft.want_place = self.place(row, column)
        if column is not None and row.cell(column):
            self.table.ends.cell(row.number, column, QUESTION, "size_unknown")

    def column_of(self, name: str) -> int | None:
        """The column of a length."""
        if name in self.parts:
            return self.parts[name]["feet"]
        return next((column for column, field in self.whole if field == name), None)

    def note(self, row: GridRow, draft: Draft, name: str, column: int, cell: str, reading: Reading) -> None:
        """The doubt about a cell that can't be read, with the readings that it could have."""
        options = {choice: {name: choice} if name != "size" else split(choice) for choice in reading.could_be}
        code = "size_unknown" if reading.code == "unknown" else "size_unreadable"
        detail = f"{name.replace('_', ' ')}: {reading.detail.rstrip('.')}"
        aside = {SET_ASIDE: {"excluded": {"reason": f"{name.replace('_', ' ')} unknown"}}}
        self.doubts.note(Doubt(code, draft, self.place(row, column), cell, (), {**options, **aside}, detail, name))
        draft.asked.add(name)
        self.table.ends.cell(row.number, column, QUESTION, code)

    def doubt(self, code: str, row: GridRow, draft: Draft, column: int, cell: str) -> None:
        """A doubt about a cell that was read."""
        name = "count" if code == "count_words" else "size"
        self.doubts.note(Doubt(code, draft, self.place(row, column), cell, (), {"as_drawn": {}}, field=name))
        self.table.ends.cell(row.number, column, QUESTION, code)


def split(size: str) -> dict[str, str]:
    """Width and height of a size that could be meant; none where it is one length."""
    width, height = read_cell_size(size, "")
    return {"width": width.text, "height": height.text} if not (width.code or height.code) else {}


SPECIAL: dict[str | None, Callable[[str], Reading]] = {
    DATE: lambda cell: Reading(
        code="date", detail=f"the cell holds the date {cell}, which a size may have been turned into",
        could_be=day_readings(cell),
    ),
    ERROR: lambda cell: Reading(code="error", detail=f"the cell holds the error {cell[:20]}"),
    NO_VALUE: lambda cell: Reading(code="formula", detail="the cell holds a formula without a stored value"),
}  # fmt: skip
