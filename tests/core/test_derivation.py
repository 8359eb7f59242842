"""Every figure's derivation, evaluated again step by step from its leaves by an evaluator that shares no code with it.

The leaves are compared with the plain request and edition documents; rational rules are exact, the irrational ones are
worked with mpmath at 60 digits and must agree within 10**-30. The worked cases are those of tests/data (computed by an
independent program, the prices again by hand); the random ones are of random_estimates.py.
"""

from __future__ import annotations

import copy
import json
import re
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.core import derivation
from estimating.core.derivation import derive, figures, nested
from estimating.core.derivations.printing import exact_text
from estimating.core.derivations.register import Register
from estimating.core.derivations.scope import word
from estimating.core.estimate import Estimate
from estimating.core.job import cost_request
from estimating.outputs import answer, takeoff_rows
from tests.core.derivation_leaves import priced_lines
from tests.core.derivation_rules import EXACT
from tests.core.derivation_shapes import IRRATIONAL
from tests.core.derivation_walk import Walk, steps
from tests.core.random_estimates import random_case, random_estimate, sources

Document = dict[str, Any]
DATA = Path(__file__).parent.parent / "data"
DEEP = 1000
ALL_FIGURES = range(200, 230)
SEASON_SPLIT = next(seed for seed in range(100) if len(random_case(seed)[1]) > 1)


def read(path: Path) -> Document:
    """A JSON document."""
    found: Document = json.loads(path.read_text())
    return found


def worked(folder: Path, prefix: str = "") -> tuple[Document, list[Document]]:
    """(request, editions) of a worked case."""
    return read(folder / f"{prefix}request.json"), [read(folder / f"{prefix}edition.json")]


