"""What people have decided of proposed matches between two revisions of a schedule, and which proposals wait."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass
from typing import Any

from estimating.intake.revisions import Pair
from estimating.models import LineMatch
from estimating.queries.estimates import write_time

PROPOSED, CONFIRMED, REJECTED = "proposed", "confirmed", "rejected"
STATES = (PROPOSED, CONFIRMED, REJECTED)


@dataclass(frozen=True)
class Decision:
    """What was said last of two lines: whether they are one, by whom, when."""

    same: bool
    decided_by: uuid.UUID
    decided_at: datetime.datetime


Decisions = Mapping[tuple[int, int], Decision]  # by the lines' places in the two revisions, from 0


@dataclass(frozen=True)
class Proposal:
    """Two lines that size and place alone match. state: proposed, confirmed (one renumbered line) or rejected."""

    before: int
    after: int
    mark_before: str
    mark_after: str
    state: str
    decided_by: uuid.UUID | None
    decided_at: datetime.datetime | None


@dataclass(frozen=True)
class Matches:
    """All proposals between two revisions, in the order of the later one's lines."""

    before: uuid.UUID
    after: uuid.UUID
    proposals: tuple[Proposal, ...]


@dataclass(frozen=True)
class Audited:
    """What the audit keeps of some proposals, before or after they are decided: each names its earlier revision."""

    matches: tuple[dict[str, Any], ...]
    tag = ""


def audited(before: uuid.UUID, proposals: Iterable[Proposal]) -> Audited:
    """The proposals for the audit."""
    return Audited(tuple({"from": before} | asdict(proposal) for proposal in proposals))


def decisions(*, company: uuid.UUID, before: uuid.UUID, after: uuid.UUID) -> Decisions:
    """What is decided of the lines of two revisions, whichever of them is the earlier; the newest first."""
    rows = LineMatch.objects.of(company).filter(before__in=(before, after), after__in=(before, after))
    found = {}
    for row in rows.order_by("-decided_at", "line_after"):
        lines = (row.line_before, row.line_after)
        found[lines if row.before_id == before else lines[::-1]] = Decision(row.same, row.decided_by_id, row.decided_at)
    return found


def kept(decided: Decisions) -> list[dict[str, Any]]:
    """The decisions as a comparison keeps those it is computed with."""
    return [
        {"before": before, "after": after, "same": decision.same, "decided_by": str(decision.decided_by),
         "decided_at": write_time(decision.decided_at)}
        for (before, after), decision in decided.items()
    ]  # fmt: skip


def show_proposals(pairs: Iterable[Pair], decided: Decisions) -> tuple[Proposal, ...]:
    """The proposals with what is decided of them."""
    return tuple(show_proposal(pair, decided.get((pair.before, pair.after))) for pair in pairs)


def show_proposal(pair: Pair, decision: Decision | None) -> Proposal:
    """One proposal with its state."""
    lines = (pair.before, pair.after, pair.mark_before, pair.mark_after)
    if decision is None:
        return Proposal(*lines, PROPOSED, None, None)
    return Proposal(*lines, CONFIRMED if decision.same else REJECTED, decision.decided_by, decision.decided_at)


def said(decided: Decisions) -> dict[tuple[int, int], bool]:
    """Whether two lines are one, as the matching takes it."""
    return {lines: decision.same for lines, decision in decided.items()}
