"""The texts of quotes that a company keeps, and what people stand behind of an estimate."""

from __future__ import annotations

from collections.abc import Callable

from api.rest.exchange import Answer, Call
from estimating.actions import quote_texts as actions
from estimating.actions import sign_offs as sign_off_actions
from estimating.outputs.quotes.texts import TEXTS
from estimating.queries import quote_texts as queries
from estimating.queries import sign_offs as sign_off_queries
from rates.core.fields import Field, ListOf, Record, text

BODY = TEXTS
KEYS = ListOf(text(32), 0, sign_off_actions.MOST_SIGNED)
SIGN = Record(
    lambda **values: values,
    (
        Field("sign", KEYS, "assumptions that the sender stands behind, by `assumption`", default=()),
        Field("take_back", KEYS, "assumptions that nobody is to stand behind any more", default=()),
    ),
)


def show(call: Call) -> Answer:
    """GET /v1/quote-texts."""
    texts = queries.quote_texts(company=call.company)
    return Answer(texts, tag=texts.tag)


def put(call: Call) -> Answer:
    """PUT /v1/quote-texts."""
    texts = actions.put_texts(company=call.company, document=call.body, expected=call.expected)
    return Answer(texts, tag=texts.tag)


def sign_offs(call: Call) -> Answer:
    """GET /v1/estimates/{id}/sign-offs."""
    return Answer(sign_off_queries.sign_offs(company=call.company, id=call.id))


def sign(call: Call) -> Callable[[], Answer]:
    """POST /v1/estimates/{id}/sign-offs: the estimate is read before the transaction that stores it."""
    body = call.body
    ready = sign_off_actions.prepare(
        company=call.company, id=call.id, sign=body["sign"], take_back=body["take_back"]
    )  # fmt: skip

    def store() -> Answer:
        return Answer(
            sign_off_actions.write(company=call.company, member=call.caller.member, ready=ready, now=call.now)
        )

    return store
