"""The split of the price over marks and lines as its derivations see it: weights, places, who owns which line."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property

from estimating.core.allocation import Mark, weigh
from estimating.core.derivations.nodes import Input
from estimating.core.derivations.printing import MINUTES, NUMBER, Unit
from estimating.core.derivations.scope import PartScope, Scope
from estimating.core.derivations.shares import Shares
from estimating.core.estimate import part_of_lines
from rates.core.fraction import Fraction


class Split:
    """The marks of a job, their weights and who owns which line."""

    def __init__(self, scope: Scope, parts: Sequence[PartScope]) -> None:
        self.scope = scope
        self.parts = parts
        self.marks: Sequence[Mark] = scope.estimate.allocation.marks

    @cached_property
    def owner(self) -> Mapping[int, int]:
        """Part index by line index."""
        return part_of_lines(self.scope.estimate.parts)

    @cached_property
    def mark_of(self) -> Mapping[int, int]:
        """Mark index by line index, priced lines only."""
        return {i: m for m, mark in enumerate(self.marks) for i in mark.lines}

    @cached_property
    def place_of(self) -> Mapping[int, int]:
        """A line's place among those of its mark, by line index."""
        return {i: place for mark in self.marks for place, i in enumerate(mark.lines)}

    @cached_property
    def weights(self) -> tuple[list[dict[int, Fraction]], list[Fraction]]:
        """Weights of kinds and joints by part, in money (major units) or touch minutes."""
        estimate = self.scope.estimate
        of_kinds, of_joints = weigh(estimate.parts, estimate.up, self.scope.request, estimate.till)
        size = Fraction(1) if self.by_minutes else self.scope.major(1)
        return [{k: w * size for k, w in found.items()} for found in of_kinds], [w * size for w in of_joints]

    @cached_property
    def weightless(self) -> bool:
        """Whether no kind and no joints weigh anything, so that all marks that are worked count alike."""
        of_kinds, of_joints = self.weights
        return not any(of_joints) and not any(weight for found in of_kinds for weight in found.values())

    @property
    def by_minutes(self) -> bool:
        """Whether the price goes by touch minutes alone."""
        return self.scope.request.allocate_by == "touch_minutes"

    @property
    def unit(self) -> Unit:
        """What weights are in."""
        return MINUTES if self.by_minutes else self.scope.exact_money

    def kind_of(self, i: int) -> tuple[PartScope, int] | None:
        """(part, kind) of a line that is worked, None of one that is not."""
        line, owner = self.scope.request.schedule.lines[i], self.owner.get(i)
        if owner is None or line.kind is None or not line.quantity or not line.priced:
            return None
        part = self.parts[owner]
        return (part, line.kind) if line.kind in part.part.works else None

    def quantity(self, i: int, term: int | None = None) -> Input:
        """The quantity of a line."""
        line = self.scope.request.schedule.lines[i]
        return self.scope.lined(i, f"line {i + 1}", "quantity", line.quantity, NUMBER, term)

    def weight_of(self, i: int) -> Fraction:
        """Quantity × weight of one, of a line that is worked."""
        found = self.kind_of(i)
        if found is None:
            return Fraction(0)
        return self.weights[0][found[0].index][found[1]] * self.scope.request.schedule.lines[i].quantity

    @cached_property
    def prices(self) -> Shares:
        """The price over the marks."""
        scope = self.scope
        return Shares(
            scope,
            scope.estimate.up.price_minor,
            [0 if self.weightless else mark.weight_units for mark in self.marks],
            [f"mark.{m}.price" for m in range(len(self.marks))],
            total=lambda: scope.job_ref("price", "price"),
            whole=lambda: scope.job_ref("all weights", "marks.weight"),
            missing="marks.missing",
            weight=lambda m: scope.job_ref("weight", f"mark.{m}.weight"),
            worked=[mark.quantity > 0 for mark in self.marks],
        )

    @cached_property
    def in_marks(self) -> Mapping[int, Shares]:
        """The price of each mark of several lines over them."""
        return {m: self.in_mark(m) for m, mark in enumerate(self.marks) if len(mark.lines) > 1}

    def in_mark(self, m: int) -> Shares:
        """The price of one mark over its lines."""
        scope, mark, name = self.scope, self.marks[m], f"mark.{m}"
        return Shares(
            scope,
            mark.price_minor,
            [self.weight_of(i) for i in mark.lines],
            [f"line.{i}.price" for i in mark.lines],
            total=lambda: scope.job_ref("price of the mark", f"{name}.price"),
            whole=lambda: scope.job_ref("weight of the mark", f"{name}.weight"),
            missing=f"{name}.missing",
            weight=lambda place: scope.job_ref("weight", f"line.{mark.lines[place]}.weight"),
            worked=[scope.request.schedule.lines[i].quantity > 0 for i in mark.lines],
        )


def weight_unit(split: Split) -> Fraction:
    """One whole unit of weight in the unit that weights are told in."""
    return split.marks[0].scale.weight * (1 if split.by_minutes else split.scope.major(1))
