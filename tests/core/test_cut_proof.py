"""What a solver says of a cut plan: proofs of published problems, and that nothing wrong that it says is believed."""

from __future__ import annotations

from typing import Any

import pytest

from estimating.core.cutting.bounds import Bound
from estimating.core.cutting.cut import Cut, cut
from estimating.core.cutting.filling import fill_rolls, longest_first
from estimating.outputs import cut_proof
from tests.core.cutting_cases import INSTANCES, checked, most_weight, problem

BY_NAME = {instance["name"]: instance for instance in INSTANCES}
QUICK = ("Falkenauer_u120_04", "PM_u020_02", "PM_u030_01", "boards_17ft", "ORTools_docs_binpacking", "non_round_up_132")


def unproven(instance: dict[str, Any]) -> Cut:
    """A first plan of which nothing is known."""
    roll, lengths, demand = problem(instance)
    return Cut(fill_rolls(roll, lengths, demand, longest_first(lengths)), Bound(0, (), 1, ""))


def held(instance: dict[str, Any], found: Cut) -> Cut:
    """A plan that is one, whose bound is one by another computation and no higher than the optimum."""
    roll, lengths, demand = problem(instance)
    assert checked(roll, lengths, demand, found.patterns) == found.rolls >= instance["optimum"] >= found.bound.rolls
    if found.bound.weights:
        whole = sum(weight * count for weight, count in zip(found.bound.weights, demand, strict=True))
        assert -(-whole // max(1, most_weight(roll, lengths, demand, found.bound.weights))) == found.bound.rolls
    return found


@pytest.mark.skipif(not cut_proof.solver_there(), reason="the solver is not installed (extra cutting)")
@pytest.mark.parametrize("name", QUICK)
def test_the_solver_alone_proves_the_optimum(name: str) -> None:
    """Of non_round_up_132 the usual linear programme gives 1.9621, for it takes three pieces of 44 where there are two.

    An arc-flow has no more of a length on a roll than there are: its weights are 23/11 rolls, and so prove three.
    """
    instance = BY_NAME[name]
    found = held(instance, cut_proof.proven(*problem(instance), unproven(instance)))
    assert (found.proven, found.rolls) == (True, instance["optimum"])


@pytest.mark.campaign
@pytest.mark.skipif(not cut_proof.solver_there(), reason="the solver is not installed (extra cutting)")
@pytest.mark.parametrize("alone", [False, True])
def test_all_published_problems_with_the_solver(alone: bool) -> None:
    """With the core's search and bounds at least 22 of 26 are proven; alone, too, it never proves what is not so."""
    count = 0
    for instance in INSTANCES:
        made = unproven(instance) if alone else cut(*problem(instance))
        found = held(instance, cut_proof.proven(*problem(instance), made))
        assert found.rolls <= instance["optimum"] + 1
        count += found.proven
    assert count >= 22


@pytest.mark.parametrize("said", [float("nan"), float("inf"), -3.0, 0.0, 1e9, 0.37])
def test_a_solver_that_is_wrong_is_not_believed(monkeypatch: pytest.MonkeyPatch, said: float) -> None:
    """Whatever numbers it gives: no bound over the optimum, no plan that isn't one."""
    monkeypatch.setattr(cut_proof, "highspy", object())
    monkeypatch.setattr(
        cut_proof.Model, "solve", lambda model, whole, least: ([said] * len(model.arcs), [said] * len(model.lengths))
    )
    for name in ("PM_u010_01", "non_round_up_132"):
        held(BY_NAME[name], cut_proof.proven(*problem(BY_NAME[name]), unproven(BY_NAME[name])))


def test_without_a_solver_the_plan_stands(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cut_proof, "highspy", None)
    made = unproven(INSTANCES[0])
    assert cut_proof.proven(*problem(INSTANCES[0]), made) is made
