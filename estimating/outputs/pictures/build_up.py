"""The build-up as a picture: each line set on the sum of those before it, from labour to price."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from estimating.outputs.pictures.drawing import FULL, PART, bar, line, picture, scaled, shorten, text
from estimating.outputs.printed.amounts import print_amount
from estimating.outputs.printed.blocks import Column, Figure, Table

WIDTH, LEFT, RIGHT, ROW = 640, 190, 100, 22
TITLE = "From labour to price"
Steps = Sequence[tuple[str, int]]  # title, amount in minor units


def build_up_figure(steps: Steps, currency: str) -> Figure:
    """The picture of the steps of a build-up, with its table; they sum to the price, which is the last bar."""
    price = sum(amount for _, amount in steps)
    words = f"{len(steps)} steps sum to {currency} {print_amount(price, currency)}."
    height = ROW * (len(steps) + 1) + 14
    svg = picture(WIDTH, height, TITLE, words, parts(steps, price, currency, height))
    rows, before = [], 0
    for title, amount in steps:
        before += amount
        rows.append((title, print_amount(amount, currency), print_amount(before, currency)))
    columns = (Column("Step", 3), Column(f"Amount, {currency}", 1, True), Column(f"Sum so far, {currency}", 1, True))
    return Figure(svg, f"{TITLE}. {words}", Table(TITLE, columns, rows, ("Price", "", print_amount(price, currency))))


def parts(steps: Steps, price: int, currency: str, height: int) -> Iterator[str]:
    """Labels, bars and amounts, row by row."""
    units, before = WIDTH - LEFT - RIGHT, 0
    for place, (title, amount) in enumerate((*steps, ("Price", price))):
        y, last = 6 + place * ROW, place == len(steps)
        start = 0 if last else before
        x = LEFT + scaled(min(start, start + amount), price, units)
        yield text(LEFT - 8, y + 14, shorten(title, 30), "end", strong=last)
        yield bar(x, y + 2, scaled(abs(amount), price, units), ROW - 6, PART if last else FULL)
        yield text(WIDTH - 4, y + 14, print_amount(amount, currency), "end", strong=last)
        before += amount
    yield line(LEFT, 2, LEFT, height - 4)
