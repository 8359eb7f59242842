"""The sizes of an estimate's openings, as its schedule gives them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from api.pages.exchange import Visit
from estimating.queries import intake
from rates.paging import Wanted, write_cursor


def sizes_of(visit: Visit, schedule: Mapping[str, Any] | None, start: int, count: int) -> dict[int, str]:
    """Number of a line, from 1 -> its size in the company's length style; none of openings sent without a schedule."""
    if schedule is None:
        return {}
    revision = intake.received(company=visit.company, id=visit.uuid_of(schedule["id"]))
    lines = intake.reading(revision, Wanted(count, write_cursor(start) if start else None)).items
    return {line["line"] + 1: size_of(line["fields"]) for line in lines}


def size_of(fields: Mapping[str, Any]) -> str:
    """Width × height, or a diameter; "" of a line that gives neither."""
    told = {name: str(field.get("shown") or field["value"]) for name, field in fields.items()}
    if "diameter" in told:
        return f"diameter {told['diameter']}"
    return " × ".join(told[name] for name in ("width", "height") if name in told)
