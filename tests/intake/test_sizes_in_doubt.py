"""Words beside a line that put its size in doubt, and those that do not."""

from __future__ import annotations

import pytest

from estimating.intake.size_remarks import BASIS, CHANGED, size_in_doubt
from tests.corpus.reader import read_bytes
from tests.intake.test_words_beside_lines import blocking, read_remark_of_second


@pytest.mark.parametrize(
    ("remark", "code"),
    [
        ("frame size", BASIS),
        ("masonry opening", BASIS),
        ("brick opening", BASIS),
        ("frame OD", BASIS),
        ("size varies", CHANGED),
        ("swap w & h", CHANGED),
        ("see detail for size", CHANGED),
        ("mas. op.", BASIS),
        ("inside dim", BASIS),
        ("-1/2", CHANGED),
        ("less 1/2 in", CHANGED),
        ("ht = 60", CHANGED),
        ("reduce ht to 48 in", CHANGED),
        ("raise sill 6 in", CHANGED),
        ("incl. frame", CHANGED),
        ("actual 35.5", CHANGED),
        ("see A-501 for width", CHANGED),
        ("size per shop dwgs", CHANGED),
        ("R.O. +1 in", CHANGED),
        ("size of one", BASIS),
        ("dims each", BASIS),
        ("size is each", BASIS),
        ("each leaf", BASIS),
        ("one sash only", BASIS),
        ("not in width", CHANGED),
        ("je Flügel", BASIS),
        ("par vantail", BASIS),
        ("cada hoja", BASIS),
        ("3 ft leaf", CHANGED),
    ],  # fmt: skip
)
def test_words_that_put_the_size_in_doubt_are_asked(remark: str, code: str) -> None:
    assert size_in_doubt(remark) == code
    assert read_remark_of_second(remark) == {code: ["W2"]}


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("w/ sidelites", CHANGED), ("w/ 2 sidelites", CHANGED), ("sidelites not in width", CHANGED),
        ("transom above", CHANGED), ("sidelite ea. side", CHANGED), ("pair doors, each leaf", BASIS),
        ("triple, mulled, size of one", BASIS), ("transom 18 in not in height", CHANGED),
    ],
)  # fmt: skip
def test_a_part_beside_the_size_and_a_size_of_one_are_asked_beside_the_count(words: str, code: str) -> None:
    """Priced as drawn, the count alone would leave 3'-0" for a door between two sidelites, or for a pair of them."""
    for heading in ("Remarks", "Type"):
        assert read_remark_of_second(f'"{words}"', heading).get(code) == ["W2"]
    size = '3\'-0"" x 7\'-0""'
    sized = read_bytes(f'Mark,Kind,Qty,Size\nD1,Door,2,"{size}"\nD2,Door,2,"{size} {words}"\n'.encode())
    assert {BASIS, CHANGED} & blocking(sized).keys()


@pytest.mark.parametrize(
    "words",
    [
        "each leaf to have closer",
        "see transom detail",
        "transom bar",
        "same size each floor",
        "single door",
        "single leaf",
        "single unit",
        "seal outside of opening",
    ],
)
def test_what_parts_of_an_opening_have_beside_a_size_puts_no_size_in_doubt(words: str) -> None:
    assert size_in_doubt(words) == ""


def test_a_transom_alone_is_asked_of_a_door_and_not_of_a_window() -> None:
    head, size = "Mark,Kind,Qty,Width,Height,Remarks", "2,36 in,84 in"
    intake = read_bytes(f"{head}\nD1,Door,{size},\nD2,Door,{size},transom\nW1,Window,{size},transom\n".encode())
    assert blocking(intake) == {CHANGED: ["D2"]}
