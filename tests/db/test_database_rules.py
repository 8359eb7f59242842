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
from estimating.models import (
    ChangeOrder,
    ChangeOrderStep,
    Comparison,
    Estimate,
    EstimatePart,
    JobRecord,
    LineMatch,
    Quote,
    QuoteFile,
    Run,
    ScheduleRevision,
    SignOff,
    SiteLink,
)
from rates.models import Edition, EditionStep
from tests.cast import NOW, Api, Office
from tests.db.making import (
    add_schedule,
    compare,
    cost_golden,
    decide_match,
    draft_quote,
    give_link,
    issue_quote,
    make_contract,
    propose_change,
    record_job,
    sign_all,
)

Rows = dict[str, Any]
LATER = NOW + datetime.timedelta(days=1)


@pytest.fixture
def rows(office: Office) -> Rows:
    """One row of everything that is kept, as a queryset that can change it."""
    costed = cost_golden(office)
    sent = draft_quote(office, costed)
    sign_all(office, costed)
    issue_quote(office, sent)
    project, taken = make_contract(office)
    open_order, ended = (propose_change(office, project) for _ in range(2))
    path = f"/v1/change-orders/{ended['id']}"
    api = Api(office.key)
    assert api.post(f"{path}/agree", {}, If_Match=api.get(path).headers["ETag"]).status_code == 200
    return {
        "awarded quote": Quote.objects.of(office.company).filter(pk=taken),
        "open order": ChangeOrder.objects.of(office.company).filter(pk=open_order["id"]),
        "agreed order": ChangeOrder.objects.of(office.company).filter(pk=ended["id"]),
        "order step": ChangeOrderStep.objects.of(office.company).filter(change_order=ended["id"]),
        "edition": Edition.objects.of(office.company).filter(pk=office.edition),
        "estimate": Estimate.objects.of(office.company).filter(pk=costed),
        "step": EditionStep.objects.of(office.company).filter(edition=office.edition),
        "part": EstimatePart.objects.of(office.company).filter(estimate=costed),
        "schedule": ScheduleRevision.objects.of(office.company).filter(pk=add_schedule(office)),
        "comparison": Comparison.objects.of(office.company).filter(pk=compare(office, costed, costed)),
        "match": LineMatch.objects.of(office.company).filter(after=decide_match(office)),
        "run": Run.objects.filter(pk=costed),
        "quote": Quote.objects.of(office.company).filter(pk=sent),
        "file": QuoteFile.objects.of(office.company).filter(quote_id=sent),
        "link": SiteLink.objects.of(office.company).filter(pk=give_link(office, costed)["id"]),
        "record": JobRecord.objects.of(office.company).filter(pk=record_job(office, costed)["id"]),
        "signed": SignOff.objects.of(office.company),
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
    "price of an issued quote": lambda rows: rows["quote"].update(price_minor=1),
    "customer of an issued quote": lambda rows: rows["quote"].update(customer={"name": "x"}),
    "number of an issued quote": lambda rows: rows["quote"].update(number=7),
    "issued quote drafted again": lambda rows: rows["quote"].update(state="drafted"),
    "alternates of an award": lambda rows: rows["awarded quote"].update(accepted={"names": [], "adds_minor": 1}),
    "quote deleted": lambda rows: rows["quote"]._raw_delete("default"),
    "letter of a quote": lambda rows: rows["file"].update(content=b""),
    "letter deleted": lambda rows: rows["file"]._raw_delete("default"),
    "what was signed off": lambda rows: rows["signed"].update(value="x"),
    "sign-off deleted": lambda rows: rows["signed"]._raw_delete("default"),
    "number of a change order": lambda rows: rows["open order"].update(number=7),
    "change order deleted": lambda rows: rows["open order"]._raw_delete("default"),
    "price of an agreed change order": lambda rows: rows["agreed order"].update(price_minor=1),
    "agreed change order taken back": lambda rows: rows["agreed order"].update(state="proposed"),
    "title of an agreed change order": lambda rows: rows["agreed order"].update(title="x"),
    "step of a change order": lambda rows: rows["order step"].update(said="x"),
    "step of a change order deleted": lambda rows: rows["order step"]._raw_delete("default"),
    "end of a link": lambda rows: rows["link"].update(expires_at=LATER),
    "revoked link that lets in again": lambda rows: (
        rows["link"].update(revoked_at=NOW) and rows["link"].update(revoked_at=None)
    ),
    "link deleted": lambda rows: rows["link"]._raw_delete("default"),
    "hours of a job record": lambda rows: rows["record"].update(hundredths=1),
    "counts of a job record": lambda rows: rows["record"].update(counts=[]),
    "withdrawn record that counts again": lambda rows: (
        rows["record"].update(withdrawn_at=NOW) and rows["record"].update(withdrawn_at=None)
    ),
    "job record deleted": lambda rows: rows["record"]._raw_delete("default"),
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
