"""The blend of held and today's rates: a case worked by hand, and the laws at both ends."""

from __future__ import annotations

import random
from typing import Any

import pytest

from estimating.core.blend import Blend, blend, held_counts
from estimating.core.estimate import Estimate
from estimating.core.job import cost_request
from rates.core.card import EditionSource
from tests.worked_cases import read_case


def edition(wage: str, step: str = "5.00") -> Any:
    """Invented rates that are easily summed: a wage, liquid at 23.10 a gallon and mesh at 0.50 a foot as used."""
    document = read_case("golden", "edition.json")
    tables = document["tables"]
    tables["labour"] = [{"code": "journeyman", "title": "Journeyman", "wage": wage, "fringe": "0", "burden": []}]
    liquid, mesh, _ = tables["materials"]
    for row, pack in ((liquid, {"size": "1 gal", "price": "23.10"}), (mesh, {"size": "100 ft", "price": "50.00"})):
        row.pop("waste")
        row |= {"packs": [pack], "price_as": "used"}
    tables["materials"], tables["equipment"] = [liquid, mesh], []
    tables["production"]["setup_hours"] = {"mobilisation": "1"}
    tables["overheads"] = [{"code": "step", "title": "Rounded up", "step": "round_up_to", "amount": step}]
    return document


def request(lines: Any, **fields: Any) -> Any:
    """A request for openings of 48 by 48 in, or of the size given; (mark, quantity, width)."""
    openings = [
        {"mark": mark, "quantity": count, "width": width, "height": "48 in", "access": "ground", "storey": "1"}
        for mark, count, width in lines
    ]
    base = {"work_date": "2027-03-15", "method": "fluid", "wall_barrier": "fluid", "treated_depth": "6 in"}
    return base | {"crew": {"members": [{"labour": "journeyman", "count": 1}]}, "openings": openings} | fields


def priced(lines: Any, wage: str, step: str = "5.00", **fields: Any) -> Estimate:
    return cost_request(request(lines, **fields), [EditionSource(wage, 1, "company", edition(wage, step))])


def blended(before: Any, after: Any, today: str = "72.00", **fields: Any) -> tuple[Blend, Estimate, Estimate]:
    """The blend of two schedules, with the new one under held rates (a wage of 60.00) and under today's."""
    old, held, now = priced(before, "60.00"), priced(after, "60.00", **fields), priced(after, today, **fields)
    return blend(old.request, held, now, {}), held, now


S = "48 in"


def test_a_case_worked_by_hand() -> None:
    """A grew from 10 to 12, B is unchanged, D is new: all of 48 × 48 in, depth 6 in, face lap 2 in.

    Each takes 30 min, 1,552 in² × 0.040 in = 62.08 in³ of liquid at 23.10 ÷ 231 in³ = 6.208, and 48 + 2 × 52 + 48
    + 4 × 4 in = 18 ft of mesh at 0.50 = 9.00; set-up is one hour.
    Held: 19 × 30.00 + 60.00 + 117.95 + 171.00 = 918.95, up to 920.00. Today, at 72.00 an hour: 684.00 + 72.00
    + 288.95 = 1,044.95, up to 1,045.00, which is 55.00 an opening.
    Held by mark, 920.00 × 12, 4, 3 ÷ 19: 581.0526…, 193.6842…, 145.2631…: the cent left goes to the largest
    fraction, B: 581.05, 193.69, 145.26.
    A: 10/12 of 581.05 and 2/12 of 660.00 = 594.208333…; B: 193.69; D: 165.00; in all 952.898333…, which is 952.90, and
    955.00 rounded up to the next 5.00.
    """
    found, held, now = blended([("A", 10, S), ("B", 4, S)], [("A", 12, S), ("B", 4, S), ("D", 3, S)])
    assert (held.up.price_minor, now.up.price_minor) == (920_00, 1045_00)
    assert held.allocation.line_prices == [581_05, 193_69, 145_26]
    assert now.allocation.line_prices == [660_00, 220_00, 165_00]
    assert found.held == (10, 4, 0)
    assert (found.price_minor, found.rounded_up_minor) == (955_00, 2_10)
    assert sum(found.lines) == 955_00 and found.beside == ()
    # 955.00 over 594.208333, 193.69 and 165.00: 595.517…, 194.117…, 165.364…
    assert found.lines == (595_52, 194_12, 165_36)


def test_nothing_changed_gives_the_held_price_and_everything_changed_today_s() -> None:
    lines = [("A", 7, S), ("B", 3, "60 in"), ("C", 1, "36 in")]
    same, held, _ = blended(lines, lines)
    assert (same.price_minor, list(same.lines)) == (held.up.price_minor, list(held.allocation.line_prices))
    wider = [(mark, count, f"{int(width[:2]) + 2} in") for mark, count, width in lines]
    other, _, now = blended(lines, wider)
    assert (other.price_minor, list(other.lines)) == (now.up.price_minor, list(now.allocation.line_prices))


def test_a_price_that_is_held_whole_is_not_rounded_by_today_s_step() -> None:
    lines = [("A", 7, S)]
    old, held, now = priced(lines, "60.00"), priced(lines, "60.00"), priced(lines, "72.00", "100.00")
    assert blend(old.request, held, now, {}).price_minor == held.up.price_minor
    assert held.up.price_minor % 100_00


def test_a_line_that_shrank_is_at_today_s_rates_and_one_renumbered_is_held() -> None:
    found, _, now = blended([("A", 10, S), ("B", 4, "60 in")], [("A", 8, S), ("B2", 4, "60 in")])
    assert found.held == (0, 4)
    rejected = blend(priced([("A", 10, S), ("B", 4, "60 in")], "60.00").request, now, now, {(1, 1): False})
    assert rejected.held == (0, 0)


@pytest.mark.parametrize(
    "fields",
    [
        {"treated_depth": "8 in"},
        {"congestion": "tight"},
        {"crew": {"members": [{"labour": "journeyman", "count": 2}]}},
    ],
)
def test_what_the_request_says_of_every_opening_changes_every_line(fields: Any) -> None:
    lines = [("A", 7, S), ("B", 3, "60 in")]
    plain = priced(lines, "60.00").request
    changed = request(lines, **fields)
    document = edition("60.00")
    document["tables"]["production"]["congestion"] = {"tight": "1.1"}
    other = cost_request(changed, [EditionSource("x", 1, "company", document)]).request
    assert held_counts(plain, other, {}) == (0, 0)
    assert held_counts(plain, plain, {}) == (7, 3)


def test_random_revisions_sum_and_lie_between() -> None:
    """Of 100 random revisions: lines sum to the price, which lies between that of holding and that of today.

    A blend takes each line's part of the one or the other, so it lies between them but for the rounding up of 5.00.
    """
    chance = random.Random(14)
    for _ in range(100):
        before = [(f"W{i}", chance.randint(1, 9), f"{chance.randint(24, 90)} in") for i in range(chance.randint(1, 8))]
        after = [
            (mark, max(0, count + chance.choice((-1, 0, 0, 0, 2))), width if chance.random() < 0.8 else "50 in")
            for mark, count, width in before
            if chance.random() < 0.9
        ] + [("N1", chance.randint(1, 3), "40 in")] * chance.randint(0, 1)
        if not any(count for _, count, _ in after):
            continue
        found, held, now = blended(before, after)
        assert sum(found.lines) + sum(found.beside) == found.price_minor
        low, high = sorted((held.up.price_minor, now.up.price_minor))
        assert low - 5_00 <= found.price_minor <= high + 5_00
