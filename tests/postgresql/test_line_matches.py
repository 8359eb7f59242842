"""Decided matches by the service's role: one company's alone, pointing at its own revisions alone, never deleted."""

from __future__ import annotations

import threading
import uuid
from typing import Any

import pytest
from django.db import DatabaseError, IntegrityError, connection, transaction

from estimating.models import LineMatch
from rates.scope import changes_of, reads_of
from tests.cast import NOW, Api, Office
from tests.db.making import decide_match
from tests.http.test_matches import Two, states
from tests.postgresql.roles import as_service

Offices = tuple[Office, Office]


def rows(company: uuid.UUID) -> list[tuple[Any, ...]]:
    """All rows that the database shows inside a company's scope."""
    with reads_of(company), connection.cursor() as cursor:
        cursor.execute("SELECT company_id, after_id FROM estimating_linematch")
        return list(cursor.fetchall())


def test_a_scope_shows_its_own_decisions_alone(service: Offices) -> None:
    mine, other = service
    made = {office.company: decide_match(office) for office in service}
    for office in service:
        assert rows(office.company) == [(office.company, made[office.company])]
    with changes_of(mine.company):
        assert LineMatch.objects.of(other.company).update(same=False) == 0
        assert LineMatch.objects.of(mine.company).update(same=False) == 1
        with pytest.raises(DatabaseError, match="kept as it is"), transaction.atomic():
            LineMatch.objects.of(mine.company)._raw_delete("default")
        with pytest.raises(DatabaseError, match="kept as it is|row-level security"), transaction.atomic():
            LineMatch.objects.of(mine.company).update(company=other.company)
    with connection.cursor() as cursor:
        cursor.execute("SELECT count(*) FROM estimating_linematch")
        assert cursor.fetchone() == (0,), "outside of any scope nothing is seen"


@pytest.mark.parametrize("name", ["before_id", "after_id", "decided_by_id"])
def test_a_decision_points_at_its_own_company_s_rows(offices: Offices, name: str) -> None:
    mine, other = offices
    own, foreign = Two(Api(mine.key)), Two(Api(other.key))
    fields: dict[str, Any] = {"before_id": own.first, "after_id": own.second, "decided_by_id": mine.drafter}
    fields[name] = {"before_id": foreign.first, "after_id": foreign.second, "decided_by_id": other.drafter}[name]
    with pytest.raises(IntegrityError, match="of_company"), transaction.atomic():
        LineMatch.objects.add(company=mine.company, line_before=0, line_after=2, same=True, decided_at=NOW, **fields)
        with connection.cursor() as cursor:
            cursor.execute("SET CONSTRAINTS ALL IMMEDIATE")


def test_decisions_at_once_wait_for_each_other(offices: Offices) -> None:
    two = Two(Api(offices[0].key))
    answers: list[int] = []

    def send(same: bool) -> None:
        answers.append(two.say((0, 2, same), (1, 1, same)).status_code)
        connection.close()

    with as_service():
        threads = [threading.Thread(target=send, args=(n % 2 == 0,)) for n in range(6)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        assert answers == [200] * 6
        assert len({state for *_, state in states(two.api.get(two.changes).json())}) == 1
        assert len(rows(offices[0].company)) == 2
