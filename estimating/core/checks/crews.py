"""Checks of crew and calendar: who works, how often the crew comes, how far the day lies from the rates."""

from __future__ import annotations

from collections.abc import Iterator

from estimating.core.checks.bands import YEARS_FROM_EDITION
from estimating.core.checks.case import Case, Work
from estimating.core.checks.wording import listed
from rates.core.texts import counted

SKILLED = ("journeyman", "foreman")
DAYS_A_YEAR = 365


def no_journeyman(work: Work) -> Iterator[Case]:
    """A crew whose grades are all stated, none of them a journeyman's or foreman's."""
    grades = [rate.row.grade for rate in work.part.crew.rates]
    if grades and all(grades) and not any(grade in SKILLED for grade in grades):
        told = listed(dict.fromkeys(str(grade) for grade in grades))
        yield Case("", {"grades": told})


def more_crews(work: Work) -> Iterator[Case]:
    """More crews than there are workers to share out."""
    crew = work.request.crew
    if crew.crews > crew.workers:
        yield Case("", {"crews": counted(crew.crews, "crew"), "workers": counted(crew.workers, "worker")})


def not_mobilised(work: Work) -> Iterator[Case]:
    """Work without any mobilisation."""
    if work.part.every_work and not work.part.plan.mobilisations:
        yield Case()


def new_and_not_learning(work: Work) -> Iterator[Case]:
    """A crew that is new to the work under an edition that prices no learning."""
    if work.request.crew.done_before is not None and work.card.production.learning.model == "none":
        yield Case()


def years_from_edition(work: Work) -> Iterator[Case]:
    """A day of work that lies years after the day from which its rates count."""
    day = work.part.plan.work_date or work.request.work_date
    years = (day - work.card.effective_from).days // DAYS_A_YEAR
    if years >= YEARS_FROM_EDITION:
        says = {"day": day.isoformat(), "start": work.card.effective_from.isoformat(), "years": str(years)}
        yield Case(day.isoformat(), says)
