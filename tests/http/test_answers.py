"""Answers over HTTP: whole, by line, by rule, many at once, looked at first, taken back; who may (invented sheets)."""

from __future__ import annotations

from typing import Any

import pytest

from estimating.models import KeptColumns, ScheduleRevision
from rates.roles import Role
from tests.cast import Api, Office, make_person

HEAD = "MARK,QTY,WIDTH,HEIGHT,LEVEL,ELEVATION,KIND\n"
SHEET = HEAD + (
    "W1,4,36 in,48 in,L1,North,window\n"
    "W2,2,36 in,60 in,L2,North,window\n"
    "D1,1,40 in,86 in,L1,South,door\n"
    "W3,1,300 mm,300 mm,L2,South,louvre\n"
)
MORE = "W7,3,30 in,48 in,L2,East,window\n"


class Sheet:
    """A schedule in a project, and what is asked of it."""

    def __init__(self, api: Api, text: str = SHEET, path: str = "") -> None:
        self.api = api
        self.path = path or f"{api.post('/v1/projects', {'name': 'Hall'}).headers['Location']}/opening-schedules"
        made = api.post(self.path, text, Content_Type="text/csv")
        assert made.status_code == 201, made.content
        self.at = made.headers["Location"]

    def questions(self, code: str = "", open: bool = True) -> list[dict[str, Any]]:
        found = self.api.get(f"{self.at}/questions?limit=500" + ("&open=true" if open else "")).json()["items"]
        return [question for question in found if code in ("", question["code"])]

    def send(self, body: Any, part: str = "answers", api: Api | None = None) -> Any:
        return (api or self.api).post(f"{self.at}/{part}", body)

    def answer(self, body: Any, part: str = "answers") -> Any:
        """The answer's document; the sheet is then its new revision."""
        made = self.send(body, part)
        assert made.status_code == 201, made.content
        self.at = made.headers["Location"]
        return made.json()

    def lines(self) -> list[dict[str, Any]]:
        found: list[dict[str, Any]] = self.api.get(f"{self.at}/openings?limit=500").json()["items"]
        return found

    def report(self) -> dict[str, Any]:
        found: dict[str, Any] = self.api.get(f"{self.at}/report").json()
        return found


@pytest.fixture
def sheet(api: Api) -> Sheet:
    return Sheet(api)


def faults(answer: Any) -> list[tuple[str, str]]:
    assert answer.status_code == 422, answer.content
    return [(error["pointer"], error["code"]) for error in answer.json()["errors"]]


def access(lines: list[dict[str, Any]]) -> dict[str, str]:
    return {line["mark"]: line.get("access", "") for line in lines}


def test_a_question_is_answered_whole_or_by_line_and_the_line_counts_more(sheet: Sheet, office: Office) -> None:
    (question,) = sheet.questions("access_missing")
    assert (question["lines"], question["openings"]) == ([0, 1, 2, 3], 8)
    told = sheet.answer(
        {"answers": [{"question": question["id"], "answer": "ground"},
                     {"question": question["id"], "line": 1, "answer": "lift"}]}
    )  # fmt: skip
    assert access(sheet.lines()) == {"W1": "ground", "W2": "lift", "D1": "ground", "W3": "ground"}
    assert [(s["code"], s["settled"], s["left"]) for s in told["settled"]] == [("access_missing", 4, 0)]
    assert told["asked"] == []
    answered = {q["answer"]: q for q in sheet.questions("access_missing", open=False)}
    assert {answer: q["lines"] for answer, q in answered.items()} == {"ground": [0, 2, 3], "lift": [1]}
    assert {q["answered_by"] for q in answered.values()} == {str(office.drafter)}


def test_many_answers_in_one_request_and_a_rule_that_only_proposes_to_later_lines(sheet: Sheet) -> None:
    rule = {"code": "access_missing", "storey": "L2"}
    sides = sheet.questions("door_sides")[0]["id"]
    sheet.answer(
        {"answers": [{"rule": rule, "answer": "lift"}, {"question": sides, "answer": "jambs_and_head"}]}
    )  # fmt: skip
    assert access(sheet.lines()) == {"W1": "", "W2": "lift", "D1": "", "W3": "lift"}
    assert sheet.lines()[2]["sides"] == ["jambs", "head"]
    (kept,) = sheet.report()["rules"]
    assert (kept["code"], kept["storey"], kept["answer"], kept["by_name"]) == (
        "access_missing",
        "L2",
        "lift",
        "Drafter",
    )
    later = Sheet(sheet.api, SHEET + MORE, sheet.path)
    assert access(later.lines()) == {"W1": "", "W2": "lift", "D1": "", "W3": "lift", "W7": ""}
    waiting = {tuple(q["lines"]): (q["proposed"], q["choices"][0]) for q in later.questions("access_missing")}
    assert waiting == {(0, 2): (None, "ground"), (4,): ("lift", "lift")}
    assert later.questions("door_sides") == []


