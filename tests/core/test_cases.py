"""The worked estimates: every figure of expected.json, to the cent and the sixth place, by the core and the command.

Source: tests/data/golden and tests/data/cases, computed by a program independent of this one and, for all prices, again
by hand; rates invented.
"""

from __future__ import annotations

import copy
import io
import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from django.core.management import call_command

from estimating.core.estimate import Estimate
from estimating.core.job import cost_request
from estimating.outputs.answer import answer, parts
from rates.core.card import EditionSource
from rates.core.jsontext import read_json
from tests.core.test_command import without_progress
from tests.expected import comparable, differences

ROOT = Path(__file__).resolve().parent.parent.parent
DATA = ROOT / "tests" / "data"
FOLDERS = [DATA / "golden", *sorted(path.parent for path in (DATA / "cases").glob("*/request.json"))]
ATTRIBUTION = DATA / "cases" / "13-attribution"
by_folder = pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.name)


def document(path: Path) -> Any:
    """A JSON file as the service reads it."""
    return read_json(path.read_bytes())


def estimate_of(request: Path, edition: Path) -> Estimate:
    """The estimate of a request file under an edition file, by the core alone."""
    return cost_request(document(request), [EditionSource("edition", 1, "company", document(edition))])


def printed(*arguments: str) -> str:
    """What the command prints, called in this process."""
    out = io.StringIO()
    call_command("estimate", *arguments, stdout=out)
    return out.getvalue()


def faults(found: Any, folder: Path, expected: Any = None) -> list[str]:
    """Where an answer differs from the folder's expected.json, or from another expectation."""
    return differences(comparable(expected or document(folder / "expected.json")), comparable(found))


def test_all_worked_estimates_are_here() -> None:
    assert [folder.name for folder in FOLDERS] == [
        "golden",
        "01-round-top",
        "03-pipes-minimum-charge",
        "06-new-crew-exponential",
        "09-tiered-bond",
        "12-storeys-two-mobilisations",
    ]


@by_folder
def test_every_figure_by_the_core(folder: Path) -> None:
    estimate = estimate_of(folder / "request.json", folder / "edition.json")
    found = answer(estimate) | dict(parts(estimate))
    assert faults(found, folder) == []


@by_folder
def test_every_figure_by_the_command(folder: Path) -> None:
    text = printed(str(folder / "request.json"), "--rates", str(folder / "edition.json"), "--json")
    assert faults(json.loads(text), folder) == []


def test_the_golden_figures_by_a_process_of_its_own() -> None:
    command = ["manage.py", "estimate", "tests/data/golden/request.json", "--rates", "tests/data/golden/edition.json"]
    done = subprocess.run(
        [sys.executable, *command, "--json"], cwd=ROOT, capture_output=True, text=True, timeout=120, check=False
    )
    assert (done.returncode, without_progress(done.stderr)) == (0, "")
    assert faults(json.loads(done.stdout), DATA / "golden") == []


@by_folder
def test_the_same_input_gives_the_same_bytes(folder: Path) -> None:
    arguments = (str(folder / "request.json"), "--rates", str(folder / "edition.json"), "--json")
    assert printed(*arguments) == printed(*arguments)


@by_folder
def test_sums_of_the_answer_are_its_price(folder: Path) -> None:
    estimate = estimate_of(folder / "request.json", folder / "edition.json")
    price = estimate.up.price_minor
    assert sum(line.amount_minor for line in estimate.up.lines) == price
    assert sum(mark.price_minor for mark in estimate.allocation.marks) == price
    assert sum(estimate.allocation.line_prices) == price
    found = {**answer(estimate), **parts(estimate)}
    assert sum(row["quantity"] for row in found["openings"] if row["not_priced"] is None) == estimate.openings


@pytest.mark.parametrize("when", ["before", "after"])
def test_the_prices_before_and_after_of_the_attribution_case(when: str) -> None:
    request, edition = (ATTRIBUTION / f"{when}.{kind}.json" for kind in ("request", "edition"))
    expected = document(ATTRIBUTION / "expected.json")
    prices = {expected[mode][when] for mode in expected if mode != "order"}
    assert len(prices) == 1, "all four modes start from the same two prices"
    estimate = estimate_of(request, edition)
    assert {estimate.till.text(estimate.up.price_minor)} == prices
    assert json.loads(printed(str(request), "--rates", str(edition), "--json"))["totals"]["price"] in prices


def leaves(value: Any, path: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    """The path of every figure of an expected.json."""
    if isinstance(value, dict):
        return [leaf for name, item in value.items() if name != "note" for leaf in leaves(item, (*path, name))]
    if isinstance(value, list):
        return [leaf for i, item in enumerate(value) for leaf in leaves(item, (*path, i))]
    return [path]


def test_a_change_of_any_figure_is_noticed() -> None:
    expected = document(DATA / "golden" / "expected.json")
    estimate = estimate_of(DATA / "golden" / "request.json", DATA / "golden" / "edition.json")
    found = answer(estimate) | dict(parts(estimate))
    paths = leaves(expected)
    assert len(paths) > 120
    for path in paths:
        wrong = copy.deepcopy(expected)
        inner = wrong
        for step in path[:-1]:
            inner = inner[step]
        inner[path[-1]] = 987654 if isinstance(inner[path[-1]], int) else "987654"
        assert faults(found, DATA / "golden", wrong), path
