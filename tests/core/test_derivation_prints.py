"""The figures of derivations print what the answer prints, and what the worked cases of tests/data expect."""

from __future__ import annotations

from pathlib import Path

import pytest

from estimating.core.derivation import nested
from estimating.core.derivations.register import Register
from estimating.core.estimate import Estimate
from estimating.core.figures.figure import word
from estimating.outputs import answer, takeoff_rows
from tests.core.derivation_cases import CASES, DATA, cost, printed, read, worked
from tests.core.random_estimates import random_estimate


def compare_answer(estimate: Estimate) -> None:
    """The figures behind the answer document print what it prints."""
    register = Register(estimate)

    def shows(figure: str, text: object) -> None:
        step = nested(register, figure, 1)
        assert str(step["printed"]).split(" ")[0] == str(text), figure

    totals = answer.totals(estimate)
    renamed = {"hours": "hours.standard"}
    for name, text in totals.items():
        if text is not None and (name not in ("hours", "crew_days") or estimate.parts):
            shows(renamed.get(name, name), text)
    for i, line in enumerate(estimate.up.lines):
        shows(f"build_up.{i}", answer.build_row(line, estimate)["amount"])
    for i, row in enumerate(answer.mark_rows(estimate)):
        for name in ("quantity", "hours", "price", "unit_price", "residual"):
            if row["quantity"] or (name == "price"):
                shows(f"mark.{i}.{name}", row[name])
    for i, opening in enumerate(takeoff_rows.openings(estimate)):
        for name in ("quantity", "touch_minutes", "price"):
            shows(f"line.{i}.{name}", opening[name])
    for cost_code in answer.cost_codes(estimate):
        shows(f"cost_code.{word(cost_code['code'])}", cost_code["amount"])
    for name, text in (answer.area_row(estimate) or {}).items():
        if text is not None and name not in ("wall_area", "stated_rate"):
            shows(f"per_area.{name}", text)


def compare_parts(estimate: Estimate) -> None:
    """Materials and equipment of each part print what the answer prints."""
    register, materials, rented = Register(estimate), iter(answer.materials(estimate)), iter(answer.equipment(estimate))
    for p, part in enumerate(estimate.parts):
        prefix = f"part.{p}." if len(estimate.parts) > 1 else ""

        def shows(figure: str, text: object, prefix: str = prefix) -> None:
            step = nested(register, prefix + figure, 1)
            assert str(step["printed"]).split(" ")[0] == str(text), figure

        for line in part.materials:
            row = next(materials)
            for name in ("net", "gross", "stock", "left_over", "amount"):
                shows(f"material.{word(line.row.code)}.{name}", row[name])
        for rental in part.equipment:
            row = next(rented)
            for name in ("days", "units", "deliveries", "amount"):
                shows(f"equipment.{word(rental.row.code)}.{name}", row[name])


@pytest.mark.parametrize("name", CASES)
def test_figures_print_as_the_answer_does(name: str) -> None:
    estimate = cost(CASES[name])
    compare_answer(estimate)
    compare_parts(estimate)


@pytest.mark.parametrize("seed", range(300, 320))
def test_figures_of_random_estimates_print_as_the_answer_does(seed: int) -> None:
    estimate = random_estimate(seed)
    compare_answer(estimate)
    compare_parts(estimate)


@pytest.mark.parametrize("folder", [DATA / "golden", *sorted((DATA / "cases").glob("*/request.json"))])
def test_figures_print_what_the_worked_cases_expect(folder: Path) -> None:
    folder = folder if folder.is_dir() else folder.parent
    estimate, expected = cost(worked(folder)), read(folder / "expected.json")
    for name in ("openings", "perimeter", "treated_area", "direct_cost", "cost", "price", "price_per_opening"):
        assert printed(estimate, name) == str(expected["totals"][name])
    for step in expected["build_up"]:
        assert printed(estimate, f"build_up.{step['step']}") == step["amount"]
    marks = [mark.mark for mark in estimate.allocation.marks]
    for mark in expected["by_mark"]:
        assert printed(estimate, f"mark.{marks.index(mark['mark'])}.price") == mark["price"]
    for row in expected["materials"]:
        for name in {"net", "gross", "amount"} & set(row):
            assert printed(estimate, f"material.{word(row['code'])}.{name}") == row[name]
    hours = {"standard": "hours.standard", "setup": "hours.setup", "paid": "hours.paid", "hour_rate": "hour_cost"}
    hours |= {name: name for name in ("learning_factor", "opening_equivalents")}
    for name in set(hours) & set(expected["hours"]):
        assert printed(estimate, hours[name]) == expected["hours"][name]
