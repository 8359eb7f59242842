"""All entries of a project in order, page by page, and its prices as a picture."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Iterator

from estimating.models import Project
from estimating.outputs.pictures.price_over_time import Point, price_figure
from estimating.queries.history.change_orders import change_orders
from estimating.queries.history.entries import HistoryEntry, Kind, Source
from estimating.queries.history.estimates import comparisons, editions, estimates
from estimating.queries.history.quotes import quotes
from estimating.queries.history.schedules import matches, schedules
from rates.core.exact import read_decimal
from rates.core.money import minor_digits
from rates.models import AuditEntry, Company
from rates.paging import Page, Wanted, read_cursor, refuse_cursor, write_cursor
from rates.refusals import NotThere

MADE, CHANGED = "make-project", "change-project"  # as the audit names them
MOST_POINTS = 60  # the newest prices of a picture
PRICED_BY = {(Kind.ESTIMATE, "costed"), (Kind.QUOTE, "issued")}


def projects(company: uuid.UUID, project: uuid.UUID) -> Iterator[HistoryEntry]:
    """The project made and changed, as the audit has it."""
    rows = AuditEntry.objects.of(company).filter(subject=project, action__in=(MADE, CHANGED)).select_related("member")
    for row in rows.defer("before", "after"):
        step = "made" if row.action == MADE else "changed"
        name = row.member.name if row.member is not None else None
        yield HistoryEntry(row.at, Kind.PROJECT, step, project, who=row.member_id, who_name=name)


SOURCES: tuple[Source, ...] = (projects, schedules, matches, editions, estimates, comparisons, quotes, change_orders)


def entries(company: uuid.UUID, project: uuid.UUID) -> list[HistoryEntry]:
    """Every entry of the project, the oldest first; NotThere."""
    if not Project.objects.of(company).filter(pk=project).exists():
        raise NotThere
    return sorted((entry for source in SOURCES for entry in source(company, project)), key=lambda one: one.key)


def history(*, company: uuid.UUID, project: uuid.UUID, wanted: Wanted, kind: str | None = None) -> Page[HistoryEntry]:
    """A page of the history of a project, the oldest first or, by "-at", the newest; NotThere."""
    found = [one for one in entries(company, project) if kind is None or one.kind == kind]
    backward = wanted.ordering == "-at"
    if backward:
        found.reverse()
    if wanted.cursor is not None:
        place = read_place(wanted.cursor)
        found = [one for one in found if (one.key < place if backward else one.key > place)]
    shown = found[: wanted.limit]
    return Page(tuple(shown), write_cursor(*shown[-1].key) if len(found) > wanted.limit else None)


def read_place(cursor: str) -> tuple[str, int, str, str]:
    """The key of an entry that a cursor names; Refused."""
    at, kind, subject, step = read_cursor(cursor, 4)
    if not (isinstance(kind, int) and all(isinstance(part, str) for part in (at, subject, step))):
        raise refuse_cursor()
    return at, kind, subject, step


def price_picture(*, company: uuid.UUID, project: uuid.UUID) -> str:
    """The prices of a project over time with their causes, as SVG; those in the currency of the newest. NotThere."""
    priced = [one for one in entries(company, project) if (one.kind, one.step) in PRICED_BY]
    currency = priced[-1].currency if priced else Company.objects.values_list("currency", flat=True).get(pk=company)
    assert currency is not None
    points = [point_of(one, currency) for one in priced if one.currency == currency]
    return price_figure(points[-MOST_POINTS:], currency).svg


def point_of(entry: HistoryEntry, currency: str) -> Point:
    """A price of the picture."""
    causes = tuple((one.cause.replace("_", " "), minor(one.amount, currency)) for one in entry.causes)
    label = f"{entry.kind} {entry.number}"
    return Point(label, written(entry.at), minor(entry.price or "0", currency), causes)


def minor(amount: str, currency: str) -> int:
    """A printed amount in minor units."""
    return int(read_decimal(amount, max_digits=60) * 10 ** minor_digits(currency))


def written(at: datetime.datetime) -> str:
    """The day of an entry."""
    return at.date().isoformat()
