"""What was read of a schedule revision: its questions, the cells of its lines, and what changed since another."""

from __future__ import annotations

import uuid
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from estimating.collector import collector_paused
from estimating.intake.file_scope import file_scope
from estimating.intake.report import count_open, is_open, read_line
from estimating.intake.revisions import Changes, LineChange, compare_revisions, read_revision
from estimating.intake.shown import show_line, show_question
from estimating.models import ScheduleRevision
from estimating.outputs.scope_answer import scope_row
from estimating.queries.matches import Decisions, Proposal, decisions, said, show_proposals
from estimating.queries.projects import cut, read_place
from rates.core.length_styles import LengthStyle
from rates.core.problems import Problem, Refused
from rates.documents import unpack
from rates.paging import Page, Wanted
from rates.queries.companies import length_style
from rates.queries.members import member_names
from rates.refusals import NotThere

Rows = Sequence[Mapping[str, Any]]


@dataclass(frozen=True)
class Revisions:
    """What the drawing issue of the later revision changed; `proposals` are for a person to confirm or reject."""

    before: uuid.UUID
    after: uuid.UUID
    drawing_issue: str
    lines: tuple[LineChange, ...]
    unchanged: int
    not_clouded: tuple[str, ...]
    clouded_unchanged: tuple[str, ...]
    unread: int
    proposals: tuple[Proposal, ...]


@dataclass(frozen=True)
class Received:
    """A revision as it was received and read; its report and its lines are unpacked once, when first asked for."""

    row: ScheduleRevision

    @cached_property
    def report(self) -> Mapping[str, Any]:
        """What was read, and from where."""
        with collector_paused():
            return report_of(self.row)

    @cached_property
    def lines(self) -> list[Mapping[str, Any]]:
        """The opening lines."""
        with collector_paused():
            return list(unpack(self.row.openings))

    @cached_property
    def style(self) -> LengthStyle:
        """How the company writes lengths."""
        return length_style(company=self.row.company_id)

    def open_questions(self) -> list[tuple[str, str]]:
        """Code and severity of each question that still wants an answer."""
        return [(one["code"], one["severity"]) for one in self.report["questions"] if is_open(one)]

    def answers_to(self, codes: Collection[str]) -> dict[str, list[str]]:
        """The answers to questions of these codes, by code, where none of them is open."""
        given: dict[str, list[Any]] = {}
        for question in self.report["questions"]:
            if question["code"] in codes:
                given.setdefault(question["code"], []).append(question["answer"])
        return {code: list(dict.fromkeys(map(str, said))) for code, said in given.items() if None not in said}


def find(company: uuid.UUID, id: uuid.UUID) -> ScheduleRevision:
    """A revision without its source; NotThere."""
    row = ScheduleRevision.objects.of(company).filter(pk=id).defer("source").first()
    if row is None:
        raise NotThere
    return row


def received(*, company: uuid.UUID, id: uuid.UUID) -> Received:
    """A revision to be shown; NotThere."""
    return Received(find(company, id))


def report_of(row: ScheduleRevision) -> Mapping[str, Any]:
    """The report of a revision; an empty one for lines that came without."""
    if row.report is not None:
        return unpack(row.report)  # type: ignore[no-any-return]
    return {"questions": [], "notes": [], "tables": [], "apart": [], "clouds": [], "answers": {}, "lines": []}


def questions(revision: Received, wanted: Wanted, severity: str | None = None, open_only: bool = False) -> Page[Any]:
    """The questions of a revision in the company's length style, those that block costing first."""
    found = [
        question
        for question in revision.report["questions"]
        if (severity is None or question["severity"] == severity) and (is_open(question) or not open_only)
    ]
    page = cut(found, wanted)
    return Page(tuple(show_question(question, revision.style) for question in page.items), page.next)


def reading(revision: Received, wanted: Wanted) -> Page[Any]:
    """What was read for each line: its cells, its values, how they were written and how they are shown."""
    report, lines, style = revision.report, revision.lines, revision.style
    start = read_place(wanted.cursor)
    shown = range(start, min(start + wanted.limit, len(lines)))
    page = cut(lines, wanted)
    unit = revision.row.length_unit
    found = (show_line(read_line(report, index, lines[index]), unit, style) for index in shown)
    return Page(tuple(found), page.next)


def beside(revision: Received) -> dict[str, Any]:
    """What becomes of the file's openings, and what else it holds: rows that are no lines, tables, edits."""
    with collector_paused():
        row, report, scope = revision.row, revision.report, scope_of_revision(revision)
    names = ("notes", "tables", "apart", "clouds")
    told = {"rules": report.get("rules", []), "edits": report.get("edits", [])}
    people = member_names(company=row.company_id, ids={entry["by"] for entries in told.values() for entry in entries})
    signed = {
        name: [entry | {"by_name": people.get(entry["by"], "")} for entry in entries] for name, entries in told.items()
    }
    return {"scope": scope, "format": row.format} | {name: report[name] for name in names} | signed


def scope_of_revision(revision: Received) -> dict[str, Any]:
    """The openings of a revision by what becomes of them, and its open questions."""
    found = file_scope(revision.lines, revision.row.length_unit)
    told = scope_row(found.scope, count_open(revision.report)) | {"in_file": found.in_file}
    return told | {"unread": {"lines": found.unread_lines, "openings": found.unread_openings}}


@dataclass(frozen=True)
class Compared:
    """Two revisions of a project held against each other: their rows, their lines, what is decided, what changed."""

    before: ScheduleRevision
    after: ScheduleRevision
    old: Rows
    new: Rows
    decided: Decisions
    found: Changes


def changes(*, company: uuid.UUID, id: uuid.UUID, since: uuid.UUID) -> Revisions:
    """The changes since another revision of the project, told in the company's length style; NotThere, Refused."""
    return shown_changes(compare(company=company, id=id, since=since))


def compare(*, company: uuid.UUID, id: uuid.UUID, since: uuid.UUID) -> Compared:
    """A revision against another one of its project; NotThere, Refused."""
    after = find(company, id)
    before = ScheduleRevision.objects.of(company).filter(pk=since).defer("source").first()
    if before is None or before.project_id != after.project_id:
        raise Refused([Problem("/query/from", "not_found", "this project has no such revision")])
    old, new = (list(unpack(row.openings)) for row in (before, after))
    decided = decisions(company=company, before=before.pk, after=after.pk)
    found = compare_revisions(
        read_revision(old, before.length_unit),
        read_revision(new, after.length_unit),
        report_of(after)["clouds"],
        show=length_style(company=company).show,
        decided=said(decided),
    )
    return Compared(before, after, old, new, decided, found)


def shown_changes(compared: Compared) -> Revisions:
    """What changed, as the service answers it."""
    before, after, found = compared.before, compared.after, compared.found
    return Revisions(
        before.pk, after.pk, after.drawing_issue, found.lines, found.unchanged,
        found.not_clouded, found.clouded_unchanged, found.unread, show_proposals(found.proposals, compared.decided),
    )  # fmt: skip
