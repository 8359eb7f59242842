"""How many a line stands for: its count, TYP x 4, counts by elevation, typical storeys; what is doubtful is asked."""

from __future__ import annotations

from estimating.core.schedule import MOST_QUANTITY
from estimating.intake.asking import BLOCKS_COSTING, BLOCKS_ISSUE, Asker
from estimating.intake.cells import blank
from estimating.intake.draft import Draft
from estimating.intake.expansion import read_count, split_typical, storeys_of
from estimating.intake.grid import DATE, ERROR, NO_VALUE, GridRow, place_of
from estimating.intake.row_kinds import Columns
from estimating.intake.tables import Table


class Counter:
    """Counts the lines of one table's rows."""

    def __init__(self, table: Table, columns: Columns, asker: Asker) -> None:
        self.table, self.columns, self.asker = table, columns, asker
        self.storey = table.column("storey")

    def place(self, row: GridRow, column: int | None) -> str:
        """A cell as a person finds it."""
        return self.table.sheet.place(row.number, column)

    def count(self, row: GridRow, draft: Draft, times: int | None, about: tuple[str, ...]) -> list[Draft]:
        """The line with its quantity; several lines where elevations or storeys are counted together."""
        note = str(draft.values.get("note", ""))
        _, in_note = split_typical(note)
        if self.columns.counts:
            drafts = self.by_elevation(row, draft, about)
        else:
            quantity = self.quantity(row, draft, times or in_note, about)
            if quantity is not None:
                draft.values["quantity"] = quantity
            drafts = [draft]
        return [line for one in drafts for line in self.by_storey(row, one, about)]

    def quantity(self, row: GridRow, draft: Draft, times: int | None, about: tuple[str, ...]) -> int | None:
        """The count of a line, TYP x 4 multiplied out and asked about where it could be counted already."""
        column = self.columns.quantity
        cell = row.cell(column) if column is not None else ""
        plain, own = split_typical(cell)
        times = own or times
        count = read_count(plain)
        place = (self.place(row, column if column is not None else self.columns.mark),)
        who = draft.values["mark"] or f"row {row.number}"
        if column is not None and row.marked.get(column) in (DATE, ERROR, NO_VALUE):
            count, plain = None, cell or "a formula without a value"
        if times is not None and (count is not None or blank(plain)):
            draft.written["quantity"] = (
                row.cell(column) if own and column is not None else f"{cell} TYP x {times}".strip()
            )
            if count is None or count == times:
                return times if count is None else self.ask_typical(who, count, times, place, about)
            return self.ask_typical(who, count, times, place, about)
        if count is not None and count <= MOST_QUANTITY:
            return count
        if column is None:
            return None  # the table is asked once whether each line is one opening
        code = "quantity_unknown" if blank(plain) else "quantity_unreadable"
        says = "The cell is blank" if blank(plain) else f"The cell says {plain[:40]!r}"
        answer = self.asker.ask(
            code, BLOCKS_COSTING, f"How many of {who} are there? {says}.", about=(*about, cell),
            choices=("exclude",), open_answer="a whole number", cells=place,
        )  # fmt: skip
        if answer == "exclude":
            draft.values["excluded"] = {"reason": "count unknown"}
            return 0
        found = read_count(answer) if answer else None
        if answer and (found is None or found > MOST_QUANTITY):
            self.asker.refuse(code, about, "a whole number is expected")
        if found is not None:
            draft.written["quantity"] = cell
        return found

    def ask_typical(self, who: str, count: int, times: int, place: tuple[str, ...], about: tuple[str, ...]) -> int:
        """A count beside TYP x 4: the product until an answer says that the count has it in already."""
        sentence = f"{who} is counted {count} and marked TYP x {times}. Taken as {count * times}; is it {count} in all?"
        choices = (str(count * times), str(count))
        answer = self.asker.ask(
            "typical_count",
            BLOCKS_ISSUE,
            sentence,
            about=(*about, str(count), str(times)),
            choices=choices,
            cells=place,
        )
        return int(answer) if answer else count * times

    def by_elevation(self, row: GridRow, draft: Draft, about: tuple[str, ...]) -> list[Draft]:
        """A line for each elevation that counts some; a total beside them must agree."""
        drafts, total = [], 0
        for column, name in self.columns.counts:
            cell = row.cell(column)
            count = read_count(cell) if not blank(cell) else 0
            if count is None:
                sentence = (
                    f"How many of {draft.values['mark']} are on the {name} elevation? The cell says {cell[:40]!r}."
                )
                answer = self.asker.ask(
                    "quantity_unreadable", BLOCKS_COSTING, sentence, about=(*about, name, cell),
                    open_answer="a whole number", cells=(self.place(row, column),),
                )  # fmt: skip
                count = read_count(answer) if answer else None
            if count:
                total += count
            if count or count is None:
                values = {**draft.values, "elevation": name} | ({"quantity": count} if count is not None else {})
                where = {"quantity": place_of(self.table.sheet.name, row.number, column)}
                drafts.append(Draft(values, draft.table, draft.row, dict(draft.written), where))
        self.check_total(row, draft, total, about)
        return drafts or [Draft({**draft.values, "quantity": 0}, draft.table, draft.row)]

    def check_total(self, row: GridRow, draft: Draft, total: int, about: tuple[str, ...]) -> None:
        """The schedule's total against the count by elevation."""
        stated = read_count(row.cell(self.columns.quantity)) if self.columns.quantity is not None else None
        if stated is not None and stated != total:
            sentence = f"The schedule says {stated} of {draft.values['mark']}, the elevations {total}. Why?"
            self.asker.ask(
                "total_against_elevations", BLOCKS_ISSUE, sentence, about=(*about, str(stated), str(total)),
                open_answer="an explanation", cells=(self.place(row, self.columns.quantity),),
            )  # fmt: skip

    def by_storey(self, row: GridRow, draft: Draft, about: tuple[str, ...]) -> list[Draft]:
        """A line for each storey of typical floors, the count taken for each of them until an answer says otherwise."""
        cell = str(draft.values.get("storey", ""))
        storeys = storeys_of(cell) if cell else None
        if not storeys:
            return [draft]
        who, count = draft.values["mark"], draft.values.get("quantity")
        sentence = (
            f"{who} stands on {len(storeys)} storeys ({cell}) with a count of {count}: on each, or on all together?"
        )
        answer = self.asker.ask(
            "typical_storeys", BLOCKS_ISSUE, sentence, about=(*about, str(count)), choices=("on_each", "on_all"),
            cells=(self.place(row, self.storey),),
        )  # fmt: skip
        draft.written["storey"] = cell
        if answer == "on_all":
            return [draft]
        return [
            Draft({**draft.values, "storey": storey}, draft.table, draft.row, dict(draft.written), dict(draft.places))
            for storey in storeys
        ]
