"""The change of a price by cause: the worked case in four modes, the axioms of Shapley's value, refusals with reasons.

Source of case 13: tests/data/cases/13-attribution, by an independent program and again by hand; rates invented. Axioms:
Shapley 1953 (efficiency, symmetry, null player); the value itself is in test_shares.py, the bare revision example too.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.core.attribution import CAUSES, Comparison, Prices, changed_causes, compare
from estimating.core.job import Job, read_request
from estimating.core.shares import even_handed
from estimating.outputs.comparison_answer import comparison_answer
from rates.core.problems import Problem, Refused
from tests.core.invented import (
    Document,
    edition,
    lift,
    materials,
    opening,
    overhead,
    percent,
    production,
    request,
    sources,
    worker,
)
from tests.core.plain_job import rows

CASE = Path(__file__).parents[1] / "data" / "cases" / "13-attribution"
MODES = [("even_handed", False), ("in_order", False), ("even_handed", True), ("in_order", True)]


def read(name: str) -> Any:
    """A document of the case."""
    return json.loads((CASE / name).read_text())


def job(document: Document, *editions: Document) -> Job:
    """A job ready to be compared."""
    return read_request(document, sources(*editions))


def side(name: str) -> Job:
    """The earlier or the later job of the case."""
    return job(read(f"{name}.request.json"), read(f"{name}.edition.json"))


def causes(found: Comparison) -> dict[str, int]:
    """Minor units by cause."""
    return dict(found.causes)


def change(found: Comparison) -> int:
    """The change of the actual price."""
    return found.after.up.price_minor - found.before.up.price_minor


@pytest.mark.parametrize(("mode", "smooth"), MODES)
def test_the_worked_case_in_each_mode_to_the_cent(mode: str, smooth: bool) -> None:
    expected = read("expected.json")
    name = f"{mode}_smooth" if smooth else mode
    found = comparison_answer(compare(side("before"), side("after"), mode=mode, order=expected["order"], smooth=smooth))
    before, after = found["before"], found["after"]
    shown: list[dict[str, str]] = found["causes"]  # type: ignore[assignment]
    assert {
        "before": before["price"],  # type: ignore[index]
        "after": after["price"],  # type: ignore[index]
        "change": found["change"],
        "causes": {x["cause"]: x["amount"] for x in shown},
    } == expected[name]
    assert all(len(x["sentence"]) > 20 for x in shown)


@pytest.mark.parametrize(("mode", "smooth"), MODES)
def test_lines_and_rate_rows_sum_to_their_cause_with_their_last_row(mode: str, smooth: bool) -> None:
    found: Any = comparison_answer(compare(side("before"), side("after"), mode=mode, smooth=smooth))
    by_cause = {x["cause"]: Decimal(x["amount"]) for x in found["causes"]}
    assert sum(Decimal(x["amount"]) for x in found["lines"]) == by_cause["openings"]
    assert sum(Decimal(x["amount"]) for x in found["rate_rows"]) == by_cause["rates"]
    assert sum(by_cause.values()) == Decimal(found["change"])
    assert [x["code"] for x in found["rate_rows"]] == ["journeyman", "together"]  # tape: no liquid before
    changed = {(x["after"]["mark"], *x["classes"]) for x in found["lines"][:-1]}
    assert changed == {("A", "quantity"), ("B", "quantity"), ("C", "added")}


def test_without_an_order_the_causes_stand_in_their_usual_one() -> None:
    assert compare(side("before"), side("after"), mode="in_order").order == CAUSES


@pytest.mark.parametrize("turn", range(6))
def test_any_order_sums_to_the_change(turn: int) -> None:
    order = (*CAUSES[turn:], *CAUSES[:turn])
    found = compare(side("before"), side("after"), mode="in_order", order=order)
    assert sum(causes(found).values()) == change(found) == 20500
    assert causes(found)["productivity"] == 0


FREE = [m for m in rows() if m["role"] != "consumable"]
EARLIER = request(opening("A", 7), opening("B", 3, access="lift"), congestion="open")
TABLES: Document = {
    "equipment": [lift()],
    "production": production(access={"lift": "1.3"}, congestion={"open": "1", "tight": "2"}),
    "overheads": [
        percent("overhead", "10", "direct_cost"),
        percent("profit", "9", "cost", kind="margin"),
        overhead("round_up_to", amount="5"),
    ],
}
# cause -> (fields of the request, tables of the edition) of the later job
LATER: dict[str, tuple[Document, Document]] = {
    "openings": ({"openings": [opening("A", 9), opening("C", 2, width="80 in", height="60 in")]}, {}),
    "productivity": ({"congestion": "tight"}, {"production": production(congestion={"open": "1.1", "tight": "1.4"})}),
    "rates": ({"stock": {"mesh": "100 ft"}}, {"labour": [worker(wage="71.37")], "equipment": [lift(delivery="44")]}),
    "method": ({"method": "tape"}, {}),
    "overheads_and_profit": ({}, {"overheads": [percent("profit", "20", "cost", kind="markup")]}),
    "calendar": ({"mobilisations": 3, "work_date": "2027-05-01"}, {}),
}


def later(changed: Sequence[str]) -> Job:
    """The later job in which these causes differ."""
    document, tables = dict(EARLIER), dict(TABLES)
    for cause in changed:
        document |= LATER[cause][0]
        tables |= LATER[cause][1]
    return job(document, edition(**tables))


@settings(max_examples=25)
@given(st.lists(st.sampled_from(CAUSES), unique=True), st.sampled_from(MODES), st.permutations(CAUSES))
def test_causes_sum_to_the_change_and_an_unchanged_cause_gets_exactly_nothing(
    changed: list[str], mode: tuple[str, bool], order: list[str]
) -> None:
    found = compare(job(EARLIER, edition(**TABLES)), later(changed), mode=mode[0], order=order, smooth=mode[1])
    assert sum(causes(found).values()) == change(found)
    assert all(causes(found)[cause] == 0 for cause in CAUSES if cause not in changed)
    assert ("packs_and_rounding" in causes(found)) == mode[1]
    lines = sum(x.after_minor - x.before_minor for x in found.lines)
    assert lines + found.lines_with_other_causes == causes(found)["openings"]
    assert sum(x.amount_minor or 0 for x in found.rows) + found.rows_together == causes(found)["rates"]


def exact_shares(before: Job, after: Job, smooth: bool) -> Mapping[str, Fraction]:
    """The even-handed shares before they become whole cents."""
    return even_handed(changed_causes(before, after), Prices(before, after, smooth))


@settings(max_examples=20)
@given(st.lists(st.sampled_from(CAUSES), unique=True, min_size=1), st.booleans())
def test_the_reverse_flips_every_sign(changed: list[str], smooth: bool) -> None:
    one, two = job(EARLIER, edition(**TABLES)), later(changed)
    exact = exact_shares(one, two, smooth)
    assert exact == {cause: -share for cause, share in exact_shares(two, one, smooth).items()}
    there, back = (causes(compare(a, b, smooth=smooth)) for a, b in ((one, two), (two, one)))
    assert there == {cause: -amount for cause, amount in back.items()}
    assert all(abs(there[cause] - share) < 1 for cause, share in exact.items())


@pytest.mark.parametrize("smooth", [False, True])
def test_the_worked_case_reversed(smooth: bool) -> None:
    there, back = (
        exact_shares(side("before"), side("after"), smooth),
        exact_shares(side("after"), side("before"), smooth),
    )
    assert there == {cause: -share for cause, share in back.items()}
    assert set(there) == set(CAUSES) - {"productivity"}


def test_in_order_the_reverse_order_flips_every_sign() -> None:
    one, two = job(EARLIER, edition(**TABLES)), later(CAUSES)
    there = compare(one, two, mode="in_order")
    back = compare(two, one, mode="in_order", order=CAUSES[::-1])
    assert causes(there) == {cause: -amount for cause, amount in causes(back).items()}


def test_causes_that_do_the_same_get_the_same() -> None:
    """Twice the openings, twice the minutes, twice the wage: from L to 8 L, a third of 7 L each, whatever the order."""
    two = production(congestion={"tight": "2"})
    one = job(request(opening(quantity=9)), edition(materials=FREE, production=two))
    document = request(opening(quantity=18), congestion="tight")
    then = job(document, edition(materials=FREE, production=two, labour=[worker(wage="120")]))
    found = causes(compare(one, then))
    assert found["openings"] == found["productivity"] == found["rates"] == 27000 * 7 // 3
    assert sum(found.values()) == 27000 * 7


def test_a_cause_that_changes_and_moves_nothing_gets_exactly_nothing() -> None:
    """A certificate where no tax is charged, another note in a row, an unused name."""
    quiet = edition(**TABLES | {"labour": [worker(note="as agreed")]})
    loud = request(*EARLIER["openings"], congestion="open", exemption_certificate="X-1", method="fluid")
    found = compare(job(EARLIER, edition(**TABLES)), job(loud | {"congestion": "tight"}, quiet))
    assert causes(found)["rates"] == 0
    assert causes(found)["productivity"] == change(found) > 0


def test_smooth_causes_leave_no_rest_where_nothing_is_lumpy() -> None:
    """Materials priced by use, no rental, no minimum and no rounding up: the actual price is smooth already."""
    by_use = [m | {"price_as": "used"} for m in materials()]
    rates = {"materials": by_use, "overheads": TABLES["overheads"][:2]}
    one = job(request(opening(quantity=7)), edition(**rates))
    two = job(request(opening(quantity=11), method="tape"), edition(**rates | {"labour": [worker(wage="66")]}))
    smooth, actual = compare(one, two, smooth=True), compare(one, two)
    assert causes(smooth) == causes(actual) | {"packs_and_rounding": 0}


def test_equal_jobs_have_no_cause() -> None:
    found = compare(job(EARLIER, edition(**TABLES)), job(EARLIER, edition(**TABLES)), smooth=True)
    assert set(causes(found).values()) == {0}
    assert (found.lines, found.rows) == ((), ())
    told = [row["sentence"] for row in comparison_answer(found)["causes"]]  # type: ignore[attr-defined]
    assert told == [
        "The openings are as before.",
        "Productivity is as before.",
        "The rates are as before.",
        "The method is as before.",
        "Overheads and profit are as before.",
        "The calendar is as before.",
        "Whole packs, whole rental days, the minimum charge and rounding up are as before.",
    ]


def test_each_side_names_the_estimate_it_is() -> None:
    before, after = side("before"), side("after")
    found: Any = comparison_answer(compare(before, after))
    assert [found[name]["input_digest"] for name in ("before", "after")] == [before.input_digest, after.input_digest]
    assert before.input_digest != after.input_digest


def test_a_season_split_is_a_matter_of_the_calendar() -> None:
    parts = [{"work_date": "2027-03-15", "openings": ["A"]}, {"work_date": "2027-10-01"}]
    rates = (edition(**TABLES), edition(**TABLES | {"labour": [worker(wage="80")], "effective_from": "2027-09-01"}))
    found = compare(job(EARLIER, *rates), job(EARLIER | {"mobilisations": parts}, *rates))
    assert causes(found)["calendar"] == change(found) > 0


def test_the_wall_barrier_is_a_matter_of_the_method() -> None:
    """By line, sheathing joints take what the barrier takes."""
    rates = edition(production=production(sheathing_joint={"width": "4 in"}))
    fluid = request(method="by_line", wall_barrier="fluid", sheathing_joints={"corners": "200 ft"})
    found = compare(job(fluid, rates), job(fluid | {"wall_barrier": "sheet"}, rates))
    assert causes(found)["method"] == change(found) != 0


def problems(before: Job, after: Job, **options: Any) -> tuple[Problem, ...]:
    """Why two jobs can't be compared."""
    with pytest.raises(Refused) as caught:
        compare(before, after, **options)
    return caught.value.problems


