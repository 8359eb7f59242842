"""What a page shows of a figure: no step that hands on, rounds or takes the whole; the same value; titles alone."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from fractions import Fraction
from math import ceil, floor
from pathlib import Path
from typing import Any

import pytest

import estimating
from api.pages.trade_words import in_sentence
from estimating.core.derivation import derive, figures
from estimating.core.derivations.folding import Folded, fold
from estimating.core.estimate import Estimate
from estimating.outputs.figure_pages import FigurePages
from tests.core.derivation_cases import CASES, SEASON_SPLIT, Document, cost
from tests.core.random_estimates import random_case

DEMO = Path(estimating.__file__).parent / "demo"
RATES = [json.loads((DEMO / "rates.json").read_text())]
TWO_CODES = json.loads(json.dumps(RATES))
TWO_CODES[0]["tables"]["labour"][1]["cost_code"] = "07 27 26"
JOBS: dict[str, Any] = {
    "clinic": (json.loads((DEMO / "clinic-a.json").read_text()), RATES),
    "hall": (json.loads((DEMO / "hall-a.json").read_text()), RATES),
    "two codes of labour": (json.loads((DEMO / "clinic-a.json").read_text()), TWO_CODES),
    "every added field": CASES["added"],
    "season split": random_case(SEASON_SPLIT),
}
FAMILIES = "build_up|kind|mark|line|material|equipment|labour|crew|hours|part|zone|setup|per_area"
NAMED = re.compile(rf"\b({FAMILIES})\.\w|half_(up|even)|[a-z]_[a-z]|Σ")


@pytest.fixture(scope="module", params=JOBS)
def job(request: pytest.FixtureRequest) -> tuple[Estimate, FigurePages, Document]:
    case = JOBS[request.param]
    estimate = cost(case)
    return estimate, FigurePages(estimate, case[0]), case[0]


def pages(found: FigurePages, estimate: Estimate) -> Iterator[tuple[str, dict[str, Any]]]:
    """Every figure's page, with up to 50 of its inputs."""
    for figure in figures(estimate):
        yield figure, found.page(figure, (), 0, 50)


def folded_of(found: FigurePages, figure: str) -> Folded:
    return fold(figure, found.node_of)


def test_no_page_shows_a_step_that_changes_nothing(job: Any) -> None:
    estimate, found, _ = job
    folded = 0
    for figure in figures(estimate):
        seen = folded_of(found, figure)
        folded += bool(seen.passed)
        if seen.node is None:
            assert seen.entered is not None and seen.entered.source
            continue
        inputs = seen.node.inputs
        assert seen.node.rule not in ("round", "ceiling"), figure
        if len(inputs) == 1 and (inputs[0].figure or inputs[0].source):
            same = inputs[0].value == seen.node.value and inputs[0].unit.text == seen.node.unit.text
            # what is left of one input says something: a bound that was not reached, a reason
            assert not same or seen.node.rule not in ("sum", "product", "given", "difference", "minimum"), figure
        if seen.node.rule == "floor_share":
            assert inputs[2].value != inputs[3].value, figure
    assert folded > 50


def test_a_folded_chain_gives_the_same_value(job: Any) -> None:
    estimate, found, _ = job
    rounded = 0
    for figure in figures(estimate):
        for one in folded_of(found, figure).passed:
            before: Any = one.on.value
            told = str(derive(estimate, one.figure)["value"])
            after: Any = told if isinstance(before, str) else Fraction(told)
            if one.node.rule == "ceiling":
                assert after == ceil(before), one.figure
            elif one.node.rule == "round":
                rounded += before != after
                places = 10 ** int(one.node.inputs[1].value)
                away = floor(abs(before) * places + Fraction(1, 2))
                assert abs(after) * places == away or one.node.inputs[2].value == "half_even", one.figure
            elif one.node.rule == "sum" and len(one.node.inputs) == 2:
                assert 0 <= after - before <= estimate.till.major(1), one.figure
            else:
                assert after == before, one.figure
            if before != after:
                notes = [note["words"] for note in found.page(one.figure, (), 0, 1)["notes"]]
                assert any(found.printed(before, one.on.unit) in words for words in notes), (one.figure, notes)
    assert rounded > 3


