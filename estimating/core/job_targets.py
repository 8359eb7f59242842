"""What each zone of a costed job is to take, mark by mark: the targets that a crew's counts are held against."""

from __future__ import annotations

from estimating.core.estimate import Estimate
from estimating.core.job_progress import JOINTS, MarkTarget, Targets, ZoneTarget, steps_of
from estimating.core.part import Part
from estimating.core.scheduling.plan import in_date_order
from estimating.core.scheduling.tasks import Task, tasks_of
from rates.core.fraction import Fraction

ZERO = Fraction(0)


def targets_of(estimate: Estimate) -> Targets:
    """The zones of every part in working order, numbered through, in paid worker-hours."""
    zones, setup, day = list[ZoneTarget](), ZERO, ZERO
    for part in in_date_order(estimate):
        paid = Fraction(part.crew.workers) / part.crew.shares
        setup += part.hours.setup * paid
        day = max(day, part.conditions.production.hours_per_day * Fraction(part.crew.workers))
        for task in tasks_of(part):
            zones.append(zone_target(part, task, len(zones) + 1, paid))
    return Targets(tuple(zones), setup, day)


def zone_target(part: Part, task: Task, number: int, paid: Fraction) -> ZoneTarget:
    """One task of a part; the sheathing joints as one thing to do."""
    if task.is_joints:
        joints = MarkTarget(JOINTS, 1, task.work * paid, ((JOINTS, Fraction(1)),))
        return ZoneTarget(number, task.elevation, task.storey, (joints,))
    coats, lines = part.conditions.production.coats, part.conditions.request.schedule.lines
    share = None if coats is None else coats.first_coat_share
    by_mark: dict[str, list[int]] = {}
    for i in task.lines:
        by_mark.setdefault(lines[i].mark, []).append(i)
    marks = []
    for mark, indexes in by_mark.items():
        works = [(lines[i].quantity, part.works[int(lines[i].kind or 0)]) for i in indexes]
        openings = sum(count for count, _ in works)
        minutes = sum((count * Fraction(work.touch_minutes) for count, work in works), ZERO)
        hours = minutes / openings * task.learning / 60 * paid
        marks.append(MarkTarget(mark, openings, hours, steps_of(works[0][1].method, share)))
    return ZoneTarget(number, task.elevation, task.storey, tuple(marks))
