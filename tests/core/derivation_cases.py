"""The cases whose derivations are evaluated: the worked ones of tests/data, and what walks a case."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from estimating.core.derivation import derive, figures, nested
from estimating.core.derivations.register import Register
from estimating.core.estimate import Estimate
from estimating.core.job import cost_request
from tests.core.added_fields import added_case
from tests.core.derivation_leaves import priced_lines
from tests.core.derivation_walk import Walk
from tests.core.random_estimates import random_case, sources

Document = dict[str, Any]
DATA = Path(__file__).parent.parent / "data"
DEEP = 1000
SEASON_SPLIT = next(seed for seed in range(100) if len(random_case(seed)[1]) > 1)


def read(path: Path) -> Document:
    """A JSON document."""
    found: Document = json.loads(path.read_text())
    return found


def worked(folder: Path, prefix: str = "") -> tuple[Document, list[Document]]:
    """(request, editions) of a worked case."""
    return read(folder / f"{prefix}request.json"), [read(folder / f"{prefix}edition.json")]


def cut_plan_case() -> tuple[Document, list[Document]]:
    """The golden case with rolls by the cut plan, which fills every roll but the last."""
    request, editions = worked(DATA / "golden")
    return request | {"quantities_from": "cut_plan"}, editions


CASES = {
    "golden": worked(DATA / "golden"),
    **{f.name: worked(f) for f in sorted((DATA / "cases").iterdir()) if (f / "request.json").exists()},
    "13 before": worked(DATA / "cases" / "13-attribution", "before."),
    "13 after": worked(DATA / "cases" / "13-attribution", "after."),
    "added": added_case(),
    "golden by cut plan": cut_plan_case(),
}


def cost(case: tuple[Document, Sequence[Document]]) -> Estimate:
    """The costed estimate of a case."""
    return cost_request(case[0], sources(case[1]))


def walk_price(case: tuple[Document, Sequence[Document]], estimate: Estimate) -> Walk:
    """The derivation of the price evaluated down to its leaves and up again; it gives the price."""
    walk = Walk(*case)
    walk.add(derive(estimate, "price", DEEP))
    assert walk.value("price") == estimate.till.major(estimate.up.price_minor)
    assert sorted(walk.quantity_pointers()) == sorted(priced_lines(case[0]))
    return walk


def walk_all(walk: Walk, estimate: Estimate) -> None:
    """Every other figure evaluated too."""
    register = Register(estimate)
    names = list(figures(estimate))
    assert len(set(names)) == len(names)
    for name in names:
        if name not in walk.steps:
            walk.add(nested(register, name, 1))
    for name in names:
        walk.value(name)


def printed(estimate: Estimate, figure: str) -> str:
    """The number of a figure as printed, without its unit."""
    return str(derive(estimate, figure)["printed"]).split(" ")[0]
