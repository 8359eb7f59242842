"""Estimates in lists: of one project, its revision history; of all, found by state, dates, price and project."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import Q, QuerySet

from estimating.models import Estimate as EstimateRow
from estimating.models import Project
from estimating.outputs.documents.scalars import Money
from estimating.states import ProjectState
from rates.core.currencies import MINOR_DIGITS
from rates.core.fraction import Fraction
from rates.core.money import print_money
from rates.paging import Page, Wanted, page
from rates.refusals import NotThere

ORDERINGS = {"created_at": "run_id", "number": "number", "work_date": "work_date"}
BY_PRICE = {"price": "price_minor"}  # what has no price yet is not in this order
LARGEST = 2**63 - 1  # minor units that the column holds


@dataclass(frozen=True)
class EstimateLine:
    """One estimate in a list."""

    id: uuid.UUID
    number: int | None
    state: str
    project: uuid.UUID | None
    project_name: str | None
    project_number: str | None
    schedule: uuid.UUID | None
    edition: uuid.UUID
    work_date: datetime.date
    currency: str
    price: Money | None
    openings: int | None
    created_at: datetime.datetime
    costed_at: datetime.datetime | None


@dataclass(frozen=True)
class Filter:
    """Which estimates are asked for; dates and prices from and to are both included, `until` is not.

    Prices are compared as written, in whichever currency an estimate is. Archived projects: of one that is named, or
    with `archived`.
    """

    state: str | None = None
    project: uuid.UUID | None = None
    work_date_from: datetime.date | None = None
    work_date_to: datetime.date | None = None
    since: datetime.datetime | None = None
    until: datetime.datetime | None = None
    price_from: Fraction | None = None
    price_to: Fraction | None = None
    currency: str | None = None
    archived: bool | None = None


def show_line(row: EstimateRow) -> EstimateLine:
    """An estimate's row as a line of a list."""
    project = row.project
    return EstimateLine(
        id=row.pk,
        number=row.number,
        state=row.run.state,
        project=row.project_id,
        project_name=project.name if project is not None else None,
        project_number=project.number if project is not None else None,
        schedule=row.schedule_id,
        edition=row.edition_id,
        work_date=row.work_date,
        currency=row.currency,
        price=print_money(row.price_minor, row.currency) if row.price_minor is not None else None,
        openings=row.openings,
        created_at=row.created_at,
        costed_at=row.costed_at,
    )


def rows_of(company: uuid.UUID) -> QuerySet[EstimateRow]:
    """Rows with all that a line shows."""
    return EstimateRow.objects.of(company).select_related("run", "project").defer("request")


def of_project(
    *, company: uuid.UUID, project: uuid.UUID, wanted: Wanted, state: str | None = None
) -> Page[EstimateLine]:
    """The revision history of a project; NotThere."""
    if not Project.objects.of(company).filter(pk=project).exists():
        raise NotThere
    rows = rows_of(company).filter(project_id=project)
    if state:
        rows = rows.filter(run__state=state)
    return page(rows, wanted, orderings=ORDERINGS, show=show_line)


def estimates(*, company: uuid.UUID, wanted: Wanted, filter: Filter) -> Page[EstimateLine]:
    """The company's estimates, of all projects and of none."""
    rows = rows_of(company).filter(*conditions(filter))
    if filter.project is None and not filter.archived:
        rows = rows.exclude(project__state=ProjectState.ARCHIVED)
    if (wanted.ordering or "").removeprefix("-") in BY_PRICE:
        rows = rows.filter(price_minor__isnull=False)
    return page(rows, wanted, orderings=ORDERINGS | BY_PRICE, show=show_line)


def conditions(filter: Filter) -> Iterable[Q]:
    """What a row must be."""
    told = {
        "run__state": filter.state,
        "project_id": filter.project,
        "currency": filter.currency,
        "work_date__gte": filter.work_date_from,
        "work_date__lte": filter.work_date_to,
        "created_at__gte": filter.since,
        "created_at__lt": filter.until,
    }
    yield from (Q(**{name: value}) for name, value in told.items() if value is not None)
    if filter.price_from is not None or filter.price_to is not None:
        yield priced_between(filter.price_from or Fraction(0), filter.price_to)


def priced_between(low: Fraction, high: Fraction | None) -> Q:
    """Prices from low to high, each currency by its own decimal places."""
    found = Q()
    for digits in sorted(set(MINOR_DIGITS.values())):
        codes = [code for code, places in MINOR_DIGITS.items() if places == digits]
        least = -(-low * 10**digits // 1)
        bound = Q(currency__in=codes, price_minor__gte=min(int(least), LARGEST))
        if high is not None:
            bound &= Q(price_minor__lte=min(int(high * 10**digits // 1), LARGEST))
        found |= bound
    return found
