"""Laws that every estimate keeps, over random editions and requests (random_estimates.py; every rate is invented).

joined schedules add · the order of lines does not matter · quantity 0 costs 0 · everything sums to the price
base minutes grow with the opening · one more opening costs no less · a line split in two changes nothing

By a cut plan too: the order of lines, quantity 0, the sums, a line split in two. The others are of single openings: a
plan chooses its stock for the whole job, so that what two schedules use apart need not add up, and a heuristic may come
upon fewer rolls for more pieces. What one more piece can't lower is held in test_roll_plans.py.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Any

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from estimating.core.estimate import Estimate
from estimating.core.job import cost_request
from estimating.outputs.answer import cost_codes
from estimating.outputs.takeoff_rows import pieces
from tests.core.invented import Document, built, costed, edition, opening, request, seal_materials, work
from tests.core.random_chance import Chance
from tests.core.random_estimates import random_case, sources
from tests.core.random_production import random_production

SEEDS = st.integers(0, 10**6)
WAYS = st.sampled_from([None, "cut_plan"])  # of quantities_from
LAW = settings(max_examples=30)
CURRENCIES = ("USD", "EUR", "JPY", "KWD", "CLF")


def cost(document: Mapping[str, Any], editions: list[Document], **changed: Any) -> Estimate:
    """The estimate of a request with some fields changed; None takes a field out."""
    asked = {name: value for name, value in (dict(document) | changed).items() if value is not None}
    return cost_request(asked, sources(editions))


def by_way(way: str | None, seed: int) -> tuple[Document, list[Document]]:
    """A random case, its rolls by waste or by the cut plan."""
    document, editions = random_case(seed)
    return (document | {"quantities_from": way} if way else document), editions


def untaught(document: Document, editions: list[Document]) -> tuple[Document, list[Document]]:
    """An experienced crew in one part, no joints: every opening for itself."""
    apart = ("sheathing_joints", "mobilisations", "stock")
    kept = {name: value for name, value in document.items() if name not in apart}
    return kept | {"crew": document["crew"] | {"experience": "experienced"}}, editions[:1]


def use_of(estimate: Estimate) -> Counter[str]:
    """Net use of each material that openings use, base units."""
    lines = [m for part in estimate.parts for m in part.materials]
    return Counter({m.row.code: m.net for m in lines if m.row.per != "crew_day"})


def cuts_of(estimate: Estimate) -> Counter[tuple[str, str, str, str]]:
    """How many pieces of each material, name, length and width."""
    items: Any = pieces(estimate)["items"]
    return Counter({(x["material"], x["piece"], x["length"], x["width"]): x["count"] for x in items})


def touch_of(estimate: Estimate) -> Fraction:
    """Touch minutes of the whole job."""
    return sum((part.hours.touch_minutes for part in estimate.parts), Fraction(0))


@LAW
@given(SEEDS, st.randoms(use_true_random=False))
def test_takeoff_and_touch_minutes_of_joined_schedules_add(seed: int, chance: random.Random) -> None:
    """Learning off: with it, later openings go faster."""
    document, editions = untaught(*random_case(seed))
    lines = document["openings"]
    first = [chance.random() < 0.5 for _ in lines]
    one = cost(document, editions, openings=[x for x, here in zip(lines, first, strict=True) if here])
    two = cost(document, editions, openings=[x for x, here in zip(lines, first, strict=True) if not here])
    both = cost(document, editions)
    assert one.perimeter_nm + two.perimeter_nm == both.perimeter_nm
    assert one.treated_area_nm2 + two.treated_area_nm2 == both.treated_area_nm2
    assert one.openings + two.openings == both.openings
    assert use_of(one) + use_of(two) == use_of(both)
    assert cuts_of(one) + cuts_of(two) == cuts_of(both)
    assert touch_of(one) + touch_of(two) == touch_of(both)


def exact_shares(estimate: Estimate) -> dict[str | None, Fraction]:
    """The exact share of the price of each mark."""
    marks = estimate.allocation.marks
    whole = sum((m.weight for m in marks), Fraction(0))
    return {m.mark: m.weight * estimate.up.price_minor / whole if whole else Fraction(0) for m in marks}


@LAW
@given(SEEDS, st.randoms(use_true_random=False), WAYS)
def test_the_order_of_lines_does_not_matter(seed: int, chance: random.Random, way: str | None) -> None:
    """Marks as a set: a tie of remainders alone, which goes to the earlier mark, may move one unit."""
    document, editions = by_way(way, seed)
    shuffled = chance.sample(document["openings"], len(document["openings"]))
    one, two = cost(document, editions), cost(document, editions, openings=shuffled)
    assert [(x.step, x.amount_minor) for x in one.up.lines] == [(x.step, x.amount_minor) for x in two.up.lines]
    assert (one.standard_hours, one.crew_days) == (two.standard_hours, two.crew_days)
    assert use_of(one) == use_of(two)
    shares = exact_shares(one)
    assert shares == exact_shares(two)
    prices, others = ({m.mark: m.price_minor for m in e.allocation.marks} for e in (one, two))
    fractions = [share % 1 for share in shares.values()]
    if len(set(fractions)) == len(fractions):
        assert prices == others
    else:
        assert all(abs(prices[mark] - others[mark]) <= 1 for mark in prices)


@LAW
@given(SEEDS, SEEDS, WAYS)
def test_lines_of_quantity_nothing_cost_nothing(seed: int, other: int, way: str | None) -> None:
    """Another job's openings in the schedule, none of them to be done."""
    document, editions = by_way(way, seed)
    idle = [
        x | {"mark": f"Z-{x['mark']}", "quantity": 0, "elevation": "West"} for x in random_case(other)[0]["openings"]
    ]
    one, two = cost(document, editions), cost(document, editions, openings=[*document["openings"], *idle])
    assert built(one) == built(two)
    prices, others = ({m.mark: m.price_minor for m in e.allocation.marks} for e in (one, two))
    assert {mark: price for mark, price in others.items() if mark in prices} == prices
    assert not any(price for mark, price in others.items() if mark not in prices)


