"""Base minutes and every factor on them, worked by hand; the rates are invented, the rules those for hours.

A 48 × 48 in window is 16 ft around: max(30, 12 + 1.125 × 16) = 30 minutes, so 16 a day of 8 h (common practice, no
source).
"""

from __future__ import annotations

from fractions import Fraction
from math import pi, prod
from typing import Any

import pytest

from estimating.core.derivation import derive
from estimating.core.estimate import Estimate
from tests.core.invented import (
    Document,
    costed,
    edition,
    measure,
    opening,
    production,
    refusals,
    request,
    work,
    worker,
)


def estimate(line: Document, *, fields: Document | None = None, **tables: Any) -> Estimate:
    """One opening under a production table with these fields."""
    return costed(request(line, **fields or {}), edition(production=production(**tables)))


def base(line: Document, **tables: Any) -> Fraction:
    """Its base minutes."""
    return work(estimate(line, **tables)).base_minutes


def touch(line: Document, fields: Document | None = None, **tables: Any) -> Fraction:
    """The touch minutes of one opening."""
    return work(estimate(line, fields=fields, **tables)).touch_minutes


@pytest.mark.parametrize(
    ("width", "height", "minutes"),
    [
        ("48 in", "48 in", "30"),
        ("24 in", "24 in", "30"),
        ("48 in", "48.1 in", "30.01875"),  # 16 ft 0.2 in: 12 + 1.125 × 16 1/60
        ("72 in", "60 in", "36.75"),
        ("120 in", "96 in", "52.5"),
    ],
)
def test_an_opening_takes_its_least_minutes_or_goes_by_its_perimeter(width: str, height: str, minutes: str) -> None:
    assert base(opening(width=width, height=height)) == Fraction(minutes)


def test_only_the_treated_perimeter_counts() -> None:
    """A door of 40 × 86 in without sill: 12 + 1.125 × 17 2/3."""
    assert base(opening(kind="door", width="40 in", height="86 in", sides=["jambs", "head"])) == Fraction("31.875")


def test_minutes_may_go_by_the_metre() -> None:
    """2 m × 1.5 m is 7 m around."""
    by_metre = {"minimum": "10", "fixed": "6", "per_metre": "4"}
    assert base(opening(width="2 m", height="1500 mm"), opening_minutes=by_metre) == 6 + 4 * 7


@pytest.mark.parametrize("rule", [{"fixed": "12"}, {"fixed": "12", "per_foot": "1", "per_metre": "3"}])
def test_minutes_go_by_the_foot_or_by_the_metre(rule: Document) -> None:
    given = edition(production=production(opening_minutes=rule))
    assert refusals(request(opening()), given) == [("/tables/production/opening_minutes", "one_of")]


def test_a_pipe_takes_penetration_minutes_and_no_depth() -> None:
    """8 + 2 × 4π/12; the 30 minutes of an opening and minutes for depth are not for pipes."""
    deep = {"from": "1 in", "minutes_per_inch": "5"}
    line = opening(kind="pipe", diameter="4 in")
    assert float(base(line, depth_over=deep)) == pytest.approx(8 + 2 * 4 * pi / 12, rel=1e-12)


def test_a_square_penetration_is_a_pipe_by_its_kind() -> None:
    assert base(opening(kind="pipe", shape="rectangle", width="9 in", height="9 in")) == 8 + 2 * 3


def test_pipes_need_penetration_minutes() -> None:
    given = edition(production={"opening_minutes": {"per_foot": "1"}})
    document = request(opening(kind="pipe", diameter="4 in"))
    assert refusals(document, given) == [("/tables/production/penetration_minutes", "missing")]
    assert costed(request(opening()), given).openings == 1


SHAPES = {"round": "5", "half_round_top": "6", "rectangle": "1", "pipe": "2"}


