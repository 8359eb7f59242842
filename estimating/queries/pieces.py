"""The cut pieces of a costed estimate as the company's people read them."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from typing import Any

import orjson

from estimating import snapshots
from estimating.outputs.shown_pieces import show_pieces
from estimating.queries.estimates import part
from rates.queries.companies import length_style


@dataclass(frozen=True)
class Pieces:
    """The pieces with lengths in the company's style; the tag changes with the style, the stored part never does."""

    document: dict[str, Any]
    tag: str


def pieces(*, company: uuid.UUID, id: uuid.UUID) -> Pieces:
    """The pieces of a costed estimate; NotThere, Conflict until costed."""
    exact = orjson.loads(part(company=company, id=id, name="pieces"))
    summary = snapshots.read_beginning(company=company, estimate=id)
    assert summary is not None  # costed, or the part had not been there
    style = length_style(company=company)
    shown = show_pieces(exact, orjson.loads(summary)["units"]["length"], style)
    return Pieces(shown, f"{id.hex}-pieces-{style.name}-{style.denominator}")
