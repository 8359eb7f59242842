"""Every registered rule governs what it names: another function in its place moves the figure and its derivation alike.

The function that computes is the one that explains: of the inputs that a derivation tells, it gives the value told.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import lru_cache
from typing import Any

import pytest

from estimating.core.derivation import nested
from estimating.core.derivations.nodes import Node
from estimating.core.derivations.register import Register
from estimating.core.figures.rules import RULES
from tests.core.derivation_cases import CASES, Document, cost
from tests.core.random_estimates import random_case

SEEDS = range(200, 230)  # between them they use every rule (test_derivation.py)
# rules whose function takes more at once than a figure tells: an outline as a shape, a column of shares, named costs
OF_OUTLINES = {"shape_run", "shape_outline", "shape_corner_factor", "shape_corners", "shape_width"}
OF_COLUMNS = {"floor_share", "share_remainder", "rank", "extra_unit"}
Case = tuple[Document, list[Document]]


def cases() -> Iterator[Case]:
    """The worked cases, then random ones."""
    yield from CASES.values()
    yield from (random_case(seed) for seed in SEEDS)


@lru_cache(maxsize=1)
def uses() -> dict[str, tuple[Case, str, bool]]:
    """(case, figure, whether the price stands on it) by rule: one that the price stands on, shares of several marks,
    the choice among several stocks, if there is one."""
    found: dict[str, tuple[tuple[bool, int], Case, str, bool]] = {}
    for case in cases():
        register = Register(cost(case))
        below = figures_below(register, "price")
        for name in register.names():
            node = register.node(name)
            several = name.startswith("mark.") if node.rule in OF_COLUMNS else len(node.inputs) > 1
            score = (several or node.rule not in OF_COLUMNS | {"least_cost"}, int(name in below))
            if node.rule not in found or score > found[node.rule][0]:
                found[node.rule] = (score, case, name, name in below)
    return {rule: use[1:] for rule, use in found.items()}


def figures_below(register: Register, figure: str) -> set[str]:
    """Every figure that one stands on."""
    found, waiting = {figure}, [figure]
    while waiting:
        for given in register.node(waiting.pop()).inputs:
            if given.figure is not None and given.figure not in found:
                found.add(given.figure)
                waiting.append(given.figure)
    return found


def another(name: str, value: Any, inputs: tuple[Any, ...]) -> Any:
    """Another value in the place of one that a rule gives, such as money can be: one more, or another name or order."""
    if name == "least_cost":
        return str(max(inputs).input.name)
    if isinstance(value, str):
        return f"another than {value}"
    if name == "round":
        return value + Fraction(1, 10 ** int(inputs[1]))
    if name == "rank":
        return [max(value) - x for x in value]
    if name == "extra_unit":
        return [1 - x for x in value]
    return [x + 1 for x in value] if isinstance(value, list) else value + 1


@pytest.mark.parametrize("name", sorted(RULES))
def test_another_function_moves_the_figure_and_its_derivation(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    case, figure, on_price = uses()[name]
    before, own = cost(case), RULES[name].function
    told = nested(Register(before), figure, 1)
    monkeypatch.setattr(RULES[name], "function", lambda *inputs: another(name, own(*inputs), inputs))
    after = cost(case)
    register = Register(after)
    moved = register.node("price").value
    assert after.till.whole(Fraction(moved)) == after.up.price_minor  # the derivation gives the price of the estimate
    changed = figure not in set(register.names()) or nested(register, figure, 1)["value"] != told["value"]
    assert changed or (on_price and after.up.price_minor != before.up.price_minor), figure


def values_told(node: Node) -> list[Any]:
    """The values of a step's inputs as its rule takes them: those of a term together."""
    found: list[Any] = []
    terms: dict[int, list[Any]] = {}
    for given in node.inputs:
        if given.term is None:
            found.append(given.value)
        elif given.term in terms:
            terms[given.term].append(given.value)
        else:
            terms[given.term] = [given.value]
            found.append(terms[given.term])
    return [tuple(x) if isinstance(x, list) else x for x in found]


@pytest.mark.parametrize("case", ["golden", "01-round-top", "09-tiered-bond", "12-storeys-two-mobilisations", "random"])
def test_a_rules_function_gives_the_value_told_of_the_inputs_told(case: str) -> None:
    register = Register(cost(random_case(SEEDS[3]) if case == "random" else CASES[case]))
    checked = 0
    for name in register.names():
        node = register.node(name)
        if node.rule not in OF_OUTLINES | OF_COLUMNS | {"least_cost"}:
            assert RULES[node.rule](*values_told(node)) == node.value, name
            checked += 1
    assert checked > 100
