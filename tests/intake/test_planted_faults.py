"""A schedule with 25 planted faults gets 25 findings, each with its cell; an answer holds until its line changes."""

from __future__ import annotations

import io
from collections.abc import Mapping, Sequence
from typing import Any

import xlsxwriter

from estimating.intake.questions import Question
from estimating.intake.reading import Intake, Options, read_file

HEAD = ["mark", "quantity", "width_in", "height_in", "storey", "kind", "access", "external", "sides"]
GOOD = [2, 36, 48, "Level 1", "window", "ground", "yes", "all"]
# planted fault -> (row's values that differ from GOOD by column, cell of the finding, code, an answer)
PLANTED: list[tuple[str, dict[int, object], str, str, str]] = [
    ("W02", {1: ""}, "B", "quantity_unknown", "3"),
    ("W03", {1: "several"}, "B", "quantity_unreadable", "4"),
    ("W04", {1: "-1"}, "B", "quantity_unreadable", "1"),
    ("W05", {1: "2.5"}, "B", "quantity_unreadable", "2"),
    ("W06", {2: ""}, "C", "size_unknown", "36 in"),
    ("W07", {3: "TBD"}, "D", "size_unknown", "set_aside"),
    ("W08", {2: "wide"}, "C", "size_unreadable", "36 in"),
    ("W09", {3: "0"}, "D", "size_unknown", "48 in"),
    ("W10", {2: "4,800"}, "C", "decimal_comma", "decimal"),
    ("W11", {2: "4 9/8"}, "C", "size_unreadable", "5 1/8 in"),
    ("W12", {2: "1"}, "C", "size_out_of_band", "as_read"),
    ("W13", {3: "800"}, "D", "size_out_of_band", "as_read"),
    ("W14", {5: "oculus"}, "F", "kind_unknown", "window"),
    ("W15", {6: "rope"}, "G", "access_unknown", "lift"),
    ("W16", {7: "maybe"}, "H", "external_word", "exterior"),
    ("W17", {4: "2-4"}, "E", "typical_storeys", "on_each"),
    ("W18", {1: "2 TYP x 3"}, "B", "typical_count", "multiplied"),
    ("W19", {5: "storefront window"}, "F", "scope_words", "set_aside"),
    ("W20", {2: "84", 3: "40", 5: "door"}, "C", "width_height_swapped", "swap"),
    ("W21", {3: "DATE"}, "D", "size_unreadable", "6'-8\""),
    ("W22", {3: "FORMULA"}, "D", "size_unreadable", "48 in"),
    ("W23", {8: "underside"}, "I", "sides_unknown", "sill"),
    ("W25", {}, "row ", "duplicate_line", "keep_first"),  # stands twice, and W24 is missing before it
    ("W26", {2: "40"}, "C", "mark_of_two_sizes", "3'-4\" x 4'-0\""),  # once more with 36 in
]
GAP = "gap_in_marks"


def rows() -> list[list[object]]:
    made: list[list[object]] = [["W01", *GOOD]]
    for mark, differing, _, code, _ in PLANTED:
        row: list[object] = [mark, *GOOD]
        for column, value in differing.items():
            row[column] = value
        made.append(row)
        if code == "duplicate_line":
            made.append([mark, *GOOD])
        if code == "mark_of_two_sizes":
            made.append([mark, *GOOD[:3], "Level 2", *GOOD[4:]])
    return made


def book(lines: list[list[object]]) -> bytes:
    held = io.BytesIO()
    with xlsxwriter.Workbook(held, {"in_memory": True}) as made:
        sheet = made.add_worksheet("Openings")
        day = made.add_format({"num_format": "d-mmm"})
        sheet.write_row(0, 0, HEAD)
        for r, row in enumerate(lines, 1):
            for c, value in enumerate(row):
                if value == "DATE":
                    sheet.write_number(r, c, 46181, day)  # 8 June 2026
                elif value == "FORMULA":
                    sheet.write_formula(r, c, "=A1+1", None, "")
                elif isinstance(value, int):
                    sheet.write_number(r, c, value)
                elif value != "":
                    sheet.write_string(r, c, str(value))
    return held.getvalue()


def open_questions(intake: Intake) -> list[Question]:
    return [question for question in intake.questions if question.open]


def read(lines: list[list[object]], answers: Mapping[str, str] | None = None) -> Intake:
    return read_file(book(lines), Options(answers=answers or {}))


