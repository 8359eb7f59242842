"""The history of a project: one line of time, and its prices as a picture."""

from __future__ import annotations

from api.rest.exchange import Answer, Call, File, listing
from estimating.queries.history import timeline


def show(call: Call) -> Answer:
    """GET /v1/projects/{id}/history."""
    told = call.query["kind"]
    return listing(timeline.history(company=call.company, project=call.id, wanted=call.wanted, kind=told))


def picture(call: Call) -> Answer:
    """GET /v1/projects/{id}/history.svg."""
    svg = timeline.price_picture(company=call.company, project=call.id)
    return Answer(File(svg.encode(), "image/svg+xml", "price-over-time.svg"))
