"""The pictures of a costed estimate beside its build-up, the same for pages and documents."""

from __future__ import annotations

import uuid
from collections.abc import Mapping
from typing import Any

import orjson

from estimating.outputs.pictures.of_documents import picture_of_break_even, picture_of_hours
from estimating.outputs.printed.blocks import Figure
from estimating.queries.estimates import part
from rates.refusals import Conflict


def hours_picture(*, company: uuid.UUID, id: uuid.UUID) -> Figure | None:
    """Hours by elevation; None where there is one. NotThere, Conflict until costed."""
    return picture_of_hours(part(company=company, id=id, name="breakouts"))


def break_even_picture(*, company: uuid.UUID, id: uuid.UUID, document: Mapping[str, Any]) -> Figure | None:
    """Per opening against per area; None where the request states no area and rate. NotThere, Conflict until costed."""
    try:
        found = orjson.loads(part(company=company, id=id, name="per-area"))
    except Conflict as missing:
        if missing.code == "part_missing":
            return None
        raise
    return picture_of_break_even(found, document["totals"]["openings"], document["currency"])


def estimate_pictures(*, company: uuid.UUID, id: uuid.UUID, document: Mapping[str, Any]) -> list[Figure]:
    """All that there are."""
    found = hours_picture(company=company, id=id), break_even_picture(company=company, id=id, document=document)
    return [figure for figure in found if figure is not None]