CASES = {
    "golden": worked(DATA / "golden"),
    **{f.name: worked(f) for f in sorted((DATA / "cases").iterdir()) if (f / "request.json").exists()},
    "13 before": worked(DATA / "cases" / "13-attribution", "before."),
    "13 after": worked(DATA / "cases" / "13-attribution", "after."),
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


@pytest.mark.parametrize("name", CASES)
def test_worked_cases_from_every_figure_to_the_leaves(name: str) -> None:
    estimate = cost(CASES[name])
    walk_all(walk_price(CASES[name], estimate), estimate)


@pytest.mark.parametrize("tens", range(20))
def test_price_of_random_estimates_from_the_leaves(tens: int) -> None:
    for seed in range(10 * tens, 10 * tens + 10):
        case = random_case(seed)
        walk_price(case, cost(case))


def test_every_figure_of_random_estimates_by_every_documented_rule() -> None:
    used: set[str] = set()
    for seed in ALL_FIGURES:
        case = random_case(seed)
        estimate = cost(case)
        walk = walk_price(case, estimate)
        walk_all(walk, estimate)
        used |= walk.rules
    assert used == set(EXACT) | set(IRRATIONAL)
    spelt = {re.sub("^learning_.*", "learning_<model>", rule) for rule in used}
    assert all(re.search(rf"\b{re.escape(rule)}", derivation.__doc__ or "") for rule in spelt)


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


def printed(estimate: Estimate, figure: str) -> str:
    """The number of a figure as printed, without its unit."""
    return str(derive(estimate, figure)["printed"]).split(" ")[0]


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
        shows(f"cost_code.{word(cost_code['code'])}", cost_code["amount"])  # type: ignore[arg-type]
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


def test_equal_weights_where_none_counts() -> None:
    request, (edition,) = copy.deepcopy(CASES["golden"])
    edition["tables"]["production"]["opening_minutes"] = {"fixed": "0", "per_foot": "0"}
    first = request["openings"][0]
    request["openings"] += [first | {"elevation": "East"}, first | {"elevation": "West", "quantity": 0}]
    estimate = cost((request, [edition]))
    assert estimate.up.price_minor and not estimate.parts[0].hours.touch_minutes
    walk_all(walk_price((request, [edition]), estimate), estimate)


def test_rows_of_a_season_split_name_their_part() -> None:
    estimate = random_estimate(SEASON_SPLIT)
    names = set(figures(estimate))
    assert len(estimate.parts) > 1
    for p in range(len(estimate.parts)):
        assert {f"part.{p}.hours.standard", f"part.{p}.hour_cost", f"part.{p}.learning_factor"} <= names
    assert {"hours.standard", "hours.paid", "crew_days", "price"} <= names
    assert "hour_cost" not in names
    first = derive(estimate, "hours.standard")["inputs"]
    assert isinstance(first, list)
    assert [x["figure"] for x in first] == [f"part.{p}.hours.standard" for p in range(len(estimate.parts))]


UNKNOWN = (
    "", ".", "..", "price.", ".price", "Price", "price.exact", "build_up", "build_up.999", "build_up.-1", "build_up.00",
    "build_up.nothing", "kind", "kind.0", "kind.99.perimeter", "kind.00.perimeter", "kind.-1.perimeter", "kind.x.width",
    "kind.٠.perimeter", "kind.0.use.nothing", "kind.0.piece.99", "mark", "mark.0", "mark.99.price", "mark.0.nothing",
    "line.99.price", "line.1e0.price", "line..price", "material.nothing.net", "material", "equipment.nothing.days",
    "labour.nothing.rate", "zone.0.idle_minutes", "part", "part.0", "part.0.hours.standard", "part.9.hours.standard",
    "part.x.price", "joints.length", "hours.nothing", "cost_code.nothing", "price\n", "price?", "kind.0.perimeter.x",
    "9" * 5000, "kind." + "9" * 5000 + ".perimeter", "a." * 5000,
)  # fmt: skip


@pytest.mark.parametrize("figure", UNKNOWN, ids=lambda figure: figure[:30])
def test_unknown_figures(figure: str) -> None:
    with pytest.raises(KeyError):
        derive(cost(CASES["golden"]), figure)


@pytest.mark.parametrize(
    "figure", ["part.9.hours.standard", "part.0", "part.0.price", "part.00.crew_days", "hour_cost"]
)
def test_unknown_figures_of_a_season_split(figure: str) -> None:
    with pytest.raises(KeyError):
        derive(random_estimate(SEASON_SPLIT), figure)


@given(st.text(alphabet=st.sampled_from("kindmarleprcu.0123456789~_-x"), max_size=24))
@settings(max_examples=300, deadline=None)
def test_any_text_is_a_figure_or_a_key_error(text: str) -> None:
    golden = GOLDEN_REGISTER
    if text in GOLDEN_NAMES:
        assert golden.node(text)
        return
    with pytest.raises(KeyError):
        golden.node(text)


GOLDEN_REGISTER = Register(cost(CASES["golden"]))
GOLDEN_NAMES = frozenset(GOLDEN_REGISTER.names())


def depth_of(step: Mapping[str, Any]) -> int:
    """How many levels of steps are nested."""
    return 1 + max((depth_of(x["node"]) for x in step["inputs"] if "node" in x), default=0)


@pytest.mark.parametrize("depth", [1, 2, 3, 5])
def test_depth_is_how_many_levels_are_nested(depth: int) -> None:
    assert depth_of(derive(cost(CASES["golden"]), "price", depth)) == depth


def test_a_nested_derivation_holds_each_figure_once() -> None:
    found = [step["figure"] for step in steps(derive(cost(CASES["golden"]), "mark.1.price", DEEP))]
    assert len(found) == len(set(found)) > 100


def test_names_are_safe_in_a_url_whatever_the_codes_hold() -> None:
    request, (edition,) = copy.deepcopy(CASES["golden"])
    odd = "mesh 9.5 in/é ~2e"
    edition["tables"]["materials"][1]["code"] = odd
    edition["tables"]["labour"][0]["cost_code"] = "07.27/00 a"
    estimate = cost((request, [edition]))
    assert all(re.fullmatch(r"[A-Za-z0-9._~-]+", name) for name in figures(estimate))
    assert printed(estimate, f"material.{word(odd)}.net") == "313.333333"
    assert printed(estimate, "cost_code.07~2e27~2f00~20a") == "605.65"


@given(st.lists(st.one_of(st.none(), st.text(min_size=1)), min_size=2, max_size=2, unique=True))
def test_two_codes_never_share_a_word(codes: list[str | None]) -> None:
    assert word(codes[0]) != word(codes[1])
    assert all(re.fullmatch(r"[A-Za-z0-9_~-]+", word(code)) for code in codes)


@given(st.fractions())
def test_exact_text_reads_back(value: Any) -> None:
    text = exact_text(value)
    top, _, bottom = text.partition("/")
    assert type(value)(top) / type(value)(bottom or "1") == value


def test_exact_text_of_numbers_past_the_interpreter_s_limit_of_digits() -> None:
    text = exact_text(10**9000 + 7)
    assert text == "1" + "0" * 8999 + "7"


def test_sources_name_table_row_edition_and_layer_or_pointer_and_mark() -> None:
    estimate = cost(CASES["golden"])
    percent = derive(estimate, "build_up.2.exact")["inputs"]
    assert isinstance(percent, list)
    assert percent[1] == {
        "name": "percent",
        "value": "4",
        "unit": "%",
        "printed": "4 %",
        "source": {
            "table": "overheads",
            "row": "freight",
            "field": "percent",
            "value": "4",
            "edition": "edition-1",
            "number": 1,
            "effective_from": "2027-01-01",
            "layer": "company",
        },
    }
    run = derive(estimate, "kind.1.run.1")["inputs"]
    assert isinstance(run, list)
    assert run[-1] == {
        "name": "height",
        "value": "1524000000",
        "unit": "nm",
        "printed": "60 in",
        "source": {"pointer": "/openings/1/height", "mark": "B"},
    }
