"""Schedule files taken in: read with what the company has confirmed and answered before, stored as a new revision."""

from __future__ import annotations

import datetime
import hashlib
import uuid
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from typing import Any

from django.db import IntegrityError, transaction

from estimating.actions.projects import lock_project
from estimating.actions.reading import read_intake
from estimating.intake.answer_rules import Rule
from estimating.intake.asking import BLOCKS_COSTING, BLOCKS_ISSUE
from estimating.intake.edit_questions import Editing
from estimating.intake.edits import Edit, NewEdit
from estimating.intake.questions import TO_KNOW, Kept
from estimating.intake.reading import Intake, Options
from estimating.intake.report import (
    Report,
    count_open,
    edits_of,
    kept_of,
    make_report,
    pack_columns,
    rules_of,
    unpack_columns,
)
from estimating.intake.tables import Known
from estimating.models import KeptColumns, ScheduleRevision
from estimating.queries import projects as shown
from estimating.queries.past import NM2_OF_MM2, NM_OF_UM, company_past
from rates.core.fraction import Fraction
from rates.core.grid import place_of
from rates.documents import compress, decompress, pack, unpack
from rates.refusals import NotThere

CONFIRMED = "columns"  # the question whose answer is kept for the company


@dataclass(frozen=True)
class Told:
    """What is told with a file: its name, the unit of bare numbers, the marks in clouds, the gross wall area."""

    name: str
    length_unit: str | None = None
    clouds: tuple[str, ...] = ()
    wall_area_nm2: Fraction | None = None


@dataclass(frozen=True)
class Received:
    """A file that was read: what is stored of it. `confirmed` are columns that an answer settles for the company."""

    intake: Intake
    report: Report
    source: bytes
    confirmed: Known
    told: Told

    @property
    def digest(self) -> str:
        """What tells the very same bytes again."""
        return hashlib.sha256(self.source).hexdigest()


@dataclass(frozen=True)
class Carried:
    """What a revision hands on: its answers, rules and edits; the headings whose columns its own file asks about.

    same_file: whether it is the revision's own file that is read again.
    """

    kept: Mapping[str, Kept] = field(default_factory=dict)
    rules: Sequence[Rule] = ()
    edits: Sequence[Edit] = ()
    asked: frozenset[str] = frozenset()
    same_file: bool = False


@dataclass(frozen=True)
class Sent:
    """What a request says of a revision: answers by key, rules, edits; who says it and when, as they are kept."""

    answers: Mapping[str, str] = field(default_factory=dict)
    rules: Sequence[Rule] = ()
    edits: Sequence[NewEdit] = ()
    by: str = ""
    at: str = ""


def receive(*, company: uuid.UUID, project: uuid.UUID, data: bytes, told: Told) -> Received:
    """A file read for a project, with the answers and edits of its last revision; Refused where nothing can be read."""
    last = (
        ScheduleRevision.objects.of(company)
        .filter(project_id=project)
        .order_by("-number")
        .values_list("report", flat=True)
        .first()
    )
    carried = carried_of(unpack(last)) if last is not None else Carried()
    return read_source(company=company, project=project, data=data, told=told, carried=carried)


def carried_of(report: Report) -> Carried:
    """What a report hands on to another file."""
    return Carried(kept_of(report), rules_of(report), edits_of(report))


def read_source(
    *, company: uuid.UUID, project: uuid.UUID, data: bytes, told: Told, carried: Carried, sent: Sent | None = None
) -> Received:
    """A file read with all that is carried and sent; Refused."""
    sent = sent or Sent()
    known = kept_columns(company)
    options = Options(
        answers=sent.answers,
        given=sent.rules,
        kept=carried.kept,
        rules=carried.rules,
        editing=Editing(carried.edits, sent.edits, sent.by, sent.at, hashlib.sha256(data).hexdigest()),
        columns={mark: columns for mark, columns in known.items() if mark not in carried.asked},
        company=company_past(company=company, project=project, wall_area_nm2=told.wall_area_nm2),
        length_unit=told.length_unit or "",
    )
    intake = read_intake(data, told.name, told.length_unit, options)
    if carried.same_file:  # what is not asked under these answers may be under others
        intake = replace(intake, kept={**carried.kept, **intake.kept})
    given = {rule.id for rule in sent.rules}
    rules = [rule for rule in carried.rules if rule.id not in given]
    rules += [rule for rule in sent.rules if rule.id in intake.touched]
    report = make_report(intake, list(told.clouds), rules) | {"learnt": learnt_tables(intake, options.columns)}
    return Received(intake, report, data, confirmed_columns(intake), told)


def learnt_tables(intake: Intake, known: Known) -> list[str]:
    """The headings, by fingerprint, whose columns were read as the company keeps them."""
    return sorted({table["fingerprint"] for table in intake.tables} & set(known))


def kept_columns(company: uuid.UUID) -> Known:
    """The columns that the company has confirmed, by the fingerprint of their headings."""
    return unpack_columns(dict(KeptColumns.objects.of(company).values_list("fingerprint", "columns")))


