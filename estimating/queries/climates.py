"""The climates that a company has loaded for its calendars."""

from __future__ import annotations

import uuid
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from estimating.core.climate_tables import climate_of
from estimating.models import Climates as ClimatesRow


@dataclass(frozen=True)
class Climates:
    """A row for each month of a place."""

    items: list[dict[str, Any]]
    version: int

    @property
    def tag(self) -> str:
        return f"climates-{self.version}"


def climates(*, company: uuid.UUID) -> Climates:
    """The company's table; blank until somebody loads one."""
    row = ClimatesRow.objects.of(company).first()
    return Climates([], 0) if row is None else Climates(list(row.document), row.version)


def with_climate(*, company: uuid.UUID, request: Mapping[str, Any]) -> dict[str, Any]:
    """The request with the months of the climate that its calendar names; unchanged where it names none that is known.

    The months are stored with the request: a table that is loaded later moves no calendar that stands.
    """
    calendar = request.get("calendar")
    name = calendar.get("climate") if isinstance(calendar, Mapping) else None
    found = climate_of(climates(company=company).items, name) if isinstance(name, str) else None
    if found is None:
        return dict(request)
    return {**request, "calendar": {**dict(calendar or {}), "climate": found}}
