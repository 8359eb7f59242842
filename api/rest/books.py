"""Rate books and editions."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from api.plain import plain
from api.rest.common_fields import as_sent, id_text, note, reason
from api.rest.company import as_given
from api.rest.exchange import Answer, Call, listing
from estimating.queries.edition_checks import edition_checks
from estimating.queries.impact import impact
from estimating.queries.under_water import quotes_under_water
from rates.actions import books as book_actions
from rates.actions import editions as actions
from rates.core.bands import BAND
from rates.core.fields import Faults, Field, Reader, Record, choice, text
from rates.core.layers import LAYERS
from rates.core.normal_form import normal
from rates.core.problems import Problem, Refused
from rates.queries import books as queries
from rates.queries.rate_moves import rate_moves
from rates.refusals import Conflict


class Checked:
    """Reader of an object that is stored as it was written, its numbers as text, once a record has read it."""

    def __init__(self, record: Record) -> None:
        self.record, self.schema = record, record.schema

    def read(self, raw: object, pointer: str, faults: Faults) -> Any:
        """The object in the one form; faults noted."""
        before = len(faults)
        self.record.read(raw, pointer, faults)
        return normal(self.record, raw, keep_null=False) or {} if len(faults) == before else None


band = Field("band", Checked(BAND), "of a company's book: how far the layers on it may depart")
NEW_BOOK = Record(
    as_given,
    (
        Field("name", text(200), "its name, once in the company", required=True),
        Field("note", note, "a note"),
        Field("layer", choice(*LAYERS), "whose rates: a layer's hold only what differs", default="company"),
        Field("base", id_text, "the rate book that a layer stands on"),
        band,
    ),
)
CHANGE_BOOK = Record(as_given, (Field("name", text(200), "its name"), Field("note", note, "a note"), band))
REASON = Record(as_given, (reason,))
digest_text = Reader(text(64).parse, {"type": "string", "pattern": "^[0-9a-f]{64}$"})
APPROVAL = Record(as_given, (Field("digest", digest_text, "digest of the edition as it was reviewed", required=True),))
HEAD_NAMES = ("effective_from", "note", "currency", "rounding", "sales_tax_by", "cost_codes")


def books(call: Call) -> Answer:
    """GET /v1/rate-books."""
    return listing(queries.books(company=call.company, wanted=call.wanted))


def make_book(call: Call) -> Answer:
    """POST /v1/rate-books."""
    book = book_actions.make_book(company=call.company, now=call.now, **call.body)
    return Answer(book, status=201, tag=book.tag, location=f"/v1/rate-books/{book.id}")


def show_book(call: Call) -> Answer:
    """GET /v1/rate-books/{id}."""
    book = queries.book(company=call.company, id=call.id)
    return Answer(book, tag=book.tag)


def change_book(call: Call) -> Answer:
    """PATCH /v1/rate-books/{id}."""
    book = book_actions.change_book(company=call.company, id=call.id, changes=call.body, expected=call.expected)
    return Answer(book, tag=book.tag)


def editions(call: Call) -> Answer:
    """GET /v1/rate-books/{id}/editions."""
    page = queries.editions(company=call.company, rate_book=call.id, wanted=call.wanted, state=call.query.get("state"))
    return listing(page)


def in_force(call: Call) -> Answer:
    """GET /v1/rate-books/{id}/in-force."""
    work_date: datetime.date = call.query["work_date"]
    found = queries.in_force(
        company=call.company, rate_book=call.id, work_date=work_date, known_at=call.query["known_at"] or call.now
    )
    if found is None:
        raise Conflict("no_edition_in_force", f"no approved edition is in force on {work_date}")
    return Answer(found, tag=found.tag)


def draft(call: Call) -> Answer:
    """POST /v1/rate-books/{id}/editions: `tables` whole, or a copy of the edition named in `from`."""
    document: dict[str, Any] = call.body
    if not isinstance(document, dict):
        raise Refused([Problem("", "not_an_object", "an edition is an object of fields")])
    if "from" not in document:
        try:
            whole = actions.draft_edition(
                company=call.company, rate_book=call.id, member=call.caller.member, document=document, now=call.now
            )
        except Refused as refusal:
            raise as_sent(refusal) from None
    else:
        source, changes = read_copy(document)
        whole = actions.copy_edition(
            company=call.company,
            rate_book=call.id,
            member=call.caller.member,
            source=source,
            changes=changes,
            now=call.now,
        )
    return Answer(whole, status=201, tag=whole.tag, location=f"/v1/editions/{whole.edition.id}")


def read_copy(document: dict[str, Any]) -> tuple[Any, dict[str, Any]]:
    """The edition to copy and the changes of its head; Refused."""
    faults: list[Problem] = []
    source = id_text.read(document["from"], "/from", faults)
    for name in document:
        if name not in (*HEAD_NAMES, "from"):
            faults.append(Problem(f"/{name}", "unknown_field", f"with `from`, known here: {', '.join(HEAD_NAMES)}"))
    if faults:
        raise Refused(faults)
    return source, {name: document[name] for name in HEAD_NAMES if document.get(name) is not None}


def show(call: Call) -> Answer:
    """GET /v1/editions/{id}."""
    whole = queries.edition(company=call.company, id=call.id)
    return Answer(whole, tag=whole.tag)


def delete(call: Call) -> Answer:
    """DELETE /v1/editions/{id}."""
    actions.delete_draft(
        company=call.company, id=call.id, member=call.caller.member, expected=call.expected, now=call.now
    )
    return Answer(status=204)


def changes(call: Call) -> Answer:
    """GET /v1/editions/{id}/changes: the rows in which it differs from the edition named in `from`."""
    found = queries.changes(company=call.company, id=call.id, since=call.query["from"])
    if found is None:
        raise Refused([Problem("/query/from", "not_found", "there is no such edition")])
    return Answer({"items": found, "next": None})


def steps(call: Call) -> Answer:
    """GET /v1/editions/{id}/steps."""
    return listing(queries.steps(company=call.company, id=call.id, wanted=call.wanted))


def beside(call: Call) -> dict[str, Any]:
    """What stands beside an edition's impact and submission: what moves, what is unlikely, quotes under water."""
    company, edition, now = call.company, call.id, call.now
    return {
        "rate_moves": rate_moves(company=company, edition=edition, now=now),
        "checks": edition_checks(company=company, edition=edition, now=now),
        "quotes_under_water": quotes_under_water(company=company, edition=edition, now=now),
    }


