"""The figures of one schedule line: quantity, touch minutes, weight, its share of its mark's price."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from estimating.core.derivations.split import Shared, Split
from estimating.core.figures.figure import Step, figure, told
from estimating.core.figures.printing import MINUTES, MONEY, NUMBER, TEXT
from estimating.core.figures.rules import given, product, total, zero
from estimating.core.schedule_lines import Line
from rates.core.fraction import Fraction


@dataclass(eq=False, repr=False)
class LineFigures(Shared):
    """The figures of one schedule line."""

    split: Split
    place: int

    def __post_init__(self) -> None:
        self.line: Line = self.split.estimate.request.schedule.lines[self.place]
        self.owner, self.worked = self.split.mark_of.get(self.place), self.split.work_of(self.place)
        self.mark = None if self.owner is None else self.split.marks[self.owner]
        shared = self.mark is not None and bool(self.mark.price_minor) and len(self.mark.lines) > 1
        self.shares = self.split.shares_in(self.owner) if shared and self.owner is not None else None
        self.share_place = self.split.place_of.get(self.place, 0)
        self.share_title = f"Price of line {self.place + 1}"
        self.till = self.split.estimate.till

    @property
    def path(self) -> str:
        """line.<i>"""
        return f"line.{self.place}"

    @property
    def number(self) -> int:
        """As people count."""
        return self.place + 1

    @told
    def stated(self: Any) -> Any:
        """Its quantity as the schedule says."""
        return self.subject.split.line_quantity(self, self.subject.place)

    @figure("Quantity of line {s.number}", NUMBER, value=lambda s: s.line.quantity)
    def quantity(self: Any) -> Step:
        return given, "as the schedule says", self.stated

    @told
    def why_not(self: Any) -> Any:
        """Why it is not worked."""
        line, place = self.subject.line, self.subject.place
        if line.reason is not None:
            return self.lined(place, "left out", "excluded/reason", line.reason, TEXT)
        if line.alternate is not None:
            return self.lined(place, "alternate", "alternate", line.alternate, TEXT)
        return self.lined(place, "quantity", "quantity", "0", TEXT)

    def of_one(self: Any, step: str) -> list[Any]:
        """Quantity, and a figure of one opening of its kind."""
        _, work = self.subject.worked
        return [self.stated, self.of_figure("each", f"{work.path}.{step}")]

    @figure(
        lambda s: f"Touch minutes of line {s.number}" if s.worked else "Touch minutes",
        MINUTES,
        value=lambda s: s.worked[1].touch_minutes * s.line.quantity if s.worked else Fraction(0),
    )
    def touch_minutes(self: Any) -> Step:
        if not self.subject.worked:
            return zero, "0: not worked", self.why_not
        return product, "quantity × touch minutes of one", *self.of_one("touch_minutes")

    @figure(
        lambda s: f"Weight of line {s.number}" if s.worked else "Weight",
        lambda s: s.weight_unit,
        value=lambda s: s.split.weight_of(s.place),
    )
    def weight(self: Any) -> Step:
        if not self.subject.worked:
            return zero, "0: not worked", self.why_not
        return product, "quantity × weight of one", *self.of_one("weight")

    @figure(
        "Price of line {s.number}",
        MONEY,
        value=lambda s: s.till.major(s.split.estimate.allocation.line_prices[s.place]),
    )
    def price(self: Any) -> Step:
        if self.subject.mark is None:
            return zero, "0: not priced", self.why_not
        of_mark = self.of_figure("price of the mark", f"mark.{self.subject.owner}.price")
        if not self.subject.mark.price_minor:
            return zero, "0: its mark has no price", of_mark
        if not self.is_share:
            return total, "the mark has no other line", of_mark
        return tuple(self.shared())
