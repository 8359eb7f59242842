"""Operations on projects, schedules, estimates and comparisons, and the feed."""

from __future__ import annotations

from django.conf import settings

from api.project_fields import CHANGE_PROJECT, NEW_PROJECT
from api.rest import estimates, projects
from api.rest.common_fields import PAGE, count, ordering
from api.rest.exchange import MERGE_PATCH, Operation
from api.rest.route_tables.file_routes import FILES
from api.rest.route_tables.intake_routes import INTAKE
from estimating.queries.estimates import PARTS
from estimating.states import RunState
from rates.core.fields import Field, choice, text

LISTS = ("json", "csv", "xlsx")
state = Field("state", choice(*RunState.values), "only estimates in this state")

PROJECTS = (
    Operation(
        "GET",
        "/v1/projects",
        "projects",
        projects.projects,
        "Projects",
        "read",
        {200: "Project[]"},
        query=(*PAGE, ordering("created_at", "name", "number"), projects.search, projects.state),
        formats=LISTS,
    ),
    Operation(
        "POST",
        "/v1/projects",
        "make-project",
        projects.make,
        "A new project",
        "estimate",
        {201: "Project"},
        body=NEW_PROJECT,
        idempotency="accepted",
    ),
    Operation("GET", "/v1/projects/{id}", "project", projects.show, "One project", "read", {200: "Project"}),
    Operation(
        "PATCH",
        "/v1/projects/{id}",
        "change-project",
        projects.change,
        "Change a project's name, number or note; archive it, or open it again",
        "estimate",
        {200: "Project"},
        body=CHANGE_PROJECT,
        clears={"number": "", "note": "", "rate_book": None, "due_at": None, "due_zone": ""},
        if_match=True,
    ),
    Operation(
        "GET",
        "/v1/projects/{id}/opening-schedules",
        "opening-schedules",
        projects.schedules,
        "The schedule revisions of a project",
        "read",
        {200: "Schedule[]"},
        query=(*PAGE, ordering("revision", "created_at")),
        formats=LISTS,
    ),
    Operation(
        "GET",
        "/v1/projects/{id}/estimates",
        "project-estimates",
        projects.estimates,
        "The revision history of a project",
        "read",
        {200: "EstimateLine[]"},
        query=(*PAGE, ordering("created_at", "number", "work_date"), state),
        formats=LISTS,
    ),
    Operation(
        "GET",
        "/v1/opening-schedules/{id}",
        "opening-schedule",
        projects.show_schedule,
        "One schedule revision",
        "read",
        {200: "Schedule"},
    ),
    Operation(
        "GET",
        "/v1/opening-schedules/{id}/openings",
        "schedule-openings",
        projects.openings,
        "The opening lines as received",
        "read",
        {200: "ReadOpening[]"},
        query=PAGE,
        formats=LISTS,
    ),
    Operation(
        "GET",
        "/v1/opening-schedules/{id}/source",
        "schedule-source",
        projects.source,
        "The file as received, byte for byte",
        "read",
        {200: "File"},
        formats=("file",),
    ),
    *INTAKE,
)

ESTIMATES = (
    Operation(
        "POST",
        "/v1/estimates",
        "make-estimate",
        estimates.make,
        "Cost a schedule or inline openings",
        "estimate",
        {201: "Estimate", 202: "Estimate"},
        media=("application/json",),
        schema="EstimateRequest",
        idempotency="required",
        atomic=False,
        show=estimates.show_run,
        largest=settings.LARGE_BODY_BYTES,
    ),
    Operation(
        "GET",
        "/v1/estimates",
        "estimates",
        estimates.listed,
        "Estimates of all projects, found by state, dates, price and project",
        "read",
        {200: "EstimateLine[]"},
        query=(*PAGE, ordering("created_at", "number", "work_date", "price"), state, *estimates.FOUND_BY),
        formats=LISTS,
    ),
    Operation(
        "POST",
        "/v1/estimates/{id}/what-if",
        "try-what-if",
        estimates.try_out,
        "The price under changed fields of the request, as a merge patch of it; stored nowhere",
        "estimate",
        {200: "WhatIf"},
        media=("application/json", MERGE_PATCH),
        schema="RequestChange",
        atomic=False,
    ),
    Operation("GET", "/v1/estimates/{id}", "estimate", estimates.show, "One estimate", "read", {200: "Estimate"}),
    Operation(
        "DELETE",
        "/v1/estimates/{id}",
        "cancel-estimate",
        estimates.cancel,
        "Cancel the run of an estimate that has not ended",
        "estimate",
        {200: "Estimate"},
    ),
    *(
        Operation(
            "GET",
            f"/v1/estimates/{{id}}/{part}",
            f"estimate-{part}",
            estimates.SHOWN_BY.get(part, estimates.show_part),
            f"The {part} of a costed estimate",
            "costs" if part in estimates.COSTLY else "read",
            {200: f"Part:{part}"},
            query=(*(PAGE if part in estimates.LISTED else ()), *estimates.OWN_QUERY.get(part, ())),
            formats=LISTS if part in estimates.TABLES else ("json",),
        )
        for part in PARTS
    ),
    *FILES,
    Operation(
        "GET",
        "/v1/estimates/{id}/derivations/{figure}",
        "derivation",
        estimates.show_derivation,
        "How one figure was reached, down to table rows",
        "costs",
        {200: "Derivation"},
        query=(Field("depth", count(20), "how many steps down; 1 if absent"),),
    ),
    Operation(
        "POST",
        "/v1/comparisons",
        "make-comparison",
        estimates.compare,
        "Compare two costed estimates: the causes of the change in price",
        "estimate",
        {201: "Comparison", 202: "Comparison"},
        body=estimates.COMPARISON,
        idempotency="accepted",
        atomic=False,
        show=estimates.show_comparison_run,
    ),
    Operation(
        "GET",
        "/v1/comparisons",
        "comparisons",
        estimates.comparisons,
        "Comparisons",
        "read",
        {200: "ComparisonLine[]"},
        query=(*PAGE, ordering("created_at")),
        formats=LISTS,
    ),
    Operation(
        "GET",
        "/v1/comparisons/{id}",
        "comparison",
        estimates.show_comparison,
        "One comparison",
        "read",
        {200: "Comparison"},
    ),
    Operation(
        "GET",
        "/v1/feed",
        "feed",
        estimates.show_feed,
        "What changed, in order; ask again with `after` of the last answer",
        "read",
        {200: "Feed"},
        query=(
            Field("limit", count(500), "at most so many"),
            Field("after", text(1000), "`after` of the last answer"),
        ),
    ),
)
OPERATIONS = (*PROJECTS, *ESTIMATES)
