"""Touch hours by elevation as a picture: where the work of a job is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from estimating.outputs.measures import for_reading
from estimating.outputs.pictures.drawing import FULL, PART, bar, line, picture, scaled, shorten, text
from estimating.outputs.printed.blocks import Column, Figure, Table
from rates.core.exact import round_half_up
from rates.core.fraction import Fraction
from rates.core.texts import counted

WIDTH, LEFT, RIGHT, ROW = 640, 170, 190, 24
TITLE = "Hours by elevation"
Places = Sequence[tuple[str, int, Fraction]]  # name, openings, touch hours


def hours_figure(places: Places) -> Figure:
    """The picture of each elevation's touch hours, with its table; their sum is the last bar."""
    whole = sum((hours for _, _, hours in places), Fraction(0))
    openings = sum(count for _, count, _ in places)
    words = f"{for_reading(whole)} touch hours on {len(places)} elevations; set-up and idle time are not among them."
    svg = picture(WIDTH, ROW * (len(places) + 1) + 14, TITLE, words, parts(places, openings, whole))
    rows = [(name, f"{count:,}", for_reading(hours)) for name, count, hours in places]
    columns = (Column("Elevation", 3), Column("Openings", 1, True), Column("Touch hours", 1, True))
    return Figure(svg, f"{TITLE}. {words}", Table(TITLE, columns, rows, ("Sum", f"{openings:,}", for_reading(whole))))


def parts(places: Places, openings: int, whole: Fraction) -> Iterator[str]:
    """Labels, bars and hours, row by row."""
    units, most = WIDTH - LEFT - RIGHT, hundredths(whole)
    for place, (name, count, hours) in enumerate((*places, ("Sum", openings, whole))):
        y, last = 6 + place * ROW, place == len(places)
        yield text(LEFT - 8, y + 15, shorten(name, 30), "end", strong=last)
        if hours:
            yield bar(LEFT, y + 3, scaled(hundredths(hours), most, units), ROW - 7, PART if last else FULL)
        openings_too = f", {counted(count, 'opening')}" if count else ""
        yield text(WIDTH - 4, y + 15, f"{for_reading(hours)} h{openings_too}", "end", strong=last)
    yield line(LEFT, 2, LEFT, ROW * (len(places) + 1) + 10)


def hundredths(hours: Fraction) -> int:
    """Hours as whole hundredths."""
    return round_half_up(hours * 100)
