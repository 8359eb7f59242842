"""Days as a person reads them on paper and in pictures; documents for programs have them as ISO dates."""

from __future__ import annotations

import datetime

from estimating.outputs.calendar_answer import MONTHS

LETTERS = 3  # of a month where there is little room


def date_said(date: str) -> str:
    """An ISO date as a letter has it: January 9, 2027."""
    given = datetime.date.fromisoformat(date)
    return f"{MONTHS[given.month - 1]} {given.day}, {given.year}"


def day_said(date: datetime.date, with_year: bool = True) -> str:
    """A day where there is little room: Jan 9, 2027, or Jan 9."""
    year = f", {date.year}" if with_year else ""
    return f"{MONTHS[date.month - 1][:LETTERS]} {date.day}{year}"
