"""The audit: every change noted in its own transaction; never changed, never deleted."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from rates import models
from rates.documents import pack

SECRETS = frozenset({"access_key", "invitation", "password", "site_address"})


@dataclass(frozen=True)
class Source:
    """From where a change came."""

    way: str  # key, session, command
    member: uuid.UUID | None = None
    key: uuid.UUID | None = None
    address: str = ""
    request: str = ""


COMMAND = Source("command")


def note(
    *,
    company: uuid.UUID,
    source: Source,
    action: str,
    now: datetime.datetime,
    subject: uuid.UUID | None = None,
    before: Any = None,
    after: Any = None,
) -> None:
    """Notes a change; of two objects only what differs is kept, of secrets nothing."""
    left, right = differing(before, after)
    models.AuditEntry.objects.add(
        company=company,
        at=now,
        member_id=source.member,
        key=source.key,
        way=source.way,
        address=source.address[:60],
        request=source.request[:36],
        action=action,
        subject=subject,
        before=None if left is None else pack(without_secrets(left)),
        after=None if right is None else pack(without_secrets(right)),
    )


def differing(before: Any, after: Any) -> tuple[Any, Any]:
    """Both sides without the fields in which they agree."""
    if not isinstance(before, Mapping) or not isinstance(after, Mapping):
        return before, after
    pairs = {
        name: differing(before.get(name), after.get(name))
        for name in {**before, **after}
        if before.get(name) != after.get(name)
    }
    return (
        {name: pair[0] for name, pair in pairs.items() if name in before},
        {name: pair[1] for name, pair in pairs.items() if name in after},
    )


def without_secrets(value: Any) -> Any:
    """The value without anything that is shown once."""
    if isinstance(value, Mapping):
        return {name: without_secrets(item) for name, item in value.items() if name not in SECRETS}
    return value
