"""The cut plan as a document: running marks, bundles, and the same pieces in each of its lists."""

from __future__ import annotations

import json
from collections import Counter
from fractions import Fraction
from itertools import groupby
from typing import Any

import pytest

from estimating.core.estimate import Estimate
from estimating.outputs.cut_plan import cut_plan
from tests.core.derivation_cases import CASES, DATA, cost
from tests.core.invented import costed, opening, request
from tests.core.test_cut_plan_prices import BY_PLAN, SILL, mesh

Sizes = Counter[tuple[str, Fraction, Fraction]]


def on_rolls(plan: Any) -> Sizes:
    """How many pieces of each material, length and width are cut."""
    found: Sizes = Counter()
    for row in plan["items"]:
        times = row["last_roll"] - row["first_roll"] + 1
        found[row["material"], Fraction(row["length"]), Fraction(row["width"])] += row["count"] * times
    return found


def test_the_worked_example_is_122_pieces_on_three_rolls_proven() -> None:
    """tests/data/golden/expected.json has lengths and counts of its pieces."""
    plan = cut_plan(cost(CASES["golden"]))
    expected = json.loads((DATA / "golden" / "expected.json").read_text())["pieces"]
    lengths: Counter[Fraction] = Counter()
    for (_, length, _), count in on_rolls(plan).items():
        lengths[length] += count
    assert lengths == {Fraction(item["length"]): item["count"] for item in expected["items"]}
    (material,) = plan["materials"]
    assert material["pieces"] == expected["count"] == 122
    assert (material["rolls"], material["least_rolls"], material["proven"]) == (3, 3, True)
    assert (material["gap_percent"], material["sizes"]) == ("0", [{"size": "150 ft", "count": 3}])
    bundles = {(row["elevation"], row["mark"], row["piece"]): row["count"] for row in plan["bundles"]}
    assert bundles["East", "B", "jamb"] == 8 and bundles["North", "C", "diagonal"] == 4


@pytest.mark.parametrize("name", CASES)
def test_rolls_and_bundles_hold_the_same_pieces(name: str) -> None:
    """In every worked case; none of them has a piece longer than its roll, which would be joined."""
    plan = cut_plan(cost(CASES[name]))
    bundled: Sizes = Counter()
    for row in plan["bundles"]:
        assert row["joined"] == 1
        bundled[row["material"], Fraction(row["length"]), Fraction(row["width"])] += row["count"]
    assert on_rolls(plan) == bundled
    assert sum(material["pieces"] for material in plan["materials"]) == sum(bundled.values())
    for material in plan["materials"]:
        assert material["least_rolls"] <= material["rolls"]
        assert material["proven"] == (material["gap_percent"] == "0")


def running(estimate: Estimate) -> None:
    """Each lane's pieces follow each other from where its stretch starts, and end before the roll does."""
    lanes = groupby(
        cut_plan(estimate)["items"], key=lambda row: (row["material"], row.get("part"), row["first_roll"], row["lane"])
    )
    for _, rows in lanes:
        at = None
        for row in rows:
            start, end = Fraction(row["start"]), Fraction(row["end"])
            assert at is None or start == at or row["lane"].startswith("1/")
            assert end - start == Fraction(row["length"]) * row["count"]
            at = end


@pytest.mark.parametrize("name", CASES)
def test_running_marks_follow_each_other(name: str) -> None:
    running(cost(CASES[name]))


def test_rolls_cut_alike_are_told_once_and_joined_pieces_say_so() -> None:
    """Nine pieces of 60 in on nine rolls of 100 alike; 240 in of three lengths, lapped by 2 in: 100 + 100 + 44."""
    alike = cut_plan(costed(request(opening(quantity=9, **SILL), **BY_PLAN), mesh()))
    assert [(row["first_roll"], row["last_roll"], row["end"], row["rest"]) for row in alike["items"]] == [
        (1, 9, "60", "40")
    ]
    long = cut_plan(costed(request(opening(**SILL | {"width": "240 in"}), **BY_PLAN), mesh()))
    assert [(row["length"], row["joined"]) for row in long["bundles"]] == [("240", 3)]
    assert sorted(row["length"] for row in long["items"]) == ["100", "44"]


def test_what_the_estimate_buys_stands_beside_what_the_plan_takes() -> None:
    """Five pieces of 60 in: three rolls by length, five by the plan."""
    document = request(opening(quantity=5, **SILL))
    (material,) = cut_plan(costed(document, mesh(waste={"kind": "added", "percent": "0"})))["materials"]
    assert (material["bought"], material["sizes"]) == (
        [{"size": "100 in", "count": 3}],
        [{"size": "100 in", "count": 5}],
    )
