"""The worked estimates of tests/data: their names and documents."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

DATA = Path(__file__).parent / "data"
CASES = (
    "golden",
    "01-round-top",
    "03-pipes-minimum-charge",
    "06-new-crew-exponential",
    "09-tiered-bond",
    "12-storeys-two-mobilisations",
)


def read_case(name: str, file: str) -> Any:
    """A document of a worked case: "golden" or the name of a folder of cases."""
    folder = DATA / "golden" if name == "golden" else DATA / "cases" / name
    return json.loads((folder / file).read_text())
