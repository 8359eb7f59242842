"""One entry in the history of a project."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import StrEnum

from estimating.outputs.documents.scalars import Money


class Kind(StrEnum):
    """What an entry is of, in the order in which those of one time stand."""

    PROJECT = "project"
    SCHEDULE = "schedule"
    MATCHES = "matches"
    EDITION = "edition"
    ESTIMATE = "estimate"
    COMPARISON = "comparison"
    QUOTE = "quote"
    CHANGE_ORDER = "change_order"


@dataclass(frozen=True)
class CauseAmount:
    """One cause of a change in price; the causes of an entry sum to its change."""

    cause: str
    amount: Money


@dataclass(frozen=True)
class HistoryEntry:
    """What happened to one thing of a project: when, what, by whom and why.

    step: what was done to it. number: of the schedule revision, edition, estimate, quote or change order.
    price: in currency. change: what the price moved by since the one before, of an estimate where a comparison tells
    its causes.
    digest: of the file as received, the edition, the estimate's input, or the letter.
    """

    at: datetime.datetime
    kind: Kind
    step: str
    subject: uuid.UUID
    number: int | None = None
    what: str = ""
    who: uuid.UUID | None = None
    who_name: str | None = None
    why: str = ""
    drawing_issue: str = ""
    currency: str | None = None
    price: Money | None = None
    change: Money | None = None
    causes: tuple[CauseAmount, ...] = ()
    digest: str | None = None

    @property
    def key(self) -> tuple[str, int, str, str]:
        """Where it stands: by time, then by kind."""
        return self.at.isoformat(), list(Kind).index(self.kind), str(self.subject), self.step


Source = Callable[[uuid.UUID, uuid.UUID], Iterable[HistoryEntry]]  # of a company and a project