@pytest.mark.parametrize(
    ("line", "plain", "more"),
    [
        ({"width": "48 in", "height": "48 in"}, 30, 1),
        ({"shape": "half_round_top", "width": "36 in", "springline": "48 in"}, 30, 6),  # 15.7 ft: at the least minutes
        ({"shape": "round", "diameter": "36 in"}, 30, 5),
        ({"shape": "ellipse", "width": "36 in", "height": "30 in"}, 30, 0),
    ],
)
def test_shape_minutes_come_on_top_of_the_least(line: Document, plain: int, more: int) -> None:
    assert base(opening(**line), shape=SHAPES) == plain + more


@pytest.mark.parametrize(
    ("depth", "more"), [("6 in", "0"), ("4 in", "0"), ("8 in", "3"), ("6.5 in", "0.75"), ("0 in", "0")]
)
def test_depth_past_its_start_adds_minutes_by_the_inch(depth: str, more: str) -> None:
    rule = {"from": "6 in", "minutes_per_inch": "1.5"}
    assert base(opening(treated_depth=depth), depth_over=rule) == 30 + Fraction(more)


def test_depth_may_go_by_the_millimetre() -> None:
    rule = {"from": "150 mm", "minutes_per_mm": "0.1"}
    assert base(opening(treated_depth="190 mm"), depth_over=rule) == 34


@pytest.mark.parametrize(
    ("sill", "more"),
    [
        ({"kind": "sloped", "angle_degrees": "15"}, 3),
        ({"kind": "pan"}, 5),
        ({"kind": "flat"}, 0),
        ({"kind": "none"}, 0),
    ],
)
def test_sill_minutes_are_of_sills_that_are_treated(sill: Document, more: int) -> None:
    assert base(opening(sill=sill), sill={"sloped": "3", "pan": "5", "none": "9"}) == 30 + more


def test_extra_strips_and_the_other_addends_add_up() -> None:
    """A 40 × 86 in door 8 in deep: 31.875, 3 for depth, 1 for shape; its three pieces 10 in wide take a strip more."""
    line = opening(kind="door", width="40 in", height="86 in", sides=["jambs", "head"], treated_depth="8 in")
    rules = {
        "shape": SHAPES,
        "depth_over": {"from": "6 in", "minutes_per_inch": "1.5"},
        "tape": {"extra_strip_minutes": "0.5"},
    }
    assert base(line, **rules) == Fraction("31.875") + 3 + 1 + 3 * Fraction("0.5")


# --- factors ---------------------------------------------------------------------------------------------------------

ACCESS = {"ground": "1", "lift": "1.2", "swing_stage": "1.4"}


@pytest.mark.parametrize(
    ("access", "minutes"), [("ground", 30), ("lift", 36), ("swing_stage", 42), ("step_ladder", 30), (None, 30)]
)
def test_access_multiplies_touch_minutes_and_an_absent_one_is_ground(access: str | None, minutes: int) -> None:
    found = estimate(opening(access=access), access=ACCESS)
    assert work(found).touch_minutes == minutes
    codes = [remark.code for remark in found.remarks]
    assert ("access_unknown" in codes) == (access is None)
    assert ("access_without_factor" in codes) == (access == "step_ladder")


HEIGHTS = [{"over": "20 ft", "factor": "1.05"}, {"over": "60 ft", "factor": "1.2"}, {"over": "40 ft", "factor": "1.1"}]


@pytest.mark.parametrize(
    ("height", "factor"),
    [
        (None, "1"),
        ("20 ft", "1"),  # strictly passed
        ("20 ft 0.01 in", "1.05"),
        ("40 ft", "1.05"),
        ("41 ft", "1.1"),  # whatever the order of rows
        ("500 ft", "1.2"),
        ("-3 ft", "1"),
    ],
)
def test_the_highest_height_row_strictly_passed_counts(height: str | None, factor: str) -> None:
    line = opening() if height is None else opening(height_above_grade=height)
    assert touch(line, height=HEIGHTS) == 30 * Fraction(factor)


