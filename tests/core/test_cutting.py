"""Pieces on rolls: published problems with their optimum, brute force on small ones, every bound checked again."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings

from estimating.core.cutting.bounds import bound_of_weights, lower_bound
from estimating.core.cutting.cut import cut
from estimating.core.cutting.searching import GivenUp, search
from tests.core.cutting_cases import INSTANCES, Problem, checked, fewest, most_weight, problem, small_problems

HARD = ("Falkenauer_t60_00", "Falkenauer_t60_01")  # triplets that fill every roll: the heuristic takes one more


@pytest.mark.parametrize("instance", INSTANCES, ids=lambda instance: instance["name"])
def test_published_problems_within_one_roll_and_proven_only_at_the_optimum(instance: dict[str, Any]) -> None:
    roll, lengths, demand = problem(instance)
    found = cut(roll, lengths, demand)
    rolls = checked(roll, lengths, demand, found.patterns)
    assert rolls == found.rolls
    assert rolls - instance["optimum"] == (1 if instance["name"] in HARD else 0)
    assert found.bound.rolls <= instance["optimum"]
    assert found.proven == (instance["name"] not in HARD)


@pytest.mark.parametrize("instance", INSTANCES, ids=lambda instance: instance["name"])
def test_the_weights_of_a_bound_are_worth_what_they_say(instance: dict[str, Any]) -> None:
    """No roll holds more weight than `most`, by another computation; so the bound is one."""
    roll, lengths, demand = problem(instance)
    bound = lower_bound(roll, lengths, demand)
    assert most_weight(roll, lengths, demand, bound.weights) <= bound.most
    whole = sum(weight * count for weight, count in zip(bound.weights, demand, strict=True))
    assert (bound.rolls - 1) * bound.most < whole <= bound.rolls * bound.most


def test_a_bound_that_rounding_a_linear_programme_misses() -> None:
    """132 with 2 × 44, 3 × 33, 6 × 12: the pieces are 259 of 264, and yet two rolls don't hold them."""
    roll, lengths, demand = problem(next(x for x in INSTANCES if x["name"] == "non_round_up_132"))
    assert lower_bound(roll, lengths, demand).rolls == 2
    assert search(roll, lengths, demand, 2, 1000) is None
    found = cut(roll, lengths, demand)
    assert (found.rolls, found.proven, found.bound.why) == (3, True, "every layout on 2 was tried")


def test_a_search_ends_after_its_tries() -> None:
    roll, lengths, demand = problem(next(x for x in INSTANCES if x["name"] == HARD[0]))
    order = sorted(range(len(lengths)), key=lambda i: -lengths[i])
    with pytest.raises(GivenUp):
        search(roll, [lengths[i] for i in order], [demand[i] for i in order], 20, 500)


@settings(max_examples=150)
@given(small_problems())
def test_small_problems_against_brute_force(given_problem: Problem) -> None:
    roll, lengths, demand = given_problem
    found = cut(roll, lengths, demand)
    pieces = [length for length, count in zip(lengths, demand, strict=True) for _ in range(count)]
    least = fewest(roll, pieces)
    assert checked(roll, lengths, demand, found.patterns) == least  # eight pieces: the search ends, so it is exact
    assert found.bound.rolls == least
    assert lower_bound(roll, lengths, demand).rolls <= least


@settings(max_examples=60)
@given(small_problems())
def test_any_weights_at_all_prove_no_more_than_is_true(given_problem: Problem) -> None:
    """What a solver says in floats is only a proposal: wrong weights give a weak bound, never a wrong one."""
    roll, lengths, demand = given_problem
    least = cut(roll, lengths, demand).rolls
    for weights in ([1] * len(lengths), [7 * i % 5 for i in range(len(lengths))], lengths):
        assert bound_of_weights(roll, lengths, demand, weights).rolls <= least


def test_pieces_longer_than_a_roll_and_weights_below_nothing_are_refused() -> None:
    with pytest.raises(ValueError, match="longer than the roll"):
        cut(10, [11], [1])
    with pytest.raises(ValueError, match="at least 0"):
        bound_of_weights(10, [3], [1], [-1])
