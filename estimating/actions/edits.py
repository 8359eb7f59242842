"""Edits of single lines of a schedule, made and taken back: the same file read again with them, as a new revision."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from estimating.actions.answers import Answered, outcome_of
from estimating.actions.intake import Sent, carried_of, find_revision, read_again, report_of
from estimating.intake import outcomes
from estimating.intake.edits import NO_TABLE, NewEdit
from estimating.intake.report import Report
from rates.core.problems import Problem, Refused
from rates.queries.companies import length_style

MOST_EDITS = 500


def edit(
    *,
    company: uuid.UUID,
    id: uuid.UUID,
    member: uuid.UUID,
    edits: Sequence[NewEdit],
    take_back: Sequence[str],
    now: datetime.datetime,
) -> Answered:
    """The source of a revision read with these edits put in; NotThere, Refused with every field that can't be read."""
    before = find_revision(company, id)
    report = report_of(before)
    carried = carried_of(report)
    known = {edit.id for edit in carried.edits}
    missing = [
        Problem(f"/take_back/{place}", "not_found", "this revision keeps no such edit")
        for place, gone in enumerate(take_back)
        if gone not in known
    ]
    lines = [new for new in edits if new.line is not None and new.line >= before.line_count]
    detail = f"this revision has no such line; its lines are numbered from 0 and it has {before.line_count}"
    missing += [Problem(f"{new.pointer}/line", "not_found", detail) for new in lines]
    if missing:
        raise Refused(missing)
    carried = replace(carried, edits=[edit for edit in carried.edits if edit.id not in take_back])
    sent = Sent({}, (), edits, str(member), now.isoformat())
    received = read_again(company=company, before=before, report=report, carried=carried, sent=sent)
    moved = [new for new in edits if new.line is not None and not stands(new.line, report, received.report)]
    if moved:
        detail = "the file is read otherwise now than when this revision was made: send it again and edit that revision"
        raise Refused([Problem(f"{new.pointer}/line", "reads_otherwise", detail) for new in moved])
    made = [edit.id for edit in received.intake.edits if edit.id not in known]
    new = received.report["questions"]
    keys = set(outcomes.open_keys(new))
    because = dict.fromkeys(keys, (*made, *take_back))
    outcome = outcome_of(report["questions"], new, because, length_style(company=company))
    return Answered(received, before, outcome, frozenset())


def stands(line: int, before: Report, after: Report) -> bool:
    """Whether a line is read from the same row in both, or is the same added one."""
    old, new = before.get("lines", []), after["lines"]
    if line >= len(new) or line >= len(old):
        return line < len(new)
    return where_of(old[line], before) == where_of(new[line], after)


def where_of(entry: Sequence[Any], report: Report) -> object:
    """Where a line of a report was read."""
    if entry[0] == NO_TABLE:
        return entry[3]["line"]
    return entry[:2] if report["tables"] else entry[0]
