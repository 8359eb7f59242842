"""Doubts about a whole schedule: storeys that break repetition, density, interior flags, hidden rows and sheets."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from estimating.core.schedule_reading import Reading, read_lines
from estimating.intake.asking import Asker
from estimating.intake.checks import Context, number_shapes
from estimating.intake.checks_whole import check_density, quartiles
from estimating.intake.draft import Draft
from estimating.intake.questions import Question
from estimating.intake.reading import Intake, Options, read_file
from estimating.intake.report import make_report
from estimating.outputs.assumptions.of_reading import settled_in
from rates.core.units import AREA_NM2
from tests.intake.workbooks import workbook

HEAD = ["MARK", "QTY", "WIDTH (IN)", "HEIGHT (IN)", "LEVEL", "EXTERIOR", "ACCESS"]


def csv(*rows: str) -> Intake:
    return read_file("\n".join([",".join(HEAD), *rows]).encode())


def asked(intake: Intake, code: str) -> list[Question]:
    return [question for question in intake.questions if question.code == code]


@pytest.mark.parametrize(("odd", "count"), [("W1,9,36,48,L3,yes,lift", 9), (None, 0)])
def test_a_storey_that_breaks_the_repetition(odd: str | None, count: int) -> None:
    rows = [f"W1,4,36,48,L{n},yes,lift" for n in (1, 2, 4, 5, 6)] + [f"W2,1,30,48,L{n},yes,lift" for n in range(1, 7)]
    found = asked(csv(*rows, *([odd] if odd else [])), "storey_breaks_repetition")
    assert len(found) == 1 and f"4 on 5 storeys and {count} on L3" in found[0].sentence
    assert found[0].cells


def test_repetition_without_a_break_is_not_asked_about() -> None:
    assert asked(csv(*(f"W1,4,36,48,L{n},yes,lift" for n in range(1, 9))), "storey_breaks_repetition") == []


def test_all_interior_and_unknown() -> None:
    assert asked(csv("W1,1,36,48,L1,no,lift", "W2,1,30,48,L1,no,lift"), "all_interior")
    unknown = csv("W1,1,36,48,L1,yes,lift", "W2,1,30,48,L1,,lift")
    assert asked(unknown, "external_unknown")[0].cells == ("F3",)
    assert "external" not in unknown.lines[1]
    assert asked(csv("W1,1,36,48,L1,,lift"), "external_unknown") == []  # no line knows: nothing is odd


def test_quartiles_of_known_numbers() -> None:
    # 1 to 9: the quarters lie at the third and seventh number
    numbers = [Fraction(n) for n in range(1, 10)]
    assert quartiles(numbers) == (3, 7)


@pytest.mark.parametrize(("quantity", "doubt"), [(10, False), (13, False), (40, True), (1, True)])
def test_density_outliers_against_past_jobs(quantity: int, doubt: bool) -> None:
    line: dict[str, Any] = {"mark": "W1", "quantity": quantity, "width": "36 in", "height": "48 in"}
    wall = 100 * AREA_NM2["m2"]
    past = tuple(Fraction(n) / wall for n in (8, 9, 10, 11, 12))
    asker = Asker()
    reads = reads_of(line)
    check_density(Context(reads[0], reads[1], asker, lambda index, name: "", True), wall, past)
    assert bool(asker.questions) is doubt
    quiet = Asker()
    check_density(Context(reads[0], reads[1], quiet, lambda index, name: "", True), wall, past[:4])
    assert quiet.questions == []


def reads_of(line: dict[str, Any]) -> tuple[Any, Any]:
    """Drafts and core lines of one line."""
    reading = Reading(None, False)
    found = read_lines(reading, [line], "")
    return [Draft(line, 0, 0)], number_shapes(found, list(reading.kinds))


def test_hidden_rows_are_counted_and_asked_about_and_hidden_sheets_left_out() -> None:
    def hide(sheets: dict[str, Any]) -> None:
        sheets["Windows"].set_row(2, None, None, {"hidden": True})
        sheets["Old"].hide()

    lines = [["W1", 1, 36, 48, "L1", "yes", "lift"], ["W2", 1, 30, 48, "L1", "yes", "lift"]]
    data = workbook({"Windows": [HEAD, *lines], "Old": [HEAD, ["W9", 1, 36, 48]]}, hide)
    intake = read_file(data)
    assert [(line["mark"], line.get("excluded")) for line in intake.lines] == [
        ("W1", None),
        ("W2", None),
        ("W9", {"reason": "on the hidden sheet Old"}),
    ]
    assert asked(intake, "hidden_rows")[0].cells == ("Windows!row 3",)
    (sheet,) = asked(intake, "hidden_sheet_used")
    assert {asked(intake, "hidden_rows")[0].severity, sheet.severity} == {"blocks_costing"}
    used = read_file(data, Options(answers={sheet.id: "use"}))
    assert [line["mark"] for line in used.lines if "excluded" not in line] == ["W1", "W2", "W9"]


def test_a_file_with_more_doubts_than_can_be_shown_says_how_many() -> None:
    rows = [f"W{n},1,{width},48,L{n},yes,lift" for n in range(2_500) for width in (36, 40)]
    intake = csv(*rows)  # each mark has two sizes, which is a question for each
    (last,) = asked(intake, "more_questions")
    assert last.severity == "blocks_costing" and last.sentence.startswith("And 501 more questions")  # the kind too
    assert len([question for question in intake.questions if question.open]) == 2_001  # and the count of the rest


def test_two_sizes_that_print_alike_are_told_apart_exactly() -> None:
    data = (",".join(HEAD) + "\nW1,1,36,48,L1,yes,lift\nW1,1,36.001,48,L2,yes,lift\n").encode()
    question = asked(read_file(data), "mark_of_two_sizes")[0]
    assert question.choices == ("914.4 mm x 1219.2 mm", "914.4254 mm x 1219.2 mm", "all_right")
    after = read_file(data, Options(answers={question.id: question.choices[0]}))
    assert [line["width"] for line in after.lines] == ["36 in", "36 in"]
    apart = read_file(data, Options(answers={question.id: "all_right"}))
    assert [line["mark"] for line in apart.lines] == [f"W1 ({size})" for size in question.choices[:2]]
    assert asked(apart, "mark_of_two_sizes")[0].answer == "all_right"


def test_one_mark_for_a_window_and_a_door_is_told_apart() -> None:
    lines = {kind: [HEAD, ["1", 1, width, 80, "L1", "yes", "lift"]] for kind, width in (("Windows", 36), ("Doors", 40))}
    intake = read_file(workbook(lines))
    assert [line["mark"] for line in intake.lines] == ["window 1", "door 1"]
    assert asked(intake, "mark_of_two_kinds")[0].cells == ("Windows!A2", "Doors!A2")
    assert asked(intake, "mark_of_two_sizes") == []


def test_an_alternate_is_asked_how_it_is_reached_and_its_door_what_is_treated() -> None:
    """An alternate has a price of its own: left unasked, it would be priced from the ground, without a word."""
    rows = ["MARK,KIND,QTY,WIDTH (IN),HEIGHT (IN),NOTES", "W1,window,4,36,48,", "D1,door,2,40,86,Alternate No. 2"]
    text = "\n".join(rows).encode()
    words = next(one for one in read_file(text).questions if one.code.startswith("alternate"))
    answered = read_file(text, Options(answers={words.id: "alternate"}))
    assert [line.get("alternate") is not None for line in answered.lines] == [False, True]
    (access,) = asked(answered, "access_missing")
    assert "No access is given for 6 openings on 2 lines" in access.sentence
    (sides,) = asked(answered, "door_sides")
    assert "No sides are given for 2 doors" in sides.sentence


@pytest.mark.parametrize(
    ("heads", "title", "open_tables"),
    [
        (("WIDTH", "HEIGHT"), "Windows", [0]),
        (("RO WIDTH", "RO HEIGHT"), "Windows", []),
        (("WIDTH", "HEIGHT"), "All sizes are R.O. sizes", []),
        (("FRAME WIDTH", "FRAME HEIGHT"), "Windows", []),  # asked about instead
    ],
)
def test_a_schedule_that_says_nowhere_of_what_its_sizes_are_is_told(
    heads: tuple[str, str], title: str, open_tables: list[int]
) -> None:
    """Taken as a rough opening without a word, a frame size makes every piece too short."""
    text = "\n".join([title, f"MARK,QTY,{heads[0]},{heads[1]}", "W1,4,36 in,48 in", "W2,2,30 in,48 in"]).encode()
    intake = read_file(text)
    report = make_report(intake, [])
    assert report["without_basis"] == open_tables
    assert bool(asked(intake, "size_basis")) == (heads[0] == "FRAME WIDTH")
    told = [one for one in settled_in(report, [4, 2], lambda length: str(length)) if one.field == "size_basis"]
    assert [(one.value, one.source, one.openings) for one in told] == [("rough", "default", 6) for _ in open_tables]


def gap_of(*marks: str) -> str:
    """What is asked about missing numbers of these marks."""
    found = asked(csv(*(f"{mark},1,36,48,L1,yes,ground" for mark in marks)), "gap_in_marks")
    return found[0].sentence if found else ""


def test_a_number_that_stands_with_a_letter_is_not_missing() -> None:
    """W3 was asked for though W3A and W3B stood there."""
    assert gap_of("W1", "W2", "W3A", "W3B", "W4") == ""
    assert "lack W3." in gap_of("W1", "W2", "W4") and "lack W4." in gap_of("W1", "W2", "W3-A", "W5", "W6", "W7")
    assert "W1 to W5 lack W3." in gap_of("W1", "W2", "W4", "W5", "W7A")
