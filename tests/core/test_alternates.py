"""Alternates taken in alone and together, unit prices, breakouts: by hand, and laws over random estimates.

Base: 6 windows A and 4 D of 48 × 48 in on the North side, 30 minutes each at 60.00 an hour, 2 h of set-up an elevation.
Liquid 62.08 in³ each of 231 a gallon at 40.00: 2.69, three. Mesh 18 ft each: 180, two rolls of 150 ft at 60.00.
5 h and 2 h are 420.00; 420 + 120 + 120 = 660.00.
"""

from __future__ import annotations

import os
from fractions import Fraction
from typing import Any

import pytest

from estimating.core.alternates import alternates, offered, with_accepted
from estimating.core.breakouts import BY, breakouts, broken_out
from estimating.core.estimate import Estimate
from estimating.core.unit_prices import Change, asked, priced_change, unit_price
from tests.core.invented import Document, costed, edition, opening, production, refusals, request
from tests.core.random_estimates import random_estimate

SEEDS = range(1000, 1000 + int(os.environ.get("SUMMED_ESTIMATES", "40")))  # 1000 for the long form


def named(name: str, kind: str, *replaces: str) -> Document:
    """An alternate as an object."""
    return {"name": name, "kind": kind} | ({"replaces": list(replaces)} if replaces else {})


SMALL = {"width": "24 in", "height": "24 in"}
LINES = (
    opening("A", 6, elevation="North"),
    opening("D", 4, elevation="North", alternate=named("no D", "deduct")),
    opening("E", 2, elevation="East", alternate="1"),
    opening("F", 3, elevation="East", alternate=named("2", "add")),
    opening("B", 6, elevation="North", alternate=named("small A", "substitute", "A"), **SMALL),
    opening("T", 6, elevation="North", alternate=named("other A", "substitute", "A"), **SMALL),
)


def job(*lines: Document, **fields: Any) -> Estimate:
    """The estimate of lines with 2 h of set-up an elevation."""
    return costed(request(*lines, **fields), edition(production=production(setup_hours={"elevation": "2"})))


def adds(estimate: Estimate, *names: str) -> int | None:
    """What accepting these alternates adds to the price, in cents."""
    found = with_accepted(estimate, names)
    return None if found.up is None else found.up.price_minor - estimate.up.price_minor


def test_the_base_is_as_by_hand_and_names_its_alternates() -> None:
    estimate = job(*LINES)
    assert estimate.up.price_minor == 660_00
    told = [(x.name, x.kind, x.openings, x.replaces) for x in offered(estimate.request.schedule).values()]
    assert told[:3] == [("no D", "deduct", 4, ()), ("1", "add", 2, ()), ("2", "add", 3, ())]
    assert told[3:] == [("small A", "substitute", 6, ("A",)), ("other A", "substitute", 6, ("A",))]


@pytest.mark.parametrize(
    ("names", "by_hand"),
    [
        (("1",), 220_00),  # 1 h and 2 h for East: 180; a fourth gallon (3.22) 40; 216 ft are two rolls still
        (("2",), 250_00),  # 1.5 h and 2 h: 210; a fourth gallon (3.49)
        (("1", "2"), 350_00),  # 2.5 h and 2 h once: 270; two gallons more (4.03); 270 ft are two rolls
        (("no D",), -220_00),  # 2 h less; two gallons (1.61); one roll (108 ft)
        (("small A",), -100_00),  # the same minutes; two gallons (1.89); one roll (132 ft)
        (("no D", "small A"), -260_00),  # 2 h less; one gallon (0.81); one roll (60 ft)
    ],
)
def test_what_accepted_alternates_add_is_a_full_price_and_no_sum(names: tuple[str, ...], by_hand: int) -> None:
    estimate = job(*LINES)
    assert adds(estimate, *names) == by_hand
    alone = [adds(estimate, name) or 0 for name in names]
    assert len(names) == 1 or sum(alone) != by_hand


def test_two_alternates_that_take_the_same_line_out_are_not_priced_together() -> None:
    found = with_accepted(job(*LINES), ("small A", "other A"))
    assert found.up is None
    both = 'the alternates "small A" and "other A" both take A out of the base'
    assert found.reason == f"{both}; which lines then remain?"


def test_an_alternate_in_no_part_of_a_season_split_is_said_not_dropped() -> None:
    parts = [{"work_date": "2027-03-15", "openings": ["A"]}, {"work_date": "2027-09-15", "openings": ["D"]}]
    found = with_accepted(job(*LINES, mobilisations=parts), ("1",))
    assert (found.up, found.reason) == (None, 'no part of the work does the mark "E"')


def test_an_unknown_alternate_is_a_fault() -> None:
    with pytest.raises(KeyError):
        with_accepted(job(*LINES), ("9",))


