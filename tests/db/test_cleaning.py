"""Old rows go when their time is over, at the worker's sweep, a bounded number at a time; younger ones stay."""

from __future__ import annotations

import datetime
from typing import Any

import pytest
from django.contrib.sessions.models import Session

from estimating.models import WorkerBeat
from estimating.work import cleaning, loop
from rates.actions import idempotency
from rates.models import IdempotencyRecord, SignInFailures
from rates.scope import changes_of
from tests.cast import NOW, Office, make_office

HOUR = datetime.timedelta(hours=1)


def keep_answers(office: Office, count: int) -> None:
    """Answers under keys, kept now."""
    with changes_of(office.company):
        for n in range(count):
            idempotency.open_record(
                company=office.company, owner=office.drafter, key=f"key {n}", fingerprint="", now=NOW
            )


def answers_of(office: Office) -> int:
    return int(IdempotencyRecord.objects.of(office.company).count())


@pytest.fixture
def clock(monkeypatch: Any) -> Any:
    """The worker's clock, which the test sets; its next cleaning is due at once."""
    monkeypatch.setattr(loop, "cleaning", cleaning.Cleaning())

    def set_to(now: datetime.datetime) -> None:
        monkeypatch.setattr(loop, "utc_now", lambda: now)
        loop.do_duties()

    return set_to


def test_what_is_old_goes_with_the_worker_s_sweep(office: Office, clock: Any) -> None:
    other = make_office("Other")
    for home in (office, other):
        keep_answers(home, 2)
    WorkerBeat.objects.create(name="gone", polled_at=NOW)
    SignInFailures.objects.create(address="wrong", at=NOW)
    SignInFailures.objects.create(address="locked", at=NOW, locked_until=NOW + 100 * HOUR)
    Session.objects.create(session_key="old", session_data="", expire_date=NOW + 12 * HOUR)
    seen = []
    for hours in (0.2, 13, 25, 47, 49, 101):
        clock(NOW + hours * HOUR)
        beats = WorkerBeat.objects.filter(name="gone").count()
        told = SignInFailures.objects.count()
        seen.append((beats, told, Session.objects.count(), answers_of(office), answers_of(other)))
    assert seen == [
        (1, 2, 1, 2, 2),
        (1, 1, 0, 2, 2),
        (0, 1, 0, 2, 2),
        (0, 1, 0, 2, 2),
        (0, 1, 0, 0, 0),
        (0, 0, 0, 0, 0),
    ]


def test_a_round_is_bounded_and_the_next_sweep_goes_on(office: Office, clock: Any, monkeypatch: Any) -> None:
    monkeypatch.setattr("estimating.work.loop.cleaning.batch", 3)
    keep_answers(office, 7)
    late = NOW + 49 * HOUR
    left = []
    for second in range(4):
        clock(late + datetime.timedelta(seconds=second))
        left.append(answers_of(office))
    assert left == [4, 1, 0, 0]


def test_between_two_rounds_nothing_is_asked(office: Office, clock: Any) -> None:
    clock(NOW)
    keep_answers(office, 1)
    clock(NOW + 50 * HOUR)
    assert answers_of(office) == 0
    keep_answers(office, 1)
    clock(NOW + 50.9 * HOUR)
    assert answers_of(office) == 1, "an hour has not passed"
    clock(NOW + 51.1 * HOUR)
    assert answers_of(office) == 0