def test_an_answer_is_taken_back_by_question_by_line_and_by_rule(sheet: Sheet) -> None:
    rule = {"code": "access_missing", "elevation": "north"}
    sheet.answer({"answers": [{"rule": rule, "answer": "swing_stage"}]})
    rest = sheet.questions("access_missing")[0]["id"]
    sheet.answer({"answers": {rest: "ground"}})
    assert access(sheet.lines()) == {"W1": "swing_stage", "W2": "swing_stage", "D1": "ground", "W3": "ground"}
    ground = next(q["id"] for q in sheet.questions("access_missing", open=False) if q["answer"] == "ground")
    told = sheet.answer({"take_back": [{"question": ground, "line": 3}]})
    assert access(sheet.lines()) == {"W1": "swing_stage", "W2": "swing_stage", "D1": "ground", "W3": ""}
    assert [(a["code"], a["lines"], a["because"]) for a in told["asked"]] == [("access_missing", 1, ["taken_back"])]
    sheet.answer({"take_back": [{"rule": sheet.report()["rules"][0]["id"]}]})
    assert access(sheet.lines()) == {"W1": "", "W2": "", "D1": "ground", "W3": ""}
    assert sheet.report()["rules"] == []
    assert [q["proposed"] for q in sheet.questions("access_missing")] == [None]
    gone = sheet.send({"take_back": [{"question": sheet.questions("access_missing")[0]["id"]}, {"rule": "rule-x"}]})
    assert faults(gone) == [("/take_back/0", "not_answered"), ("/take_back/1", "not_found")]


def test_confirmed_columns_are_taken_back_for_the_company_too(api: Api, office: Office) -> None:
    text = "Mark,Total,Width,Height,Head\nW1,4,36 in,48 in,L1\n"
    sheet = Sheet(api, text)
    (question,) = sheet.questions("columns")
    sheet.answer({"answers": {question["id"]: "confirm"}})
    assert KeptColumns.objects.of(office.company).count() == 1
    assert Sheet(api, text).questions("columns") == []
    sheet.answer({"take_back": [{"question": question["id"]}]})
    assert [q["id"] for q in sheet.questions("columns")] == [question["id"]]
    assert not KeptColumns.objects.of(office.company).exists()
    assert len(Sheet(api, text).questions("columns")) == 1


def test_a_look_ahead_shows_sizes_before_and_after_and_stores_nothing(api: Api, office: Office) -> None:
    # inches for a column that holds millimetres make a 300 x 300 louvre 25 ft wide
    sheet = Sheet(api, "MARK,QTY,WIDTH,HEIGHT,ACCESS\nW1,2,36,48,ground\nL1,1,300,300,ground\n")
    revisions = ScheduleRevision.objects.of(office.company).count()
    units = [q["id"] for q in sheet.questions("unit_unknown")]
    assert len(units) == 1  # both columns are asked about together
    seen = sheet.send({"answers": dict.fromkeys(units, "in"), "preview": True})
    assert seen.status_code == 200, seen.content
    told = seen.json()
    assert (told["preview"], told["lines"], told["openings"]) == (True, 2, 3)
    assert told["before"] == {"smallest": None, "largest": None}
    assert told["after"]["smallest"] == {"line": 0, "mark": "W1", "size": "3'-0\" x 4'-0\""}
    assert told["after"]["largest"] == {"line": 1, "mark": "L1", "size": "25'-0\" x 25'-0\""}
    assert [(e["mark"], e["before"].get("width"), e["after"]["width"]) for e in told["examples"]] == [
        ("W1", None, "36 in"), ("L1", None, "300 in"),
    ]  # fmt: skip
    by_rule = [{"rule": {"code": "unit_unknown", "column": column}, "answer": "mm"} for column in "CD"]
    told = sheet.send({"answers": by_rule, "preview": True}).json()
    assert told["after"]["largest"]["size"] == '11 13/16" x 11 13/16"'  # 300 mm
    assert ScheduleRevision.objects.of(office.company).count() == revisions
    assert api.get("/v1/audit?action=answer-schedule-questions").json()["items"] == []


