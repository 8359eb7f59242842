"""Two schedules line by line: which lines match, what kind of change each is; a new number alone is zero money."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from estimating.core.attribution import compare
from estimating.core.comparison import Match, match
from estimating.core.job import read_request
from estimating.core.schedule import Schedule, read_schedule
from estimating.outputs.comparison_answer import comparison_answer
from rates.core.fields import Faults
from tests.core.invented import Document, edition, opening, overhead, request, sources


def schedule(*lines: Document) -> Schedule:
    """The schedule of these lines."""
    faults: Faults = []
    found = read_schedule(list(lines), None, only_external=False, pointer="", faults=faults)
    assert found is not None, faults
    return found


def change(before: Document, after: Document) -> tuple[str, ...]:
    """The classes of the one line that stands in both."""
    (found,) = match(schedule(before), schedule(after))
    assert (found.before, found.after) == (0, 0)
    return found.classes


@pytest.mark.parametrize(
    ("fields", "classes"),
    [
        ({}, ()),
        ({"quantity": 3}, ("quantity",)),
        ({"width": "50 in"}, ("size",)),
        ({"shape": "ellipse"}, ("size",)),
        ({"treated_depth": "8 in"}, ("factors",)),
        ({"substrate": "osb"}, ("factors",)),
        ({"access": "lift"}, ("factors",)),
        ({"sill": {"kind": "pan"}}, ("factors",)),
        ({"width": "50 in", "access": "lift", "quantity": 9}, ("size", "factors", "quantity")),
        ({"alternate": "1"}, ("alternate",)),
        ({"excluded": {"reason": "by others"}}, ("excluded",)),
        ({"source": {"sheet": "A-201", "revision": "2"}}, ("source",)),
        ({"note": "seen"}, ()),
        ({"mark": " a "}, ()),
    ],
)
def test_each_class_of_change(fields: Document, classes: tuple[str, ...]) -> None:
    plain = opening("A", 2, width="48 in", height="60 in", elevation="North", storey="1")
    assert change(plain, plain | fields) == classes


def test_an_alternate_back_in_the_base_is_a_change_of_that_kind() -> None:
    assert change(opening("A", alternate="1"), opening("A")) == ("alternate",)
    assert change(opening("A", alternate="1"), opening("A", alternate="2")) == ("alternate",)


def test_a_line_of_one_id_at_another_place_has_moved() -> None:
    """Set-up and the time between coats go by the place, so it may move money."""
    assert change(opening("A", id="x", storey="1"), opening("A", id="x", storey="2")) == ("moved",)


def test_a_line_set_aside_for_another_reason_is_told() -> None:
    reasons = [{"excluded": {"reason": reason}} for reason in ("by others", "existing")]
    assert change(opening("A") | reasons[0], opening("A") | reasons[1]) == ("excluded",)


def test_lines_are_added_and_removed() -> None:
    found = match(
        schedule(opening("A"), opening("B", width="9 in", height="9 in")), schedule(opening("C", 4), opening("A"))
    )
    assert found == (Match(None, 0, ("added",)), Match(0, 1, ()), Match(1, None, ("removed",)))


def test_a_stable_id_comes_before_the_mark() -> None:
    """The window of line x is called B now, and another one A."""
    before = schedule(opening("A", id="x"), opening("B", id="y", width="70 in", height="70 in"))
    after = schedule(opening("A", id="y", width="70 in", height="70 in"), opening("B", id="x"))
    assert match(before, after) == (Match(1, 0, ("renumbered",)), Match(0, 1, ("renumbered",)))


def test_the_mark_and_place_come_before_the_size() -> None:
    before = schedule(opening("A", storey="1"), opening("A", 5, storey="2"))
    after = schedule(opening("A", 5, storey="2"), opening("A", 2, storey="1"))
    assert match(before, after) == (Match(1, 0, ()), Match(0, 1, ("quantity",)))


def test_a_line_with_another_mark_and_all_else_alike_is_taken_as_renumbered() -> None:
    assert change(opening("A", 3, elevation="North"), opening("W-1", 3, elevation="North")) == ("renumbered",)
    found = match(schedule(opening("A", 3)), schedule(opening("W-1", 4)))
    assert [m.classes for m in found] == [("added",), ("removed",)]


def test_repeated_lines_match_in_their_order() -> None:
    lines = [opening("A", n, storey="1") for n in (1, 2, 3)]
    assert match(schedule(*lines), schedule(*lines[:2])) == (
        Match(0, 0, ()),
        Match(1, 1, ()),
        Match(2, None, ("removed",)),
    )


def compared(before: list[Document], after: list[Document]) -> Any:
    """The comparison document of two requests."""
    rates = sources(edition(overheads=[overhead("round_up_to", amount="5")]))
    one, two = (read_request(request(*lines), rates) for lines in (before, after))
    return comparison_answer(compare(one, two))


def test_renumbered_lines_are_zero_money() -> None:
    before = [opening("A", 3), opening("B", 2, width="80 in", height="30 in")]
    after = [x | {"mark": f"W-{x['mark']}"} for x in before]
    found = compared(before, after)
    assert found["change"] == "0.00"
    assert {x["amount"] for x in found["causes"]} == {"0.00"}
    assert [(x["classes"], x["amount"]) for x in found["lines"]] == [
        (["renumbered"], "0.00"),
        (["renumbered"], "0.00"),
        (["with_other_causes"], "0.00"),
    ]


def test_renumbered_lines_are_zero_money_beside_lines_that_change() -> None:
    """Set-up, packs and rounding shift on to other marks; a new number or source brings nothing all the same."""
    before = [
        opening("A", 3),
        opening("B", 2, width="80 in", height="30 in"),
        opening("C", 4),
        opening("D", width="9 ft", height="4 ft"),
    ]
    after = [
        before[0] | {"quantity": 9},
        before[1] | {"mark": "B1"},
        before[2] | {"source": {"sheet": "A-601"}},
        before[3],
    ]
    found = compared(before, after)
    amounts = {x["after"]["mark"]: (x["classes"], x["amount"]) for x in found["lines"][:-1]}
    assert amounts["B1"] == (["renumbered"], "0.00") and amounts["C"] == (["source"], "0.00")
    assert list(amounts) == ["A", "B1", "C"]  # D is as it was
    assert sum(Decimal(x["amount"]) for x in found["lines"]) == Decimal(found["change"]) > 0


@pytest.mark.parametrize(
    "said", [{"access": "ground"}, {"treated_depth": "6 in"}, {"height_above_grade": "4 ft"}, {"external": True}]
)
def test_a_line_that_says_what_counted_before_is_zero_money_beside_lines_that_change(said: Document) -> None:
    """B moved by its share of packs and set-up, called its factors."""
    bare = opening("B", 2, width="80 in", height="30 in")
    bare.pop("access", None)
    before = [opening("A", 3), bare]
    found = compared(before, [before[0] | {"quantity": 9}, bare | said])
    amounts = {x["after"]["mark"]: (x["classes"], x["amount"]) for x in found["lines"][:-1]}
    assert amounts["B"] == (["factors"], "0.00")
    assert sum(Decimal(x["amount"]) for x in found["lines"]) == Decimal(found["change"]) > 0


def test_a_line_of_other_factors_brings_its_own_amount() -> None:
    before = [opening("A", 3), opening("B", 2, width="80 in", height="30 in")]
    found = compared(before, [before[0] | {"quantity": 9}, before[1] | {"access": "lift"}])
    assert [x["amount"] == "0.00" for x in found["lines"][:-1]] == [False, False]


def test_each_line_tells_what_it_was_and_is_and_what_it_brings() -> None:
    before = [opening("A", 3, elevation="North", storey="2"), opening("B", width="80 in", height="30 in")]
    after = [opening("A", 5, elevation="North", storey="2"), opening("C", 2, width="60 in", height="90 in")]
    found = compared(before, after)
    shown = [(x["line_before"], x["line_after"], x["classes"]) for x in found["lines"][:-1]]
    assert shown == [(1, 1, ["quantity"]), (None, 2, ["added"]), (2, None, ["removed"])]
    first, second, third = found["lines"][:3]
    assert first["before"] == {"mark": "A", "quantity": 3} and first["after"] == {"mark": "A", "quantity": 5}
    assert (first["elevation"], first["storey"], second["before"], third["after"]) == ("North", "2", None, None)
    assert float(second["amount"]) > 0 > float(third["amount"])
    assert found["causes"][0]["sentence"] == (
        "The openings raise the price by 150.00: 7 openings instead of 4; 2 openings of C were added "
        "(5'-0\" x 7'-6\"); 1 opening of B was removed (6'-8\" x 2'-6\"); 3 openings of A became 5."
    )
