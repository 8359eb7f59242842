"""Estimates, their parts and derivations, what if, comparisons, and the feed."""

from __future__ import annotations

import uuid
from functools import partial
from typing import Any

from api.rest.common_fields import count, id_text, moment
from api.rest.company import as_given, currency
from api.rest.exchange import Answer, Call, Pending, Shown, listing, sent
from estimating.actions import comparisons as comparison_actions
from estimating.actions import estimates as actions
from estimating.actions.preparation import prepare
from estimating.actions.what_if import what_if
from estimating.outputs.shown_pieces import rows_by_mark
from estimating.queries import calendars, crew_sheets, cut_plans, estimate_lists, feed, workbooks
from estimating.queries import comparisons as comparison_queries
from estimating.queries import estimates as queries
from estimating.queries import pieces as piece_queries
from estimating.states import UNFINISHED
from rates.core.fields import Field, ListOf, Reader, Record, boolean, choice, clean_text, date, decimal, text
from rates.core.problems import Problem, Refused, Unreadable
from rates.paging import Page, Wanted


def parse_names(raw: object) -> tuple[str, ...]:
    """Names with a semicolon between them."""
    found = tuple(dict.fromkeys(name.strip() for name in clean_text(raw, 4000).split(";") if name.strip()))
    if not found:
        raise Unreadable("blank", "one or more names are expected")
    return found


LISTED = (
    "openings",
    "materials",
    "equipment",
    "cost-codes",
    "methods",
    "alternates",
    "assumptions",
    "checks",
    "breakouts",
    "unit-prices",
    "purchase-list",
)  # parts that are lists, also as tables
NAMES = Reader(parse_names, {"type": "string", "maxLength": 4000})
ACCEPT = Field("accept", NAMES, "alternates accepted together, by name, with a semicolon between them")
SHEETS = (
    Field("first", count(10**6), "only from this zone on, by its number in the calendar"),
    Field("last", count(10**6), "only up to this zone"),
)
OWN_QUERY = {"alternates": (ACCEPT,), "crew": SHEETS}  # fields of the query beside those of a page
TABLES = (*LISTED, "pieces", "cut-plan", "calendar")  # those, and the items of others
COSTLY = ("cost-codes", "methods", "alternates")  # parts that show costs throughout
COMPARISON = Record(
    as_given,
    (
        Field("before", id_text, "the earlier estimate", required=True),
        Field("after", id_text, "the later estimate", required=True),
        Field("attribution", choice("even_handed", "in_order"), "how the change goes to causes", default="even_handed"),
        Field("order", ListOf(text(40), 1, 20), "every cause once, for in_order"),
        Field("smooth", boolean(), "packs, minimum and rounding as a cause of their own", default=False),
    ),
)


FOUND_BY = (
    Field("project", id_text, "only estimates of this project"),
    Field("work_date_from", date(), "only with this work date or a later one"),
    Field("work_date_to", date(), "only with this work date or an earlier one"),
    Field("since", moment, "only made at this time or later"),
    Field("until", moment, "only made before this time"),
    Field("price_from", decimal(0, 10**12), "only with this price or a higher one"),
    Field("price_to", decimal(0, 10**12), "only with this price or a lower one"),
    Field("currency", currency, "only in this currency; prices are compared as written, never converted"),
    Field("archived", boolean(), "those of archived projects too", default=False),
)


def listed(call: Call) -> Answer:
    """GET /v1/estimates."""
    names = ("state", *(field.name for field in FOUND_BY))
    filter = estimate_lists.Filter(**{name: call.query[name] for name in names})
    return listing(estimate_lists.estimates(company=call.company, wanted=call.wanted, filter=filter))


def try_out(call: Call) -> Answer:
    """POST /v1/estimates/{id}/what-if."""
    if not isinstance(call.body, dict):
        raise Refused([Problem("", "not_an_object", "a change of the request is an object of its fields")])
    units = call.caller.unit_system
    found = what_if(company=call.company, id=call.id, patch=call.body, units=units, now=call.now)
    return Answer(found, stored=False)


def make(call: Call) -> Pending:
    """POST /v1/estimates."""
    if not isinstance(call.body, dict):
        raise Refused([Problem("", "not_an_object", "a request is an object of fields")])
    actions.refuse_long_queue(call.company)
    ready = prepare(company=call.company, request=call.body, units=call.caller.unit_system, now=call.now)
    company, member = call.company, call.caller.member
    submit = partial(actions.submit, company=company, member=member, prepared=ready, now=call.now)
    return Pending(ready.lines, submit, ready.job)


def show_run(call: Call, id: uuid.UUID) -> Shown:
    """An estimate as its run stands now."""
    estimate = queries.estimate(company=call.company, id=id)
    return Shown(estimate.state, estimate, estimate.tag)


def show(call: Call) -> Answer:
    """GET /v1/estimates/{id}."""
    estimate = queries.estimate(company=call.company, id=call.id)
    headers = {"Retry-After": "1"} if estimate.state in UNFINISHED else {}
    return Answer(estimate, tag=estimate.tag, headers=headers)


def cancel(call: Call) -> Answer:
    """DELETE /v1/estimates/{id}: cancels the run."""
    estimate = actions.cancel(company=call.company, id=call.id)
    return Answer(estimate, tag=estimate.tag)


