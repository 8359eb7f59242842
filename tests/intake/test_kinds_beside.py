"""Kinds of opening that stand beside a line's own: in the cell of a size, or alone in a remark or a type.

Source: common practice in schedules, none published; the expected values are what a reader of the sheet would say.
"""

from __future__ import annotations

import pytest

from estimating.intake.asking import BLOCKS_COSTING
from estimating.intake.kind_words import described_kind, other_kind
from estimating.intake.reading import Intake, Options, read_file

HEAD = "Mark,Size,Qty,Remarks\n"
LIST = "Window list,,,\n"


def kinds(intake: Intake) -> list[str]:
    return [str(line.get("kind", "")) for line in intake.lines]


def asked(intake: Intake) -> dict[tuple[str, ...], list[str]]:
    """Choices -> cells of the questions about kinds that stand beside."""
    found = [one for one in intake.questions if one.code == "kind_beside"]
    assert all(one.severity == BLOCKS_COSTING for one in found)
    return {one.choices: list(one.cells) for one in found}


@pytest.mark.parametrize(
    ("cell", "kind"),
    [
        ("3'-0\" x 7'-0\" dr", "door"),
        ("36 in x 84 in DOOR", "door"),
        ("24 in x 36 in louver", "louvre"),
        ('4" pipe', "pipe"),
        ("12 in x 12 in duct", "duct"),
    ],
)
def test_a_size_that_names_another_kind_than_the_title_is_asked_about(cell: str, kind: str) -> None:
    text = f'{LIST}{HEAD}A,36 in x 48 in,2,\nB,"{cell.replace(chr(34), chr(34) * 2)}",3,\n'
    intake = read_file(text.encode())
    assert asked(intake) == {("window", kind): ["B4"]}
    question = next(one for one in intake.questions if one.code == "kind_beside")
    answered = read_file(text.encode(), Options(answers={question.id: kind}))
    assert kinds(answered) == ["window", kind]
    assert not [one for one in answered.questions if one.code == "kind_beside" and one.open]


@pytest.mark.parametrize(
    "cell", ["36 in x 48 in fixed", "36 in x 48 in sliding", "36 in x 48 in window", "36 in x 48 in"]
)
def test_how_a_window_opens_names_no_other_kind(cell: str) -> None:
    intake = read_file(f"{LIST}{HEAD}A,{cell},2,\nB,{cell},1,hung\n".encode())
    assert asked(intake) == {} and kinds(intake) == ["window", "window"]


def test_a_remark_that_is_a_kind_and_nothing_else_is_asked_about() -> None:
    remarks = ("louver", "Door", "above door", "see door list")
    rows = "".join(f"{'ABCD'[n]},36 in x 48 in,2,{remark}\n" for n, remark in enumerate(remarks))
    intake = read_file(f"{LIST}{HEAD}{rows}".encode())
    assert asked(intake) == {("window", "louvre"): ["D3"], ("window", "door"): ["D4"]}
    assert kinds(intake) == ["window"] * 4


def test_remarks_tell_the_kind_where_no_title_does_but_not_of_another_opening() -> None:
    head = "Mark,Width,Height,Qty,Remarks\n"
    sizes = "36 in,48 in,2"
    told = read_file(f"{head}A,{sizes},louver\nB,{sizes},Window\n".encode())
    assert kinds(told) == ["louvre", "window"]
    beside = read_file(f"{head}A,{sizes},above door\nB,{sizes},see door list\n".encode())
    assert kinds(beside) == ["", ""]


def test_a_size_tells_the_kind_where_nothing_else_does() -> None:
    intake = read_file(f"{HEAD}A,36 in x 48 in window,2,\nB,36 in x 84 in door,3,\nC,36 in x 48 in,1,\n".encode())
    assert kinds(intake)[:2] == ["window", "door"]
    assert asked(intake) == {}
    assert [one for one in intake.questions if "kind" in one.code], "of the third line it is still asked"


def test_a_kind_of_its_own_column_goes_before_and_is_asked_about_all_the_same() -> None:
    text = "Mark,Kind,Size,Qty\nA,Window,36 in x 84 in door,2\nB,Door,36 in x 84 in door,2\n"
    assert asked(read_file(text.encode())) == {("window", "door"): ["C2"]}


@pytest.mark.parametrize(
    ("text", "kind", "other"),
    [("sliding door", "door", None), ("sliding", "door", None), ("door", "window", "door"), ("other", "window", None)],
)
def test_the_words(text: str, kind: str, other: str | None) -> None:
    assert other_kind(text, kind) == other


