"""Operations on what was read of an opening schedule."""

from __future__ import annotations

from django.conf import settings

from api.rest import answers, edits, matches, schedules
from api.rest.common_fields import PAGE
from api.rest.exchange import Operation
from estimating.core.request_reading import LENGTH_UNITS
from estimating.intake.asking import SEVERITIES
from rates.core.fields import Field, boolean, choice, text

LISTS = ("json", "csv", "xlsx")

INTAKE = (
    Operation(
        "POST",
        "/v1/projects/{id}/opening-schedules",
        "add-opening-schedule",
        schedules.add,
        "A new revision of the opening schedule: JSON, CSV, a pasted list, a workbook, COBie or IFC, told by content",
        "estimate",
        {201: "Schedule"},
        media=schedules.MEDIA,
        schema="ScheduleFile",
        query=(
            Field("drawing_issue", text(200), "the drawing issue that was counted"),
            Field("file_name", text(255), "name of the file"),
            Field("length_unit", choice(*LENGTH_UNITS), "unit of bare numbers in the file"),
            schedules.clouds,
            schedules.wall_area,
        ),
        idempotency="accepted",
        atomic=False,
        largest=settings.LARGE_BODY_BYTES,
    ),
    Operation(
        "GET",
        "/v1/opening-schedules/{id}/questions",
        "schedule-questions",
        schedules.questions,
        "What the schedule leaves unknown or doubtful, with choices, cells and the answers given",
        "read",
        {200: "Question[]"},
        query=(
            *PAGE,
            Field("severity", choice(*SEVERITIES), "only questions of this severity"),
            Field("open", boolean(), "only questions that still want an answer"),
        ),
        formats=LISTS,
    ),
    Operation(
        "POST",
        "/v1/opening-schedules/{id}/answers",
        "answer-schedule-questions",
        answers.answer,
        "Answer questions, by question, line or rule, or take answers back: the file read again, as a new revision",
        "answers",
        {201: "ChangedSchedule", 200: "AnswersPreview"},
        body=answers.ANSWERS,
        idempotency="accepted",
        atomic=False,
        largest=settings.LARGE_BODY_BYTES,
    ),
    Operation(
        "POST",
        "/v1/opening-schedules/{id}/edits",
        "edit-schedule",
        edits.edit,
        "Lines changed, set aside or added, or edits taken back: the file read again with them, as a new revision",
        "answers",
        {201: "ChangedSchedule"},
        media=("application/json",),
        schema="NewEdits",
        idempotency="accepted",
        atomic=False,
    ),
    Operation(
        "GET",
        "/v1/opening-schedules/{id}/stakes",
        "schedule-stakes",
        schedules.at_stake,
        "What is at stake in open questions: the price under each choice by an estimate, without one the openings",
        "read",
        {200: "AtStake[]"},
        query=(schedules.estimate,),
        formats=LISTS,
    ),
    Operation(
        "GET",
        "/v1/opening-schedules/{id}/reading",
        "schedule-reading",
        schedules.reading,
        "What was read for each line, from which cell, and how it was written where that differs",
        "read",
        {200: "ReadLine[]"},
        query=PAGE,
        formats=LISTS,
    ),
    Operation(
        "GET",
        "/v1/opening-schedules/{id}/report",
        "schedule-report",
        schedules.beside,
        "Rows that are no lines, tables with their columns, what is reported apart",
        "read",
        {200: "ReadingReport"},
    ),
    Operation(
        "GET",
        "/v1/opening-schedules/{id}/changes",
        "schedule-changes",
        schedules.changes,
        "What changed line by line since another revision, and what changed outside the clouds",
        "read",
        {200: "ScheduleChanges"},
        query=(schedules.since,),
    ),
    Operation(
        "POST",
        "/v1/opening-schedules/{id}/matches",
        "decide-schedule-matches",
        matches.decide,
        "Confirm or reject lines that only size and place match with another revision: the newest word counts",
        "matches",
        {200: "ScheduleMatches"},
        body=matches.DECISIONS,
        idempotency="accepted",
        atomic=False,
    ),
)