@pytest.mark.parametrize(
    "order",
    [CAUSES[1:], (*CAUSES, "openings"), ("openings", *CAUSES[:5]), (*CAUSES[1:], "weather"), ()],
)
def test_an_order_names_every_cause_once(order: Sequence[str]) -> None:
    found = problems(side("before"), side("after"), mode="in_order", order=order)
    assert [(p.pointer, p.code) for p in found] == [("/order", "not_an_order")]


def test_an_unknown_mode_and_two_currencies_are_refused_together() -> None:
    yen = job(EARLIER, edition(**TABLES, currency="JPY"))
    found = problems(job(EARLIER, edition(**TABLES)), yen, mode="by_feel")
    assert [p.code for p in found] == ["mixed_currencies", "unknown_choice"]
    assert "USD and JPY" in found[0].detail


def test_a_mix_that_cannot_be_costed_is_refused_with_the_reason() -> None:
    """Fluid before and tape after, each edition with the rows of its own method alone."""
    fluid = edition(materials=[m for m in materials() if m["role"] in ("liquid", "mesh")])
    tape = edition(materials=[m for m in materials() if m["role"] in ("tape", "primer")])
    found = problems(job(request(opening()), fluid), job(request(opening(), method="tape"), tape))
    assert found[0].code == "mix_refused"
    assert "with rates as in the later estimate it can't be costed" in found[0].detail
    assert "liquid" in found[0].detail and "missing_role" in [p.code for p in found]
