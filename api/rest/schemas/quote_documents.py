"""Schemas of what is answered about quotes, from the dataclasses that the queries give."""

from __future__ import annotations

from typing import Any

from api.rest.schemas.records import Json, schema_of
from estimating.outputs.assumptions.item import MOVES
from estimating.outputs.documents import parts
from estimating.queries import bids_due, change_orders, quote_texts, quotes, sign_offs

STATE: Json = {"type": "string", "enum": list(quotes.STATES)}


def with_fields(kind: Any, **fields: Json) -> Json:
    """A dataclass with some of its fields told closer."""
    found = schema_of(kind)
    return found | {"properties": found["properties"] | fields}


BASIS: Json = {"type": "string", "enum": list(quotes.BASES)}
QUOTE = with_fields(quotes.Quote, state=STATE, basis=BASIS)
QUOTE["properties"]["offers"]["items"]["properties"]["basis"] = BASIS
QUOTE["required"] = [name for name in QUOTE["required"] if name not in ("margin", "margin_percent")]  # costs alone
SIGN_OFFS = schema_of(sign_offs.SignOffs)
SIGN_OFFS["properties"]["items"]["items"]["properties"]["state"] = {"type": "string", "enum": list(sign_offs.STATES)}
SIGN_OFFS["properties"]["items"]["items"]["properties"]["moves"] = {"type": "string", "enum": list(MOVES)}
SCHEMAS: Json = {
    "ChangeOrder": schema_of(change_orders.ChangeOrder),
    "DueNotice": schema_of(change_orders.DueNotice),
    "CostCodeLine": schema_of(parts.CostCodeLine),
    "BudgetLine": schema_of(parts.BudgetLine),
    "Quote": QUOTE,
    "QuoteLine": with_fields(quotes.QuoteLine, state=STATE, basis=BASIS),
    "DueBid": with_fields(bids_due.DueBid, waits_for={"type": "string", "enum": list(bids_due.WAITS)}),
    "QuoteTexts": schema_of(quote_texts.QuoteTexts),
    "SignOffs": SIGN_OFFS,
}
