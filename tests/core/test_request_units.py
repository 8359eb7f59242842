"""Bare numbers of a request in its length unit, and remarks on sizes, barriers and weep gaps."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from estimating.core.estimate import Estimate
from estimating.core.job import cost_request
from rates.core.card import EditionSource
from rates.core.problems import Refused

GOLDEN = Path(__file__).resolve().parent.parent / "data" / "golden"


def price(**changes: Any) -> Estimate:
    """The golden request with some fields changed."""
    request = json.loads((GOLDEN / "request.json").read_text()) | changes
    edition = json.loads((GOLDEN / "edition.json").read_text())
    return cost_request(request, [EditionSource("golden", 1, "company", edition)])


def codes(estimate: Estimate) -> list[str]:
    return [remark.code for remark in estimate.remarks]


def test_a_bare_depth_is_in_the_length_unit_of_the_request() -> None:
    plain = price()
    assert price(length_unit="in", treated_depth=6).input_digest == plain.input_digest
    assert price(length_unit="mm", treated_depth="152.4").input_digest == plain.input_digest


def test_the_openings_may_have_another_unit() -> None:
    rows = [{"mark": "A", "quantity": 1, "width": 1219.2, "height": "1219.2", "access": "ground"}]
    rows[0]["width"] = "1219.2"
    estimate = price(openings=rows, length_unit="in", treated_depth=6, openings_length_unit="mm")
    assert estimate.perimeter_nm == 4 * 48 * 25_400_000
    assert estimate.request.given.depth_nm == 6 * 25_400_000


def test_without_a_length_unit_a_bare_number_is_refused_and_never_guessed() -> None:
    with pytest.raises(Refused) as refusal:
        price(treated_depth=6)
    assert [p.pointer for p in refusal.value.problems] == ["/treated_depth"]
    with pytest.raises(Refused) as refusal:
        price(treated_depth=6, openings_length_unit="in")
    assert [p.pointer for p in refusal.value.problems] == ["/treated_depth"]


@pytest.mark.parametrize(
    ("width", "told"), [("3.9 in", True), ("4 in", False), ("60 ft", False), ("60.1 ft", True)], ids=str
)
def test_sizes_out_of_band_are_told(width: str, told: bool) -> None:
    """4 in to 60 ft: common practice, no source."""
    row = {"mark": "A", "quantity": 1, "width": width, "height": "48 in", "access": "ground"}
    assert ("size_out_of_band" in codes(price(openings=[row]))) is told


def test_a_small_pipe_is_not_out_of_band() -> None:
    row = {"mark": "P", "kind": "pipe", "quantity": 1, "diameter": "2 in", "access": "ground"}
    assert "size_out_of_band" not in codes(price(openings=[row]))


def test_fluid_without_a_fluid_barrier_is_told() -> None:
    assert "no_fluid_barrier" in codes(price(wall_barrier="none"))
    assert "no_fluid_barrier" not in codes(price())


def test_a_waived_minimum_says_so() -> None:
    line = next(x for x in price(openings=[]).up.lines if x.step == "minimum_charge")
    assert (line.amount_minor, line.basis) == (0, "1500.00 waived, as nothing is to be done")


def test_weep_gaps_longer_than_the_sill_are_told() -> None:
    demo = Path(__file__).resolve().parents[2] / "estimating" / "demo" / "rates.json"
    source = EditionSource("demo", 1, "company", json.loads(demo.read_text()))
    request = json.loads((GOLDEN / "request.json").read_text())
    request["crew"] = {"members": [{"labour": "mechanic", "count": 2}]}
    told = []
    for count in (2, 4):  # marks A and C are 48 and 40 in wide; C has no sill treated
        seal = {"width": "1/2 in", "weeps": {"count": count, "length": "12 in"}}
        told.append(cost_request(request | {"perimeter_seal": seal}, [source]).remarks)
    assert [any(r.code == "weeps_over_sill" for r in found) for found in told] == [False, True]
    assert next(r.detail for r in told[1] if r.code == "weeps_over_sill").endswith(": A")
