"""From a person's file to a price by the command: its questions written to a file, filled in, and taken as answers."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.core.command_line import run

SHEET = (
    "WINDOW SCHEDULE\n"
    "MARK,QTY,WIDTH,HEIGHT,LEVEL,ELEVATION,ACCESS\n"
    "W1,4,36,48,L1,North,\n"
    "W2,?,36,60,L2,North,\n"
    "W3,2 TYP x 3,30,60,L2,South,rope\n"
)
JSON_LINES: list[dict[str, Any]] = [
    {"mark": "W1", "quantity": 4, "width": "36 in", "height": "48 in", "storey": "L1", "access": "ground"},
    {"mark": "W2", "quantity": 5, "width": "36 in", "height": "60 in", "storey": "L2", "access": "lift"},
    {"mark": "W3", "quantity": 6, "width": "30 in", "height": "60 in", "storey": "L2", "access": "lift"},
]


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    path = tmp_path / "windows.csv"
    path.write_text(SHEET)
    return path


def fill(path: Path, **answers: Any) -> list[dict[str, Any]]:
    """Fills in the open questions by code; gives them."""
    document = json.loads(path.read_text())
    for question in document["questions"]:
        if question["answer"] is None:
            question["answer"] = answers.get(question["code"])
    path.write_text(json.dumps(document))
    found: list[dict[str, Any]] = document["questions"]
    return found


def priced(*arguments: str | Path) -> Any:
    ended = run(*arguments, "--json")
    assert ended.status == 0, ended.err
    return json.loads(ended.out)


def test_a_persons_file_goes_to_a_price_by_its_answers(sheet: Path, tmp_path: Path) -> None:
    answers = tmp_path / "answers.json"
    first = run(sheet, "--questions", answers)
    assert first.status == 1 and f"written to {answers}" in first.err
    given = {"unit_unknown": "in", "quantity_unknown": 5, "typical_count": "multiplied"}
    severities = {q["code"]: q["severity"] for q in fill(answers, **given)}
    assert severities == dict.fromkeys(given, "blocks_costing") | {"access_unknown": "blocks_issue"}
    again = run(sheet, "--answers", answers, "--questions", answers)  # prices, and asks what is newly open
    assert again.status == 0 and "question: blocks_issue: No access is given" in again.err
    questions = fill(answers, access_unknown="lift")
    asked = next(question for question in questions if question["code"] == "access_missing")
    assert [line["line"] for line in asked["lines"]] == ["W1, L1, North", "W2, L2, North"]
    document = json.loads(answers.read_text())
    document["rules"] = [
        {"rule": {"code": "access_missing", "storey": storey}, "answer": answer}
        for storey, answer in (("L1", "ground"), ("L2", "lift"))
    ]
    answers.write_text(json.dumps(document))
    path = tmp_path / "lines.json"
    path.write_text(
        json.dumps([line | {"elevation": "North" if line["mark"] < "W3" else "South"} for line in JSON_LINES])
    )
    left, right = priced(sheet, "--answers", answers), priced(path)
    assert left["totals"] == right["totals"] and left["build_up"] == right["build_up"]


def test_refused_questions_show_choices_and_the_way_to_answer(sheet: Path) -> None:
    ended = run(sheet)
    assert ended.status == 1
    assert "blocks_costing: In which unit" in ended.err and "Answers: in | ft | mm" in ended.err
    assert "needs its width" not in ended.err  # the question says it
    assert "How many are there" in ended.err and "set_aside | no_opening | a whole number." in ended.err
    assert ended.err.splitlines()[-1].startswith("Write the questions to a file with --questions FILE")


def test_a_file_of_answers_is_not_written_over(sheet: Path, tmp_path: Path) -> None:
    answers = tmp_path / "answers.json"
    answers.write_text("{}")
    ended = run(sheet, "--questions", answers)
    assert (ended.status, answers.read_text()) == (2, "{}")
    assert "exists already" in ended.err


@pytest.mark.parametrize(
    ("document", "told"),
    [
        ("[]", ":1:1: this answers is no JSON object"),
        ('{"questions": [{"answer": "in"}]}', ":1:16: /questions/0/id: id is needed"),
        ('{"questions": [{"id": "x", "answer": true}]}', ":1:38: /questions/0/answer: a number is expected"),
        ('{"rules": [{"rule": {"code": "unit_unknown", "column": "Z"}, "answer": "in"}]}',
         ":1:12: /rules/0: this rule answers nothing"),
        ('{"rules": [{"rule": {"code": "unit_unknown"}, "answer": "rod"}]}', ":1:12: /rules/0: 'rod' is no unit"),
        ("{", ":1:2: "),
    ],
)  # fmt: skip
def test_answers_that_cannot_be_taken_are_faults_of_their_file(
    sheet: Path, tmp_path: Path, document: str, told: str
) -> None:
    answers = tmp_path / "answers.json"
    answers.write_text(document)
    ended = run(sheet, "--answers", answers)
    assert ended.status == 1 and f"{answers}{told}" in ended.err, ended.err


def test_answers_to_nothing_are_told(sheet: Path, tmp_path: Path) -> None:
    answers = tmp_path / "answers.json"
    run(sheet, "--questions", answers)
    fill(answers, unit_unknown="in", quantity_unknown="5", typical_count="multiplied")
    sheet.write_text(SHEET.replace("W2,?,", "W2,5,"))
    ended = run(sheet, "--answers", answers)
    assert ended.status == 0
    assert f"Not asked any more, and not used: 1 answer of {answers}." in ended.err
