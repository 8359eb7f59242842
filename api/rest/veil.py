"""What those see who may not see costs: prices and quantities, and no wage, burden, cost or margin.

A list of what is shown, never of what is hidden: a new field, and a new operation, stays out of sight until it stands
here. Operations on rates, the company and the audit have scopes of their own, which such roles lack.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import replace
from typing import Any

import orjson

from api.auth import Refusal
from api.rest.exchange import Operation
from api.rest.plain import plain
from estimating.outputs.assumptions.item import EDITION
from rates.actions.sign_in import Caller
from rates.documents import write_json
from rates.paging import Page

Shape = Callable[[Any], Any]
VEILED_SCOPES = ("read", "estimate")
TOTALS = ("openings", "perimeter", "treated_area", "hours", "crew_days", "price", "price_per_opening")
ESTIMATE = (
    "scope", "id", "state", "progress", "project", "number", "schedule", "edition", "layers", "work_date", "known_at",
    "currency", "units", "by_mark", "remarks", "cautions", "input_digest", "engine_version", "problems", "reason",
    "created_at", "costed_at",
)  # fmt: skip
COMPARISON = (
    "id", "state", "estimates", "attribution", "order", "smooth", "matches", "problems", "reason", "created_at",
    "compared_at", "currency", "before", "after", "change", "lines",
)  # fmt: skip
MATERIALS = ("code", "title", "role", "net", "gross", "stock", "unit", "packs", "left_over", "cost_code")
EQUIPMENT = ("code", "title", "days", "units", "rental", "deliveries", "cost_code")
HOURS = ("standard", "setup", "idle", "paid", "learning_factor", "opening_equivalents", "touch_minutes")
COMPANY_HIDDEN = ("margin_floor",)


def whole(value: Any) -> Any:
    """All of it: there is no cost in it."""
    return value


def only(names: Collection[str]) -> Shape:
    """The named fields of an object, or of each object of a list."""

    def shape(value: Any) -> Any:
        if isinstance(value, Page):
            return replace(value, items=tuple(shape(item) for item in value.items))
        if isinstance(value, list):
            return [shape(item) for item in value]
        found = as_object(value)
        return {name: found[name] for name in names if name in found}

    return shape


def as_object(value: Any) -> Mapping[str, Any]:
    """The object that a value is written as."""
    written = plain(value)
    return orjson.loads(written) if isinstance(written, bytes) else written


def estimate(value: Any) -> Any:
    """An estimate without its build-up, with the totals that show no cost."""
    found = as_object(value)
    totals = found.get("totals")
    shown = {name: totals[name] for name in TOTALS if name in totals} if totals else None
    return only(ESTIMATE)(found) | {"totals": shown, "build_up": []}


def comparison(value: Any) -> Any:
    """A comparison with the amounts of its causes, without the rows and sentences that tell of rates."""
    found = as_object(value)
    causes = {"causes": only(("cause", "amount"))(found["causes"])} if "causes" in found else {}
    return only(COMPARISON)(found) | causes


def assumptions(value: Any) -> Any:
    """Those that tell nothing of the tables of an edition."""
    if isinstance(value, Page):
        return replace(value, items=tuple(assumptions(list(value.items))))
    return [item for item in value if item["source"] != EDITION]


def company(value: Any) -> Any:
    """The company without its least margin."""
    return {name: item for name, item in as_object(value).items() if name not in COMPANY_HIDDEN}


SHAPES: dict[str, Shape] = {
    "company": company,
    "make-estimate": estimate,
    "estimate": estimate,
    "cancel-estimate": estimate,
    "estimate-materials": only(MATERIALS),
    "estimate-equipment": only(EQUIPMENT),
    "estimate-hours": only(HOURS),
    "estimate-assumptions": assumptions,
    "make-comparison": comparison,
    "comparison": comparison,
} | dict.fromkeys(
    (
        "rate-books", "rate-book", "editions", "in-force",
        "projects", "make-project", "project", "change-project", "project-estimates",
        "opening-schedules", "add-opening-schedule", "opening-schedule", "schedule-openings", "schedule-source",
        "schedule-questions", "schedule-stakes", "schedule-reading", "schedule-report",
        "schedule-changes",
        "estimate-openings", "estimate-pieces", "estimate-per-area", "comparisons", "feed",
    ),
    whole,
)  # fmt: skip


def veiled(caller: Caller | None, operation: Operation, content: Any) -> Any:
    """The content as the caller may see it: itself for who may see costs; Refusal where nobody has decided."""
    if caller is None or "costs" in caller.scopes or operation.scope not in VEILED_SCOPES or content is None:
        return content
    shape = SHAPES.get(operation.name)
    if shape is None:
        raise Refusal("not_allowed", "this shows costs", {}, "missing_scope")
    return shape(content)


def prices_tag(tag: str) -> str:
    """The tag of a document that is shown without its costs."""
    return f"{tag}-prices"


def veil_again(caller: Caller | None, operation: Operation, body: bytes) -> bytes:
    """A kept answer in JSON as the caller may see it now, who may have seen more when it was first given; Refusal."""
    if caller is None or "costs" in caller.scopes or not body:
        return body
    content = orjson.loads(body)
    shown = veiled(caller, operation, content)
    return body if shown is content else write_json(shown)
