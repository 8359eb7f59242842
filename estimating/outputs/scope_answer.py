"""The scope as answers and reports tell it: which openings of the file are priced, which not and why."""

from __future__ import annotations

from dataclasses import replace

from estimating.core.estimate import Estimate
from estimating.core.scope import Scope, scope_of
from rates.core.texts import counted

Row = dict[str, object]
MOST_REASONS = 12  # told one by one in a report
NOTHING_OPEN = {"blocks_issue": 0, "to_know": 0}


def scope_row(scope: Scope, questions: dict[str, int]) -> Row:
    """A scope as JSON, with how many questions are open by severity."""
    return {
        "in_file": scope.in_file,
        "priced": scope.priced,
        "set_aside": [{"reason": reason, "openings": openings} for reason, openings in scope.set_aside],
        "alternates": [{"name": name, "openings": openings} for name, openings in scope.alternates],
        "questions": questions,
    }


def scope_of_estimate(estimate: Estimate) -> Scope:
    """The scope of an estimate: `priced` is what was priced indeed, the rest what its lines say."""
    return replace(scope_of(estimate.request.schedule.lines), priced=estimate.openings)


def estimate_scope(estimate: Estimate) -> Row:
    """The scope of an estimate as JSON."""
    asked = estimate.request.questions
    counts = NOTHING_OPEN | {"blocks_issue": asked.blocks_issue, "to_know": asked.to_know}
    return scope_row(scope_of_estimate(estimate), counts)


def scope_lines(estimate: Estimate) -> list[tuple[str, str]]:
    """(what, how many openings or questions) for a report; reasons past the first few are summed."""
    scope, asked = scope_of_estimate(estimate), estimate.request.questions
    rows = [("openings in the file", scope.in_file), ("priced", scope.priced)]
    rows += [(f"set aside: {reason}", openings) for reason, openings in scope.set_aside[:MOST_REASONS]]
    rest = scope.set_aside[MOST_REASONS:]
    if rest:
        rows.append((f"set aside: {counted(len(rest), 'more reason')}", sum(openings for _, openings in rest)))
    rows += [(f"alternate {name}", openings) for name, openings in scope.alternates[:MOST_REASONS]]
    rest = scope.alternates[MOST_REASONS:]
    if rest:
        rows.append((counted(len(rest), "more alternate"), sum(openings for _, openings in rest)))
    rows += [(words, count) for words, count in open_counts(asked.blocks_issue, asked.to_know) if count]
    return [(what, f"{count:,}") for what, count in rows]


def open_counts(blocks_issue: int, to_know: int) -> tuple[tuple[str, int], ...]:
    """What a report says of the questions that are open."""
    return (("questions to answer before issue", blocks_issue), ("things to know of the schedule", to_know))