@pytest.mark.parametrize("name", ["temperature", "congestion", "rework"])
def test_conditions_of_the_job_multiply_by_name(name: str) -> None:
    table = {name: {"hard": "1.25", "easy": "0.8"}}
    assert touch(opening(), {name: "hard"}, **table) == Fraction("37.5")
    assert touch(opening(), {name: "easy"}, **table) == 24
    assert touch(opening(), **table) == 30
    given = edition(production=production(**table))
    assert refusals(request(opening(), **{name: "other"}), given) == [(f"/{name}", "unknown_name")]


def two(count: int = 2) -> Document:
    """A crew of so many workers."""
    return {"crew": {"members": [{"labour": "worker", "count": count}]}}


@pytest.mark.parametrize(
    ("workers", "rule", "width", "factor"),
    [
        (1, {"factor": "0.95"}, "72 in", "1"),
        (2, {"factor": "0.95"}, "24 in", "0.95"),
        (3, {"factor": "0.95"}, "24 in", "0.95"),
        (2, {"factor": "0.95", "from_width": "60 in"}, "60 in", "0.95"),
        (2, {"factor": "0.95", "from_width": "60 in"}, "59.99 in", "1"),
    ],
)
def test_two_work_easier_on_openings_of_some_width(workers: int, rule: Document, width: str, factor: str) -> None:
    """Two people are easier, mostly at the head: common practice, no source."""
    line = opening(width=width, height="10 in")
    around = Fraction(measure(width=width, height="10 in").perimeter_nm)
    minutes = max(Fraction(30), 12 + Fraction("1.125") * around / (12 * 25_400_000))
    assert touch(line, two(workers), pair=rule) == minutes * Fraction(factor)


def test_all_factors_multiply() -> None:
    line = opening(access="lift", height_above_grade="50 ft", quantity=7)
    rules = {
        "access": ACCESS,
        "height": HEIGHTS,
        "temperature": {"hot": "1.1"},
        "congestion": {"tight": "1.15"},
        "rework": {"some": "1.05"},
        "pair": {"factor": "0.95"},
    }
    asked = two() | {"temperature": "hot", "congestion": "tight", "rework": "some"}
    product = Fraction("1.2") * Fraction("1.1") ** 2 * Fraction("1.15") * Fraction("1.05") * Fraction("0.95")
    found = estimate(line, fields=asked, **rules)
    assert prod(work(found).factors.values()) == product
    titles = {name: derive(found, f"kind.0.factor.{name}")["title"] for name in ("access", "height", "pair")}
    assert titles == {"access": "Factor for access", "height": "Factor for height", "pair": "Factor for pairs"}
    assert found.parts[0].hours.touch_minutes == 7 * 30 * product
    assert found.standard_hours == 7 * 30 * product / 60


def test_sheathing_joints_take_factors_but_no_height_and_pair_only_where_it_is_for_all() -> None:
    """A pair rule with a width is about openings."""
    rules = {"sheathing_joint": {"width": "4 in", "minutes_per_foot": "1"}, "access": ACCESS, "height": HEIGHTS}
    asked = two() | {"sheathing_joints": {"corners": "10 ft", "access": "lift"}}
    for pair, minutes in ((None, 12), ({"factor": "0.5"}, 6), ({"factor": "0.5", "from_width": "1 in"}, 12)):
        given = edition(production=production(**rules, **({} if pair is None else {"pair": pair})))
        joints = costed(request(**asked), given).parts[0].joints
        assert joints is not None and joints.touch_minutes == minutes


def test_a_crew_of_unlike_workers_still_works_in_standard_minutes() -> None:
    """Touch minutes are of one fully productive worker, whoever does them."""
    rows = [worker(), worker("mate", "30", productive_share="0.5")]
    crew = {"members": [{"labour": "worker", "count": 1}, {"labour": "mate", "count": 2}]}
    found = costed(request(opening(), crew=crew), edition(labour=rows))
    assert found.parts[0].hours.touch_minutes == 30
