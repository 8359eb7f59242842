"""Decisions held against two revisions: which lines can be spoken of, what the changes are then (content invented)."""

from __future__ import annotations

from typing import Any

import pytest

from estimating.intake.matches import Saying, faults_of
from estimating.intake.revisions import Lines, Pair, compare_revisions, proposals, read_revision
from tests.intake.test_revisions import line

UNREAD = {"mark": "W0", "quantity": 1, "height": "48 in"}


def revision(*lines: dict[str, Any]) -> Lines:
    return read_revision(list(lines), "")


BEFORE = revision(UNREAD, line("W1", 4), line("W2", 4), line("W3", width="60 in"))
AFTER = revision(line("W3", width="60 in"), line("W11", 4), UNREAD, line("W12", 4))


def test_a_line_is_named_by_its_place_among_all_lines() -> None:
    assert (BEFORE.count, AFTER.count) == (4, 4)
    assert proposals(BEFORE, AFTER) == (Pair(1, 1, "W1", "W11"), Pair(2, 3, "W2", "W12"))


@pytest.mark.parametrize(
    ("pairs", "faults"),
    [
        ([(1, 1)], []),
        ([(2, 3), (1, 1)], []),
        ([(1, 3)], [("/pairs/0", "not_a_proposal")]),
        ([(3, 0)], [("/pairs/0", "not_a_proposal")]),  # the mark says that they are one
        ([(0, 2)], [("/pairs/0", "not_a_proposal")]),  # not read yet
        ([(4, 1)], [("/pairs/0/before", "not_found")]),
        ([(9, 9)], [("/pairs/0/before", "not_found"), ("/pairs/0/after", "not_found")]),
        ([(1, 1), (1, 1)], [("/pairs/1/before", "given_twice"), ("/pairs/1/after", "given_twice")]),
        (
            [(1, 1), (2, 1), (7, 3)],
            [("/pairs/1/after", "given_twice"), ("/pairs/1", "not_a_proposal"), ("/pairs/2/before", "not_found")],
        ),
    ],
)
def test_every_fault_is_found_at_once(pairs: list[tuple[int, int]], faults: list[tuple[str, str]]) -> None:
    found = faults_of([Saying(*pair, True) for pair in pairs], BEFORE, AFTER)
    assert [(fault.pointer, fault.code) for fault in found] == faults


def test_without_the_earlier_revision_what_can_be_seen_is_told() -> None:
    found = faults_of([Saying(99, 1, True), Saying(99, 8, True), Saying(1, 2, False)], None, AFTER)
    assert [(fault.pointer, fault.code) for fault in found] == [
        ("/pairs/1/before", "given_twice"),
        ("/pairs/1/after", "not_found"),
    ]


def test_the_changes_with_what_is_decided() -> None:
    open_ones = compare_revisions(BEFORE, AFTER)
    assert [(c.mark, c.classes, c.proposal) for c in open_ones.lines] == [
        ("W11", ("renumbered",), True),
        ("W12", ("renumbered",), True),
    ]
    found = compare_revisions(BEFORE, AFTER, ("W1",), decided={(1, 1): True, (2, 3): False})
    assert [(c.mark, c.before, c.after, c.classes, c.proposal) for c in found.lines] == [
        ("W11", 1, 1, ("renumbered",), False),
        ("W12", None, 3, ("added",), False),
        ("W2", 2, None, ("removed",), False),
    ]
    assert found.proposals == open_ones.proposals
    assert (found.unchanged, found.unread) == (open_ones.unchanged, open_ones.unread) == (1, 2)
    assert found.not_clouded == ("W12", "W2")


def test_a_decision_on_a_line_that_cannot_be_read_is_passed_over() -> None:
    assert compare_revisions(BEFORE, AFTER, decided={(0, 2): True, (50, 1): False}) == compare_revisions(BEFORE, AFTER)
