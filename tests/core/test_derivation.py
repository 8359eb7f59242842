"""Every figure's derivation, evaluated again step by step from its leaves by an evaluator that shares no code with it.

The leaves are compared with the plain request and edition documents; rational rules are exact, the irrational ones are
worked with mpmath at 60 digits and must agree within 10**-30. The worked cases are those of tests/data (computed by an
independent program, the prices again by hand); the random ones are of random_estimates.py.
"""

from __future__ import annotations

import copy
import re
from collections.abc import Sequence
from typing import Any

import pytest

from estimating.core.derivation import derive
from estimating.core.figures.rules import RULES
from tests.core.added_fields import added_case
from tests.core.derivation_cases import CASES, DEEP, Document, cost, walk_all, walk_price
from tests.core.derivation_rules import EXACT
from tests.core.derivation_shapes import IRRATIONAL
from tests.core.derivation_walk import Walk, steps
from tests.core.random_estimates import random_case
from tests.length import AT_LENGTH, tries

SEEDS = range(200, 240)
# With the two cases named, these use every rule; `python -m tests.core.test_derivation` finds others
EVERY_RULE = (201, 205, 216, 229, 235)
NAMED = (added_case(), CASES["golden by cut plan"])
ALL_FIGURES = SEEDS if AT_LENGTH else EVERY_RULE


def used_rules(case: Any) -> set[str]:
    """The rules of every figure of a case, each followed to the leaves."""
    estimate = cost(case)
    walk = walk_price(case, estimate)
    walk_all(walk, estimate)
    return walk.rules


@pytest.mark.parametrize("name", CASES)
def test_worked_cases_from_every_figure_to_the_leaves(name: str) -> None:
    estimate = cost(CASES[name])
    walk_all(walk_price(CASES[name], estimate), estimate)


@pytest.mark.law
@pytest.mark.parametrize("tens", range(tries(4, 20)))
def test_price_of_random_estimates_from_the_leaves(tens: int) -> None:
    for seed in range(10 * tens, 10 * tens + 10):
        case = random_case(seed)
        walk_price(case, cost(case))


@pytest.mark.law
def test_every_figure_of_random_estimates_by_every_documented_rule() -> None:
    used: set[str] = set()
    for case in [*NAMED, *map(random_case, ALL_FIGURES)]:
        used |= used_rules(case)
    assert used == set(EXACT) | set(IRRATIONAL) == set(RULES)
    assert all(rule.words for rule in RULES.values())


def spoil(value: str) -> str:
    """Another value, a millionth or so away, or another word."""
    if re.fullmatch(r"-?[0-9]+(\.[0-9]+)?", value):
        return f"{value}{'' if '.' in value else '.'}000001"
    top, slash, bottom = value.partition("/")
    return f"{top}1/{bottom}" if slash else f"{value}x"


def test_the_evaluation_fails_on_any_spoilt_step() -> None:
    case = CASES["01-round-top"]
    whole = derive(cost(case), "price", DEEP)
    count = sum(1 for _ in steps(whole))
    assert count > 150
    for step in list(steps(whole)):
        refuses(case, whole, step)


def refuses(case: tuple[Document, Sequence[Document]], whole: Document, holder: Any) -> None:
    """The evaluation of `whole` fails while the value of one of its steps or leaves is another."""
    value = holder["value"]
    holder["value"] = spoil(value)
    walk = Walk(*case)
    walk.add(whole)
    with pytest.raises((AssertionError, ValueError)):
        walk.value("price")
    holder["value"] = value


def test_the_evaluation_fails_on_any_spoilt_leaf() -> None:
    case = CASES["09-tiered-bond"]
    whole = derive(cost(case), "price", DEEP)
    leaves = [given for step in steps(whole) for given in step["inputs"] if "source" in given]
    assert len(leaves) > 80
    for leaf in leaves:
        refuses(case, whole, leaf)


def test_equal_weights_where_none_counts() -> None:
    request, (edition,) = copy.deepcopy(CASES["golden"])
    edition["tables"]["production"]["opening_minutes"] = {"fixed": "0", "per_foot": "0"}
    first = request["openings"][0]
    request["openings"] += [first | {"elevation": "East"}, first | {"elevation": "West", "quantity": 0}]
    estimate = cost((request, [edition]))
    assert estimate.up.price_minor and not estimate.parts[0].hours.touch_minutes
    walk_all(walk_price((request, [edition]), estimate), estimate)


def seeds_of_every_rule() -> list[int]:
    """A few seeds that use every rule, with the cases named."""
    found = {seed: used_rules(random_case(seed)) for seed in SEEDS}
    left = set(RULES).difference(*map(used_rules, NAMED))
    chosen = []
    while left:
        chosen.append(max(found, key=lambda seed: len(found[seed] & left)))
        assert found[chosen[-1]] & left, f"no seed of {SEEDS} uses {sorted(left)}"
        left -= found[chosen[-1]]
    return sorted(chosen)


if __name__ == "__main__":
    print(seeds_of_every_rule())
