"""A price per opening against a bid per wall area as a picture: both over the number of openings, where they meet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from estimating.outputs.pictures.drawing import line, picture, scaled, text
from estimating.outputs.printed.amounts import print_amount
from estimating.outputs.printed.blocks import Column, Figure, Table
from rates.core.exact import print_quantity, round_half_up
from rates.core.fraction import Fraction

WIDTH, HEIGHT, LEFT, RIGHT, TOP, BOTTOM = 640, 320, 100, 120, 24, 52
TITLE = "Per opening against per wall area"
ROWS = 5  # of the table, beside the two numbers that matter


@dataclass(frozen=True)
class Bids:
    """fixed, each: price of no opening and of one more, minor units; stated: the bid by area, minor units.

    openings: how many the job has; equal: at how many both bids are the same, None where they never are.
    """

    fixed: Fraction
    each: Fraction
    stated: Fraction
    openings: int
    equal: Fraction | None

    @property
    def most(self) -> int:
        """The largest number of openings that is shown."""
        return max(1, ceil(max(Fraction(self.openings), self.equal or Fraction(0)) * Fraction(5, 4)))

    def price(self, openings: int | Fraction) -> Fraction:
        """The price by openings."""
        return self.fixed + self.each * openings


def break_even_figure(bids: Bids, currency: str) -> Figure:
    """The picture with its table: both bids at some numbers of openings, that of the job and of equality among them."""
    words = told(bids, currency)
    svg = picture(WIDTH, HEIGHT, TITLE, words, parts(bids, currency))
    columns = (
        Column("Openings", 2, True), Column(f"Per opening, {currency}", 2, True),
        Column(f"Per area, {currency}", 2, True), Column("The bid per area", 3),
    )  # fmt: skip
    return Figure(svg, f"{TITLE}. {words}", Table(TITLE, columns, list(rows(bids, currency))))


def told(bids: Bids, currency: str) -> str:
    """What the picture shows, in a sentence."""
    if bids.equal is None:
        return "The two bids are equal at no number of openings."
    here = "more" if bids.openings > bids.equal else "fewer" if bids.openings < bids.equal else "as many"
    job = f"This job has {bids.openings:,}, {here}."
    return f"Both are equal at {print_quantity(bids.equal, 1)} openings. {job}"


def rows(bids: Bids, currency: str) -> Iterator[tuple[str, ...]]:
    """The table's rows, in the order of their numbers."""
    steps = {Fraction(bids.most * k // ROWS) for k in range(ROWS + 1)}
    for openings in sorted(steps | {Fraction(bids.openings)} | ({bids.equal} if bids.equal is not None else set())):
        mine, other = round_half_up(bids.price(openings)), round_half_up(bids.stated)
        verdict = "equal" if openings == bids.equal else "asks too much" if mine < other else "gives money away"
        if openings == bids.openings:
            verdict += "; this job"
        yield print_quantity(openings, 1), print_amount(mine, currency), print_amount(other, currency), verdict


def parts(bids: Bids, currency: str) -> Iterator[str]:
    """Axes, both bids as lines, the job's number and that of equality as marks."""
    wide, high = WIDTH - LEFT - RIGHT, HEIGHT - TOP - BOTTOM
    top = round_half_up(max(bids.price(bids.most), bids.stated))
    foot = TOP + high

    def x(openings: Fraction | int) -> int:
        return LEFT + round_half_up(openings * Fraction(wide, bids.most))

    def y(price: Fraction) -> int:
        return foot - scaled(round_half_up(price), top, high)

    yield line(LEFT, TOP - 6, LEFT, foot)
    yield line(LEFT, foot, LEFT + wide + 6, foot)
    for openings in dict.fromkeys((0, bids.most // 2, bids.most)):
        yield line(x(openings), foot, x(openings), foot + 4)
        yield text(x(openings), foot + 16, f"{openings:,}", "middle")
    yield text(LEFT + wide // 2, HEIGHT - 6, "openings in the wall", "middle")
    for price in (0, top // 2, top):
        yield text(LEFT - 8, y(Fraction(price)) + 4, print_amount(price, currency), "end")
    yield line(x(0), y(bids.fixed), x(bids.most), y(bids.price(bids.most)), 3)
    yield text(x(bids.most) + 6, y(bids.price(bids.most)) + 4, "per opening", strong=True)
    yield dashed(x(0), y(bids.stated), x(bids.most))
    beside = y(bids.stated) + 4
    close = abs(y(bids.stated) - y(bids.price(bids.most))) < 14
    yield text(x(bids.most) + 6, beside + (16 if close else 0), "per area", strong=True)
    if bids.equal is not None:
        yield ring(x(bids.equal), y(bids.stated))
        words = f"equal at {print_quantity(bids.equal, 1)}"
        yield text(x(bids.equal) - 10, y(bids.stated) - 10, words, "end", strong=True)  # where neither bid is drawn
    yield upright(x(bids.openings), foot, TOP)
    yield text(x(bids.openings), foot + 30, f"this job: {bids.openings:,}", "middle", strong=True)


def dashed(x1: int, y: int, x2: int) -> str:
    """A level line of dashes."""
    return f'<path d="M{x1} {y}H{x2}" stroke="#222" stroke-width="3" stroke-dasharray="9 5" fill="none"/>'


def upright(x: int, low: int, high: int) -> str:
    """A fine line of dots."""
    return f'<path d="M{x} {low}V{high}" stroke="#222" stroke-dasharray="2 3" fill="none"/>'


def ring(x: int, y: int) -> str:
    """The point where lines meet."""
    return f'<circle cx="{x}" cy="{y}" r="6" fill="#fff" stroke="#222" stroke-width="2"/>'
