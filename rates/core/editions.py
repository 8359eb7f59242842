"""Which edition is in force: start dates only, so overlaps cannot exist."""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from typing import Protocol, TypeVar


class Dated(Protocol):
    """What the look-up needs to know of an edition; times are aware."""

    @property
    def effective_from(self) -> datetime.date: ...
    @property
    def approved_at(self) -> datetime.datetime | None: ...
    @property
    def withdrawn_at(self) -> datetime.datetime | None: ...


Edition = TypeVar("Edition", bound=Dated)


def in_force(editions: Iterable[Edition], work_date: datetime.date, known_at: datetime.datetime) -> Edition | None:
    """The edition in force on a work date as it was known at a time, or None.

    Among those approved by then and not withdrawn by then: the latest start not after the work date,
    then the latest approval. A draft (approved_at None) is never in force.
    """
    known = [
        e
        for e in editions
        if e.approved_at is not None
        and e.approved_at <= known_at
        and (e.withdrawn_at is None or e.withdrawn_at > known_at)
        and e.effective_from <= work_date
    ]
    return max(known, key=lambda e: (e.effective_from, e.approved_at), default=None)
