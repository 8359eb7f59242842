"""Operations on projects, schedules, estimates and comparisons, and the feed."""

from __future__ import annotations

from django.conf import settings

from api.rest import estimates, projects
from api.rest.exchange import Operation
from api.rest.pieces import PAGE, count, ordering
from api.rest.route_tables.intake_routes import INTAKE
from estimating.queries.estimates import PARTS
from rates.core.fields import Field, choice, text

LISTS = ("json", "csv", "xlsx")
STATES = ("queued", "working", "costed", "refused", "failed", "cancelled")
state = Field("state", choice(*STATES), "only estimates in this state")

PROJECTS = (
    Operation(
        "GET",
        "/v1/projects",
        "projects",
        projects.projects,
        "Projects",
        "read",
        {200: "Project[]"},
        query=(*PAGE, ordering("created_at", "name", "number")),
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
        body=projects.NEW_PROJECT,
        idempotency="accepted",
    ),
    Operation("GET", "/v1/projects/{id}", "project", projects.show, "One project", "read", {200: "Project"}),
    Operation(
        "PATCH",
        "/v1/projects/{id}",
        "change-project",
        projects.change,
        "Change a project's name, number or note",
        "estimate",
        {200: "Project"},
        body=projects.CHANGE_PROJECT,
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
        {200: "Opening[]"},
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
            query=PAGE if part in estimates.LISTED else (),
            formats=LISTS if part in estimates.TABLES else ("json",),
        )
        for part in PARTS
    ),
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