def test_unit_prices_are_changes_of_the_whole_price() -> None:
    """+4: 120 and a gallon (3.76) 40, no roll: 40.00 each. −4: 120, a gallon (1.61), a roll (108 ft): 55.00 each.

    +3: 90 and a gallon are 130.00: 43.33 each and a cent over.
    """
    estimate = job(opening("A", 6, elevation="North"), opening("D", 4, elevation="North"))
    assert priced_change(estimate, "A", 4) == (Change(4, 160_00, 40_00, 0), None)
    assert priced_change(estimate, "A", -4) == (Change(4, -220_00, -55_00, 0), None)
    assert priced_change(estimate, "A", 3) == (Change(3, 130_00, 43_33, 1), None)
    assert priced_change(estimate, "A", -7) == (None, "the base has fewer than 7 of this mark")


def test_a_request_says_for_how_many_and_until_when_a_unit_price_holds() -> None:
    wanted = [{"mark": "A", "quantity": 4, "valid_until": "2027-12-31"}]
    estimate = job(*LINES, unit_prices=wanted)
    (found,) = [unit_price(estimate, of) for of in asked(estimate)]
    assert (found.add, found.deduct) == (Change(4, 160_00, 40_00, 0), Change(4, -220_00, -55_00, 0))
    assert [str(found.valid_from), str(found.valid_until)] == ["2027-03-15", "2027-12-31"]
    assert [of.mark for of in asked(job(*LINES))] == ["A", "D"]


@pytest.mark.parametrize(
    ("wanted", "pointer", "code"),
    [
        ({"mark": "Z"}, "/unit_prices/0/mark", "unknown_mark"),
        ({"mark": "E"}, "/unit_prices/0/mark", "unknown_mark"),  # an alternate, no base line
        ({"mark": "A", "quantity": 0}, "/unit_prices/0/quantity", "too_small"),
        ({"mark": "A", "valid_from": "2027-05-01", "valid_until": "2027-04-01"}, "/unit_prices/0/valid_until", "order"),
    ],
)
def test_a_unit_price_that_cannot_be_given_is_refused(wanted: Document, pointer: str, code: str) -> None:
    assert refusals(request(*LINES, unit_prices=[wanted])) == [(pointer, code)]


def test_breakouts_by_hand_and_the_joints_apart() -> None:
    """540.00 over ten openings of 30 minutes, 54.00 each; places differ by what people would tell apart."""
    lines = (
        opening("A", 2, elevation="North", storey="1", building="East wing", phase="1"),
        opening("B", 3, elevation="north ", storey="2", building="East wing"),
        opening("C", 5, elevation="South", storey="1"),
        opening("D", 5, elevation="South", storey="1", excluded={"reason": "by others"}),
    )
    estimate = costed(request(*lines, allocate_by="touch_minutes"))
    told = {by: [(x.name, x.openings, x.price_minor) for x in broken_out(estimate, by)] for by in BY}
    assert told == {
        "building": [("East wing", 5, 270_00), ("", 5, 270_00)],
        "elevation": [("North", 5, 270_00), ("South", 5, 270_00)],
        "storey": [("1", 7, 378_00), ("2", 3, 162_00)],
        "phase": [("1", 2, 108_00), ("", 8, 432_00)],
    }
    joined = costed(
        request(*lines[:1], sheathing_joints={"corners": "40 ft"}),
        edition(production=production(sheathing_joint={"width": "4 in", "minutes_per_foot": "0.25"})),
    )
    assert [x.what for x in broken_out(joined, "phase")] == ["place", "joints"]


@pytest.mark.parametrize("seed", SEEDS)
def test_parts_of_random_estimates_sum_as_stated(seed: int) -> None:
    """Breakouts and cost codes to the price, an alternate's build-up to its price, unit prices with their residual."""
    estimate = random_estimate(seed)
    price = estimate.up.price_minor
    by_code: dict[str | None, int] = {}
    for line in estimate.up.lines:
        by_code[line.cost_code] = by_code.get(line.cost_code, 0) + line.amount_minor
    assert sum(by_code.values()) == price
    for by in BY:
        found = [x for x in breakouts(estimate) if x.by == by]
        assert sum(x.price_minor for x in found) == price
        assert sum(x.openings for x in found) == estimate.openings
        assert sum((x.touch_minutes for x in found), Fraction(0)) == estimate.totals.hours.touch_minutes
    for _, variant in alternates(estimate):
        if variant.up is not None:
            assert sum(line.amount_minor for line in variant.up.lines) == variant.up.price_minor
    for of in list(asked(estimate))[:1]:
        told = unit_price(estimate, of)
        for change in (told.add, told.deduct):
            assert change is None or change.unit_minor * change.openings + change.residual_minor == change.change_minor
