"""A request's answers told in the keys of a revision's lines; reports that were stored before there were such keys."""

from __future__ import annotations

from typing import Any

from estimating.intake.answer_rules import Rule
from estimating.intake.given_answers import Saying, TakeBack, read_given
from estimating.intake.questions import Kept
from estimating.intake.reading import Options, read_file
from estimating.intake.report import kept_of, make_report

SHEET = b"MARK,QTY,WIDTH,HEIGHT,LEVEL\nW1,2,36 in,48 in,L1\nW2,1,48 in,48 in,L2\n"


def report_of(**more: Any) -> dict[str, Any]:
    return make_report(read_file(SHEET, Options(**more)), [])


def access(report: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = next(q for q in report["questions"] if q["code"] == "access_missing")
    return found


def test_a_question_is_told_in_the_keys_of_its_lines_and_a_line_counts_more() -> None:
    report = report_of()
    question = access(report)
    told = [Saying("lift", question["id"], 1, pointer="/1"), Saying("ground", question["id"], pointer="/0")]
    given = read_given(report, told, [])
    assert given.faults == []
    assert [given.answers[key] for key in question["keys"]] == ["ground", "lift"]
    assert [given.pointers[key] for key in question["keys"]] == ["/0", "/1"]


def test_what_is_taken_back_and_answered_at_once_is_a_fault() -> None:
    first = access(report_of())
    report = report_of(answers=dict.fromkeys(first["keys"], "lift"))
    question = access(report)
    given = read_given(report, [Saying("stage", question["id"])], [TakeBack(question["id"], pointer="/take_back/0")])
    assert [(fault.pointer, fault.code) for fault in given.faults] == [("/take_back/0", "given_twice")]
    assert read_given(report, [], [TakeBack(question["id"])]).gone == set(question["keys"])


def test_a_report_of_old_gives_its_answers_by_question_and_takes_one_for_all_lines_that_ask_the_same() -> None:
    old = report_of()
    for question in old["questions"]:
        question.pop("keys", None)
    del old["kept"], old["rules"], old["edits"]
    old["answers"] = {"columns-id": "confirm"}
    assert kept_of(old) == {"columns-id": Kept("confirm")}
    given = read_given(old, [Saying("lift", access(old)["id"], pointer="/answers/0")], [])
    assert given.faults == [] and given.rules == [Rule("access_missing", "lift")]
    after = read_file(SHEET, Options(given.answers, given.rules, kept_of(old)))
    assert [line["access"] for line in after.lines] == ["lift", "lift"]
