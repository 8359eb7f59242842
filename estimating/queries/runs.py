"""The queue from outside: how much waits, and whether anybody works. Listed among the reads without a company."""

from __future__ import annotations

from django.db.models import Count

from estimating.models import Run
from estimating.states import RunState
from estimating.work.beats import readiness


def counts_by_state() -> dict[str, int]:
    """How many runs are in each state."""
    found = dict(Run.objects.values_list("state").annotate(count=Count("id")))
    return {state: found.get(state, 0) for state in RunState.values}


def workers() -> str:
    """ "ready", or why the workers are not: "no_worker", "deaf"."""
    return readiness()
