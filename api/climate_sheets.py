"""A company's climates as a CSV, as the API and the pages read it: rows under the names of the fields."""

from __future__ import annotations

from typing import Any

from api.sent_sheet import SentSheet
from estimating.core.climate_tables import MOST_ROWS, ROW, read_climates
from rates.core.fields import Faults
from rates.core.problems import Refused

NAME = "climates"


def read_climate_sheet(data: bytes) -> list[dict[str, Any]]:
    """The rows of a CSV as they are kept; Refused, each fault at its line and column."""
    faults: Faults = []
    sheet = SentSheet.of(data, NAME, ROW.by_name, MOST_ROWS, faults)
    rows = read_climates({"items": sheet.items}, faults)
    if faults:
        raise Refused([sheet.placed(fault) for fault in faults])
    return rows
