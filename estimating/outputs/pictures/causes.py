"""The causes of a change in price as a picture: more to the right, filled; less to the left, hatched."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from estimating.outputs.pictures.drawing import FULL, LESS, PART, bar, line, picture, scaled, shorten, text
from estimating.outputs.printed.amounts import print_signed
from estimating.outputs.printed.blocks import Column, Figure, Table

WIDTH, LEFT, RIGHT, ROW = 640, 190, 100, 24
TITLE = "What moved the price"
Causes = Sequence[tuple[str, int]]  # name, amount in minor units


def causes_figure(causes: Causes, currency: str) -> Figure:
    """The picture of causes, with its table; they sum to the change, which is the last bar."""
    change = sum(amount for _, amount in causes)
    words = f"{len(causes)} causes sum to {currency} {print_signed(change, currency)}. Bars to the left take away."
    height = ROW * (len(causes) + 1) + 14
    svg = picture(WIDTH, height, TITLE, words, parts(causes, change, currency, height))
    rows = [(name, print_signed(amount, currency)) for name, amount in causes]
    columns = (Column("Cause", 3), Column(f"Amount, {currency}", 1, True))
    return Figure(svg, f"{TITLE}. {words}", Table(TITLE, columns, rows, ("Change", print_signed(change, currency))))


def parts(causes: Causes, change: int, currency: str, height: int) -> Iterator[str]:
    """Labels, bars and amounts, row by row, around a line in the middle."""
    half = (WIDTH - LEFT - RIGHT) // 2
    middle = LEFT + half
    most = max((abs(amount) for _, amount in (*causes, ("", change))), default=0)
    for place, (name, amount) in enumerate((*causes, ("Change", change))):
        y, last = 6 + place * ROW, place == len(causes)
        width = scaled(abs(amount), most, half)
        yield text(LEFT - 8, y + 15, shorten(name, 30), "end", strong=last)
        if amount:
            fill = LESS if amount < 0 else PART if last else FULL
            yield bar(middle - width if amount < 0 else middle, y + 3, width, ROW - 7, fill)
        yield text(WIDTH - 4, y + 15, print_signed(amount, currency), "end", strong=last)
    yield line(middle, 2, middle, height - 4, 2)
