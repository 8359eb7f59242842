"""Tables of projects, schedules, runs and estimates."""

from __future__ import annotations

from typing import Any

from django.db import models

from estimating.states import ProjectState, RunState
from rates.tenancy import CompanyOwned, Identified


class Project(Identified, CompanyOwned):
    """One building or package of work being bid."""

    name = models.CharField(max_length=200)
    number = models.CharField(max_length=60, default="")
    note = models.CharField(max_length=2000, default="")
    state = models.CharField(max_length=8, choices=ProjectState.choices, default=ProjectState.OPEN.value)
    rate_book = models.ForeignKey("rates.RateBook", null=True, on_delete=models.PROTECT, related_name="+")
    due_at = models.DateTimeField(null=True)  # when the bid has to be in
    due_zone = models.CharField(max_length=60, default="")  # in whose hours people are told; "": the company's
    version = models.PositiveIntegerField(default=1)
    last_schedule = models.PositiveIntegerField(default=0)
    last_estimate = models.PositiveIntegerField(default=0)
    created_at = models.DateTimeField()

    class Meta:
        indexes = [models.Index(fields=["company", "id"], name="project_of_company")]


class ScheduleRevision(Identified, CompanyOwned):
    """One intake of an opening schedule: numbered in its project, never changed, the file kept as received."""

    project = models.ForeignKey(Project, on_delete=models.PROTECT, related_name="+")
    number = models.PositiveIntegerField()
    drawing_issue = models.CharField(max_length=200, default="")
    file_name = models.CharField(max_length=255)
    media_type = models.CharField(max_length=100)
    line_count = models.PositiveIntegerField()
    length_unit = models.CharField(max_length=4, default="")  # of bare numbers; "": the request is to tell
    digest = models.CharField(max_length=64)  # of the file as received
    made_by = models.ForeignKey("rates.Member", on_delete=models.PROTECT, related_name="+")
    created_at = models.DateTimeField()
    format = models.CharField(max_length=10, default="")  # as told by content: json, text, xlsx, cobie, ifc
    answers_of = models.ForeignKey("self", null=True, on_delete=models.PROTECT, related_name="+")
    blocks_costing = models.PositiveIntegerField(default=0)  # open questions by severity
    blocks_issue = models.PositiveIntegerField(default=0)
    to_know = models.PositiveIntegerField(default=0)
    opening_count = models.PositiveBigIntegerField(default=0)  # of lines that are priced and can be read
    smallest_um = models.BigIntegerField(null=True)  # least and greatest width, height or diameter of them
    largest_um = models.BigIntegerField(null=True)
    wall_area_mm2 = models.BigIntegerField(null=True)  # as told with the file
    source = models.BinaryField()  # compressed
    openings = models.BinaryField()  # compressed JSON
    report = models.BinaryField(null=True)  # compressed JSON: questions, notes, tables, the cells of each line

    class Meta:
        constraints = [models.UniqueConstraint(fields=["company", "project", "number"], name="schedule_number_once")]


class KeptColumns(Identified, CompanyOwned):
    """What a company has confirmed that the columns under certain headings mean; other headings ask again."""

    fingerprint = models.CharField(max_length=32)  # of the headings
    columns: Any = models.JSONField()
    confirmed_by = models.ForeignKey("rates.Member", on_delete=models.PROTECT, related_name="+")
    confirmed_at = models.DateTimeField()

    class Meta:
        constraints = [models.UniqueConstraint(fields=["company", "fingerprint"], name="kept_columns_once")]


class Climates(Identified, CompanyOwned):
    """The climates that a company has loaded: one row, made when they are first written."""

    document: Any = models.JSONField()  # rows of estimating.core.climate_tables
    version = models.PositiveIntegerField(default=1)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["company"], name="climates_once")]


class LineMatch(Identified, CompanyOwned):
    """What a person said last of two lines that size and place alone match: whether they are one line."""

    before = models.ForeignKey(ScheduleRevision, on_delete=models.PROTECT, related_name="+")  # the earlier revision
    after = models.ForeignKey(ScheduleRevision, on_delete=models.PROTECT, related_name="+")
    line_before = models.PositiveIntegerField()  # places in the revisions, from 0
    line_after = models.PositiveIntegerField()
    same = models.BooleanField()
    decided_by = models.ForeignKey("rates.Member", on_delete=models.PROTECT, related_name="+")
    decided_at = models.DateTimeField()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["company", "before", "after", "line_before", "line_after"], name="line_match_once"
            )
        ]


