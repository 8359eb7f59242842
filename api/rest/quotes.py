"""Quotes: drafted, changed, approved, issued, ended; and their documents."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from api.rest.exchange import Answer, Call, listing, sent
from estimating import awards
from estimating.actions import quote_issue, requotes
from estimating.actions import quotes as actions
from estimating.queries import budgets, quote_content
from estimating.queries import quotes as queries
from estimating.queries.bid_summary import bid_summary
from rates.paging import Page


def quotes(call: Call) -> Answer:
    """GET /v1/quotes."""
    page = queries.quotes(
        company=call.company,
        wanted=call.wanted,
        now=call.now,
        state=call.query["state"],
        project=call.query["project"],
    )
    return listing(page)


def make(call: Call) -> Callable[[], Answer]:
    """POST /v1/quotes: what it is made from is worked out before the transaction that stores it."""
    said = {name: value for name, value in call.body.items() if name != "estimate"}
    ready = actions.prepare(company=call.company, estimate=call.body["estimate"], said=said, now=call.now)

    def store() -> Answer:
        quote = actions.draft(company=call.company, member=call.caller.member, ready=ready, now=call.now)
        return Answer(quote, status=201, tag=quote.tag, location=f"/v1/quotes/{quote.id}")

    return store


def requote(call: Call) -> Callable[[], Answer]:
    """POST /v1/quotes/{id}/requote: everything is worked out before the transaction that stores it."""
    said = {name: value for name, value in call.body.items() if name not in ("schedule", "estimate")}
    ready = requotes.prepare(
        company=call.company,
        id=call.id,
        estimate=call.body.get("estimate"),
        schedule=call.body.get("schedule"),
        said=said,
        units=call.caller.unit_system,
        now=call.now,
    )

    def store() -> Answer:
        quote = requotes.store(company=call.company, member=call.caller.member, ready=ready, now=call.now)
        return Answer(quote, status=201, tag=quote.tag, location=f"/v1/quotes/{quote.id}")

    return store


def answer(quote: queries.Quote) -> Answer:
    """A quote as an answer."""
    return Answer(quote, tag=quote.tag)


def show(call: Call) -> Answer:
    """GET /v1/quotes/{id}."""
    return answer(queries.quote(company=call.company, id=call.id, role=call.caller.role, now=call.now))


def who(call: Call) -> Mapping[str, Any]:
    """For whom a quote is changed, by whom, which state was read."""
    return {
        "company": call.company,
        "member": call.caller.member,
        "id": call.id,
        "expected": call.expected,
        "now": call.now,
    }


def change(call: Call) -> Answer:
    """PATCH /v1/quotes/{id}."""
    return answer(actions.change(**who(call), changes=call.body))


def approve(call: Call) -> Answer:
    """POST /v1/quotes/{id}/approve."""
    return answer(actions.approve(**who(call), reason=call.body.get("reason")))


def issue(call: Call) -> Callable[[], Answer]:
    """POST /v1/quotes/{id}/issue: a long letter is laid out before the transaction that numbers it."""
    drawn = quote_issue.draw_ahead(company=call.company, id=call.id, now=call.now)
    return lambda: answer(quote_issue.issue(**who(call), drawn=drawn))


def award(call: Call) -> Callable[[], Answer]:
    """POST /v1/quotes/{id}/award: alternates are priced before the transaction."""
    accepted = awards.accept(company=call.company, id=call.id, names=call.body.get("alternates", ()))
    return lambda: answer(quote_issue.award(**who(call), reason=call.body.get("reason", ""), accepted=accepted))


def close(call: Call) -> Answer:
    """POST /v1/quotes/{id}/close."""
    told = {"reason": call.body["reason"], "competing_price": call.body.get("competing_price")}
    return answer(quote_issue.close(**who(call), **told))


def document(call: Call) -> Answer:
    """GET /v1/quotes/{id}/letter.pdf and the others."""
    name = call.path.rpartition("/")[2]
    return sent(quote_content.document(company=call.company, id=call.id, name=name, now=call.now))


def cost_codes(call: Call) -> Answer:
    """GET /v1/quotes/{id}/cost-codes."""
    found = budgets.cost_codes(company=call.company, id=call.id)
    return Answer(Page(tuple(found.rows), None), tag=found.tag)


def budget(call: Call) -> Answer:
    """GET /v1/quotes/{id}/budget."""
    found = budgets.budget(company=call.company, id=call.id)
    return Answer(Page(tuple(found.rows), None), tag=found.tag)


def summary(call: Call) -> Answer:
    """GET /v1/estimates/{id}/summary.pdf and .html."""
    return sent(bid_summary(company=call.company, id=call.id, format=call.format))