DESCRIBED = (
    ("HM door, single", "door"),
    ("balcony door, ALT. 2", "door"),
    ("O.H. coiling door - by others", "door"),
    ("exist. door & frame", "door"),
    ("door to patio", "door"),
    ("wood dr., pair", "door"),
    ("Balkontür, einflügelig", "door"),
    ("porte métallique", "door"),
    ("alum. louver w/ bird screen", "louvre"),
    ("PTAC sleeve by mech. contr.", "pipe"),
    ("dryer vent", "duct"),
)
OTHER_OPENINGS = (
    "above door", "louver above", "per door list", "see door 101", "door 101", "door type D", "door hardware by others",
    "door head detail", "match entry door", "no door", "w/ sidelite", "w/o door", "next to louver", "between doors",
    "door swing LH", "entry", "sliding", "grilles between glass", "colonial grille", '1 3/4" thick door', "storefront",
)  # fmt: skip


@pytest.mark.parametrize(("words", "kind"), DESCRIBED)
def test_words_that_call_the_opening_another_kind_than_the_title_are_asked_about(words: str, kind: str) -> None:
    """A door in a window list is no window: under remarks it is asked about, under a type it decides."""
    assert described_kind(words, "window") == kind
    remark = read_file(f'{LIST}{HEAD}A,36 in x 48 in,2,\nB,36 in x 84 in,3,"{words}"\n'.encode())
    assert asked(remark) == {("window", kind): ["D4"]}
    typed = read_file(f'{LIST}Mark,Size,Qty,Type\nA,36 in x 48 in,2,fixed\nB,36 in x 84 in,3,"{words}"\n'.encode())
    assert asked(typed) == {} and kinds(typed) == ["window", kind]


@pytest.mark.parametrize("words", OTHER_OPENINGS)
def test_words_of_another_opening_beside_a_line_are_no_kind_of_it(words: str) -> None:
    assert described_kind(words, "window") is None
    text = f'{LIST}{HEAD}A,36 in x 48 in,2,\nB,36 in x 48 in,3,"{words.replace(chr(34), chr(34) * 2)}"\n'
    assert asked(read_file(text.encode())) == {}


def test_a_window_in_a_list_of_doors_is_asked_about_and_the_answer_is_taken() -> None:
    text = "Door list,,,\nMark,Size,Qty,Remarks\nA,36 in x 84 in,2,\nB,36 in x 48 in,3,pass-thru window\n"
    question = next(one for one in read_file(text.encode()).questions if one.code == "kind_beside")
    assert question.choices == ("door", "window") and question.cells == ("D4",)
    assert kinds(read_file(text.encode(), Options(answers={question.id: "window"}))) == ["door", "window"]


@pytest.mark.parametrize("heading", ["Material", "Details", "Frame", "Foo", ""])
def test_words_of_another_kind_are_asked_about_in_a_column_that_no_field_takes(heading: str) -> None:
    rows = "A,36 in x 48 in,2,fixed\nB,36 in x 48 in,2,bath\nC,36 in x 84 in,3,HM door\n"
    assert asked(read_file(f"{LIST}Mark,Size,Qty,{heading}\n{rows}".encode())) == {("window", "door"): ["D5"]}


@pytest.mark.parametrize(
    ("mark", "kind"), [("Door 3", "door"), ("HM door", "door"), ("DOOR-1", "door"), ("LOUVER A", "louvre"), ("D-1", "")]
)
def test_a_mark_that_names_another_kind_is_asked_about(mark: str, kind: str) -> None:
    intake = read_file(f"{LIST}{HEAD}A,36 in x 48 in,2,\nB,36 in x 48 in,2,\n{mark},36 in x 84 in,3,\n".encode())
    assert asked(intake) == ({("window", kind): ["A5"]} if kind else {})


@pytest.mark.parametrize(
    ("marks", "cells"),
    [
        (("W1", "D1", "L1"), {("window", "door"): ["A4"], ("window", "louvre"): ["A5"]}),
        (("W-1", "W-2", "DR-1"), {("window", "door"): ["A5"]}),
        (("A1", "B1", "D1"), {}),  # letters of types
        (("D1", "D2", "L1"), {}),
        (("W1", "W2", "P1"), {}),
    ],
)
def test_a_letter_that_tells_another_kind_than_the_title_is_asked_about(
    marks: tuple[str, ...], cells: dict[tuple[str, ...], list[str]]
) -> None:
    rows = "".join(f"{mark},36 in x 48 in,2,\n" for mark in marks)
    assert asked(read_file(f"{LIST}{HEAD}{rows}".encode())) == cells


def test_a_letter_tells_nothing_where_the_line_names_its_kind() -> None:
    assert asked(read_file(b"Mark,Kind,Size,Qty\nW1,window,36 in x 48 in,2\nD1,window,36 in x 84 in,1\n")) == {}
