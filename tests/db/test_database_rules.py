"""What the database itself refuses to change, whatever code asks for it; and that every rule is in place."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from typing import Any

import pytest
from django.core.management import call_command
from django.db import DatabaseError, connection, transaction
from django.db.models import F

from api.database_rules import MESSAGE, RULES, apply_rules, rules_in_place
from estimating.models import Comparison, Estimate, EstimatePart, LineMatch, Run, ScheduleRevision
from rates.models import Edition, EditionStep
from tests.cast import NOW, Office
from tests.db.making import add_schedule, compare, cost_golden, decide_match

Rows = dict[str, Any]
LATER = NOW + datetime.timedelta(days=1)


@pytest.fixture
def rows(office: Office) -> Rows:
    """One row of everything that is kept, as a queryset that can change it."""
    costed = cost_golden(office)
    return {
        "edition": Edition.objects.of(office.company).filter(pk=office.edition),
        "estimate": Estimate.objects.of(office.company).filter(pk=costed),
        "step": EditionStep.objects.of(office.company).filter(edition=office.edition),
        "part": EstimatePart.objects.of(office.company).filter(estimate=costed),
        "schedule": ScheduleRevision.objects.of(office.company).filter(pk=add_schedule(office)),
        "comparison": Comparison.objects.of(office.company).filter(pk=compare(office, costed, costed)),
        "match": LineMatch.objects.of(office.company).filter(after=decide_match(office)),
        "run": Run.objects.filter(pk=costed),
    }


CHANGES: dict[str, Callable[[Rows], object]] = {
    "tables of an approved edition": lambda rows: rows["edition"].update(document="{}"),
    "start of an approved edition": lambda rows: rows["edition"].update(effective_from=LATER.date()),
    "approval undone": lambda rows: rows["edition"].update(state="draft", approved_at=None),
    "moment of approval": lambda rows: rows["edition"].update(approved_at=LATER),
    "approved edition deleted": lambda rows: rows["edition"]._raw_delete("default"),
    "step of an edition": lambda rows: rows["step"].update(reason="x"),
    "step deleted": lambda rows: rows["step"]._raw_delete("default"),
    "price of a costed estimate": lambda rows: rows["estimate"].update(price_minor=1),
    "request of an estimate": lambda rows: rows["estimate"].update(request=b""),
    "costed estimate deleted": lambda rows: rows["estimate"]._raw_delete("default"),
    "part of an estimate": lambda rows: rows["part"].update(body=b""),
    "part deleted": lambda rows: rows["part"]._raw_delete("default"),
    "lines of a schedule": lambda rows: rows["schedule"].update(openings=b""),
    "schedule deleted": lambda rows: rows["schedule"]._raw_delete("default"),
    "lines of a decided match": lambda rows: rows["match"].update(line_after=1),
    "revision of a decided match": lambda rows: rows["match"].update(before=F("after")),
    "decided match deleted": lambda rows: rows["match"]._raw_delete("default"),
    "comparison": lambda rows: rows["comparison"].update(document=b""),
    "run that has ended": lambda rows: rows["run"].update(state="queued"),
}


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES.keys())
def test_the_database_refuses(rows: Rows, change: Callable[[Rows], object]) -> None:
    with pytest.raises(DatabaseError, match=MESSAGE), transaction.atomic():
        change(rows)


def test_an_approved_edition_may_be_withdrawn_once(rows: Rows) -> None:
    assert rows["edition"].update(state="withdrawn", withdrawn_at=LATER, reason="wrong wage") == 1
    with pytest.raises(DatabaseError, match=MESSAGE), transaction.atomic():
        rows["edition"].update(withdrawn_at=None, state="approved")


def test_a_decided_match_may_be_decided_otherwise(rows: Rows) -> None:
    assert rows["match"].update(same=False, decided_at=LATER) == 1


def test_every_rule_is_in_place_and_comes_back_with_migrate(rules: None) -> None:
    names = {rule.name for rule in RULES}
    assert names <= rules_in_place(connection)
    rule = RULES[0]
    with connection.cursor() as cursor:
        on_table = f" ON {rule.table}" if connection.vendor == "postgresql" else ""
        cursor.execute(f"DROP TRIGGER {rule.name}{on_table}")
    assert names - rules_in_place(connection) == {rule.name}
    call_command("migrate", verbosity=0)
    assert names <= rules_in_place(connection)


def test_applying_twice_changes_nothing(rules: None) -> None:
    before = rules_in_place(connection)
    apply_rules(connection)
    assert rules_in_place(connection) == before
