"""A field that an answer sets to what counted already: told, though no opening moves (invented content)."""

from __future__ import annotations

from typing import Any

from estimating.intake.newly_said import newly_said
from estimating.intake.revisions import compare_revisions, read_revision

ALL_SIDES = ["sill", "jambs", "head"]


def door(**more: Any) -> dict[str, Any]:
    return {"mark": "D1", "quantity": 2, "kind": "door", "width": "40 in", "height": "86 in"} | more


def told(before: list[dict[str, Any]], after: list[dict[str, Any]]) -> list[tuple[int, str, Any]]:
    found = compare_revisions(read_revision(before, ""), read_revision(after, ""))
    return [(one.after, one.field, one.value) for one in newly_said(before, after, found.matched, "")]


def test_sides_that_an_answer_gives_are_told_where_they_are_those_that_counted() -> None:
    """README: without sides, all are treated; so an answer of all four moves no opening, one of two does."""
    before = [door(), door(quantity=3)]
    assert (
        compare_revisions(read_revision(before, ""), read_revision([door(sides=ALL_SIDES)] * 2, "")).lines[0].after == 1
    )
    assert told(before, [door(sides=ALL_SIDES), door(quantity=3)]) == [(0, "sides", ALL_SIDES)]
    assert told(before, [door(sides=["jambs", "head"]), door(quantity=3)]) == []
    assert told(before, [door(quantity=6, sides=ALL_SIDES), door(quantity=3)]) == [(0, "sides", ALL_SIDES)]


def test_what_was_given_before_and_what_moves_an_opening_is_not_told_again() -> None:
    assert told([door(sides=ALL_SIDES)], [door(sides=ALL_SIDES)]) == []
    assert told([door()], [door(access="lift")]) == []
    assert told([door()], [door(note="see detail 4")]) == []
