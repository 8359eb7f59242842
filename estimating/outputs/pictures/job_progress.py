"""Hours earned against hours spent by day as a picture: two lines that start at nothing and go up."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from estimating.outputs.measures import for_reading
from estimating.outputs.pictures.drawing import line, picture, scaled, text
from estimating.outputs.printed.blocks import Column, Figure, Table
from rates.core.exact import round_half_up
from rates.core.fraction import Fraction

WIDTH, HEIGHT, LEFT, RIGHT, TOP, BOTTOM = 640, 280, 70, 130, 20, 44
TITLE = "Earned against spent"


@dataclass(frozen=True)
class Day:
    """The hours of a day's end: earned and spent so far; when: as it is printed."""

    when: str
    earned: Fraction
    spent: Fraction


def progress_figure(days: Sequence[Day], target: Fraction) -> Figure:
    """The picture with its table, a row for each day."""
    last = days[-1] if days else Day("", Fraction(0), Fraction(0))
    words = f"{for_reading(last.earned)} of {for_reading(target)} hours earned with {for_reading(last.spent)} spent."
    rows = [(day.when, for_reading(day.earned), for_reading(day.spent)) for day in days]
    columns = (Column("Day", 2), Column("Earned so far, h", 2, True), Column("Spent so far, h", 2, True))
    svg = picture(WIDTH, HEIGHT, TITLE, words, parts(days, target))
    return Figure(svg, f"{TITLE}. {words}", Table(TITLE, columns, rows))


def parts(days: Sequence[Day], target: Fraction) -> Iterator[str]:
    """Axes, the target, both lines with their ends named."""
    wide, high = WIDTH - LEFT - RIGHT, HEIGHT - TOP - BOTTOM
    foot, top = TOP + high, max([target, *(day.spent for day in days), Fraction(1, 100)])

    def y(hours: Fraction) -> int:
        return foot - scaled(round_half_up(hours * 100), round_half_up(top * 100), high)

    steps = [LEFT + wide * place // max(1, len(days)) for place in range(len(days) + 1)]
    yield line(LEFT, TOP - 6, LEFT, foot)
    yield line(LEFT, foot, LEFT + wide, foot)
    yield f'<path d="M{LEFT} {y(target)}H{LEFT + wide}" stroke="#222" stroke-dasharray="2 3" fill="none"/>'
    yield text(LEFT - 8, y(target) + 4, for_reading(target), "end")
    yield text(LEFT - 8, foot + 4, "0 h", "end")
    earned = [(steps[0], foot), *zip(steps[1:], (y(day.earned) for day in days), strict=True)]
    spent = [(steps[0], foot), *zip(steps[1:], (y(day.spent) for day in days), strict=True)]
    yield path(earned, "")
    yield path(spent, ' stroke-dasharray="9 5"')
    if days:
        apart = 0 if abs(earned[-1][1] - spent[-1][1]) > 14 else 14
        yield text(steps[-1] + 8, earned[-1][1] + 4, f"earned {for_reading(days[-1].earned)} h", strong=True)
        yield text(steps[-1] + 8, spent[-1][1] + 4 - apart, f"spent {for_reading(days[-1].spent)} h", strong=True)
        yield text(steps[1], foot + 16, days[0].when, "middle" if len(days) > 1 else "end")
        if len(days) > 1:
            yield text(steps[-1], foot + 16, days[-1].when, "middle")
    yield text(LEFT + 6, y(target) - 6, "target")


def path(points: Sequence[tuple[int, int]], dashes: str) -> str:
    """A line through points."""
    steps = "L".join(f"{x} {y}" for x, y in points)
    return f'<path d="M{steps}" stroke="#222" stroke-width="3" fill="none"{dashes}/>'
