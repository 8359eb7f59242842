"""The price over marks and lines, as derivations tell it: largest remainder by weight, so that the shares sum to it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from estimating.core.allocation import Mark
from estimating.core.estimate import Estimate, part_of_lines
from estimating.core.figures.figure import Input, Step, Subject, figure, known, told
from estimating.core.figures.printing import EXACT_MONEY, MINUTES, NUMBER, Unit
from estimating.core.figures.rules import total
from estimating.core.pools import Pools
from estimating.core.remainders import Share, Shares
from estimating.core.work import KindWork
from rates.core.fraction import Fraction


@dataclass(eq=False, repr=False)
class Split(Subject):
    """The split of one estimate."""

    estimate: Estimate

    @property
    def path(self) -> str:
        """marks"""
        return "marks"

    @cached_property
    def marks(self) -> tuple[Mark, ...]:
        """The marks with their sums."""
        return self.estimate.allocation.marks

    @cached_property
    def owner(self) -> Mapping[int, int]:
        """Part index by line index."""
        return part_of_lines(self.estimate.parts)

    @cached_property
    def mark_of(self) -> Mapping[int, int]:
        """Mark index by line index, priced lines only."""
        return {i: m for m, mark in enumerate(self.marks) for i in mark.lines}

    @cached_property
    def place_of(self) -> Mapping[int, int]:
        """A line's place among those of its mark, by line index."""
        return {i: place for mark in self.marks for place, i in enumerate(mark.lines)}

    @property
    def weight_unit(self) -> Unit:
        """What weights are in."""
        return MINUTES if self.estimate.request.allocate_by == "touch_minutes" else EXACT_MONEY

    @cached_property
    def weightless(self) -> bool:
        """Whether nothing weighs anything, so that all marks that are worked count alike."""
        return not any(weight for pool in self.estimate.pools for weight in pool.weights.values())

    @property
    def on_marks(self) -> bool:
        """Whether there is a price, and a mark to put it on."""
        marks = self.marks
        return bool(marks) and marks[-1].mark is not None and bool(self.estimate.up.price_minor)

    def weight(self, mark: Mark) -> Fraction:
        """A mark's weight."""
        return Fraction(0) if self.weightless else mark.weight

    @figure(
        "Weight of all marks",
        lambda s: s.weight_unit,
        step="weight",
        label="all weights",
        when=lambda s: s.on_marks,
        value=lambda s: sum((s.weight(mark) for mark in s.marks), Fraction(0)),
    )
    def all_weights(self: Any) -> Step:
        real, unit = self.subject, self.in_currency(self.subject.weight_unit)
        named = enumerate(real.marks)
        each = (known(Input(str(x.mark), real.weight(x), unit, f"mark.{m}.weight")) for m, x in named)
        return total, "Σ marks", *each

    @cached_property
    def prices(self) -> Shares:
        """The price over the marks."""
        return Shares(
            "marks",
            self.estimate.till,
            self.estimate.up.price_minor,
            [0 if self.weightless else mark.weight_units for mark in self.marks],
            [f"mark.{m}.price" for m in range(len(self.marks))],
            ("price", "price"),
            ("all weights", "marks.weight"),
            lambda m: ("weight", f"mark.{m}.weight"),
            [mark.quantity > 0 for mark in self.marks],
        )

    def in_mark(self, m: int) -> Shares:
        """The price of one mark over its lines."""
        mark, lines = self.marks[m], self.estimate.request.schedule.lines
        return Shares(
            f"mark.{m}",
            self.estimate.till,
            mark.price_minor,
            [self.weight_of(i) for i in mark.lines],
            [f"line.{i}.price" for i in mark.lines],
            ("price of the mark", f"mark.{m}.price"),
            ("weight of the mark", f"mark.{m}.weight"),
            lambda place: ("weight", f"line.{mark.lines[place]}.weight"),
            [lines[i].quantity > 0 for i in mark.lines],
        )

    @cached_property
    def of_marks(self) -> dict[int, Shares]:
        """The prices of marks over their lines, as far as they were asked for."""
        return {}

    def shares_in(self, m: int) -> Shares:
        """The price of one mark over its lines, made once."""
        if m not in self.of_marks:
            self.of_marks[m] = self.in_mark(m)
        return self.of_marks[m]

    def work_of(self, i: int) -> tuple[Pools, KindWork] | None:
        """(part's pools, kind as worked) of a line, None of one that is not worked."""
        line, owner = self.estimate.request.schedule.lines[i], self.owner.get(i)
        if owner is None or line.kind is None or not line.quantity or not line.priced:
            return None
        pools = self.estimate.pools[owner]
        work = pools.part.works.get(line.kind)
        return None if work is None else (pools, work)

    def weight_of(self, i: int) -> Fraction:
        """Quantity × weight of one, of a line that is worked."""
        found = self.work_of(i)
        if found is None:
            return Fraction(0)
        pools, work = found
        return pools.of_kinds[work.index] * self.estimate.request.schedule.lines[i].quantity

    def line_quantity(self, view: Any, i: int) -> Any:
        """The quantity of a line."""
        line = self.estimate.request.schedule.lines[i]
        return view.lined(i, f"line {i + 1}", "quantity", line.quantity, NUMBER)


class Shared(Share):
    """A mark's or a line's part of the price."""

    share_step = "price."
    split: Split

    @property
    def weight_unit(self) -> Unit:
        """What weights are in."""
        return self.split.weight_unit

    @told
    def price_of_job(self: Any) -> Any:
        """The price."""
        return self.of_figure("price", "price")
