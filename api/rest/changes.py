"""What a change leaves in the audit: who, when, from where, before and after, in the change's own transaction."""

from __future__ import annotations

import uuid

from api.origin import address_of
from api.plain import plain
from api.rest.exchange import Answer, Call, Operation
from rates.actions.audit import Source, note
from rates.identity import read_id


def source_of(call: Call) -> Source:
    """From where a call came."""
    return Source(
        "key" if call.caller.key else "session",
        call.caller.member,
        call.caller.key,
        address_of(call.request),
        getattr(call.request, "request_id", ""),
    )


def note_change(call: Call, operation: Operation, answer: Answer) -> None:
    """Notes what an operation has changed."""
    seen = call.expected.seen
    after = answer.changed if answer.changed is not None else answer.content
    made = read_id((answer.location or "").rpartition("/")[2])
    note(
        company=call.company,
        source=source_of(call),
        action=operation.name,
        now=call.now,
        subject=made or call.places.get("id"),
        before=plain(seen) if seen is not None else None,
        after=plain(after) if operation.schema != "ScheduleFile" else None,  # the file is kept beside it
    )


def note_run(call: Call, operation: Operation, run: uuid.UUID) -> None:
    """Notes a submitted run; what it was submitted with stays with it."""
    note(company=call.company, source=source_of(call), action=operation.name, now=call.now, subject=run)