def show_impact(call: Call) -> Answer:
    """GET /v1/editions/{id}/impact: open estimates, and beside them what moves and what is unlikely."""
    page = impact(company=call.company, edition=call.id, now=call.now, wanted=call.wanted)
    return listing(page, **beside(call))


def take_step(call: Call, step: Callable[..., Any], **told: Any) -> Answer:
    """An edition after one step of its life, taken by the caller on the state that If-Match names."""
    caller = call.caller.member
    whole = step(company=call.company, id=call.id, member=caller, expected=call.expected, now=call.now, **told)
    return Answer(whole, tag=whole.tag)


def submit(call: Call) -> Answer:
    """POST /v1/editions/{id}/submit: the edition, with what moves against the edition before and what is unlikely."""
    done = take_step(call, actions.submit)
    return replace(done, content=plain(done.content) | plain(beside(call)), changed=done.content)


def approve(call: Call) -> Answer:
    """POST /v1/editions/{id}/approve."""
    return take_step(call, actions.approve, reviewed=call.body["digest"])


def send_back(call: Call) -> Answer:
    """POST /v1/editions/{id}/send-back."""
    return take_step(call, actions.send_back, reason=call.body["reason"])


def withdraw(call: Call) -> Answer:
    """POST /v1/editions/{id}/withdraw."""
    return take_step(call, actions.withdraw, reason=call.body["reason"])
