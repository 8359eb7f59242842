"""The crew sheets of a costed estimate, made anew, as the company's people read them; they printed."""

from __future__ import annotations

import uuid
from typing import Any

from estimating.collector import collector_paused
from estimating.outputs.crew_document import crew_document
from estimating.outputs.crew_sheets import crew_sheets
from estimating.outputs.measures import measures_of
from estimating.outputs.quotes.files import SentDocument
from estimating.outputs.shown_pieces import show_lengths
from estimating.queries.estimates import costed_again, require_costed
from estimating.queries.printed import printed
from rates.core.problems import Problem, Refused
from rates.core.texts import counted
from rates.queries.companies import length_style

MOST_PRINTED = 100  # sheets of one PDF


def sheets_of(*, company: uuid.UUID, id: uuid.UUID, first: int | None, last: int | None) -> list[dict[str, Any]]:
    """The sheets of the zones from `first` to `last`, lengths in the company's style beside the exact ones.

    NotThere, Conflict until costed.
    """
    require_costed(company, id)
    style = length_style(company=company)
    with collector_paused():
        estimate = costed_again(company, id)
        sheets = crew_sheets(estimate, style, first or 1, last)
    unit = measures_of(estimate).length
    return [sheet | {"pieces": show_lengths(sheet["pieces"], unit, style)} for sheet in sheets]


def crew_sheet_file(*, company: uuid.UUID, id: uuid.UUID, first: int | None, last: int | None) -> SentDocument:
    """The sheets as a PDF; NotThere, Conflict, Refused for more than one file holds."""
    found, sheets = printed(company=company, id=id), sheets_of(company=company, id=id, first=first, last=last)
    if len(sheets) > MOST_PRINTED:
        detail = f"{counted(len(sheets), 'zone')} are asked for; a file holds up to {MOST_PRINTED}: give first and last"
        raise Refused([Problem("/query/last", "too_many_sheets", detail)])
    document = crew_document(sheets, found.estimate, found.company, found.project)
    return found.file(document, "crew-sheet", "pdf", "crew-sheets")
