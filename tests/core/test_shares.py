"""Attribution of a change: published games, the average over every order by brute force, and Shapley's axioms."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from itertools import chain, combinations, permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.core.shares import MOST_CAUSES, even_handed, in_order
from rates.core.money import allocate_values

Value = Callable[[frozenset[str]], int]


def glove_game(players: frozenset[str]) -> int:
    """A pair of gloves is worth 1; a and b hold a left glove, c the only right one."""
    return min(len(players & {"a", "b"}), len(players & {"c"}))


def test_glove_game() -> None:
    """The published glove game for the value of Shapley 1953: the scarce glove gets 2/3, the others 1/6 each."""
    assert even_handed("abc", glove_game) == {"a": Fraction(1, 6), "b": Fraction(1, 6), "c": Fraction(2, 3)}


RUNWAYS = {"a": 8, "b": 11, "c": 13, "d": 18}


def test_airport_game() -> None:
    """A runway costs what the largest aircraft on it needs (Littlechild and Owen 1973).

    Each stretch is shared by those who need it: 8/4; + 3/3; + 2/2; + 5.
    """
    shares = even_handed("abcd", lambda users: max((RUNWAYS[user] for user in users), default=0))
    assert shares == {"a": 2, "b": 3, "c": 4, "d": 9}


def test_security_council(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nine of fifteen votes, all five permanent members among them (United Nations Charter, article 27).

    The index of Shapley and Shubik 1954: 421/2145 for a permanent member, 4/2145 for each other.
    """
    monkeypatch.setattr("estimating.core.shares.MOST_CAUSES", 15)
    permanent = frozenset("abcde")
    shares = even_handed("abcdefghijklmno", lambda votes: int(len(votes) >= 9 and permanent <= votes))
    assert {shares[member] for member in permanent} == {Fraction(421, 2145)}
    assert {shares[member] for member in "fghijklmno"} == {Fraction(4, 2145)}


def subsets(causes: str) -> list[frozenset[str]]:
    return [frozenset(s) for s in chain.from_iterable(combinations(causes, n) for n in range(len(causes) + 1))]


@st.composite
def games(draw: st.DrawFn) -> tuple[str, Value]:
    causes = "abcde"[: draw(st.integers(1, 5))]
    prices = {subset: draw(st.integers(-(10**9), 10**9)) for subset in subsets(causes)}
    return causes, prices.__getitem__


@given(games())
def test_average_over_every_order(game: tuple[str, Value]) -> None:
    causes, value = game
    orders = list(permutations(causes))
    shares = even_handed(causes, value)
    for cause in causes:
        assert shares[cause] == sum(in_order(order, value)[cause] for order in orders) / len(orders)


@given(games())
def test_shares_sum_to_the_change(game: tuple[str, Value]) -> None:
    causes, value = game
    change = value(frozenset(causes)) - value(frozenset())
    assert sum(even_handed(causes, value).values()) == change
    assert sum(in_order(causes, value).values()) == change


@given(games())
def test_a_cause_that_moves_nothing_gets_nothing(game: tuple[str, Value]) -> None:
    causes, value = game

    def without_z(subset: frozenset[str]) -> int:
        return value(subset - {"z"})

    shares = even_handed(f"{causes}z", without_z)
    assert shares.pop("z") == 0
    assert shares == even_handed(causes, value)


@given(games())
def test_reverse_flips_every_sign(game: tuple[str, Value]) -> None:
    causes, value = game

    def backwards(subset: frozenset[str]) -> int:
        return value(frozenset(causes) - subset)

    assert even_handed(causes, backwards) == {c: -share for c, share in even_handed(causes, value).items()}
    assert in_order(causes[::-1], backwards) == {c: -step for c, step in in_order(causes, value).items()}


@given(st.lists(st.integers(-1000, 1000), min_size=4, max_size=4))
def test_equals_are_treated_equally(by_size: list[int]) -> None:
    shares = even_handed("abc", lambda subset: by_size[len(subset)])
    assert len(set(shares.values())) == 1


@given(games(), st.integers(-5, 5))
def test_shares_of_a_sum_are_sums_of_shares(game: tuple[str, Value], factor: int) -> None:
    causes, value = game
    both = even_handed(causes, lambda subset: value(subset) + factor * len(subset))
    assert both == {cause: share + factor for cause, share in even_handed(causes, value).items()}


def test_every_mixed_state_is_valued_once() -> None:
    asked: list[frozenset[str]] = []

    def value(subset: frozenset[str]) -> int:
        asked.append(subset)
        return len(subset)

    even_handed("abcd", value)
    assert sorted(map(sorted, asked)) == sorted(map(sorted, subsets("abcd")))
    asked.clear()
    in_order("abcd", value)
    assert asked == [frozenset("abcd"[:n]) for n in range(5)]


# The revision example: a bare formula, price = (hours × labour + area × material)(1 + markup), without access factors.
AREA_IN2 = {"A": 1552, "B": 2128, "C": 1704}
MINUTES = {"A": Fraction(30), "B": Fraction("36.75"), "C": Fraction("31.875")}
R0: Mapping[str, Mapping[str, str]] = {
    "openings": {"A": "20", "B": "6", "C": "0"},
    "rates": {"labour": "50.46", "tape": "3.00", "fluid": "1.50"},
    "method": {"": "tape"},
    "markup": {"": "0.20"},
}
R1: Mapping[str, Mapping[str, str]] = {
    "openings": {"A": "24", "B": "4", "C": "3"},
    "rates": {"labour": "52.00", "tape": "3.10", "fluid": "1.60"},
    "method": {"": "fluid"},
    "markup": {"": "0.18"},
}
CAUSES = ("openings", "rates", "method", "markup")
SCALE = 480 * 144 * 10**4  # makes every price of the example a whole number


def revision_price(later: frozenset[str]) -> int:
    state = {cause: (R1 if cause in later else R0)[cause] for cause in CAUSES}
    counts = {mark: int(count) for mark, count in state["openings"].items()}
    hours = sum((count * MINUTES[mark] for mark, count in counts.items()), Fraction(0)) / 60
    area_ft2 = Fraction(sum(count * AREA_IN2[mark] for mark, count in counts.items()), 144)
    rates = {name: Fraction(rate) for name, rate in state["rates"].items()}
    cost = hours * rates["labour"] + area_ft2 * rates[state["method"][""]]
    price = cost * (1 + Fraction(state["markup"][""])) * SCALE
    assert price.denominator == 1
    return int(price)


def in_cents(shares: Mapping[str, Fraction]) -> list[int]:
    cents = [share * 100 / SCALE for share in shares.values()]
    return allocate_values(cents, -27182)


def test_revision_example() -> None:
    before, after = revision_price(frozenset()), revision_price(frozenset(CAUSES))
    assert [round(Fraction(price * 100, SCALE)) for price in (before, after)] == [192325, 165143]
    assert in_cents(even_handed(CAUSES, revision_price)) == [27878, 6634, -58670, -3024]
    assert in_cents(in_order(CAUSES, revision_price)) == [32003, 7204, -63590, -2799]


def test_bad_causes_are_refused() -> None:
    for attribute in (even_handed, in_order):
        with pytest.raises(ValueError):
            attribute(["rates", "rates"], len)
    with pytest.raises(ValueError):
        even_handed([str(n) for n in range(MOST_CAUSES + 1)], len)


def test_no_cause_no_share() -> None:
    assert even_handed([], len) == in_order([], len) == {}
