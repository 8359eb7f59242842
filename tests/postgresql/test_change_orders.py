"""Change orders by the service's role: one company's alone, of its own contracts alone, never deleted."""

from __future__ import annotations

import uuid
from typing import Any

import pytest
from django.db import DatabaseError, IntegrityError, connection, transaction

from estimating.models import ChangeOrder, ChangeOrderStep
from rates.scope import changes_of, reads_of
from tests.cast import NOW, Office
from tests.db.making import make_contract, propose_change

Offices = tuple[Office, Office]
TABLES = ("estimating_changeorder", "estimating_changeorderstep")


def seen(table: str) -> set[uuid.UUID]:
    """The companies of the rows that the database shows now."""
    with connection.cursor() as cursor:
        cursor.execute(f"SELECT DISTINCT company_id FROM {table}")
        return {company for (company,) in cursor.fetchall()}


@pytest.mark.parametrize("table", TABLES)
def test_a_scope_shows_its_own_change_orders_alone(service: Offices, table: str) -> None:
    mine, other = service
    for office in service:
        propose_change(office, make_contract(office)[0])
    for office in service:
        with reads_of(office.company):
            assert seen(table) == {office.company}
    with transaction.atomic():
        assert seen(table) == set(), "outside of any scope nothing is seen"
    with changes_of(mine.company):
        assert ChangeOrder.objects.of(other.company).update(title="x") == 0
        assert ChangeOrder.objects.of(mine.company).update(title="x") == 1
        with pytest.raises(DatabaseError, match="kept as it is"), transaction.atomic():
            ChangeOrder.objects.of(mine.company)._raw_delete("default")
        with pytest.raises(DatabaseError, match="kept as it is|row-level security"), transaction.atomic():
            ChangeOrderStep.objects.of(mine.company).update(company=other.company)


@pytest.mark.parametrize("name", ["project_id", "quote_id", "made_by_id"])
def test_a_change_order_points_at_its_own_company_s_rows(offices: Offices, name: str) -> None:
    mine, other = offices
    told: list[dict[str, Any]] = []
    for office in (mine, other):
        project, quote = make_contract(office)
        told.append({"project_id": project.rpartition("/")[2], "quote_id": quote, "made_by_id": office.drafter})
    own, foreign = told
    with pytest.raises(IntegrityError, match="of_company"), transaction.atomic():
        fields = own | {name: foreign[name], "number": 9, "title": "x", "currency": "USD", "created_at": NOW}
        ChangeOrder.objects.add(company=mine.company, **fields)
        with connection.cursor() as cursor:
            cursor.execute("SET CONSTRAINTS ALL IMMEDIATE")
