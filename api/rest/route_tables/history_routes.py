"""Operations on the history of a project."""

from __future__ import annotations

from api.rest import history
from api.rest.common_fields import PAGE, ordering
from api.rest.exchange import Operation
from estimating.queries.history.entries import Kind
from rates.core.fields import Field, choice

OPERATIONS = (
    Operation(
        "GET",
        "/v1/projects/{id}/history",
        "project-history",
        history.show,
        "What happened to a project, in time: schedules, answers, editions used, estimates, comparisons, quotes, "
        "change orders",
        "read",
        {200: "HistoryEntry[]"},
        query=(*PAGE, ordering("at"), Field("kind", choice(*Kind), "only entries of this kind")),
        formats=("json", "csv", "xlsx"),
    ),
    Operation(
        "GET",
        "/v1/projects/{id}/history.svg",
        "project-history-picture",
        history.picture,
        "The prices of a project over time, with the causes of each change",
        "read",
        {200: "File"},
        formats=("svg",),
    ),
)
