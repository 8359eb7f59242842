"""Least-cost packs against brute force over every mix, at hand-checked ties, and large needs by their steps."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from estimating.core.pack_search import BranchAndBound, Kind, TooClose, shortest_path
from estimating.core.packs import Mix, Pack, counts_for, least_cost_mix, lowest_unit_price
from estimating.core.packs import offers as as_offers
from tests.steps import steps

GALLON_L = Fraction("3.785411784")  # NIST Handbook 44 App. C


def packs(*offers: tuple[str, str]) -> list[Pack]:
    return [Pack(Fraction(size), Fraction(price), size) for size, price in offers]


def bought(mix: Mix) -> dict[str, int]:
    return {pack.label: count for pack, count in mix.counts}


def brute_force(need: Fraction, offers: Sequence[Pack]) -> tuple[Fraction, Fraction, int, tuple[int, ...]]:
    """The best of every mix, by the stated ties; the last entry is minus the counts, so that earlier packs win."""
    candidates = []
    for counts in itertools.product(*(range(-(-need // pack.size) + 1) for pack in offers)):
        covered = sum((pack.size * count for pack, count in zip(offers, counts, strict=True)), Fraction(0))
        cost = sum((pack.price * count for pack, count in zip(offers, counts, strict=True)), Fraction(0))
        if covered >= need:
            candidates.append((cost, covered - need, sum(counts), tuple(-count for count in counts)))
    return min(candidates)


def key_of(mix: Mix, offers: Sequence[Pack]) -> tuple[Fraction, Fraction, int, tuple[int, ...]]:
    counts = {id(pack): count for pack, count in mix.counts}
    by_place = tuple(-counts.get(id(pack), 0) for pack in offers)
    return mix.cost, mix.left_over, -sum(by_place), by_place


sizes = st.one_of(st.integers(3, 9).map(Fraction), st.sampled_from([Fraction(5, 2), Fraction(10, 3), Fraction(15, 4)]))
cents = st.integers(0, 12).map(Fraction)
free_offers = st.lists(st.builds(Pack, sizes, cents, st.just("")), min_size=1, max_size=4)
even_offers = st.lists(sizes, min_size=1, max_size=4).map(lambda all_sizes: [Pack(s, 3 * s, "") for s in all_sizes])


@given(st.one_of(free_offers, even_offers), st.fractions(Fraction(1, 9), 18, max_denominator=9))
def test_against_brute_force(offers: list[Pack], need: Fraction) -> None:
    mix = least_cost_mix(need, offers)
    assert key_of(mix, offers) == brute_force(need, offers)
    assert all(count > 0 for _, count in mix.counts)


@st.composite
def ordered_kinds(draw: st.DrawFn) -> list[Kind]:
    pairs = draw(st.lists(st.tuples(st.integers(1, 30), st.integers(0, 30)), min_size=1, max_size=5, unique=True))
    places = draw(st.permutations(range(len(pairs))))
    kinds = [Kind(size, price, place) for (size, price), place in zip(pairs, places, strict=True)]
    return sorted(kinds, key=lambda kind: (Fraction(kind.price, kind.size), -kind.size))


@given(ordered_kinds(), st.integers(1, 5000))
def test_both_searches_agree(kinds: list[Kind], need: int) -> None:
    try:
        counts = BranchAndBound(kinds).counts_for(need)
    except TooClose:
        assume(False)
    assert counts == shortest_path(kinds, need)


def test_worked_example() -> None:
    """The worked example's liquid, mesh: 5.464242 gal of 5 at 170 and 1 at 42; 3,948 in of rolls of 150 ft at 58."""
    liquid = least_cost_mix(Fraction("5.464242"), packs(("5", "170"), ("1", "42")))
    assert (bought(liquid), liquid.cost) == ({"5": 1, "1": 1}, 212)
    mesh = least_cost_mix(Fraction(3948), packs(("1800", "58")))
    assert (bought(mesh), mesh.cost, mesh.left_over) == ({"1800": 3}, 174, 1452)


