"""Where a figure is asked: the whole job or one part of it, and how its inputs are pointed at.

Names are joined with dots and safe in a URL: a code or mark stands as it is where it holds only letters, digits,
`-` and `_`, and every other byte of its UTF-8 becomes `~` and two hexadecimal digits (`07 27 00` is `07~2027~2000`).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import cached_property

from estimating.core.derivations.nodes import Input, Node
from estimating.core.derivations.printing import (
    EACH,
    NUMBER,
    OF_DIMENSION,
    PERCENT,
    RUN,
    TEXT,
    VOLUME,
    Unit,
    Value,
    exact_text,
)
from estimating.core.estimate import Estimate
from estimating.core.part import Part
from estimating.core.readiness import find_need
from estimating.core.schedule import Line
from estimating.core.supplies import Supplies, supplies
from rates.core.card import Card
from rates.core.fraction import Fraction
from rates.core.money import minor_digits
from rates.core.rows import MaterialRow, PerLength

Resolve = Callable[[str], Node]
_PER = {RUN: "per_perimeter", VOLUME: "per_volume", EACH: "number"}


def word(code: str | None) -> str:
    """A code as one step of a figure's name; no code is `~`."""
    if code is None:
        return "~"
    plain = frozenset(b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_")
    return "".join(chr(byte) if byte in plain else f"~{byte:02x}" for byte in code.encode())


def per_length_field(field: str, per: PerLength, names: tuple[str, str, str, str]) -> str:
    """The path of a rate per length by the unit it was written in; names for ft, m, in, mm."""
    return f"{field}/{dict(zip(('ft', 'm', 'in', 'mm'), names, strict=True))[per.unit]}"


class Scope:
    """The job as a whole: money units, references, and leaves from tables, request and schedule."""

    prefix = ""

    def __init__(self, estimate: Estimate, resolve: Resolve) -> None:
        self.estimate = estimate
        self.request = estimate.request
        self.resolve = resolve
        currency = estimate.till.currency
        self.currency = currency
        self.money = Unit(currency, "money")
        self.exact_money = Unit(currency, "number")

    @property
    def card(self) -> Card:
        """The rate card that leaves of tables come from."""
        return self.estimate.card

    @cached_property
    def several(self) -> bool:
        """Whether the job has several parts, whose figures then carry `part.<p>.`"""
        return len(self.estimate.parts) > 1

    @property
    def minor_places(self) -> int:
        """Decimal places of the currency."""
        return minor_digits(self.currency)

    def major(self, minor: int) -> Fraction:
        """Minor units in major units."""
        return self.estimate.till.major(minor)

    def money_for(self, unit: Unit | str) -> Unit:
        """Money for each unit of a quantity, or for each hour, minute, day."""
        if isinstance(unit, str):
            return Unit(f"{self.currency}/{unit}", "number")
        return Unit(f"{self.currency}/{unit.text}", _PER[unit])

    def ref(self, name: str, figure: str, term: int | None = None) -> Input:
        """Another figure of this scope as an input."""
        return self.job_ref(name, self.prefix + figure, term)

    def job_ref(self, name: str, figure: str, term: int | None = None) -> Input:
        """A figure by its whole name as an input."""
        node = self.resolve(figure)
        return Input(name, node.value, node.unit, figure, term=term)

    def table(
        self, name: str, value: Value, unit: Unit, at: tuple[str, str | None, str], term: int | None = None
    ) -> Input:
        """A value of a table as read; at: (table, code of the row or None, field)."""
        table, row, field = at
        supply = self.card.supplied(table, row, field).described()
        source = {"table": table, "row": row, "field": field, "value": exact_text(value)} | dict(supply)
        return Input(name, value, unit, source=source, term=term)

    def percent_of_table(
        self, name: str, rate: Fraction, at: tuple[str, str | None, str], term: int | None = None
    ) -> Input:
        """A percentage as the table writes it."""
        return self.table(name, rate * 100, PERCENT, at, term)

    def production(self, name: str, field: str, value: Value, unit: Unit, term: int | None = None) -> Input:
        """A value of the production table as read."""
        return self.table(name, value, unit, ("production", None, field), term)

    def asked(self, name: str, pointer: str, value: Value, unit: Unit, term: int | None = None) -> Input:
        """A value of the request (or what stands where it says nothing)."""
        return Input(name, value, unit, source={"pointer": pointer}, term=term)

    def lined(self, index: int, name: str, field: str, value: Value, unit: Unit, term: int | None = None) -> Input:
        """A value of a schedule line (or what stands where it says nothing)."""
        source = {"pointer": f"/openings/{index}/{field}", "mark": self.request.schedule.lines[index].mark}
        return Input(name, value, unit, source=source, term=term)

    def rounding(self, card: Card | None = None) -> list[Input]:
        """Places of the currency, and which way a half goes, by the job's card or by the part's given here."""
        chosen = card or self.estimate.card
        source = {"table": "edition", "row": None, "field": "rounding", "value": chosen.rounding}
        supply = dict(chosen.supply["overheads"].described())
        return [
            Input("decimal places", self.minor_places, NUMBER, source={"constant": f"minor unit of {self.currency}"}),
            Input("rounding", chosen.rounding, TEXT, source=source | supply),
        ]


class PartScope(Scope):
    """One part of the job under its own card; with several parts its figures carry `part.<p>.`"""

    def __init__(self, job: Scope, index: int) -> None:
        super().__init__(job.estimate, job.resolve)
        self.index = index
        self.part: Part = job.estimate.parts[index]
        if self.several:
            self.prefix = f"part.{index}."

    @property
    def card(self) -> Card:
        return self.part.plan.card

    @cached_property
    def worked(self) -> Mapping[int, Sequence[int]]:
        """Indexes of the lines that are worked, by kind."""
        found: dict[int, list[int]] = {k: [] for k in self.part.works}
        lines = self.request.schedule.lines
        for i in self.part.plan.lines:
            line = lines[i]
            if line.kind in found and line.quantity and line.priced:
                found[line.kind].append(i)
        return found

    @cached_property
    def worked_lines(self) -> Sequence[tuple[int, Line]]:
        """(index, line) of every line that is worked, in the order of the schedule."""
        lines = self.request.schedule.lines
        return [(i, lines[i]) for i in sorted(i for found in self.worked.values() for i in found)]

    @cached_property
    def supplies(self) -> Supplies:
        """The rows that the part's work may use."""
        kinds = {k: work.kind for k, work in self.part.works.items()}
        need = find_need(self.request, kinds, self.part.joints is not None)
        return supplies(self.card, self.request, need, [])

    def material(
        self, row: MaterialRow, name: str, field: str, value: Value, unit: Unit, term: int | None = None
    ) -> Input:
        """A value of a materials row as read."""
        return self.table(name, value, unit, ("materials", row.code, field), term)

    def unit_of(self, row: MaterialRow) -> Unit:
        """The unit that a material is measured in."""
        return OF_DIMENSION[row.packs[0].dimension]