def confirmed_columns(intake: Intake) -> Known:
    """The columns of tables whose question on them is answered."""
    open_places = {q.cells[0] for q in intake.questions if q.code == CONFIRMED and q.answer is None and q.cells}
    answered = {q.cells[0] for q in intake.questions if q.code == CONFIRMED and q.answer is not None and q.cells}
    found = {}
    for table in intake.tables:
        if table_place(table) in answered - open_places:
            found[table["fingerprint"]] = intake.columns[table["fingerprint"]]
    return found


def asked_columns(report: Mapping[str, Any]) -> frozenset[str]:
    """The fingerprints of the tables whose columns a revision asks about."""
    places = {q["cells"][0] for q in report["questions"] if q["code"] == CONFIRMED and q["cells"]}
    return frozenset(table["fingerprint"] for table in report.get("tables", ()) if table_place(table) in places)


def table_place(table: Mapping[str, Any]) -> str:
    """The place of a table's heading, as its question names it."""
    return place_of(table["sheet"], table["heading_row"])


@transaction.atomic
def store(
    *,
    company: uuid.UUID,
    project: uuid.UUID,
    member: uuid.UUID,
    received: Received,
    media_type: str,
    now: datetime.datetime,
    drawing_issue: str = "",
    answers_of: uuid.UUID | None = None,
    forgotten: frozenset[str] = frozenset(),
) -> shown.Schedule:
    """The new revision of a file that was read, its questions beside it; NotThere.

    forgotten: fingerprints of columns whose confirmation is taken back for the company.
    """
    intake, report = received.intake, received.report
    counts = count_open(report)
    compressed, lines, packed = compress(received.source), pack(intake.lines), pack(report)
    row = lock_project(company, project)
    row.last_schedule += 1
    row.save(update_fields=["last_schedule"])
    KeptColumns.objects.of(company).filter(fingerprint__in=forgotten - set(received.confirmed)).delete()
    keep_columns(company=company, member=member, confirmed=received.confirmed, now=now)
    revision = ScheduleRevision.objects.add(
        company=company,
        project=row,
        number=row.last_schedule,
        drawing_issue=drawing_issue or intake.drawing_issue,
        file_name=received.told.name,
        media_type=media_type,
        line_count=len(intake.lines),
        length_unit=intake.length_unit,
        digest=received.digest,
        made_by_id=member,
        created_at=now,
        format=intake.format,
        answers_of_id=answers_of,
        blocks_costing=counts[BLOCKS_COSTING],
        blocks_issue=counts[BLOCKS_ISSUE],
        to_know=counts[TO_KNOW],
        opening_count=intake.extent.openings,
        smallest_um=whole(intake.extent.smallest_nm, NM_OF_UM),
        largest_um=whole(intake.extent.largest_nm, NM_OF_UM),
        wall_area_mm2=whole(received.told.wall_area_nm2, NM2_OF_MM2),
        source=compressed,
        openings=lines,
        report=packed,
    )
    return shown.show_schedule(revision)


def whole(value: Fraction | None, unit: int) -> int | None:
    """A length or area in whole units, rounded down; None for none."""
    return None if value is None else int(value // unit)


def keep_columns(*, company: uuid.UUID, member: uuid.UUID, confirmed: Known, now: datetime.datetime) -> None:
    """Confirmed columns stored for the company's next files with the same headings."""
    for fingerprint, columns in confirmed.items():
        stored = pack_columns(columns)
        row = KeptColumns.objects.of(company).filter(fingerprint=fingerprint).first()
        if row is None:
            with suppress(IntegrityError), transaction.atomic():  # another request may have confirmed them just now
                KeptColumns.objects.add(
                    company=company, fingerprint=fingerprint, columns=stored, confirmed_by_id=member, confirmed_at=now
                )
        elif row.columns != stored:
            row.columns, row.confirmed_by_id, row.confirmed_at = stored, member, now
            row.save()


def find_revision(company: uuid.UUID, id: uuid.UUID) -> ScheduleRevision:
    """A revision with its source and report; NotThere."""
    row = ScheduleRevision.objects.of(company).filter(pk=id).first()
    if row is None:
        raise NotThere
    return row


def report_of(row: ScheduleRevision) -> Report:
    """The report of a revision; an empty one for lines that came without."""
    if row.report is None:
        return {"questions": [], "kept": [], "clouds": [], "tables": []}
    return dict(unpack(row.report))


def read_again(
    *, company: uuid.UUID, before: ScheduleRevision, report: Report, carried: Carried | None = None, sent: Sent
) -> Received:
    """The source of a revision read once more, with more said of it; carried: where it hands on less. Refused."""
    area = before.wall_area_mm2
    told = Told(
        before.file_name,
        before.length_unit or None,
        tuple(report["clouds"]),
        Fraction(area * NM2_OF_MM2) if area else None,
    )
    return read_source(
        company=company,
        project=before.project_id,
        data=decompress(before.source),
        told=told,
        carried=replace(carried or carried_of(report), asked=asked_columns(report), same_file=True),
        sent=sent,
    )