@pytest.mark.parametrize(
    ("need", "offers", "expected"),
    [
        ("3", [("5", "10"), ("3", "10")], {"3": 1}),  # equal cost: least left over
        ("6", [("2", "4"), ("3", "6"), ("6", "12")], {"6": 1}),  # then fewest packs
        ("6", [("2", "4"), ("4", "8"), ("3", "6")], {"2": 1, "4": 1}),  # then the earlier: 2 + 4 before 3 + 3
        ("6", [("3", "6"), ("2", "4"), ("4", "8")], {"3": 2}),
        ("4", [("5", "9"), ("1", "3")], {"5": 1}),  # one large is cheaper than enough small
        ("6", [("5", "9"), ("1", "3")], {"5": 1, "1": 1}),
        ("100", [("7", "0"), ("5", "1")], {"7": 15}),  # packs at no charge
    ],
)
def test_ties_and_order(need: str, offers: list[tuple[str, str]], expected: dict[str, int]) -> None:
    assert bought(least_cost_mix(Fraction(need), packs(*offers))) == expected


def test_a_pack_offered_twice_is_bought_as_the_first() -> None:
    offers = [Pack(Fraction(5), Fraction(10), "first"), Pack(Fraction(5), Fraction(10), "second")]
    assert bought(least_cost_mix(Fraction(12), offers)) == {"first": 3}


@pytest.mark.parametrize("need", ["0", "-3"])
def test_no_need_takes_nothing(need: str) -> None:
    assert least_cost_mix(Fraction(need), packs(("5", "10"))) == Mix((), Fraction(0), Fraction(0))


def test_rental_days() -> None:
    """Day, week of 5 and month of 20 days: 9 days are cheaper as two weeks, 6 as a week and a day (prices invented)."""
    periods = packs(("1", "185"), ("5", "600"), ("20", "1800"))
    assert bought(least_cost_mix(Fraction(9), periods)) == {"5": 2}
    assert bought(least_cost_mix(Fraction(6), periods)) == {"1": 1, "5": 1}
    assert bought(least_cost_mix(Fraction(16), periods)) == {"20": 1}


HUGE = [
    packs(("1", "42"), ("5", "170")),
    packs(("1", "40"), ("5", "200")),
    packs(("1", "40"), ("3", "120"), ("5", "200"), ("7", "280"), ("11", "440"), ("55", "2200")),
    packs(("55", "1600"), ("5", "170"), ("2", "70"), ("1", "42"), ("0.25", "12"), ("0.125", "7")),
    packs(*((str(size), str(100 * size + extra)) for extra, size in enumerate((4973, 4987, 4993, 4997, 4999, 5000)))),
    [
        Pack(size, Fraction(price), "")
        for size, price in [
            (5 * GALLON_L, "170"),
            (GALLON_L, "34.01"),
            (GALLON_L / 4, "8.51"),
            (Fraction(20), "179.63"),
            (Fraction(5), "44.91"),
            (Fraction(1), "8.99"),
        ]
    ],
]


@pytest.mark.parametrize("offers", HUGE, ids=lambda offers: f"{len(offers)} sizes")
def test_ten_million_are_not_searched_one_by_one(offers: list[Pack]) -> None:
    counts_for.cache_clear()
    need = Fraction(10**7) - Fraction(1, 3)
    assert steps(lambda: counts_for(need, as_offers(offers))) < 10**6
    mix = least_cost_mix(need, offers)
    assert mix.left_over >= 0
    assert mix.cost >= need * lowest_unit_price(offers)
    assert mix.cost <= min(-(-(10**7) // pack.size) * pack.price for pack in offers)


def test_lowest_unit_price() -> None:
    assert lowest_unit_price(packs(("5", "170"), ("1", "42"))) == 34


def test_giving_up_is_said() -> None:
    """Gallons and litres at exactly one unit price, which no price in whole cents gives: near ties without end."""
    offers = [Pack(size, 3 * size, "") for size in (5 * GALLON_L, GALLON_L, GALLON_L / 4, Fraction(20), Fraction(5))]
    assert least_cost_mix(Fraction(50), offers).cost >= 150
    with pytest.raises(TooClose):
        least_cost_mix(Fraction(10**7) - Fraction(1, 3), offers)


@pytest.mark.parametrize("offers", [[], packs(("0", "1")), packs(("-1", "1")), packs(("1", "-1"))])
def test_impossible_packs_are_refused(offers: list[Pack]) -> None:
    with pytest.raises(ValueError):
        least_cost_mix(Fraction(1), offers)
    with pytest.raises(ValueError):
        lowest_unit_price(offers)
