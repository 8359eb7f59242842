"""Proposed matches between two revisions of a schedule, confirmed or rejected."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from api.rest.common_fields import id_text
from api.rest.exchange import Answer, Call
from estimating.actions import matches as actions
from estimating.core.schedule import MOST_LINES
from estimating.intake.matches import Saying
from rates.core.fields import Field, ListOf, Record, boolean, whole

place = whole(0, MOST_LINES)
PAIR = Record(
    Saying,
    (
        Field("before", place, "the line's place in the earlier revision, as the changes name it", required=True),
        Field("after", place, "the line's place in this revision", required=True),
        Field("same", boolean(), "true: one line, renumbered; false: one removed, one added", required=True),
    ),
)
DECISIONS = Record(
    lambda **values: values,
    (
        Field("from", id_text, "the earlier revision of the same project", required=True),
        Field("pairs", ListOf(PAIR, 1, actions.MOST_PAIRS), "what is said of proposed matches", required=True),
    ),
)


def decide(call: Call) -> Callable[[], Answer]:
    """POST /v1/opening-schedules/{id}/matches: both revisions are read before the transaction that stores it."""
    ready = actions.prepare(company=call.company, id=call.id, since=call.body["from"], pairs=call.body["pairs"])
    return partial(store, call, ready)


def store(call: Call, ready: actions.Ready) -> Answer:
    """The matches with what was decided."""
    found, decided = actions.decide(
        company=call.company, member=call.caller.member, ready=ready, expected=call.expected, now=call.now
    )
    return Answer(found, changed=decided)
