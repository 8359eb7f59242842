"""The climate of a station of tests/data/weather as a request gives it."""

from __future__ import annotations

import csv
from pathlib import Path
from typing import Any

NORMALS = Path(__file__).parent / "data" / "weather" / "noaa_normals_1991_2020_monthly.csv"


def stations() -> dict[str, list[dict[str, str]]]:
    """The rows of each station by its short name."""
    found: dict[str, list[dict[str, str]]] = {}
    with NORMALS.open(newline="") as file:
        for row in csv.DictReader(file):
            found.setdefault(row["metro"], []).append(row)
    return found


def climate_of(station: str, *, wet: bool = True) -> dict[str, Any]:
    """A station's climate; wet: with its days of rain."""
    rows = stations()[station]
    months = [
        {"month": int(row["month"]), "high": row["normal_high_f"], "low": row["normal_low_f"]}
        | ({"wet_days": row["normal_days_ge_0.10in"]} if wet else {})
        for row in rows
    ]
    source = "U.S. Climate Normals 1991-2020, NOAA"
    return {"title": rows[0]["station_name"], "unit": "f", "source": source, "months": months}
