"""Names of figures, nesting, and the sources that leaves name: table row, edition and layer, or pointer and mark."""

from __future__ import annotations

import copy
import re
from collections.abc import Mapping
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.core.derivation import derive, figures
from estimating.core.derivations.register import Register
from estimating.core.figures.figure import word
from estimating.core.figures.printing import exact_text
from tests.core.derivation_cases import CASES, DEEP, SEASON_SPLIT, cost, printed
from tests.core.derivation_walk import steps
from tests.core.random_estimates import random_estimate


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
@settings(max_examples=300)
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


def plain(value: object) -> bool:
    """Whether a value of a document is of JSON's own types, none of them a type of ours."""
    if type(value) is dict:
        return all(type(key) is str and plain(x) for key, x in value.items())
    return all(map(plain, value)) if type(value) is list else value is None or type(value) in (str, int)


def test_a_derivation_is_a_plain_document() -> None:
    """The texts in it do not say where they are from: a writer of JSON may refuse those that do."""
    assert all(plain(derive(random_estimate(seed), "price", DEEP)) for seed in (0, 1, SEASON_SPLIT))
