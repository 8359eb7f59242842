"""Schedule files taken in: read with what the company has confirmed and answered before, stored as a new revision."""

from __future__ import annotations

import datetime
import hashlib
import uuid
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from typing import Any

from django.db import IntegrityError, transaction

from estimating.actions.projects import lock_project
from estimating.actions.reading import read_file as read_program_file
from estimating.intake.asking import BLOCKS_COSTING, BLOCKS_ISSUE, TO_KNOW
from estimating.intake.grid import place_of
from estimating.intake.program_files import is_program_file, rows_reading
from estimating.intake.reading import Intake, Options, read_file, read_rows
from estimating.intake.report import Report, count_open, make_report, pack_columns, unpack_columns
from estimating.intake.sheets_reading import Known
from estimating.models import KeptColumns, ScheduleRevision
from estimating.queries import projects as shown
from estimating.queries.past import NM2_OF_MM2, NM_OF_UM, company_past
from rates.core.fraction import Fraction
from rates.core.problems import Problem, Refused, escape
from rates.documents import compress, decompress, pack, unpack
from rates.refusals import NotThere

CONFIRMED = "columns"  # the question whose answer is kept for the company
MOST_ANSWERS = 5_000


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


def receive(*, company: uuid.UUID, project: uuid.UUID, data: bytes, told: Told) -> Received:
    """A file read for a project, with the answers kept from its last revision; Refused where nothing can be read."""
    last = (
        ScheduleRevision.objects.of(company)
        .filter(project_id=project)
        .order_by("-number")
        .values_list("report", flat=True)
        .first()
    )
    kept = unpack(last)["answers"] if last is not None else {}
    return read_source(company=company, project=project, data=data, told=told, answers=kept)


def read_source(
    *,
    company: uuid.UUID,
    project: uuid.UUID,
    data: bytes,
    told: Told,
    answers: Mapping[str, str],
    asked: frozenset[str] = frozenset(),
) -> Received:
    """A file read with these answers; Refused. `asked`: headings whose columns this very file asks about."""
    options = Options(
        answers=answers,
        columns={mark: columns for mark, columns in kept_columns(company).items() if mark not in asked},
        company=company_past(company=company, project=project, wall_area_nm2=told.wall_area_nm2),
        length_unit=told.length_unit or "",
    )
    if is_program_file(data):
        file = read_program_file(data, told.name, told.length_unit)
        format = "json" if data.lstrip()[:1] in (b"[", b"{") else "text"
        intake = read_rows(format, rows_reading(file.rows, data), file.length_unit, options)
    else:
        intake = read_file(data, options)
    return Received(intake, make_report(intake, list(told.clouds)), data, confirmed_columns(intake), told)


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
) -> shown.Schedule:
    """The new revision of a file that was read, its questions beside it; NotThere."""
    intake, report = received.intake, received.report
    counts = count_open(report)
    compressed, lines, packed = compress(received.source), pack(intake.lines), pack(report)
    row = lock_project(company, project)
    row.last_schedule += 1
    row.save(update_fields=["last_schedule"])
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
        digest=hashlib.sha256(received.source).hexdigest(),
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


@dataclass(frozen=True)
class Answered:
    """A revision read again with more answers."""

    received: Received
    before: ScheduleRevision


def answer(*, company: uuid.UUID, id: uuid.UUID, answers: Mapping[str, str]) -> Answered:
    """The source of a revision read with its answers and these; NotThere, Refused with answers that do not fit."""
    before = find_revision(company, id)
    report = report_of(before)
    known = {question["id"] for question in report["questions"]}
    unknown = [
        Problem(f"/answers{escape(question)}", "not_found", "this revision asks no such question")
        for question in answers
        if question not in known
    ]
    if unknown:
        raise Refused(unknown)
    received = read_again(company=company, before=before, report=report, answers=answers)
    wrong = [
        Problem(f"/answers{escape(question)}", "answer_does_not_fit", why)
        for question, why in received.intake.refused_answers
        if question in answers
    ]
    if wrong:
        raise Refused(wrong)
    return Answered(received, before)


def find_revision(company: uuid.UUID, id: uuid.UUID) -> ScheduleRevision:
    """A revision with its source and report; NotThere."""
    row = ScheduleRevision.objects.of(company).filter(pk=id).first()
    if row is None:
        raise NotThere
    return row


def report_of(row: ScheduleRevision) -> Report:
    """The report of a revision; an empty one for lines that came without."""
    if row.report is None:
        return {"questions": [], "answers": {}, "clouds": [], "tables": []}
    return dict(unpack(row.report))


def read_again(*, company: uuid.UUID, before: ScheduleRevision, report: Report, answers: Mapping[str, str]) -> Received:
    """The source of a revision read once more, with more answers; Refused."""
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
        answers={**report["answers"], **answers},
        asked=asked_columns(report),
    )
