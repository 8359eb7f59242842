"""What those see who may not see costs: prices and quantities, and no wage, burden, cost or margin.

A list of what is shown, never of what is hidden: a new field, and a new operation, stays out of sight until it stands
here. Operations on rates, the company and the audit have scopes of their own, which such roles lack.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import replace
from typing import Any, Protocol

import orjson

from api.auth import Refusal
from api.plain import plain
from estimating.core.checks.table import OPEN
from estimating.outputs.assumptions.item import EDITION
from rates.actions.sign_in import Caller
from rates.documents import write_json
from rates.paging import Page


class Shown(Protocol):
    """What shows a document: the name of its shape, and the scope that it is shown under."""

    @property
    def name(self) -> str: ...

    @property
    def scope(self) -> str: ...


Shape = Callable[[Any], Any]
VEILED_SCOPES = ("read", "estimate", "quotes")
TOTALS = ("openings", "perimeter", "treated_area", "hours", "crew_days", "price", "price_per_opening")
ESTIMATE = (
    "scope", "id", "state", "progress", "project", "number", "schedule", "edition", "layers", "work_date", "known_at",
    "currency", "units", "by_mark", "remarks", "checks", "cautions", "input_digest", "engine_version", "problems",
    "reason", "created_at", "costed_at",
)  # fmt: skip
COMPARISON = (
    "id", "state", "estimates", "attribution", "order", "smooth", "matches", "problems", "reason", "created_at",
    "compared_at", "currency", "before", "after", "change", "lines", "customer_sentence", "cautions",
)  # fmt: skip
MATERIALS = ("code", "title", "role", "net", "gross", "stock", "unit", "packs", "left_over", "cost_code")
PURCHASES = (
    "code", "title", "role", "part", "net", "waste", "gross", "stock", "needed", "unit", "packs", "left_over",
    "need_by", "order_by", "lead_days", "buy_after", "shelf_life_days", "storage", "cost_code",
)  # fmt: skip
EQUIPMENT = ("code", "title", "days", "units", "rental", "deliveries", "cost_code")
HOURS = ("standard", "setup", "idle", "paid", "learning_factor", "opening_equivalents", "touch_minutes")
QUOTE = (
    "id", "number", "state", "project", "estimate", "replaces", "customer", "valid_until", "currency", "price",
    "price_before_discount", "discount", "discount_percent", "discount_limit", "basis", "basis_reason", "offers",
    "inclusions", "exclusions", "clarifications", "addenda", "terms", "note", "blocks", "approval", "documents",
    "made_by", "created_at", "issued_by", "issued_at", "closed_by", "closed_at", "close_reason", "competing_price",
    "accepted_alternates", "alternates_price", "awarded_price",
)  # fmt: skip
CHANGE_ORDER = (
    "id", "number", "project", "quote", "quote_number", "state", "title", "description", "directive", "notice",
    "notice_due", "notice_state",
    "work_date", "basis", "comparison", "edition", "currency", "price", "contract", "exposure", "steps", "made_by",
    "created_at",
)  # fmt: skip
PRICED_LINE = ("title", "mark", "quantity", "unit", "unit_price", "price")
BID = (
    "project", "name", "number", "state", "customer", "quote", "quote_number", "estimate", "due_at", "due_zone",
    "overdue", "currency", "value", "crew_days",
)  # fmt: skip
STATE_SUM = ("state", "currency", "bids", "value")
OVERVIEW = ("is_whole", "ended", "ends", "ends_whole", "since")
PRICES_END = "-prices"  # of the tag of a document that is shown without its costs
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
    found: Mapping[str, Any] = orjson.loads(written) if isinstance(written, bytes) else written
    return found


def estimate(value: Any) -> Any:
    """An estimate without its build-up, with the totals that show no cost."""
    found = as_object(value)
    totals = found.get("totals")
    shown = {name: totals[name] for name in TOTALS if name in totals} if totals else None
    told = {"checks": checks(found["checks"])} if "checks" in found else {}
    return only(ESTIMATE)(found) | {"totals": shown, "build_up": []} | told


def checks(value: Any) -> Any:
    """Those that tell nothing of wages, prices paid, percentages and profit."""
    if isinstance(value, Page):
        return replace(value, items=tuple(checks(list(value.items))))
    return [item for item in value if item["code"] in OPEN]


def comparison(value: Any) -> Any:
    """A comparison with the causes, and those of its sentences that tell of no cost; its rows of rates stay out."""
    found = as_object(value)
    shown = only(COMPARISON)(found)
    if "causes" in found:
        shown["causes"] = [cause(item) for item in found["causes"]]
    if "also_changed" in found:
        shown["also_changed"] = costless(found["also_changed"])
    if "checks" in found:
        shown["checks"] = checks(found["checks"])
    return shown


def cause(found: Mapping[str, Any]) -> Mapping[str, Any]:
    """A cause with the sentence made without its costs; those of older comparisons have none."""
    shown: dict[str, Any] = only(("cause", "amount"))(found)
    if "sentence_without_costs" not in found:
        return shown
    sentence = found["sentence_without_costs"]
    return shown | {"sentence": sentence, "sentence_without_costs": sentence, "changes": costless(found["changes"])}


def costless(changes: list[Mapping[str, Any]]) -> list[Mapping[str, Any]]:
    """The changes that tell of no cost."""
    return [change for change in changes if not change["tells_costs"]]


def assumptions(value: Any) -> Any:
    """Those that tell nothing of the tables of an edition."""
    if isinstance(value, Page):
        return replace(value, items=tuple(assumptions(list(value.items))))
    return [item for item in value if item["source"] != EDITION]


def signed(value: Any) -> Any:
    """Sign-offs of assumptions that tell nothing of the tables of an edition; how many wait of all."""
    found = as_object(value)
    return {"open": found["open"], "items": assumptions(found["items"])}


def change_order(value: Any) -> Any:
    """A change order with its prices, without what stands behind them."""
    found = as_object(value)
    return only(CHANGE_ORDER)(found) | {"lines": only(PRICED_LINE)(found["lines"]), "build_up": []}


def company(value: Any) -> Any:
    """The company without its least margin."""
    return {name: item for name, item in as_object(value).items() if name not in COMPANY_HIDDEN}


def what_if(value: Any) -> Any:
    """Both prices, without the values of the request, in which subcontracts stand with what they cost."""
    found = as_object(value)
    return {**found, "changed": only(("pointer",))(found["changed"])}


def overview(value: Any) -> Any:
    """Bids and sums by value, without margins; how quotes ended."""
    found = as_object(value)
    return only(OVERVIEW)(found) | {"bids": only(BID)(found["bids"]), "sums": only(STATE_SUM)(found["sums"])}


SHAPES: dict[str, Shape] = {
    "company": company,
    "make-estimate": estimate,
    "estimate": estimate,
    "cancel-estimate": estimate,
    "estimate-materials": only(MATERIALS),
    "estimate-purchase-list": only(PURCHASES),
    "estimate-equipment": only(EQUIPMENT),
    "estimate-hours": only(HOURS),
    "estimate-assumptions": assumptions,
    "try-what-if": what_if,
    "estimate-checks": checks,
    "make-comparison": comparison,
    "comparison": comparison,
    "sign-offs": signed,
    "overview": overview,
} | dict.fromkeys(
    (
        "make-change-order", "change-order", "revise-change-order", "direct-change-order", "agree-change-order",
        "dispute-change-order", "withdraw-change-order",
    ),
    change_order,
) | dict.fromkeys(
    ("make-quote", "requote", "quote", "change-quote", "issue-quote", "award-quote", "close-quote"), only(QUOTE)
) | dict.fromkeys(
    (
        "rate-books", "rate-book", "editions", "in-force",
        "projects", "make-project", "project", "change-project", "project-estimates",
        "opening-schedules", "add-opening-schedule", "opening-schedule", "schedule-openings", "schedule-source",
        "schedule-questions", "schedule-stakes", "schedule-reading", "schedule-report",
        "schedule-changes",
        "estimate-openings", "estimate-pieces", "estimate-per-area", "estimates", "comparisons", "feed",
        "bids-due", "quotes", "quote-letter-pdf", "quote-letter-html", "quote-changes-pdf", "quote-changes-html",
        "quote-ubl",
        "quote-texts", "project-history", "project-history-picture",
        "change-orders", "project-contract", "notices-due",
        "estimate-breakouts", "estimate-unit-prices", "estimate-cut-plan",
        "job-records", "job-record", "make-job-record", "add-job-records", "withdraw-job-record", "estimate-progress",
        "site-links", "site-link", "make-site-link", "revoke-site-link",
        "cut-plan-pdf", "estimate-calendar", "calendar-file", "calendar-picture", "estimate-crew", "climates",
        "crew-sheet-pdf",
    ),
    whole,
)  # fmt: skip


def veiled(caller: Caller | None, operation: Shown, content: Any) -> Any:
    """The content as the caller may see it: itself for who may see costs; Refusal where nobody has decided."""
    if caller is None or "costs" in caller.scopes or operation.scope not in VEILED_SCOPES or content is None:
        return content
    shape = SHAPES.get(operation.name)
    if shape is None:
        raise Refusal("not_allowed", "this shows costs", {}, "missing_scope")
    return shape(content)


def prices_tag(tag: str) -> str:
    """The tag of a document that is shown without its costs."""
    return f"{tag}{PRICES_END}"


def veil_again(caller: Caller | None, operation: Shown, body: bytes) -> bytes:
    """A kept answer in JSON as the caller may see it now, who may have seen more when it was first given; Refusal."""
    if caller is None or "costs" in caller.scopes or not body:
        return body
    content = orjson.loads(body)
    shown = veiled(caller, operation, content)
    return body if shown is content else write_json(shown)
