"""The last day on which notice of a change may be given, counted as the contract counts."""

from __future__ import annotations

import datetime
from collections.abc import Collection

CALENDAR, WORKING = "calendar", "working"
COUNTED_IN = (CALENDAR, WORKING)
SATURDAY = 5
A_DAY = datetime.timedelta(days=1)


def last_day(
    known_on: datetime.date, days: int, counted: str = CALENDAR, holidays: Collection[datetime.date] = ()
) -> datetime.date:
    """The day that is so many days after the one on which the change was known, which itself is not counted.

    Working days are Monday to Friday without the holidays. In calendar days every day counts, and a last day on a
    weekend stays where it is: a contract that moves it on says so (common practice, no source; the contract governs).
    """
    if counted == CALENDAR:
        return known_on + days * A_DAY
    day, left = known_on, days
    while left:
        day += A_DAY
        left -= day.weekday() < SATURDAY and day not in holidays
    return day