def show_part(call: Call) -> Answer:
    """GET /v1/estimates/{id}/{part}: a page of a list, or the part whole."""
    name = call.path.rpartition("/")[2].partition(".")[0]
    if call.query.get("accept") is not None:
        page = queries.accepted(company=call.company, id=call.id, names=call.query["accept"])
        return listing(page, cautions=queries.cautions(company=call.company, id=call.id))
    if queries.is_list(company=call.company, id=call.id, name=name):
        page = queries.part_page(company=call.company, id=call.id, name=name, wanted=call.wanted)
        return listing(page, cautions=queries.cautions(company=call.company, id=call.id))
    return Answer(queries.part(company=call.company, id=call.id, name=name), tag=f"{call.id.hex}-{name}")


def show_pieces(call: Call) -> Answer:
    """GET /v1/estimates/{id}/pieces: lengths in the company's style beside the exact ones; as a table by mark."""
    pieces = piece_queries.pieces(company=call.company, id=call.id)
    beside = {"cautions": queries.cautions(company=call.company, id=call.id)}
    document: Any = pieces.document | beside
    content = document if call.format == "json" else Page(tuple(rows_by_mark(document["items"])), None)
    return Answer(content, tag=pieces.tag, beside=beside)


def whole_or_items(call: Call, found: dict[str, Any]) -> Answer:
    """The document as JSON; as a table its items."""
    content = found if call.format == "json" else Page(tuple(found["items"]), None)
    return Answer(content, beside={"cautions": found["cautions"]})


def show_cut_plan(call: Call) -> Answer:
    """GET /v1/estimates/{id}/cut-plan: rolls with running marks, bundles; as a table the rolls."""
    return whole_or_items(call, cut_plans.plan_of(company=call.company, id=call.id))


def print_cut_plan(call: Call) -> Answer:
    """GET /v1/estimates/{id}/cut-plan.pdf."""
    return sent(cut_plans.cut_plan_file(company=call.company, id=call.id))


def print_purchase_list(call: Call) -> Answer:
    """GET /v1/estimates/{id}/purchase-list.pdf."""
    return sent(cut_plans.purchase_file(company=call.company, id=call.id))


def show_calendar(call: Call) -> Answer:
    """GET /v1/estimates/{id}/calendar: days, zones, days off; as a table the days."""
    return whole_or_items(call, calendars.calendar_of(company=call.company, id=call.id))


def send_calendar(call: Call) -> Answer:
    """GET /v1/estimates/{id}/calendar.ics."""
    return sent(calendars.icalendar_file(company=call.company, id=call.id))


def draw_calendar(call: Call) -> Answer:
    """GET /v1/estimates/{id}/calendar.svg."""
    return sent(calendars.picture_file(company=call.company, id=call.id))


def show_workbook(call: Call) -> Answer:
    """GET /v1/estimates/{id}/workbook.xlsx."""
    return sent(workbooks.workbook_file(company=call.company, id=call.id))


def asked_sheets(call: Call) -> dict[str, Any]:
    """Which sheets of which estimate a request asks for."""
    return {"company": call.company, "id": call.id, "first": call.query["first"], "last": call.query["last"]}


def show_crew(call: Call) -> Answer:
    """GET /v1/estimates/{id}/crew: a sheet for each zone."""
    beside = queries.cautions(company=call.company, id=call.id)
    return Answer({"items": crew_sheets.sheets_of(**asked_sheets(call)), "cautions": beside})


def print_crew(call: Call) -> Answer:
    """GET /v1/estimates/{id}/crew-sheet.pdf."""
    return sent(crew_sheets.crew_sheet_file(**asked_sheets(call)))


SHOWN_BY = {
    "pieces": show_pieces,
    "cut-plan": show_cut_plan,
    "calendar": show_calendar,
    "crew": show_crew,
}  # parts that are more than what is stored


def show_derivation(call: Call) -> Answer:
    """GET /v1/estimates/{id}/derivations/{figure}."""
    found = queries.derivation(
        company=call.company, id=call.id, figure=call.places["figure"], depth=call.query["depth"] or 1
    )
    return Answer(found)


def compare(call: Call) -> Pending:
    """POST /v1/comparisons."""
    body: dict[str, Any] = call.body
    wanted = comparison_actions.Wanted(
        body["before"], body["after"], body["attribution"], body.get("order"), body["smooth"]
    )
    ready = comparison_actions.prepare(company=call.company, wanted=wanted)
    company, member = call.company, call.caller.member
    submit = partial(comparison_actions.submit, company=company, member=member, prepared=ready, now=call.now)
    return Pending(ready.lines, submit, eager=True)


def show_comparison_run(call: Call, id: uuid.UUID) -> Shown:
    """A comparison as its run stands now."""
    comparison = comparison_queries.comparison(company=call.company, id=id)
    return Shown(comparison.state, comparison, comparison.tag)


def comparisons(call: Call) -> Answer:
    """GET /v1/comparisons."""
    return listing(comparison_queries.comparisons(company=call.company, wanted=call.wanted))


def show_comparison(call: Call) -> Answer:
    """GET /v1/comparisons/{id}."""
    comparison = comparison_queries.comparison(company=call.company, id=call.id)
    return Answer(comparison, tag=comparison.tag)


def show_feed(call: Call) -> Answer:
    """GET /v1/feed: `after` for the next pull stands in every answer, the last page included."""
    cursor = call.query["after"]
    limit = call.query["limit"] or 100
    page, after = feed.changes(company=call.company, wanted=Wanted(limit, cursor))
    return Answer({"items": page.items, "next": page.next, "after": after})