def test_what_is_newly_asked_names_the_answer_it_comes_from(api: Api) -> None:
    rows = "W1,x,36 in,48 in,ground\nW2,1,84,40 in,ground\nW2,1,84,40 in,ground\n"
    sheet = Sheet(api, f"MARK,QTY,WIDTH,HEIGHT,ACCESS\n{rows}")
    asked = {q["code"]: q["id"] for q in sheet.questions()}
    said = {asked["quantity_unreadable"]: "2", asked["unit_unknown"]: "in"}
    told = sheet.answer({"answers": said})
    assert {s["code"] for s in told["settled"]} == {"quantity_unreadable", "unit_unknown"}
    because = {a["code"]: a["because"] for a in told["asked"]}
    assert because["duplicate_line"] == [asked["unit_unknown"]]


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        ({"answers": [{"answer": "x"}]}, [("/answers/0", "question_or_rule")]),
        ({"answers": [{"question": "no-such", "answer": "x"}]}, [("/answers/0", "not_found")]),
        ({"answers": [{"question": "ACCESS", "line": 77, "answer": "lift"}]}, [("/answers/0", "not_found")]),
        ({"answers": [{"question": "COLUMNS", "line": 0, "answer": "confirm"}]}, [("/answers/0", "not_by_line")]),
        ({"answers": [{"question": "ACCESS", "answer": "balloon"}]}, [("/answers/0", "answer_does_not_fit")]),
        ({"answers": [{"rule": {"code": "access_missing"}, "answer": "balloon"}]},
         [("/answers/0", "answer_does_not_fit")]),
        ({"answers": [{"rule": {"code": "access_missing", "storey": "L9"}, "answer": "lift"}]},
         [("/answers/0", "touches_nothing")]),
        ({"answers": [{"rule": {"code": "x", "height_from": "10"}, "answer": "lift"}]},
         [("/answers/0/rule/height_from", "unit_missing")]),
        ({"answers": [{"question": "ACCESS", "line": 1, "answer": "lift"},
                      {"question": "ACCESS", "line": 1, "answer": "swing_stage"}]}, [("/answers/1", "given_twice")]),
        ({"answers": [{"rule": {"code": "access_missing", "storey": "L2"}, "answer": "lift"},
                      {"rule": {"code": "access_missing", "elevation": "North"}, "answer": "swing_stage"}]},
         [("/answers/1", "answer_does_not_fit")]),
        ({"answers": "x"}, [("/answers", "not_a_list")]),
        ({"take_back": [{"line": 3}]}, [("/take_back/0", "question_or_rule")]),
    ],
)  # fmt: skip
def test_what_is_refused_and_where(api: Api, body: Any, expected: Any, office: Office) -> None:
    head = [f"{line},{cell}" for line, cell in zip(SHEET.splitlines(), ("HEAD", *["L1"] * 4), strict=True)]
    sheet = Sheet(api, "\n".join(head))
    ids = {"ACCESS": sheet.questions("access_missing")[0]["id"], "COLUMNS": sheet.questions("columns")[0]["id"]}
    for saying in body["answers"] if isinstance(body.get("answers"), list) else ():
        if "question" in saying:
            saying["question"] = ids.get(saying["question"], saying["question"])
    assert faults(sheet.send(body)) == expected
    assert ScheduleRevision.objects.of(office.company).count() == 1


@pytest.mark.parametrize("role", Role.values)
def test_estimators_and_above_answer_and_edit(sheet: Sheet, office: Office, role: str) -> None:
    person = make_person(office, role, "p@office.example")
    question = sheet.questions("access_missing")[0]["id"]
    for part, body in (
        ("answers", {"answers": {question: "lift"}}),
        ("edits", {"edits": [{"line": 0, "set_aside": True, "reason": "by others"}]}),
    ):
        answer = sheet.send(body, part, person)
        if role in ("viewer", "sales"):
            assert answer.status_code == 403
            assert answer.json()["detail"].endswith("which estimator, rate keeper and principal have")
        else:
            assert answer.status_code == 201, answer.content


def test_before_a_first_estimate_what_touches_most_openings_stands_first(sheet: Sheet) -> None:
    found = sheet.api.get(f"{sheet.at}/stakes").json()["items"]
    assert [item["openings"] for item in found] == sorted((item["openings"] for item in found), reverse=True)
    first = next(item for item in found if item["code"] == "access_missing")
    assert (first["amount"], first["prices"], first["stake"]) == (None, {}, "no price yet; 8 openings touched")
    assert next(i["openings"] for i in found if i["code"] == "door_sides") == 1


def test_answers_that_are_not_asked_under_a_wrong_unit_are_there_again_under_the_right_one(api: Api) -> None:
    sheet = Sheet(api, "MARK,QTY,WIDTH,HEIGHT,LEVEL\nW1,2,36,48,L1\nW2,1,48,48,L2\n")
    units = [q["id"] for q in sheet.questions("unit_unknown")]
    sheet.answer({"answers": dict.fromkeys(units, "in")})
    sheet.answer({"answers": {sheet.questions("access_missing")[0]["id"]: "lift"}})
    sheet.answer({"take_back": [{"question": unit} for unit in units]})
    assert sheet.questions("access_missing", open=False) == []
    told = sheet.answer({"answers": dict.fromkeys(units, "in")})
    assert access(sheet.lines()) == {"W1": "lift", "W2": "lift"}
    assert "access_missing" not in {a["code"] for a in told["asked"]}
