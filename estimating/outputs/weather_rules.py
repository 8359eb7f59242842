"""Go and no go of a zone: temperatures of its materials, dry surfaces, rain, frost and sunset, wind on a stage."""

from __future__ import annotations

from typing import Any

from estimating.core.scheduling.plan import PlannedPart
from estimating.core.scheduling.tasks import Task
from estimating.core.scheduling.warmth import dry_hours_of
from rates.core.exact import print_quantity, print_up
from rates.core.fraction import Fraction
from rates.core.temperatures import print_temperature

DEW_POINT_FAHRENHEIT = Fraction(5)  # over the dew point, where the data sheet says nothing (from memory)
WINDY = frozenset({"swing_stage", "lift"})


def margin(units: str) -> str:
    """The margin over the dew point, as a difference of temperatures."""
    degrees = DEW_POINT_FAHRENHEIT * 5 / 9 if units == "metric" else DEW_POINT_FAHRENHEIT
    return f"{print_quantity(degrees, 1)} °{'C' if units == 'metric' else 'F'}"


def weather_rules(task: Task, of: PlannedPart, units: str) -> dict[str, Any]:
    """The limits of a zone and what follows from them, a sentence each."""
    limits = of.limits
    lowest = print_temperature(limits.lowest_fahrenheit, units)
    highest = None if limits.highest_fahrenheit is None else print_temperature(limits.highest_fahrenheit, units)
    months = {stint.day.date.month for stint in of.by_task.get(task.number, ())}
    dry = max((dry_hours_of(of.days.month(month), limits) for month in months), default=limits.dry_hours)
    hours = f"{print_up(dry, 2)} h" if dry else ""
    go = [f"Surface {lowest} or warmer, and rising", "Surface dry and clean, free of frost and dust"]
    go.append(f"Surface {margin(units)} or more above the dew point")
    stop = [f"Colder than {lowest}, or falling to it" + (f" within {hours}" if hours else "")]
    if highest is not None:
        go[0] += f", no warmer than {highest}"
        stop.append(f"Warmer than {highest}")
    stop.append(f"Rain, fog or dew within {hours} of the last coat" if hours else "Rain, fog or dew on the surface")
    if hours:
        stop.append(f"Less than {hours} to sunset: no last coat")
    if any(task.part.works[k].access in WINDY for k in kinds_of(task)):
        stop.append("Wind above the limit of the maker of stage or lift")
    return {
        "lowest_temperature": lowest,
        "lowest_from": "rates" if limits.lowest_stated else "default",
        "highest_temperature": highest,
        "dry_hours": print_quantity(dry),
        "go": go,
        "no_go": stop,
    }


def kinds_of(task: Task) -> set[int]:
    """The kinds of a zone's openings."""
    lines = task.part.conditions.request.schedule.lines
    return {kind for i in task.lines if (kind := lines[i].kind) is not None}
