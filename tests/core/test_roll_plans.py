"""Rolls as bought: lanes of wide rolls, several sizes, stock on hand, joints; lengths in plain whole steps."""

from __future__ import annotations

from fractions import Fraction as Plain

from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.core.cutting.joining import joined, wanted_in_steps
from estimating.core.cutting.layout import Wanted, cut_of
from estimating.core.cutting.rolls import Offer, Rolls, plan_rolls
from rates.core.fraction import Fraction
from tests.core.cutting_cases import partitions

WIDE, ONE = Fraction(9), Fraction(1)
Pieces = list[tuple[Fraction, Fraction, int]]


def plan(offers: list[tuple[int, int]], pieces: list[tuple[int, int, int]], stock: int = 0, lap: int = 2) -> Rolls:
    """The plan for (length, width, count) from a roll 9 wide of (length, price)."""
    sizes = tuple((length, Fraction(price)) for length, price in offers)
    exact = [(Fraction(length), Fraction(width), count) for length, width, count in pieces]
    wanted = wanted_in_steps(ONE, Fraction(lap), WIDE, max(length for length, _ in sizes), exact)
    found = plan_rolls(sizes, WIDE, stock, wanted)
    check(found, sizes, wanted)
    return found


def check(found: Rolls, sizes: tuple[Offer, ...], wanted: tuple[Wanted, ...]) -> None:
    """Every piece once; no lane over its stretch, no roll over its length, no more lanes than fit; the cost."""
    counts: dict[tuple[int, Fraction], int] = {}
    for piece in wanted:
        counts[piece.length, piece.width] = counts.get((piece.length, piece.width), 0) + piece.pieces
    assert cut_of(found.rolls) == counts
    for roll in found.rolls:
        assert roll.size is None or roll.length == sizes[roll.size][0]
        assert sum(section.length for section in roll.sections) <= roll.length
        for section in roll.sections:
            assert 1 <= len(section.lanes) <= section.across
            for lane in section.lanes:
                assert sum(length * count for (length, _), count in lane) <= section.length
                assert all(width * section.across <= WIDE for (_, width), _ in lane)
    new = [roll.size for roll in found.rolls if roll.size is not None]
    assert found.new == tuple(new.count(place) for place in range(len(sizes)))
    assert found.cost == sum((sizes[place][1] for place in new), Fraction(0)) >= found.least_cost


def test_the_worked_example_is_122_pieces_on_three_rolls() -> None:
    """tests/data/golden: lengths in 1/8 in. 3,760 in are two rolls of 1,800 in and 160 in of a third."""
    pieces = [(88, 4), (72, 8), (64, 8), (52, 20), (48, 20), (40, 2), (4, 60)]
    found = plan([(14400, 58)], [(8 * length, 8, count) for length, count in pieces])
    assert sum(cut_of(found.rolls).values()) == 122
    assert (found.count, found.least_rolls, found.proven) == (3, 3, True)
    assert [roll.rest for roll in found.rolls] == [0, 0, 8 * 1640]
    assert found.taken == 8 * 3760


def test_narrow_pieces_lie_side_by_side() -> None:
    """Two pieces 4 wide fit across 9: eight of 50 are four stretches of 50, so two rolls of 100."""
    found = plan([(100, 10)], [(50, 4, 8)])
    assert (found.count, found.proven) == (2, True)
    assert plan([(100, 10)], [(50, 8, 8)]).count == 4


def test_narrow_pieces_take_what_wide_ones_leave() -> None:
    """60 of a roll are wide pieces; its last 40, slit in two, hold two narrow ones of 40."""
    assert plan([(100, 10)], [(60, 8, 1), (40, 4, 2)]).count == 1


def test_the_lanes_of_the_last_roll_are_evened() -> None:
    """Four pieces of 20 in two lanes take 40 of the roll, not 80, and leave one end of 60."""
    assert plan([(100, 10)], [(20, 4, 4)]).longest_rest == 60


def test_the_last_roll_is_a_short_one() -> None:
    """10 × 30 from 100 at 10 or 40 at 5: three long rolls hold nine, a short one the last."""
    found = plan([(100, 10), (40, 5)], [(30, 8, 10)])
    assert (found.new, found.cost) == ((3, 1), 35)


def test_stock_on_hand_is_cut_first() -> None:
    """120 on hand are a roll of 100 and one of 20; of five pieces of 50 two come from them."""
    found = plan([(100, 10)], [(50, 8, 5)], stock=120)
    assert found.count == 2
    assert sum(roll.size is None for roll in found.rolls) == 1
    assert plan([(100, 10)], [(20, 8, 1)], stock=20).cost == 0


def test_a_piece_longer_than_a_roll_is_joined() -> None:
    """240 from rolls of 100 with a lap of 2: 100 + 98 + 42 more, the last one 44 with its lap."""
    assert joined(240, 100, 2) == [(100, 2), (44, 1)]
    assert joined(100, 100, 2) == [(100, 1)]
    found = plan([(100, 10)], [(240, 8, 1)])
    assert (found.count, found.proven) == (3, True)


@given(st.integers(1, 500), st.integers(5, 60), st.integers(0, 4))
def test_joined_lengths_cover_the_piece_and_no_more(length: int, roll: int, lap: int) -> None:
    parts = joined(length, roll, lap)
    count = sum(times for _, times in parts)
    assert sum(part * times for part, times in parts) - (count - 1) * lap == length
    assert all(0 < part <= roll for part, times in parts if times)


offers = st.lists(st.tuples(st.integers(8, 30), st.integers(1, 30)), min_size=1, max_size=3, unique=True)
small = st.lists(st.tuples(st.integers(1, 50), st.sampled_from([2, 3, 4, 8]), st.integers(1, 3)), max_size=4)


@settings(max_examples=200)
@given(offers, small, st.sampled_from([0, 0, 7, 40]))
def test_every_plan_cuts_every_piece_once(
    sizes: list[tuple[int, int]], pieces: list[tuple[int, int, int]], stock: int
) -> None:
    plan(sizes, pieces, stock)


@settings(max_examples=100)
@given(offers, st.lists(st.integers(1, 8), min_size=1, max_size=6))
def test_what_is_proven_is_the_cheapest_of_all_partitions(sizes: list[tuple[int, int]], lengths: list[int]) -> None:
    """Full width, so each roll is a part of a partition, at the price of the cheapest size that holds it."""

    def price(part: list[int]) -> Plain | None:
        return min((Plain(cost) for length, cost in sizes if length >= sum(part)), default=None)

    found = plan(sizes, [(length, 9, 1) for length in lengths])
    prices = [[price(part) for part in parted] for parted in partitions(lengths)]
    least = min(sum(p for p in each if p is not None) for each in prices if None not in each)
    assert found.least_cost <= least <= found.cost
    assert found.cost == least or not found.proven
    assert found.least_rolls <= min(len(each) for each in prices if None not in each)
    if len(sizes) == 1:
        assert found.cost == least


@settings(max_examples=100)
@given(offers, small, st.tuples(st.integers(1, 50), st.sampled_from([2, 3, 4, 8])), st.sampled_from([0, 0, 7, 40]))
def test_one_more_piece_never_costs_less_than_what_is_proven_without_it(
    sizes: list[tuple[int, int]], pieces: list[tuple[int, int, int]], more: tuple[int, int], stock: int
) -> None:
    """A plan with the piece is one of the others too, if it is left out. Two heuristic plans keep no such order."""
    before, after = plan(sizes, pieces, stock), plan(sizes, [*pieces, (*more, 1)], stock)
    assert before.least_cost <= after.cost
    assert before.cost <= after.cost or not before.proven