class Run(Identified):
    """The queue: what is to be computed, who works on it, until when. Holds no content of a company."""

    company = models.ForeignKey("rates.Company", on_delete=models.PROTECT, related_name="+")
    kind = models.CharField(max_length=12)  # estimate, comparison
    state = models.CharField(max_length=10, choices=RunState.choices, default=RunState.QUEUED.value)
    attempt = models.PositiveIntegerField(default=0)  # the fence
    kills = models.PositiveIntegerField(default=0)  # leases that ran out
    lease_until = models.DateTimeField(null=True)
    done = models.PositiveIntegerField(default=0)
    total = models.PositiveIntegerField(default=0)
    step = models.CharField(max_length=60, default="")
    reason = models.CharField(max_length=60, default="")  # of a failure: a stable code
    queued_at = models.DateTimeField()
    finished_at = models.DateTimeField(null=True)

    class Meta:
        indexes = [
            models.Index(fields=["state", "company", "queued_at"], name="run_queue"),
            models.Index(fields=["state", "lease_until"], name="run_leases"),
        ]


class WorkerBeat(models.Model):
    """A sign of life of one worker: when it last looked for work, and when a message last reached it."""

    name = models.CharField(max_length=120, primary_key=True)
    polled_at = models.DateTimeField()
    heard_at = models.DateTimeField(null=True)


class Estimate(CompanyOwned):
    """The summary of one estimate: what filters and lists need. Its run has the state, its parts the content."""

    run = models.OneToOneField(Run, on_delete=models.PROTECT, primary_key=True, db_column="id", related_name="+")
    project = models.ForeignKey(Project, null=True, on_delete=models.PROTECT, related_name="+")
    number = models.PositiveIntegerField(null=True)  # of the project's revision history
    schedule = models.ForeignKey(ScheduleRevision, null=True, on_delete=models.PROTECT, related_name="+")
    edition = models.ForeignKey("rates.Edition", on_delete=models.PROTECT, related_name="+")
    editions: Any = models.JSONField()  # ids in the order the core reads them; layers as one list, company first
    work_date = models.DateField()
    known_at = models.DateTimeField()
    currency = models.CharField(max_length=3)
    made_by = models.ForeignKey("rates.Member", on_delete=models.PROTECT, related_name="+")
    created_at = models.DateTimeField()
    problems: Any = models.JSONField(null=True)  # of a refusal
    price_minor = models.BigIntegerField(null=True)
    openings = models.PositiveIntegerField(null=True)
    input_digest = models.CharField(max_length=80, default="")
    engine_version = models.CharField(max_length=40, default="")
    costed_at = models.DateTimeField(null=True)
    request = models.BinaryField()  # compressed JSON, without the openings of a stored schedule

    class Meta:
        constraints = [models.UniqueConstraint(fields=["company", "project", "number"], name="estimate_number_once")]
        indexes = [models.Index(fields=["company", "run"], name="estimate_of_company")]


class EstimatePart(CompanyOwned):
    """A compressed piece of a costed estimate's one document: a part, or a stretch of a long list."""

    id = models.BigAutoField(primary_key=True)
    estimate = models.ForeignKey(Estimate, on_delete=models.PROTECT, related_name="+")
    name = models.CharField(max_length=20)
    stretch = models.PositiveIntegerField(default=0)
    items = models.PositiveIntegerField(null=True)  # null: not a list
    body = models.BinaryField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["company", "estimate", "name", "stretch"], name="estimate_part_once")
        ]


class Comparison(CompanyOwned):
    """Two estimates side by side, and the causes of the change in price."""

    run = models.OneToOneField(Run, on_delete=models.PROTECT, primary_key=True, db_column="id", related_name="+")
    before = models.ForeignKey(Estimate, on_delete=models.PROTECT, related_name="+")
    after = models.ForeignKey(Estimate, on_delete=models.PROTECT, related_name="+")
    choices: Any = models.JSONField()  # attribution, order, smooth
    made_by = models.ForeignKey("rates.Member", on_delete=models.PROTECT, related_name="+")
    created_at = models.DateTimeField()
    problems: Any = models.JSONField(null=True)
    compared_at = models.DateTimeField(null=True)
    document = models.BinaryField(null=True)

    class Meta:
        indexes = [models.Index(fields=["company", "run"], name="comparison_of_company")]


class Change(Identified, CompanyOwned):
    """A line of the company's feed: a cost that came to be, numbered under a lock, so that a cursor never skips."""

    number = models.PositiveBigIntegerField()
    kind = models.CharField(max_length=40)
    subject = models.UUIDField()
    at = models.DateTimeField()

    class Meta:
        constraints = [models.UniqueConstraint(fields=["company", "number"], name="change_number_once")]
