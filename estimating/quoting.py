"""From a costed estimate to what a quote is made from: its lines and their prices, what it assumes, what it holds."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from estimating.core.estimate import Estimate
from estimating.core.job import cost
from estimating.core.margins import Costs
from estimating.jobs import mobilisation_dates, stored
from estimating.models import Estimate as EstimateRow
from estimating.outputs.assumptions.item import Assumption
from estimating.outputs.cautions import cautions
from estimating.outputs.quotes.facts import facts_of
from estimating.outputs.quotes.options import option_rows
from estimating.outputs.quotes.prepared import Offer, Prepared, assumed, line_prices, not_in_price, priced_lines
from estimating.queries.assumptions import assumed_by
from estimating.queries.impact import book_of
from rates.cards import editions_in_force
from rates.core.length_styles import LengthStyle
from rates.core.money import read_money
from rates.core.problems import Problem, Refused
from rates.core.steps import CONTAINED, UNMARKED, steps_of
from rates.documents import unpack
from rates.queries.companies import length_style


def find_costed(company: uuid.UUID, id: uuid.UUID, pointer: str) -> EstimateRow:
    """The row of a costed estimate; Refused for any other."""
    row = EstimateRow.objects.of(company).select_related("run", "schedule", "project").filter(pk=id).first()
    if row is None:
        raise Refused([Problem(pointer, "not_found", "there is no such estimate")])
    if row.run.state != "costed":
        raise Refused([Problem(pointer, "not_costed", f"this estimate is {row.run.state}, not costed")])
    return row


def costs_of(estimate: Estimate) -> Costs:
    """What a price of this work has to cover."""
    passed = steps_of(UNMARKED, CONTAINED)
    lines = [line.amount_minor for line in estimate.up.lines if line.step in passed]
    return Costs(estimate.up.cost_minor, sum(lines))


def costs_told(document: Mapping[str, Any]) -> Costs:
    """The same of a costed estimate's stored document."""
    passed, currency = steps_of(UNMARKED, CONTAINED), document["currency"]
    amounts = [read_money(row["amount"], currency) for row in document["build_up"] if row["step"] in passed]
    return Costs(read_money(document["totals"]["cost"], currency), sum(amounts))


def prepare_own(*, company: uuid.UUID, row: EstimateRow, pointer: str) -> Prepared:
    """What a quote at the estimate's own price is made from; Refused where another engine now prices it otherwise."""
    told = stored(row)
    job = told.job()
    estimate = cost(job)
    if estimate.up.price_minor != row.price_minor:
        detail = "the service has been renewed since and would price this otherwise; estimate it again"
        raise Refused([Problem(pointer, "estimate_again", detail)])
    found = assumed_by(company=company, told=told, schedule=row.schedule_id, job=job, estimate=estimate)
    offer = Offer("estimate", estimate.up.price_minor, line_prices(estimate), row.editions)
    return assemble(estimate, (offer,), found, length_style(company=company))


def assemble(
    estimate: Estimate, offers: Sequence[Offer], found: Iterable[Assumption], style: LengthStyle
) -> Prepared:  # fmt: skip
    """What is kept with a quote of this estimate."""
    set_aside, alternates = not_in_price(estimate)
    options, unit_prices = option_rows(estimate)
    return Prepared(
        lines=priced_lines(estimate, style.show),
        offers=offers,
        assumptions=assumed(found),
        facts=facts_of(estimate),
        costs=costs_of(estimate),
        openings=estimate.openings,
        set_aside=set_aside,
        alternates=alternates,
        cautions=cautions(estimate),
        options=options,
        unit_prices=unit_prices,
    )


def rates_stand(*, company: uuid.UUID, row: EstimateRow, now: datetime.datetime) -> bool:
    """Whether what priced an estimate is what would price it now: the editions in force on its dates."""
    request = unpack(row.request)
    if "hold" in request:
        return False
    dates = [("/work_date", row.work_date), *mobilisation_dates(request)]
    try:
        book = book_of(company, request, row)
        found = editions_in_force(company=company, rate_book=book, dates=dates, known_at=now)
    except Refused:
        return False
    return bool(found.ids == row.editions)
