"""The cut plan of a costed estimate, made anew, as the company's people read it; it and the purchase list printed."""

from __future__ import annotations

import uuid
from typing import Any

from estimating.collector import collector_paused
from estimating.outputs.cut_plan import cut_plan
from estimating.outputs.measures import measures_of
from estimating.outputs.purchase_list import purchase_rows
from estimating.outputs.quotes.files import SentDocument
from estimating.outputs.shown_pieces import show_lengths
from estimating.outputs.site_documents import cut_plan_document, purchase_document
from estimating.queries.estimates import cautions, costed_again, require_costed
from estimating.queries.printed import printed
from rates.queries.companies import length_style


def plan_of(*, company: uuid.UUID, id: uuid.UUID) -> dict[str, Any]:
    """The plan with lengths in the company's style beside the exact ones; NotThere, Conflict until costed."""
    require_costed(company, id)
    with collector_paused():
        estimate = costed_again(company, id)
        plan = cut_plan(estimate)
    unit, style = measures_of(estimate).length, length_style(company=company)
    shown = {name: show_lengths(plan[name], unit, style) for name in ("materials", "items", "bundles")}
    (step,) = show_lengths([{"cut_to": plan["cut_to"]}], unit, style)
    return plan | shown | step | {"cautions": cautions(company=company, id=id)}


def cut_plan_file(*, company: uuid.UUID, id: uuid.UUID) -> SentDocument:
    """The plan as a PDF; NotThere, Conflict until costed, or where no font has a letter of it."""
    found = printed(company=company, id=id)
    document = cut_plan_document(plan_of(company=company, id=id), found.estimate, found.company, found.project)
    return found.file(document, "cut-plan", "pdf", "cut-plan")


def purchase_file(*, company: uuid.UUID, id: uuid.UUID) -> SentDocument:
    """The purchase list with its prices as a PDF; NotThere, Conflict as for the plan."""
    found = printed(company=company, id=id)
    with collector_paused():
        rows = purchase_rows(costed_again(company, id))
    document = purchase_document(rows, found.estimate, found.company, found.project, found.invented)
    return found.file(document, "purchase-list", "pdf", "purchase-list")
