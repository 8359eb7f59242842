"""What changed between two revisions as a page lists it: where each line stands, what is said that moves nothing."""

from __future__ import annotations

import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from estimating.intake.newly_said import NewlySaid, newly_said
from estimating.intake.report import read_line
from estimating.queries.intake import Compared, Revisions, compare, report_of, shown_changes

PLACES = ("elevation", "storey", "building", "phase")
LAST = 1 << 30  # lines that are gone stand behind all others


@dataclass(frozen=True)
class ChangedRow:
    """A line that changed. cell: where it was read; said: fields now given that were counted so before."""

    mark: str
    place: str
    cell: str
    sentence: str  # blank where nothing moved
    proposal: bool
    said: tuple[tuple[str, Any], ...]


@dataclass(frozen=True)
class ListedChanges:
    """What changed, the lines in the order of the later revision, and how many stayed as they were."""

    found: Revisions
    rows: tuple[ChangedRow, ...]
    unchanged: int


def listed_changes(*, company: uuid.UUID, id: uuid.UUID, since: uuid.UUID) -> ListedChanges:
    """The changes of a revision since another one of its project; NotThere, Refused."""
    compared = compare(company=company, id=id, since=since)
    found = compared.found
    said: dict[int, list[NewlySaid]] = {}
    for one in newly_said(compared.old, compared.new, found.matched, compared.after.length_unit):
        said.setdefault(one.after, []).append(one)
    old, new = report_of(compared.before), report_of(compared.after)
    rows: list[tuple[int, ChangedRow]] = []
    for line in found.lines:
        index, report, lines = side_of(line.before, line.after, old, new, compared)
        more = said.pop(line.after, []) if line.after is not None else []
        row = row_of(index, report, lines, line.sentence, line.proposal, more)
        rows.append((LAST if line.after is None else line.after, row))
    for index, more in said.items():
        rows.append((index, row_of(index, new, compared.new, "", False, more)))
    rows.sort(key=lambda row: row[0])
    return ListedChanges(shown_changes(compared), tuple(row for _, row in rows), found.unchanged - len(said))


def side_of(
    before: int | None, after: int | None, old: Mapping[str, Any], new: Mapping[str, Any], compared: Compared
) -> tuple[int, Mapping[str, Any], Sequence[Mapping[str, Any]]]:
    """A line in the later revision, in the earlier one where it is gone: its place, its report and all lines."""
    if after is not None:
        return after, new, compared.new
    assert before is not None
    return before, old, compared.old


def row_of(
    index: int,
    report: Mapping[str, Any],
    lines: Sequence[Mapping[str, Any]],
    sentence: str,
    proposal: bool,
    said: Sequence[NewlySaid],
) -> ChangedRow:
    """One line as it is listed."""
    values = lines[index]
    place = ", ".join(str(values[name]) for name in PLACES if values.get(name))
    cell = str(read_line(report, index, values)["cell"])
    given = tuple((one.field, one.value) for one in said)
    return ChangedRow(str(values.get("mark", "")), place, cell, sentence, proposal, given)
