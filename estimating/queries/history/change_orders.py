"""Entries of change orders: every step of each."""

from __future__ import annotations

import uuid
from collections.abc import Iterator

from estimating.models import ChangeOrderStep
from estimating.queries.history.entries import HistoryEntry, Kind
from rates.core.money import print_money


def change_orders(company: uuid.UUID, project: uuid.UUID) -> Iterator[HistoryEntry]:
    """What was done with every change order; the price is the customer's."""
    rows = ChangeOrderStep.objects.of(company).filter(change_order__project_id=project)
    for row in rows.select_related("change_order", "by").defer("change_order__pricing"):
        order = row.change_order
        yield HistoryEntry(
            at=row.at,
            kind=Kind.CHANGE_ORDER,
            step=row.step,
            subject=order.pk,
            number=order.number,
            what=order.title,
            who=row.by_id,
            who_name=row.by.name,
            why=row.said,
            currency=order.currency if row.price_minor is not None else None,
            price=None if row.price_minor is None else print_money(row.price_minor, order.currency),
        )
