"""The climates of a company over HTTP: JSON and CSV in, those and a workbook out."""

from __future__ import annotations

from api.climate_sheets import read_climate_sheet
from api.rest.exchange import Answer, Call
from api.rest.reading import MEDIA
from estimating.actions import climates as actions
from estimating.core.climate_tables import read_climates
from estimating.queries import climates as queries
from rates.core.fields import Faults
from rates.core.problems import Refused
from rates.paging import Page


def show(call: Call) -> Answer:
    """GET /v1/climates: in a table a row for each month of a place."""
    found = queries.climates(company=call.company)
    content = found if call.format == "json" else Page(tuple(found.items), None)
    return Answer(content, tag=found.tag)


def put(call: Call) -> Answer:
    """PUT /v1/climates: the table whole; each fault of a CSV at its line and column."""
    rows = read_climate_sheet(call.data) if call.media_type == MEDIA["csv"] else read_document(call.body)
    found = actions.put_climates(company=call.company, rows=rows, expected=call.expected)
    return Answer(found, tag=found.tag)


def read_document(body: object) -> list[dict[str, object]]:
    """The rows of a body in JSON; Refused."""
    faults: Faults = []
    rows = read_climates(body, faults)
    if faults:
        raise Refused(faults)
    return rows
