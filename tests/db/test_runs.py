"""Runs: claimed once, kept alive, given back, fenced off; nothing is lost and nothing stored twice."""

from __future__ import annotations

import datetime
import threading
from typing import Any

import pytest
from django.db import connection, transaction
from django.db.models.functions import Now

from estimating.models import Change, Estimate, EstimatePart, Run
from estimating.queries import estimates as queries
from estimating.work import cost, execute, queue
from estimating.work.heartbeat import ClaimLost, Pulse, heart, kept_alive
from rates.refusals import Conflict
from tests.cast import NOW, Office, make_office
from tests.db.making import cost_golden, submit_golden

HOUR = datetime.timedelta(hours=1)


def expire(claim: queue.Claim) -> None:
    """Makes the lease of a claim run out."""
    Run.objects.filter(pk=claim.run).update(lease_until=Now() - HOUR)


def claim_next() -> queue.Claim:
    claim = queue.claim_next()
    assert claim is not None
    return claim


def state_of(claim: queue.Claim) -> tuple[str, int, int, str]:
    run = Run.objects.get(pk=claim.run)
    return run.state, run.attempt, run.kills, run.reason


def test_a_run_is_claimed_once_and_counts_its_attempt_first(office: Office) -> None:
    submitted = submit_golden(office)
    claim = claim_next()
    assert (claim.run, claim.attempt) == (submitted.id, 1)
    assert queue.claim_next() is None
    assert state_of(claim) == ("working", 1, 0, "")


def test_a_look_in_vain_puts_no_query_together(office: Office, django_assert_num_queries: Any) -> None:
    """An idle worker looks many times a second; what it asks goes past the ORM and its cursors."""
    for work in ((), (submit_golden,)):
        for submit in work:
            submit(office)
            claim_next()
        with django_assert_num_queries(0):
            assert queue.claim_next() is None


def test_many_threads_claim_every_run_once(office: Office) -> None:
    ids = {submit_golden(office).id for _ in range(12)}
    claimed: list[Any] = []

    def work() -> None:
        while (claim := queue.claim_next()) is not None:
            claimed.append(claim.run)
        connection.close()

    threads = [threading.Thread(target=work) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(claimed) == sorted(ids)


def test_the_longest_waiting_run_of_the_company_with_least_at_work_goes_first(office: Office) -> None:
    other = make_office("Other")
    first = [submit_golden(office, now=NOW + n * HOUR).id for n in range(3)]
    late = submit_golden(other, now=NOW + 10 * HOUR).id
    order = [claim_next().run for _ in range(4)]
    assert order == [first[0], late, first[1], first[2]]


def test_a_result_is_stored_once_with_its_line_in_the_feed(office: Office) -> None:
    id = cost_golden(office)
    assert Run.objects.get(pk=id).state == "costed"
    assert [(c.number, c.kind, c.subject) for c in Change.objects.of(office.company)] == [(1, "estimate.costed", id)]
    assert Estimate.objects.of(office.company).get(pk=id).price_minor == 165500  # tests/data/golden: 1655.00


def test_a_late_result_is_thrown_away(office: Office) -> None:
    submit_golden(office)
    slow = claim_next()
    expire(slow)
    assert queue.sweep() == (1, 0)
    quick = claim_next()
    assert (quick.run, quick.attempt) == (slow.run, 2)
    assert execute.execute(slow) == "lost"
    assert not EstimatePart.objects.of(office.company).exists()
    assert execute.execute(quick) == "costed"
    assert execute.execute(slow) == "lost"
    assert Change.objects.of(office.company).count() == 1


def test_without_the_fence_the_late_result_would_be_stored(office: Office, settings: Any) -> None:
    settings.RUN_FENCE = False
    submit_golden(office)
    slow = claim_next()
    expire(slow)
    queue.sweep()
    claim_next()
    assert execute.execute(slow) == "costed"


def test_two_dead_workers_are_enough(office: Office) -> None:
    submit_golden(office)
    for sweep, state in (((1, 0), "queued"), ((0, 1), "failed")):
        claim = claim_next()
        expire(claim)
        assert queue.sweep() == sweep
        assert Run.objects.get(pk=claim.run).state == state
    assert state_of(claim) == ("failed", 2, 2, "worker_died")
    document: Any = queries.estimate(company=office.company, id=claim.run).document
    assert document["reason"] == "worker_died"


def test_a_lease_that_still_runs_is_left_alone(office: Office) -> None:
    submit_golden(office)
    claim_next()
    assert queue.sweep() == (0, 0)


def test_five_faults_of_ours_end_in_failed(office: Office, monkeypatch: pytest.MonkeyPatch) -> None:
    def break_down(*_: object) -> None:
        raise ZeroDivisionError("a fault")

    monkeypatch.setattr(cost, "compute", break_down)
    submit_golden(office)
    states = [execute.execute(claim_next()) for _ in range(5)]
    assert states == ["queued"] * 4 + ["failed"]
    assert queue.claim_next() is None
    run = Run.objects.get()
    assert (run.state, run.attempt, run.reason) == ("failed", 5, "ZeroDivisionError")


def test_a_heartbeat_extends_the_lease_and_shows_progress(office: Office) -> None:
    submit_golden(office)
    claim = claim_next()
    expire(claim)
    assert queue.beat(claim, 2, 3, "takeoff")
    assert queue.sweep() == (0, 0)
    run = Run.objects.get(pk=claim.run)
    assert (run.done, run.total, run.step) == (2, 3, "takeoff")


def test_a_lost_claim_stops_the_computation_at_its_next_report(office: Office) -> None:
    submit_golden(office)
    pulse = Pulse(claim_next())
    heart.beat(pulse)
    pulse.report(1, 3, "takeoff")
    queue.cancel([pulse.claim.run])
    heart.beat(pulse)
    with pytest.raises(ClaimLost):
        pulse.report(2, 3, "labour")


def test_a_run_of_a_transaction_that_is_open_has_no_heartbeat(office: Office) -> None:
    """Nobody else sees its row: on PostgreSQL a beat would take it for lost, on SQLite wait for the lock."""
    submit_golden(office)
    claim = claim_next()
    with transaction.atomic(), kept_alive(claim):
        assert not heart.by_id
    with kept_alive(claim) as pulse:
        assert list(heart.by_id.values()) == [pulse]


def test_cancelling_stops_a_queued_and_a_working_run_and_no_ended_one(office: Office) -> None:
    from_queue = submit_golden(office).id
    assert queue.cancel([from_queue]) == 1
    submit_golden(office)
    claim = claim_next()
    assert queue.cancel([claim.run]) == 1
    assert execute.execute(claim) == "lost"
    assert queue.cancel([from_queue, claim.run, cost_golden(office)]) == 0
    assert not EstimatePart.objects.of(office.company).filter(estimate=claim.run).exists()


def test_parts_are_there_once_costed_alone(office: Office) -> None:
    id = submit_golden(office).id
    with pytest.raises(Conflict, match="queued"):
        queries.part(company=office.company, id=id, name="hours")


def test_working_off_the_queue_counts(office: Office) -> None:
    for _ in range(3):
        submit_golden(office)
    assert (execute.waiting(), execute.work_off(2), execute.waiting(), execute.work_off()) == (3, 2, 1, 1)
