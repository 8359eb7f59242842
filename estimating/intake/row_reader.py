"""A table's rows as opening lines by the field names of JSON; what can't be read is asked, never filled in."""

from __future__ import annotations

from collections.abc import Callable

from estimating.core.kinds import OPENING_KINDS
from estimating.core.schedule import mark_key
from estimating.intake.asking import BLOCKS_COSTING, BLOCKS_ISSUE, Asker
from estimating.intake.cells import Reading, blank, day_readings, read_cell_length, read_cell_size
from estimating.intake.columns import with_unit
from estimating.intake.counts import Counter
from estimating.intake.draft import Draft
from estimating.intake.expansion import split_typical
from estimating.intake.grid import DATE, ERROR, NO_VALUE, GridRow
from estimating.intake.row_kinds import Columns
from estimating.intake.tables import Table
from estimating.intake.vocabulary import apart, kind_of
from estimating.intake.words import WORDS

LENGTHS = ("width", "height", "diameter", "springline", "rise", "treated_depth", "height_above_grade")
OWN_WAY = frozenset({"mark", "quantity", "size", "kind", "type", "storey", "elevation", "elevation_count", *LENGTHS})


class RowReader:
    """Reads the rows of one table."""

    def __init__(self, table: Table, number: int, units: dict[int, str], asker: Asker) -> None:
        self.table, self.number, self.units, self.asker = table, number, units, asker
        self.columns = Columns.of(table)
        self.counter = Counter(table, self.columns, asker)
        self.section: dict[str, str] = {}
        self.section_kind: str | None = None
        self.plain = [
            (c, h.field, h.path, h.unit)
            for c, h in table.columns.items()
            if h.field not in OWN_WAY and c != self.columns.mark
        ]
        self.lengths = [(c, h.field) for c, h in table.columns.items() if h.field in LENGTHS]
        self.at = {name: table.column(name) for name in ("size", "kind", "type", "storey", "elevation")}

    def read(self, row: GridRow) -> list[Draft]:
        """The lines of one row: one, or one for each storey or elevation that it counts."""
        draft = Draft({"mark": ""}, self.number, row.number)
        mark, times = split_typical(row.cell(self.columns.mark) if self.columns.mark is not None else "")
        self.put_place(row, draft)
        where = (draft.values.get("storey", ""), draft.values.get("elevation", ""))
        if blank(mark):
            mark = self.ask_mark(row, where)
        draft.values["mark"] = mark
        about = (mark_key(mark), *where)
        self.put_kind(row, draft, about)
        if self.at["size"] is not None:
            self.put_size(row, draft, about)
        for column, name in self.lengths:
            self.put_length(row, draft, name, column, about)
        for column, name, path, unit in self.plain:
            cell = row.cell(column)
            if cell:
                self.put_plain(
                    draft,
                    name,
                    path,
                    with_unit(cell, unit) if unit else cell,
                    self.table.sheet.place(row.number, column),
                    about,
                )
        return self.counter.count(row, draft, times, about)

    def place(self, row: GridRow, column: int | None) -> str:
        """A cell as a person finds it."""
        return self.table.sheet.place(row.number, column)

    def ask_mark(self, row: GridRow, where: tuple[str, str]) -> str:
        """The mark that an answer gives, blank without one."""
        sentence = f"Row {row.number} is an opening without a mark. Which mark is it?"
        about = ("|".join(row.cells), *where)
        cell = (self.place(row, self.columns.mark),)
        return (
            self.asker.ask("mark_unknown", BLOCKS_COSTING, sentence, about=about, open_answer="a mark", cells=cell)
            or ""
        )

    def put_place(self, row: GridRow, draft: Draft) -> None:
        """Storey and elevation, from their columns or the section above."""
        for name in ("storey", "elevation"):
            column = self.at[name]
            cell = row.cell(column) if column is not None else self.section.get(name, "")
            if cell and not blank(cell):
                draft.values[name] = cell

    def put_kind(self, row: GridRow, draft: Draft, about: tuple[str, ...]) -> None:
        """The kind, from its column, a type column that names one, the title or the sheet's name."""
        column = self.at["kind"]
        cell = row.cell(column) if column is not None else ""
        kind = kind_of(cell) or (cell.lower() if cell.lower() in OPENING_KINDS else None)
        said = " ".join(row.cells)
        words = apart(said)
        if words:
            self.ask_apart(row, draft, words, about)
        if kind is None and column is None and self.at["type"] is not None:
            kind = kind_of(row.cell(self.at["type"]))
        if kind is None and (column is None or blank(cell)):
            kind = self.section_kind or self.table.kind
        if kind is None and cell and not words:
            draft.asked.add("kind")
            sentence = f"What kind of opening is {draft.values['mark'] or 'this'}: the cell says {cell[:60]!r}."
            kind = self.asker.ask(
                "kind_unknown", BLOCKS_ISSUE, sentence, about=(*about, cell), choices=OPENING_KINDS,
                cells=(self.place(row, column),),
            )  # fmt: skip
        if kind:
            draft.values["kind"] = kind

    def ask_apart(self, row: GridRow, draft: Draft, words: str, about: tuple[str, ...]) -> None:
        """Work that is usually somebody else's: priced, or left out with a reason."""
        sentence = f"{draft.values['mark'] or 'This line'} is marked {words!r}. Is it priced, or excluded?"
        answer = self.asker.ask(
            "usually_excluded", BLOCKS_ISSUE, sentence, about=(*about, words), choices=("include", "exclude"),
            cells=(self.place(row, self.columns.mark),),
        )  # fmt: skip
        if answer == "exclude":
            draft.values["excluded"] = {"reason": words}

    def put_size(self, row: GridRow, draft: Draft, about: tuple[str, ...]) -> None:
        """Width and height from one cell."""
        column = self.at["size"]
        assert column is not None
        cell = row.cell(column)
        names = ("width", "height")
        if blank(cell) and (self.table.column("width") is not None or row.cell(self.table.column("diameter") or 999)):
            return
        mark = row.marked.get(column)
        readings = read_cell_size(cell, self.units.get(column, ""))
        for name, reading in zip(names, readings, strict=True):
            self.put_reading(row, draft, name, column, cell, reading, mark, about)

    def put_length(self, row: GridRow, draft: Draft, name: str, column: int, about: tuple[str, ...]) -> None:
        """A length of its own column; a blank one is asked only where the line can't do without."""
        cell = row.cell(column)
        mark = row.marked.get(column)
        if blank(cell) and mark is None and (name not in ("width", "height") or "diameter" in self.given(row)):
            return
        if name in draft.values:
            return
        reading = read_cell_length(cell, self.units.get(column, ""))
        self.put_reading(row, draft, name, column, cell, reading, mark, about)

    def given(self, row: GridRow) -> set[str]:
        """The length fields whose cells say something."""
        return {name for column, name in self.lengths if not blank(row.cell(column))}

    def put_reading(
        self, row: GridRow, draft: Draft, name: str, column: int, cell: str, reading: Reading, marked: str | None,
        about: tuple[str, ...],
    ) -> None:  # fmt: skip
        """A length as read, or the question that stands in its way."""
        if marked in (DATE, ERROR, NO_VALUE):
            reading = SPECIAL[marked](cell)
        if not reading.code:
            draft.values[name] = reading.text
            if reading.changed or reading.snapped:
                draft.written[name] = cell
            return
        if reading.code in ("unit_missing", "ambiguous") and not reading.could_be and column not in self.units:
            draft.values[name] = cell  # asked once for the column
            return
        who = draft.values.get("mark") or f"row {row.number}"
        what = name.replace("_", " ")
        code = "size_unknown" if reading.code == "unknown" else "size_unreadable"
        sentence = f"What is the {what} of {who}? " + reading.detail[:1].upper() + reading.detail[1:].rstrip(".") + "."
        severity = BLOCKS_COSTING if name in ("width", "height", "diameter", "size") else BLOCKS_ISSUE
        answer = self.asker.ask(
            code, severity, sentence, about=(*about, name, cell), choices=(*reading.could_be, "exclude"),
            open_answer="a length",
            cells=(self.place(row, column),),
        )  # fmt: skip
        if answer == "exclude":
            draft.values["excluded"] = {"reason": f"{what} unknown"}
        elif answer is not None:
            found = read_cell_length(answer, "")
            if found.code:
                self.asker.refuse(code, about, found.detail)
            else:
                draft.values[name], draft.written[name] = found.text, cell

    def put_plain(
        self, draft: Draft, name: str, path: tuple[str, ...], cell: str, place: str, about: tuple[str, ...]
    ) -> None:
        """A field that takes words: one of its own, or text as it stands."""
        reader = WORDS.get(name)
        if reader is not None:
            value, choices = reader(cell)
            if value is None and choices:
                draft.asked.add(name)
                sentence = f"The {name.replace('_', ' ')} of {draft.values['mark'] or 'this line'} says {cell[:60]!r}."
                answer = self.asker.ask(
                    f"{name}_unknown", BLOCKS_ISSUE, sentence + " Which is it?", about=(*about, cell), choices=choices,
                    cells=(place,),
                )  # fmt: skip
                value = WORDS[name](answer)[0] if answer else None
            if value is not None:
                draft.values[name] = value
        elif len(path) == 2:
            inner = draft.values.setdefault(path[0], {})
            if isinstance(inner, dict):
                inner[path[1]] = cell
        else:
            draft.values[name] = cell


SPECIAL: dict[str, Callable[[str], Reading]] = {
    DATE: lambda cell: Reading(
        code="date", detail=f"the cell holds the date {cell}, which a size may have been turned into",
        could_be=day_readings(cell),
    ),
    ERROR: lambda cell: Reading(code="error", detail=f"the cell holds the error {cell[:20]}"),
    NO_VALUE: lambda cell: Reading(code="formula", detail="the cell holds a formula without a stored value"),
}  # fmt: skip
