"""Estimates, their parts and derivations, comparisons, and the feed."""

from __future__ import annotations

import uuid
from typing import Any

from api.rest.company import as_given
from api.rest.exchange import Answer, Call, Pending, Shown, listing
from api.rest.pieces import id_text
from estimating.actions import comparisons as comparison_actions
from estimating.actions import estimates as actions
from estimating.actions.preparation import prepare
from estimating.queries import comparisons as comparison_queries
from estimating.queries import estimates as queries
from estimating.queries import feed
from estimating.queries import pieces as piece_queries
from rates.core.fields import Field, ListOf, Record, boolean, choice, text
from rates.core.problems import Problem, Refused
from rates.paging import Page, Wanted

LISTED = (
    "openings",
    "materials",
    "equipment",
    "cost-codes",
    "methods",
    "alternates",
    "assumptions",
)  # parts that are lists, also as tables
TABLES = (*LISTED, "pieces")  # those, and the items of the pieces
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


def make(call: Call) -> Pending:
    """POST /v1/estimates."""
    if not isinstance(call.body, dict):
        raise Refused([Problem("", "not_an_object", "a request is an object of fields")])
    actions.refuse_long_queue(call.company)
    ready = prepare(company=call.company, request=call.body, units=call.caller.unit_system, now=call.now)

    def submit(at_once: bool) -> actions.Submitted:
        return actions.submit(
            company=call.company, member=call.caller.member, prepared=ready, at_once=at_once, now=call.now
        )

    return Pending(ready.lines, submit, ready.job)


def show_run(call: Call, id: uuid.UUID) -> Shown:
    """An estimate as its run stands now."""
    estimate = queries.estimate(company=call.company, id=id)
    return Shown(estimate.state, estimate, estimate.tag)


def show(call: Call) -> Answer:
    """GET /v1/estimates/{id}."""
    estimate = queries.estimate(company=call.company, id=call.id)
    headers = {"Retry-After": "1"} if estimate.state in queries.UNFINISHED else {}
    return Answer(estimate, tag=estimate.tag, headers=headers)


def cancel(call: Call) -> Answer:
    """DELETE /v1/estimates/{id}: cancels the run."""
    estimate = actions.cancel(company=call.company, id=call.id)
    return Answer(estimate, tag=estimate.tag)


def show_part(call: Call) -> Answer:
    """GET /v1/estimates/{id}/{part}: a page of a list, or the part whole."""
    name = call.path.rpartition("/")[2].partition(".")[0]
    if queries.is_list(company=call.company, id=call.id, name=name):
        return listing(queries.part_page(company=call.company, id=call.id, name=name, wanted=call.wanted))
    return Answer(queries.part(company=call.company, id=call.id, name=name), tag=f"{call.id.hex}-{name}")


def show_pieces(call: Call) -> Answer:
    """GET /v1/estimates/{id}/pieces: lengths in the company's style beside the exact ones; as a table the items."""
    pieces = piece_queries.pieces(company=call.company, id=call.id)
    content = pieces.document if call.format == "json" else Page(tuple(pieces.document["items"]), None)
    return Answer(content, tag=pieces.tag)


SHOWN_BY = {"pieces": show_pieces}  # parts that are more than what is stored


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

    def submit(at_once: bool) -> actions.Submitted:
        return comparison_actions.submit(
            company=call.company, member=call.caller.member, prepared=ready, at_once=at_once, now=call.now
        )

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