@LAW
@given(SEEDS, st.sampled_from(CURRENCIES), WAYS)
def test_build_up_marks_lines_and_codes_each_sum_to_the_price(seed: int, currency: str, way: str | None) -> None:
    document, editions = by_way(way, seed)
    estimate = cost(document, [e | {"currency": currency} for e in editions])
    price, marks = estimate.up.price_minor, estimate.allocation.marks
    lines = estimate.allocation.line_prices
    assert sum(x.amount_minor for x in estimate.up.lines) == price
    assert sum(m.price_minor for m in marks) == price
    assert all(sum(lines[i] for i in m.lines) == m.price_minor for m in marks if m.lines)
    assert sum(lines) == price - sum(m.price_minor for m in marks if not m.lines)
    printed = [Decimal(str(x["amount"])) for x in cost_codes(estimate)]
    assert sum(printed) == Decimal(estimate.till.text(price))
    assert all(x.amount_minor >= 0 for x in estimate.up.lines) and all(m.price_minor >= 0 for m in marks)
    priced = [x.quantity for x in estimate.request.schedule.lines if x.priced]
    assert sum(priced) == estimate.openings


GROWN = st.integers(0, 200)


@LAW
@given(SEEDS, st.sampled_from(["rectangle", "round", "ellipse", "half_round_top", "segmental_top", "pipe"]),
       st.tuples(*[st.integers(100, 900)] * 3), st.tuples(GROWN, GROWN, GROWN), st.booleans())  # fmt: skip
def test_base_minutes_never_fall_as_an_opening_grows(
    seed: int, shape: str, size: tuple[int, int, int], more: tuple[int, int, int], tape: bool
) -> None:
    """In width, height and depth; by one stock, for where the least-cost stock changes its strips may become fewer."""
    rules = random_production(Chance(seed))
    given_ = edition(materials=seal_materials(), production=rules)
    grown = tuple(a + b for a, b in zip(size, more, strict=True))
    bases = []
    for w, h, d in (size, grown):
        sizes: dict[str, dict[str, str]] = {
            "rectangle": {"width": inches(w), "height": inches(h)},
            "ellipse": {"width": inches(w), "height": inches(h)},
            "round": {"diameter": inches(w)},
            "pipe": {"diameter": inches(w)},
            "half_round_top": {"width": inches(w), "springline": inches(h)},
            "segmental_top": {"width": inches(w), "springline": inches(h), "rise": inches(size[0] // 3)},
        }
        line = opening(shape=shape, treated_depth=inches(d // 5), **sizes[shape])
        asked = request(line, method="tape" if tape else "fluid", perimeter_seal={"width": "1/2 in"})
        bases.append(work(costed(asked, given_)).base_minutes)
    assert bases[0] <= bases[1]


def inches(tenths: int) -> str:
    """Tenths of an inch as a length."""
    return f"{tenths // 10}.{tenths % 10} in"


def as_used(editions: list[Document]) -> list[Document]:
    """The editions with every material priced by use and no idle time charged."""
    found = []
    for e in editions:
        tables = dict(e["tables"])
        tables["materials"] = [m | {"price_as": "used"} for m in tables["materials"]]
        tables["production"] = {k: v for k, v in tables["production"].items() if k != "coats"}
        found.append(e | {"tables": tables})
    return found


@LAW
@given(SEEDS, SEEDS)
def test_one_more_opening_never_lowers_the_price_by_use(seed: int, which: int) -> None:
    """For an experienced crew in one part: a new crew's average factor falls with each opening, on all marks alike."""
    document, editions = untaught(*random_case(seed))
    lines = document["openings"]
    assume(lines)
    at = which % len(lines)
    more = [x | {"quantity": x["quantity"] + 1} if i == at else x for i, x in enumerate(lines)]
    before, after = (cost(document, as_used(editions), openings=found) for found in (lines, more))
    assert before.up.price_minor <= after.up.price_minor


@LAW
@given(SEEDS, SEEDS, st.integers(0, 200), WAYS)
def test_a_line_split_into_two_of_its_mark_changes_nothing(seed: int, which: int, share: int, way: str | None) -> None:
    document, editions = by_way(way, seed)
    lines = document["openings"]
    assume(lines)
    at = which % len(lines)
    here = min(share, lines[at]["quantity"])
    halves = [lines[at] | {"quantity": here}, lines[at] | {"quantity": lines[at]["quantity"] - here}]
    one, two = cost(document, editions), cost(document, editions, openings=[*lines[:at], *halves, *lines[at + 1 :]])
    assert built(one) == built(two)
    assert one.standard_hours == two.standard_hours
    assert [(m.mark, m.quantity, m.price_minor) for m in one.allocation.marks] == [
        (m.mark, m.quantity, m.price_minor) for m in two.allocation.marks
    ]
    assert cuts_of(one) == cuts_of(two)
