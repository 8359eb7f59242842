"""Words of change orders that tables, queries and the description share."""

from __future__ import annotations

COMPARISON, UNIT_PRICES, TIME_AND_MATERIAL = "comparison", "unit_prices", "time_and_material"
BASES = (COMPARISON, UNIT_PRICES, TIME_AND_MATERIAL)
UNITS = ("openings", "hours", "days", "lump_sum")
DUE, OVERDUE, GIVEN, GIVEN_LATE = "due", "overdue", "given", "given_late"
NOTICE_STATES = (DUE, OVERDUE, GIVEN, GIVEN_LATE)
REVISED = "revised"  # the step that leaves the state as it is
