"""Sums over the whole job: hours of several parts, openings, perimeter, area, price of an opening, profit both ways."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from estimating.core.build_up import BuildUp
from estimating.core.figures.figure import Step, Subject, called, constant, figure, parameter
from estimating.core.figures.printing import AREA, DAYS, EXACT_MONEY, HOURS, MINUTES, MONEY, NUMBER, PERCENT, RUN, Unit
from estimating.core.figures.rules import (
    given,
    margin_percent_of_other,
    markup_percent_of_other,
    proportion,
    quotient,
    rounded,
    sum_of_products,
    total,
    zero,
)
from estimating.core.part import Part
from estimating.core.till import Till
from rates.core.fraction import Fraction

OVER_PARTS = "Σ over the parts"
MARKUP, MARGIN = "Profit as markup on cost", "Profit as margin of cost and profit"
TWO_PLACES = (parameter("decimal places", 2), parameter("rounding", "half_up"))
PER_CENT = constant("per cent", 100)
NO_ROW = parameter("no profit row", "none")


def summed(title: str, unit: Unit, attribute: str, step: str | None = None) -> figure:
    """Σ of one figure of the hours over the parts; a job of one part has the figure of that part."""

    def formula(self: Any) -> Step:
        found = [(part.label, getattr(part.hours, attribute)) for part in self.parts]
        return total, OVER_PARTS, *(called(name, value) for name, value in found)

    return figure(title, unit, step=step, when=lambda s: len(s.parts) > 1)(formula)


@dataclass(eq=False, repr=False)
class JobHours(Subject):
    """Hours of the job."""

    parts: Sequence[Part]

    standard = summed("Standard hours", HOURS, "standard", "hours.standard")
    setup = summed("Set-up hours", HOURS, "setup", "hours.setup")
    touch = summed("Touch hours", HOURS, "touch", "hours.touch")
    idle = summed("Idle hours", HOURS, "idle", "hours.idle")
    paid = summed("Paid hours", HOURS, "paid", "hours.paid")
    crew_days = summed("Crew-days", DAYS, "crew_days")
    touch_minutes = summed("Touch minutes", MINUTES, "touch_minutes")
    opening_equivalents = summed("Opening-equivalents", NUMBER, "opening_equivalents")


def hours_of(parts: Sequence[Part]) -> Any:
    """The hours of a job: those of its one part, or the sums over its parts."""
    return parts[0].hours if len(parts) == 1 else JobHours(parts)


@dataclass(eq=False, repr=False)
class Totals(Subject):
    """Sums of the job."""

    parts: Sequence[Part]
    up: BuildUp
    hours: Any
    till: Till

    def works(self) -> Iterator[Any]:
        """Every kind in every part."""
        for part in self.parts:
            yield from part.works.values()

    @figure("Openings priced", NUMBER)
    def openings(self) -> Step:
        return total, "Σ quantity over kinds", *(work.quantity for work in self.works())

    @figure("Perimeter", RUN)
    def perimeter(self) -> Step:
        words = "Σ quantity × perimeter"
        return sum_of_products, words, *((work.quantity, called("each", work.perimeter)) for work in self.works())

    @figure("Treated area", AREA)
    def treated_area(self) -> Step:
        words = "Σ quantity × treated area"
        return sum_of_products, words, *((work.quantity, called("each", work.treated_area)) for work in self.works())

    @figure("Price of an opening", EXACT_MONEY, when=lambda s: s.openings)
    def price_per_opening(self) -> Step:
        return quotient, "price ÷ openings", self.up.price, self.openings

    @property
    def rate(self) -> Fraction | None:
        """What the profit row states, None without one."""
        return self.up.profit_row.rate if self.up.profit_row is not None else None

    @property
    def states(self) -> str:
        """Which percentage the profit row states: markup, margin, or neither, as it stands on another base."""
        row = self.up.profit_row
        if row is None or self.rate is None:
            return "none"
        return "margin" if row.kind == "margin" else "markup" if row.on in ("cost", "running") else "other"

    @figure(MARKUP, PERCENT)
    def markup_percent(self) -> Step:
        return self.percent_step("markup", lambda: self.markup_exact)

    @figure(MARGIN, PERCENT)
    def margin_percent(self) -> Step:
        return self.percent_step("margin", lambda: self.margin_exact)

    def percent_step(self, form: str, exact: Any) -> Step:
        """A percentage as stated, or the other form at two places."""
        if self.states == "none":
            return zero, "0: the edition has no profit row", NO_ROW
        if self.states == form:
            return given, "as the profit row states it", self.up.profit_row.percent  # type: ignore[union-attr]
        if not self.has_ratio(form):
            return zero, "0: there is no cost", self.profit
        return rounded, "the other form, at two places", exact(), *TWO_PLACES

    def has_ratio(self, form: str) -> bool:
        """Whether there is a cost that profit is a part of."""
        whole = self.up.cost + (self.profit if form == "margin" else 0)
        return self.states != "other" or bool(whole)

    @property
    def profit(self) -> Any:
        """The profit."""
        return self.up.step_sums["profit"]

    def told_profit(view: Any) -> Any:
        """The profit."""
        return called("profit", view.up.step_sums["profit"])

    def has_exact(self, form: str) -> bool:
        """Whether the other form is worked out."""
        return self.states not in ("none", form) and self.has_ratio(form)

    @figure(f"{MARKUP}, exact", PERCENT, step="markup_percent.exact", when=lambda s: s.has_exact("markup"))
    def markup_exact(self) -> Step:
        if self.states == "margin":
            return markup_percent_of_other, "100 m ÷ (100 − m)", called("stated", self.margin_percent)
        return proportion, "profit × 100 ÷ whole", self.profit, PER_CENT, called("whole", self.up.cost)

    @figure(f"{MARGIN}, exact", PERCENT, step="margin_percent.exact", when=lambda s: s.has_exact("margin"))
    def margin_exact(self) -> Step:
        if self.states == "markup":
            return margin_percent_of_other, "100 m ÷ (100 + m)", called("stated", self.markup_percent)
        return proportion, "profit × 100 ÷ whole", self.profit, PER_CENT, self.cost_and_profit

    @figure(
        "Cost and profit",
        MONEY,
        step="margin_percent.whole",
        when=lambda s: s.states == "other" and s.has_ratio("margin"),
    )
    def cost_and_profit(self) -> Step:
        return total, "cost + profit", self.up.cost, self.profit