def cell_of(mark: str, column: str, lines: list[list[object]]) -> str:
    found = [i for i, line in enumerate(lines) if line[0] == mark]
    row = (found[-1] if column == "row " else found[0]) + 2  # it is the repetition that is asked about
    return f"Openings!{column}{row}"


def planned_for(question: Question, cells: Sequence[str], lines: list[list[object]]) -> list[str]:
    """The planned answers of a question for its cells, found by its code; its first choice where none is planned."""
    planned = {(code, cell_of(mark, column, lines)): answer for mark, _, column, code, answer in PLANTED}
    return [planned.get((question.code, cell)) or question.choices[0] for cell in cells]


def answers_for(intake: Intake, lines: list[list[object]]) -> dict[str, str]:
    """The planned answer of each open question, or of each line where a question is about lines of one cause."""
    found: dict[str, str] = {}
    for question in open_questions(intake):
        keys = question.keys or (question.id,)
        cells = question.cells if len(question.cells) == len(keys) else question.cells[:1] * len(keys)
        found |= dict(zip(keys, planned_for(question, cells, lines), strict=True))
    return found


def answers_by_line(intake: Intake, lines: list[list[object]]) -> list[dict[str, Any]]:
    """The planned answers as a request gives them: to a question, or to each line of it."""
    planned = answers_for(intake, lines)
    return [
        {"question": question.id, "answer": planned[key]} | ({"line": line} if question.keys else {})
        for question in open_questions(intake)
        for line, key in zip(question.lines if question.keys else (-1,), question.keys or (question.id,), strict=True)
    ]


def test_25_planted_faults_give_25_findings_each_with_its_cell() -> None:
    lines = rows()
    findings = open_questions(read(lines))
    expected = sorted([(code, cell_of(mark, column, lines)) for mark, _, column, code, _ in PLANTED])
    gap = (GAP, cell_of("W23", "A", lines))
    found = [(q.code, cell) for q in findings for cell in (q.cells if q.keys else q.cells[:1])]
    assert sorted(found) == sorted([*expected, gap]) and len(found) == 25
    assert len(findings) == 18  # lines of one cause share a question
    assert all(question.sentence.endswith(("?", ".")) and question.choices for question in findings)


def test_answers_settle_every_question() -> None:
    lines = rows()
    after = read(lines, answers_for(read(lines), lines))
    assert open_questions(after) == [] and after.refused_answers == ()
    by_mark = {line["mark"]: line for line in after.lines}
    assert [by_mark[mark]["quantity"] for mark in ("W02", "W03", "W04", "W05", "W18")] == [3, 4, 1, 2, 6]
    assert [by_mark[mark]["width"] for mark in ("W06", "W08", "W10", "W11")] == [
        "36 in",
        "36 in",
        "4.800 in",
        "5 1/8 in",
    ]
    assert by_mark["W19"]["excluded"] == {"reason": "storefront window"} and by_mark["W23"]["sides"] == ["sill"]
    assert by_mark["W07"]["excluded"] == {"reason": "size unknown"}
    assert (by_mark["W20"]["width"], by_mark["W20"]["height"]) == ("40 in", "84 in")
    assert by_mark["W21"]["height"] == "6'-8\""
    assert {line["width"] for line in after.lines if line["mark"] == "W26"} == {"40 in"}
    assert [line["storey"] for line in after.lines if line["mark"] == "W17"] == ["2", "3", "4"]


def test_the_next_revision_asks_only_about_what_changed() -> None:
    lines = rows()
    answers = answers_for(read(lines), lines)
    next_issue = rows()
    next_issue.insert(0, ["W00", *GOOD])  # every row moves down, nothing else of them changes
    assert open_questions(read(next_issue, answers)) == []
    moved = next(line for line in next_issue if line[0] == "W12")
    moved[2] = "2"  # still out of band, another size
    placed = next(line for line in next_issue if line[0] == "W14")
    placed[4] = "Level 2"  # the same doubt at another place
    asked = {(question.code, question.cells[0]) for question in open_questions(read(next_issue, answers))}
    assert asked == {
        ("size_out_of_band", cell_of("W12", "C", next_issue)),
        ("kind_unknown", cell_of("W14", "F", next_issue)),
    }


def test_an_answer_that_fits_no_choice_is_refused_and_changes_nothing() -> None:
    lines = rows()
    first = read(lines)
    question = next(question for question in first.questions if question.code == "access_unknown")
    after = read(lines, {question.id: "by balloon"})
    assert after.refused_answers[0][0] == question.id
    assert after.lines == first.lines
