"""Minutes: base for one opening, every factor on it, learning over the whole job.

Touch minutes = quantity × base × access × height × temperature × congestion × rework × pair × learning.
All minutes are standard: of one fully productive worker.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from estimating.core.figures.figure import Step, called, constant, figure, figures
from estimating.core.figures.printing import LENGTH, MINUTES, NUMBER
from estimating.core.figures.rules import lookup, maximum, product, proportion, rule, shortfall, total
from estimating.core.takeoff import Taken
from rates.core.fraction import Fraction
from rates.core.production_rows import OpeningMinutes
from rates.core.units import LENGTH_NM

NANOMETRES = {unit: constant(f"nanometres in 1 {unit}", size) for unit, size in LENGTH_NM.items()}
ONE = Fraction(1)
TITLES = {
    "plain": "Plain minutes",
    "shape": "Minutes for the shape",
    "depth": "Minutes for the depth",
    "sill": "Minutes for the sill",
    "extra_strips": "Minutes for extra strips",
    "seal": "Minutes for the seal",
    "length": "Minutes for the joints",
}
OF_REQUEST = ("temperature", "congestion", "rework")


@rule("the factor of the highest term that the first strictly passes")
def highest_passed(height: Fraction, *rows: tuple[Fraction, Fraction]) -> Fraction:
    """Of rows (over, factor), 1 where none is passed."""
    passed = [row for row in rows if height > row[0]]
    return max(passed, key=lambda row: row[0])[1] if passed else ONE


@rule("the factor, where two or more work, and the width (if given) reaches the last")
def pair(factor: Fraction, workers: Fraction, *widths: Fraction) -> Fraction:
    """1 where it does not count."""
    return factor if workers >= 2 and (not widths or widths[0] >= widths[1]) else ONE


@rule("the larger of the last two, where the first is less than the second")
def larger_if_shorter(outline: Fraction, limit: Fraction, least: Fraction, linear: Fraction) -> Fraction:
    """Minutes of an opening that is small enough for them, else 0."""
    return max(least, linear) if outline < limit else Fraction(0)


@rule("the larger of the last two, where the first is not less than the second")
def larger_unless_shorter(outline: Fraction, limit: Fraction, least: Fraction, linear: Fraction) -> Fraction:
    """Minutes of an opening that is large enough for them, else 0."""
    return max(least, linear) if outline >= limit else Fraction(0)


class Worked(Taken):
    """Base and touch minutes of one opening, or of the joints."""

    access: str
    learning_factor: Any
    width: Any
    height: Any
    depth: Any

    @property
    def opening_minutes(self) -> OpeningMinutes | None:
        """The table's minutes by perimeter; None for work that is no opening."""
        return None

    def by_length(self, per: Any, length: Fraction) -> Step:
        """Minutes for each unit of length × a length."""
        words = f"minutes for each {per.unit} × length"
        return proportion, words, per.minutes, called("length", length), NANOMETRES[per.unit]

    @figure("Minutes by perimeter", MINUTES, step="minutes.by_perimeter", when=lambda s: s.opening_minutes)
    def by_perimeter(self) -> Step:
        return self.by_length(self.opening_minutes.per, self.perimeter)  # type: ignore[union-attr]

    @figure("Minutes before the minimum", MINUTES, step="minutes.linear", when=lambda s: s.opening_minutes)
    def linear(self) -> Step:
        fixed = self.opening_minutes.fixed  # type: ignore[union-attr]
        return total, "fixed + minutes by perimeter", fixed, self.by_perimeter

    @figure("Depth past the table's", LENGTH, when=lambda s: "depth" in s.minutes)
    def depth_past(self) -> Step:
        return shortfall, "treated depth − from, at least 0", self.depth, self.production.depth_over.from_nm  # type: ignore[union-attr]

    def addends(self) -> list[str]:
        """What base minutes may be the sum of."""
        raise NotImplementedError

    def plain(self) -> Step:
        """Minutes by perimeter alone, the table's least at least."""
        words = "the larger of the minimum and fixed + minutes by perimeter"
        return maximum, words, self.opening_minutes.minimum, self.linear  # type: ignore[union-attr]

    @figures(
        lambda s, k: TITLES[k],
        MINUTES,
        lambda s: s.addends(),
        "minutes.{}",
        keep=lambda k, minutes: minutes or k == "plain",
    )
    def minutes(self, name: str) -> Step:
        production = self.production
        if name == "plain":
            return self.plain()
        if name in ("shape", "sill"):
            key = self.looked_up[name]
            return lookup, f"{name} → the value of that name in the table", key, production.entry(name, key)
        if name == "depth":
            return self.by_length(production.depth_over.per, self.depth_past)  # type: ignore[union-attr]
        if name == "extra_strips":
            each = production.extra_strip_minutes
            return product, "extra strips × minutes for each", self.extra_strips[self.chosen], each
        if name == "seal":
            return self.by_length(production.seal_per, self.bead)
        return self.by_length(production.sheathing_joint.per, self.perimeter)  # type: ignore[union-attr]

    @property
    def looked_up(self) -> Mapping[str, str]:
        """The words by which rows of the production table are found, by group."""
        return {"access": self.access}

    @figure("Base minutes", MINUTES)
    def base_minutes(self) -> Step:
        return total, "Σ minutes before factors", *self.minutes.values()

    def factor_names(self) -> list[str]:
        """What base minutes may be multiplied by."""
        named = [name for name in OF_REQUEST if self.conditioned(name) is not None]
        row = self.production.pair
        paired = row is not None and (row.from_width_nm is None or self.index is not None)
        return ["access", *(["height"] if self.has_height else []), *named, *(["pair"] if paired else [])]

    @property
    def has_height(self) -> bool:
        """Whether its height above grade is known, and counts."""
        return False

    @figures(
        lambda s, k: "Factor for pairs" if k == "pair" else f"Factor for {k}",
        NUMBER,
        lambda s: s.factor_names(),
        "factor.{}",
        label=lambda s, k: f"{k} factor",
        keep=lambda k, factor: factor != 1,
    )
    def factors(self, group: str) -> Step:
        if group == "height":
            words = "the factor of the highest height row that is strictly passed"
            return highest_passed, words, self.height, *((row.over_nm, row.factor) for row in self.production.height)
        if group == "pair":
            row = self.production.pair
            words = "the factor where two or more work together, from the stated width up"
            widths = [] if row.from_width_nm is None else [self.width, row.from_width_nm]  # type: ignore[union-attr]
            return pair, words, row.factor, self.crew.workers, *widths  # type: ignore[union-attr]
        key = self.looked_up[group] if group == "access" else self.conditioned(group)
        return lookup, f"{group} → the value of that name in the table", key, self.production.entry(group, str(key))

    def conditioned(self, group: str) -> Any:
        """The name by which a factor of the site is found: of the part, or of the request."""
        return self.temperature if group == "temperature" else getattr(self.request, group)

    @figure("Touch minutes", MINUTES)
    def touch_minutes(self) -> Step:
        words = "base minutes × every factor that is not 1 × learning factor"
        return product, words, self.base_minutes, *self.factors.values(), self.learning_factor

    def times(self, value: Fraction) -> tuple[Fraction, ...]:
        """A figure of one opening as a term of a sum over all of the kind; of the joints once."""
        return (value,)
