"""Public holidays of a country or a part of it, by ISO 3166: the library's, in English where it has them so."""

from __future__ import annotations

import holidays

from estimating.core.request_calendar import SiteCalendar
from estimating.core.scheduling.days import Holidays
from rates.core.problems import Problem

ENGLISH = "en_US"
LAST_YEAR = 2100  # beyond it nobody has decided any holiday


def public_holidays(region: str | None) -> Holidays:
    """The name of the holiday on a day, None on any other; no holidays without a region. NotImplementedError."""
    if region is None:
        return lambda day: None
    country, _, part = region.partition("-")
    offered = holidays.country_holidays(country, subdiv=part or None)
    if ENGLISH in offered.supported_languages:
        offered = holidays.country_holidays(country, subdiv=part or None, language=ENGLISH)
    return lambda day: offered.get(day) if day.year <= LAST_YEAR else None


def unknown_region(calendar: SiteCalendar | None) -> list[Problem]:
    """That nobody has holidays for the region that a calendar names."""
    region = calendar.holidays if calendar is not None else None
    try:
        public_holidays(region)
    except NotImplementedError:
        detail = f"no public holidays are known for {region}; name them as days_off"
        return [Problem("/calendar/holidays", "unknown_region", detail)]
    return []
