"""Derivations stay what they were: digests of every name, value, unit and leaf, of worked and random estimates.

The digests were taken from the code in which derivations still stood apart from the computation. They are to follow a
change of a rule or a new figure, never a change of the code alone: `python -m tests.core.test_derivation_digests`
prints those of today, and the commit that takes them over says why.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest

from estimating.core.derivation import nested
from estimating.core.derivations.register import Register
from estimating.core.estimate import Estimate
from tests.core.derivation_cases import CASES, cost
from tests.core.random_estimates import random_estimate
from tests.length import tries

FILE = Path(__file__).parent.parent / "data" / "derivation-digests.json"
SEEDS = range(0, 200, 5)


def told(name: str, step: Mapping[str, Any]) -> list[object]:
    """What may not change of a figure: name, value, unit, the figures that it stands on, and its leaves."""
    figures = sorted((x["figure"], x["value"]) for x in step["inputs"] if "figure" in x)
    leaves = sorted(
        (json.dumps(x["source"], sort_keys=True), x["value"], x["unit"]) for x in step["inputs"] if "source" in x
    )
    return [name, step["value"], step["unit"], figures, leaves]


def digest(figures: Mapping[str, Mapping[str, Any]]) -> str:
    """One digest of every figure of an estimate."""
    rows = [told(name, figures[name]) for name in sorted(figures)]
    return hashlib.sha256(json.dumps(rows, ensure_ascii=False).encode()).hexdigest()


def steps_of(estimate: Estimate) -> dict[str, dict[str, object]]:
    """Every figure with its step."""
    register = Register(estimate)
    return {name: nested(register, name, 1) for name in register.names()}


def estimates() -> Iterator[tuple[str, Estimate]]:
    """The estimates by the names of their digests."""
    for name, case in CASES.items():
        yield f"case {name}", cost(case)
    for seed in SEEDS:
        yield f"random {seed}", random_estimate(seed)


@pytest.mark.parametrize("name", CASES)
def test_derivations_of_worked_cases_are_what_they_were(name: str) -> None:
    assert digest(steps_of(cost(CASES[name]))) == json.loads(FILE.read_text())[f"case {name}"]


@pytest.mark.law
@pytest.mark.parametrize("seed", SEEDS[:: tries(4, 1)])
def test_derivations_of_random_estimates_are_what_they_were(seed: int) -> None:
    assert digest(steps_of(random_estimate(seed))) == json.loads(FILE.read_text())[f"random {seed}"]


if __name__ == "__main__":
    print(json.dumps({name: digest(steps_of(estimate)) for name, estimate in estimates()}, indent=1))
