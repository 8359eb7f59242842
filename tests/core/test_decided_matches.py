"""What a person says of a proposal: one renumbered line, or one removed and one added; no line comes or goes by it."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.core.attribution import compare
from estimating.core.comparison import NOTHING_DECIDED, Decided, Match, match
from estimating.core.job import read_request
from estimating.core.schedule import Schedule
from estimating.outputs.comparison_answer import comparison_answer
from tests.core.invented import Document, edition, opening, overhead, request, sources
from tests.core.test_comparison import schedule

PROPOSED = (Match(0, 0, ("renumbered",), True), Match(1, 1, ("renumbered",), True), Match(2, 2, ()))
BEFORE = [opening("A", 3), opening("B", 3), opening("C", 2, width="80 in", height="30 in")]
AFTER = [opening("A1", 3), opening("B1", 3), BEFORE[2]]


@pytest.mark.parametrize(
    ("decided", "found"),
    [
        ({}, PROPOSED),
        ({(0, 0): True}, (Match(0, 0, ("renumbered",)), *PROPOSED[1:])),
        ({(0, 0): False}, (Match(None, 0, ("added",)), *PROPOSED[1:], Match(0, None, ("removed",)))),
        (
            {(1, 1): False, (0, 0): False},
            (
                Match(None, 0, ("added",)),
                Match(None, 1, ("added",)),
                PROPOSED[2],
                Match(0, None, ("removed",)),
                Match(1, None, ("removed",)),
            ),
        ),
        ({(2, 2): False}, PROPOSED),  # the mark settles it: nothing was proposed
        ({(7, 0): True, (0, 9): False}, PROPOSED),
    ],
)
def test_confirmed_is_one_line_and_rejected_two(decided: Decided, found: tuple[Match, ...]) -> None:
    assert match(schedule(*BEFORE), schedule(*AFTER), decided) == found


def test_a_line_taken_out_leaves_the_other_proposals_as_they_were() -> None:
    """Three alike against two: the third stays removed, whatever is said of the first."""
    before, after = schedule(*(opening(m) for m in "ABC")), schedule(*(opening(m) for m in "XY"))
    for same in (True, False):
        found = match(before, after, {(0, 0): same})
        assert [(m.before, m.after) for m in found if m.proposed] == [(1, 1)]
        assert Match(2, None, ("removed",)) in found


def test_a_new_mark_of_the_same_size_and_place_is_proposed_whatever_was_answered_for_the_old_one() -> None:
    """An answer on access stays with the old mark: the line was told as one that went and one that came."""
    old, new = opening("W3", 4, access="lift"), opening("W3A", 4, access="ground")
    assert match(schedule(old), schedule(new)) == (Match(0, 0, ("renumbered", "factors"), True),)
    alike = opening("W3B", 4, access="lift")  # what is alike in everything goes first
    assert match(schedule(old), schedule(new, alike)) == (
        Match(None, 0, ("added",)), Match(0, 1, ("renumbered",), True),
    )  # fmt: skip
    for other in (opening("W3A", 5), opening("W3A", 4, width="50 in", height="48 in"), opening("W3A", 4, storey="9")):
        assert [m.proposed for m in match(schedule(old), schedule(other))] == [False, False]


MARKS = ("A", "B", "C", "D", "E")
LINES = st.lists(
    st.builds(
        lambda mark, width, quantity, id, storey, access: (
            opening(mark, quantity, width=width, height="48 in", storey=storey, access=access)
            | ({"id": id} if id else {})
        ),
        st.sampled_from(MARKS),
        st.sampled_from(("30 in", "48 in")),
        st.integers(0, 3),
        st.sampled_from((None, None, None, "x", "y")),
        st.sampled_from(("", "1")),
        st.sampled_from(("ground", "lift")),
    ),
    max_size=9,
)
SIZES = {mark: ("30 in", "48 in")[n % 2] for n, mark in enumerate(MARKS)}


def sized(lines: list[Document]) -> Schedule:
    """A schedule in which a mark has one size."""
    return schedule(*(line | {"width": SIZES[line["mark"]]} for line in lines))


@settings(max_examples=300)
@given(LINES, LINES, st.data())
def test_decisions_change_no_line_and_no_quantity(before: list[Document], after: list[Document], data: Any) -> None:
    one, two = sized(before), sized(after)
    plain = match(one, two)
    pairs = [(m.before, m.after) for m in plain if m.proposed]
    chosen = data.draw(st.lists(st.sampled_from(pairs), unique=True)) if pairs else []
    decided = {pair: data.draw(st.booleans()) for pair in chosen}
    found = match(one, two, decided)
    assert sorted(m.before for m in found if m.before is not None) == list(range(len(one.lines)))
    assert [m.after for m in found if m.after is not None] == list(range(len(two.lines)))
    for lines, places in ((one.lines, [m.before for m in found]), (two.lines, [m.after for m in found])):
        assert sum(lines[i].quantity for i in places if i is not None) == sum(line.quantity for line in lines)
    assert [(m.before, m.after) for m in found if m.proposed] == [pair for pair in pairs if pair not in decided]
    rejected = {pair for pair, same in decided.items() if not same}
    untold = [m for m in plain if (m.before, m.after) not in decided]
    kept = [m for m in found if (m.before, m.after) in {(u.before, u.after) for u in untold}]
    assert [m for m in kept if m.after is not None] == [m for m in untold if m.after is not None]
    assert {m.before for m in found if m.after is None} == {m.before for m in plain if m.after is None} | {
        i for i, _ in rejected
    }
    assert len(found) == len(plain) + len(rejected)
    assert match(one, two, dict(reversed(decided.items()))) == found


@settings(max_examples=100)
@given(LINES, LINES)
def test_the_same_pairs_are_proposed_whichever_revision_comes_first(
    before: list[Document], after: list[Document]
) -> None:
    one, two = sized(before), sized(after)
    there = {(m.before, m.after) for m in match(one, two) if m.proposed}
    assert {(m.after, m.before) for m in match(two, one) if m.proposed} == there


def compared(decided: Decided) -> Any:
    """The comparison of the two schedules with what is decided."""
    rates = sources(edition(overheads=[overhead("round_up_to", amount="5")]))
    after = [AFTER[0], AFTER[1] | {"note": "x"}, BEFORE[2] | {"quantity": 5}]
    one, two = (read_request(request(*lines), rates) for lines in (BEFORE, after))
    return comparison_answer(compare(one, two, decided=decided))


def test_the_price_of_a_rejected_line_goes_and_that_of_the_added_one_comes() -> None:
    plain, rejected = compared(NOTHING_DECIDED), compared({(0, 0): False})
    amounts = {tuple(x["classes"]): Decimal(x["amount"]) for x in rejected["lines"]}
    assert amounts[("added",)] > 0 > amounts[("removed",)]
    assert [x["amount"] for x in rejected["lines"] if x["classes"] == ["renumbered"]] == ["0.00"]
    told = ("before", "after", "change", "rate_rows")
    assert {name: rejected[name] for name in told} == {name: plain[name] for name in told}
    for found in (plain, rejected):
        openings = Decimal(found["causes"][0]["amount"])
        assert sum(Decimal(x["amount"]) for x in found["lines"]) == openings == Decimal(found["change"])
    sentence = rejected["causes"][0]["sentence"]
    assert "3 openings of A1 were added" in sentence and "3 openings of A were removed" in sentence


def test_confirmed_is_zero_money_like_the_proposal() -> None:
    assert compared({(0, 0): True, (1, 1): True}) == compared(NOTHING_DECIDED)
