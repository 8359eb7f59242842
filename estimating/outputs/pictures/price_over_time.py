"""The price of a project over time as a picture: a step for each figure, its price above it, its main cause below."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from estimating.outputs.pictures.drawing import line, picture, scaled, shorten, text
from estimating.outputs.printed.amounts import print_amount, print_signed
from estimating.outputs.printed.blocks import Column, Figure, Table

STEP, TOP, DEPTH, BOTTOM, LEFT = 110, 34, 150, 58, 20
TITLE = "Price over time"


@dataclass(frozen=True)
class Point:
    """A price at a time. label: what it is, such as estimate 3; when: as it is printed; causes of its difference."""

    label: str
    when: str
    price_minor: int
    causes: Sequence[tuple[str, int]] = ()


def price_figure(points: Sequence[Point], currency: str) -> Figure:
    """The picture of prices one after the other, with its table: one row for each cause of each step."""
    words = told(points, currency)
    width, height = LEFT * 2 + STEP * max(1, len(points)), TOP + DEPTH + BOTTOM
    svg = picture(width, height, TITLE, words, parts(points, currency))
    columns = (Column("When", 2), Column("What", 3), Column(f"Price, {currency}", 1, True),
               Column("Cause", 3), Column(f"Amount, {currency}", 1, True))  # fmt: skip
    return Figure(svg, f"{TITLE}. {words}", Table(TITLE, columns, list(rows(points, currency))))


def told(points: Sequence[Point], currency: str) -> str:
    """What the picture shows, in a sentence."""
    if not points:
        return "No price yet."
    first, last = points[0], points[-1]
    start, end = (print_amount(point.price_minor, currency) for point in (first, last))
    return (
        f"{len(points)} prices, from {currency} {start} ({first.label}, {first.when})"
        f" to {end} ({last.label}, {last.when})."
    )


def rows(points: Sequence[Point], currency: str) -> Iterator[tuple[str, ...]]:
    """The table's rows."""
    for point in points:
        price = print_amount(point.price_minor, currency)
        for place, (cause, amount) in enumerate(point.causes or (("", 0),)):
            head = (point.when, point.label, price) if not place else ("", "", "")
            yield (*head, cause, print_signed(amount, currency) if cause else "")


def parts(points: Sequence[Point], currency: str) -> Iterator[str]:
    """Steps, prices and labels."""
    prices = [point.price_minor for point in points]
    low, high = min(prices, default=0), max(prices, default=0)
    floor = low - (high - low) // 2 if high > low else 0
    heights = [TOP + DEPTH - scaled(price - floor, high - floor, DEPTH) for price in prices]
    for place, (point, y) in enumerate(zip(points, heights, strict=True)):
        x = LEFT + place * STEP
        yield line(x, y, x + STEP, y, 3)
        if place:
            yield line(x, heights[place - 1], x, y)
        yield text(x + STEP // 2, y - 6, print_amount(point.price_minor, currency), "middle", strong=True)
        yield text(x + STEP // 2, TOP + DEPTH + 16, shorten(point.label, 18), "middle")
        yield text(x + STEP // 2, TOP + DEPTH + 31, point.when, "middle")
        main = max(point.causes, key=lambda cause: abs(cause[1]), default=None)
        if main is not None:
            words = shorten(f"{main[0]} {print_signed(main[1], currency)}", 20)
            yield text(x + STEP // 2, TOP + DEPTH + 46, words, "middle")
    if floor:
        yield text(LEFT, TOP + DEPTH - 5, f"the scale starts at {print_amount(floor, currency)}, not at 0")
    yield line(LEFT, TOP + DEPTH, LEFT + STEP * max(1, len(points)), TOP + DEPTH)
