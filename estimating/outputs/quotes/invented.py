"""Whether an edition's rates are known to be invented: nothing is offered to a customer by them."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any

from rates.core.normal_form import normal_table

DEMO = Path(__file__).resolve().parents[2] / "demo" / "rates.json"
WORD = "invented"


@cache
def demo_production() -> Any:
    """The production table of the demo, with which a new company starts."""
    return normal_table("production", json.loads(DEMO.read_text())["tables"]["production"])


def invented_in(document: Mapping[str, Any]) -> Iterator[str]:
    """The tables of an edition whose rows say so, and the production table where it is still the demo's."""
    tables = document["tables"]
    for name, rows in tables.items():
        entries = rows if isinstance(rows, list) else [rows]
        if any(WORD in str(entry.get(field, "")).lower() for entry in entries for field in ("source", "note", "title")):
            yield name
        elif name == "production" and rows == demo_production():
            yield name