def test_packs_and_periods_show_the_counts_that_make_the_amount(job: Any) -> None:
    estimate, found, _ = job
    whole = 0
    for part in estimate.parts:
        for line in (*part.materials, *part.equipment):
            name = f"{line.path}.{'cost' if line.path.rpartition('.')[0].endswith('material') else 'rental'}"
            made = [x for x in found.inputs(folded_of(found, name)) if x.term is not None]
            if "× price: " in found.page(name, (), 0, 1)["formula"]:
                whole += 1
                terms = zip(made[::2], made[1::2], strict=True)
                assert sum(a.value * b.value for a, b in terms) == getattr(line, name.rpartition(".")[2]), name
    assert whole


def test_pages_say_titles_never_names_or_codes(job: Any) -> None:
    estimate, found, _ = job
    names = list(figures(estimate))
    for figure, page in pages(found, estimate):
        words = [page["title"], *(note["words"] for note in page["notes"]), *(one["name"] for one in page["inputs"])]
        words += [one.get("figure_title", "") for one in page["inputs"]]
        for one in words:
            assert not NAMED.search(in_sentence(one)), (figure, one)
    step = max(1, len(names) // 40)
    for figure in names[::step]:
        trail = found.page("price", ("price", figure, "no.such.figure"), 0, 1)["trail"]
        assert [name for name, _ in trail] == ["price", figure]
        assert trail[0][1] == "Price" and not NAMED.search(trail[1][1])


def test_the_price_leads_to_a_wage_in_five_pages() -> None:
    estimate = cost(JOBS["clinic"])
    found = FigurePages(estimate, JOBS["clinic"][0])
    way = ["price", "build_up.0", "hour_cost", "crew.money", "labour.mechanic.rate"]
    for figure, below in zip(way, way[1:], strict=False):
        assert below in [one.get("figure") for one in found.page(figure, (), 0, 50)["inputs"]]
    page = found.page("build_up.0", way[:1], 0, 50)
    assert page["formula"] == "standard hours × cost of a standard hour"
    assert page["notes"] == [{"words": "rounded to cents, halves up; 699.77742 USD before rounding"}]
    wage = found.page(way[-1], way[:-1], 0, 50)["inputs"][0]
    assert (wage["source"]["title"], wage["source"]["field"], wage["printed"]) == ("Mechanic", "wage", "34 USD/hour")
    titles = ["Price", "Labour", "Cost of a standard hour", "Money for an hour of the crew"]
    assert [title for _, title in found.page(way[-1], way[:-1], 0, 50)["trail"]] == titles


def test_a_share_of_labour_is_told_beside_all_of_it() -> None:
    estimate = cost(JOBS["two codes of labour"])
    found = FigurePages(estimate, JOBS["two codes of labour"][0])
    page = found.page("build_up.0", (), 0, 9)
    assert page["formula"] == "labour × weight of the code ÷ all weights"
    assert [one["figure"] for one in page["inputs"]] == ["labour_cost", "crew.weight.0", "crew.money"]
    assert found.page("labour_cost", (), 0, 9)["formula"] == "standard hours × cost of a standard hour"
    both = [found.page(f"build_up.{i}", (), 0, 9) for i in (0, 1)]
    assert all(one["notes"][0]["words"].startswith("rounded down to ") for one in both)
    # 699.78 by 54.77 and 35.55 of 90.32: 424.346 and 275.434, so the cent left over is the first's
    assert ["more" in one["notes"][0]["words"] for one in both] == [True, False]
    assert [one["printed"] for one in both] == ["424.35 USD", "275.43 USD"]


def test_what_nobody_entered_is_told_apart() -> None:
    request, editions = json.loads(json.dumps(JOBS["clinic"][0])), RATES
    request.pop("stock", None)
    stated = {}
    for stock in (None, {"mesh-9": "20 ft"}):
        given = request | ({"stock": stock} if stock else {})
        page = FigurePages(cost((given, editions)), given).page("material.mesh-9.needed", (), 0, 9)
        (on_hand,) = [one for one in page["inputs"] if one["name"] == "stock on hand"]
        stated[bool(stock)] = (on_hand["printed"], on_hand["source"]["stated"])
    assert stated == {False: ("0 ft", False), True: ("20 ft", True)}
