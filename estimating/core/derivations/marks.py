"""The figures of one mark: quantity, touch minutes, weight, its share of the price, the price of one."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from estimating.core.allocation import JOINTS
from estimating.core.derivations.split import Shared, Split
from estimating.core.figures.figure import MINUTES_IN_AN_HOUR, Step, figure, parameter
from estimating.core.figures.printing import EXACT_MONEY, HOURS, MINUTES, MONEY, NUMBER
from estimating.core.figures.rules import quotient, residual, rounded, total, zero

HALF_UP = parameter("rounding", "half_up")


@dataclass(eq=False, repr=False)
class MarkFigures(Shared):
    """The figures of one mark."""

    split: Split
    place: int

    def __post_init__(self) -> None:
        self.mark = self.split.marks[self.place]
        self.shares = self.split.prices if self.split.on_marks else None
        self.share_place, self.share_title = self.place, f"Price of {self.mark.mark}"
        self.joints = self.mark.mark == JOINTS and not self.mark.lines
        self.till = self.split.estimate.till

    @property
    def path(self) -> str:
        """mark.<i>"""
        return f"mark.{self.place}"

    @property
    def there(self) -> bool:
        """Whether there is a mark, not only a price on none."""
        return self.mark.mark is not None

    @property
    def counts(self) -> bool:
        """Whether it has a quantity."""
        return self.there and bool(self.mark.quantity)

    @property
    def several(self) -> bool:
        """Whether its price is shared over lines."""
        return len(self.mark.lines) > 1 and bool(self.mark.price_minor)

    @figure("Quantity of {s.mark.mark}", NUMBER, when=lambda s: s.there, value=lambda s: s.mark.quantity)
    def quantity(self: Any) -> Step:
        real, words = self.subject, "Σ quantity of the mark's priced lines; sheathing joints count as one"
        if real.joints:
            return total, words, parameter("joints", 1)
        return total, words, *(real.split.line_quantity(self, i) for i in real.mark.lines)

    def each(self: Any, step: str) -> list[Any]:
        """A figure of each line of the mark, or of the joints in each part."""
        real = self.subject
        if real.joints:
            parts = [part for part in real.split.estimate.parts if part.joints is not None]
            return [self.of_figure("joints", f"{part.prefix}joints.{step}") for part in parts]
        return [self.of_figure(f"line {i + 1}", f"line.{i}.{step}") for i in real.mark.lines]

    @figure("Touch minutes of {s.mark.mark}", MINUTES, when=lambda s: s.there, value=lambda s: s.mark.touch_minutes)
    def touch_minutes(self: Any) -> Step:
        return total, "Σ of its lines", *self.each("touch_minutes")

    @figure("Hours of {s.mark.mark}", HOURS, when=lambda s: s.there)
    def hours(self) -> Step:
        return quotient, "touch minutes ÷ 60", self.touch_minutes, MINUTES_IN_AN_HOUR

    @figure(
        "Weight of {s.mark.mark}",
        lambda s: s.weight_unit,
        when=lambda s: s.there,
        value=lambda s: s.split.weight(s.mark),
    )
    def weight(self: Any) -> Step:
        return total, "Σ of its lines", *self.each("weight")

    @figure(
        lambda s: f"Price of {s.mark.mark}" if s.there else "Price on no mark",
        MONEY,
        value=lambda s: s.till.major(s.mark.price_minor),
    )
    def price(self: Any) -> Step:
        if not self.there:
            return total, "nothing is worked, so the price stands on no mark", self.price_of_job
        if not self.is_share:
            return zero, "0: nothing of it is worked, or there is no price", self.price_of_job
        return tuple(self.shared())

    @figure("Price of one {s.mark.mark} before rounding", EXACT_MONEY, step="unit_price.exact", when=lambda s: s.counts)
    def exact_each(self) -> Step:
        return quotient, "price ÷ quantity", self.price, self.quantity

    @figure("Price of one {s.mark.mark}", MONEY, when=lambda s: s.counts)
    def unit_price(self) -> Step:
        return rounded, "rounded half up", self.exact_each, self.till.places_and_way[0], HALF_UP

    @figure("Left over of {s.mark.mark}", MONEY, when=lambda s: s.counts)
    def residual(self) -> Step:
        return residual, "price − unit price × quantity", self.price, self.unit_price, self.quantity
