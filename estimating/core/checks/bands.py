"""What is likely of reach, wages, prices, percentages and minutes: judgement of practice, without source.

A value outside is told, never refused: a slip of a decimal place, a unit or a percent cell lands outside, a dear market
does not. Money bands hold for the currencies listed, whose units are worth about the same.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from rates.core.fraction import Fraction
from rates.core.units import LENGTH_NM

FOOT, INCH = LENGTH_NM["ft"], LENGTH_NM["in"]


class Band(NamedTuple):
    """What is likely, both ends included."""

    low: Fraction
    high: Fraction

    def holds(self, value: Fraction) -> bool:
        """Whether a value is within."""
        return self.low <= value <= self.high


def band(low: str, high: str) -> Band:
    """A band by its ends as written."""
    return Band(Fraction(low), Fraction(high))


CURRENCIES = frozenset({"USD", "CAD", "AUD", "NZD", "EUR", "GBP", "CHF"})
WAGE_AN_HOUR = band("8", "200")
# role -> (unit, money a unit); a consumable is counted
UNIT_PRICES: Mapping[str, tuple[str, Band]] = {
    "liquid": ("gal", band("8", "600")),
    "primer": ("gal", band("8", "600")),
    "sealant": ("gal", band("8", "600")),
    "mesh": ("ft", band("0.02", "10")),
    "tape": ("ft", band("0.05", "25")),
    "backer_rod": ("ft", band("0.01", "10")),
    "consumable": ("each", band("0.05", "500")),
}
RENTALS: Mapping[str, Band] = {"day": band("5", "5000"), "week": band("10", "20000"), "month": band("20", "60000")}
# step -> the percentage of a row that states one
PERCENTAGES: Mapping[str, Band] = {
    "freight": band("0", "40"),
    "sales_tax": band("0", "15"),
    "small_tools": band("0", "25"),
    "overhead": band("1", "80"),
    "contingency": band("0", "40"),
    "profit": band("1", "60"),
    "bond": band("0", "6"),
    "gross_receipts_tax": band("0", "12"),
}
BURDEN = band("4", "150")  # percent, the rows of one class of worker together
FACTOR = band("0.6", "4")
HOURS_A_DAY = band("4", "12")
PRODUCTIVE_SHARE = band("0.25", "1.25")
OPENING_MINUTES = band("8", "180")  # of an opening of 4 ft by 4 ft
OPENING_PERIMETER_NM = 16 * FOOT
PIPE_MINUTES = band("1", "90")  # of a pipe of 1 ft around
PIPE_PERIMETER_NM = FOOT
WASTE = band("1.01", "60")  # percent, added or lost
NEVER_WITHOUT_LOSS = ("liquid", "mesh", "tape", "primer", "sealant")
# geometry field -> the least that sheds water. Upper over lower at least 2 in: IRC R703.2; 1-1/2 in allows 40 mm
LEAST_LAPS_NM: Mapping[str, Fraction] = {
    "face_lap_nm": 3 * INCH / 2,
    "mesh_lap_nm": 3 * INCH / 2,
    "tape_lap_nm": 3 * INCH / 2,
    "collar_lap_nm": INCH,
    "lap_on_pipe_nm": INCH,
}
# how high a head is worked from where the edition states no limit
REACH_NM: Mapping[str, Fraction] = {
    "ground": 10 * FOOT,
    "step_ladder": 16 * FOOT,
    "ladder": 24 * FOOT,
    "extension_ladder": 40 * FOOT,
    "rolling_scaffold": 40 * FOOT,
}
SEAL_DEPTH_NM = Band(INCH / 4, INCH / 2)  # half the width, 1/4 to 1/2 in: Allen, Architectural Detailing
SEAL_WIDTH_NM = Band(INCH / 4, 3 * INCH / 2)
YEARS_FROM_EDITION = 2
PENETRATIONS_FROM = 10  # openings of a job that is unlikely to have no pipe
