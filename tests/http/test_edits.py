"""Edits of single lines over HTTP: changed, set aside, added, carried, asked about, taken back; all or nothing."""

from __future__ import annotations

from random import Random
from typing import Any

import pytest

from estimating.models import ScheduleRevision
from tests.cast import Api, Office
from tests.core.test_random_input import VALUES
from tests.db.making import golden_request
from tests.http.test_answers import MORE, SHEET, Sheet, faults

REASON = "measured at the site"


@pytest.fixture
def sheet(api: Api) -> Sheet:
    return Sheet(api)


def edit(line: int | None = None, **told: Any) -> dict[str, Any]:
    return ({} if line is None else {"line": line}) | {"reason": REASON} | told


def test_a_line_is_changed_one_set_aside_one_added_and_the_file_stays(sheet: Sheet, office: Office) -> None:
    added = {"mark": "W9", "quantity": 2, "width": "24 in", "height": "24 in", "kind": "window", "access": "lift"}
    edits = [edit(0, change={"width": "40 in", "note": "wider"}), edit(2, set_aside=True), edit(add=added)]
    before = sheet.at
    made = sheet.answer({"edits": edits}, "edits")
    assert (made["revision"], made["answers_of"], made["lines"]) == (2, before.rpartition("/")[2], 5)
    lines = sheet.lines()
    assert (lines[0]["width"], lines[0]["note"], lines[0]["height"]) == ("40 in", "wider", "48 in")
    assert (lines[2]["excluded"], lines[2]["width"]) == ({"reason": REASON}, "40 in")
    assert lines[4] == added
    assert sheet.api.get(f"{sheet.at}/source").content == SHEET.encode()
    kept = sheet.report()["edits"]
    assert [(e["kind"], e["line"], e["state"], e["by_name"], e["reason"]) for e in kept] == [
        (kind, line, "applied", "Drafter", REASON) for kind, line in (("change", 0), ("set_aside", 2), ("add", 4))
    ]
    assert (kept[0]["before"], kept[0]["values"]) == (
        {"width": "36 in", "note": None},
        {"width": "40 in", "note": "wider"},
    )
    assert all(e["by"] == str(office.drafter) and e["at"] for e in kept)
    reading = sheet.api.get(f"{sheet.at}/reading").json()["items"]
    assert reading[0]["fields"]["width"]["written"] == "36 in"
    assert reading[4]["cell"] == f"added by {kept[2]['id']}"
    entry = sheet.api.get("/v1/audit?action=edit-schedule").json()["items"][0]
    assert entry["after"]["revision"] == 2


def test_an_edited_schedule_costs_what_it_says(sheet: Sheet, office: Office) -> None:
    sheet.answer({"edits": [edit(1, set_aside=True), edit(0, change={"quantity": 5})]}, "edits")
    request = {name: value for name, value in golden_request(office).items() if name != "openings"}
    costed = sheet.api.estimate(request | {"schedule": sheet.at.rpartition("/")[2]}).json()
    assert costed["totals"]["openings"] == 5 + 1 + 1


def test_edits_are_carried_to_unchanged_lines_and_asked_about_on_changed_ones(sheet: Sheet) -> None:
    sheet.answer({"edits": [edit(0, change={"quantity": 6}), edit(1, change={"quantity": 7})]}, "edits")
    changed = SHEET.replace("W2,2,36 in,60 in", "W2,3,36 in,60 in") + MORE
    later = Sheet(sheet.api, changed, sheet.path)
    assert [line["quantity"] for line in later.lines()] == [6, 3, 1, 1, 3]
    (question,) = later.questions("edit_of_changed_line")
    assert (question["severity"], question["choices"], question["lines"]) == (
        "blocks_costing", ["keep_edit", "take_file"], [1],
    )  # fmt: skip
    assert "W2 (L2, North) quantity 7" in question["sentence"]
    assert [e["state"] for e in later.report()["edits"]] == ["applied", "waiting"]
    kept = Sheet(sheet.api, changed, sheet.path)
    kept.answer({"answers": {question["id"]: "keep_edit"}})
    assert [line["quantity"] for line in kept.lines()] == [6, 7, 1, 1, 3]
    assert kept.report()["edits"][1]["before"] == {"quantity": 3}
    assert Sheet(sheet.api, changed, sheet.path).questions("edit_of_changed_line") == []
    later.answer({"answers": {question["id"]: "take_file"}})
    assert [line["quantity"] for line in later.lines()] == [6, 3, 1, 1, 3]
    assert len(later.report()["edits"]) == 1


def test_an_edit_whose_line_is_gone_is_told_and_put_in_when_it_is_back(sheet: Sheet) -> None:
    sheet.answer({"edits": [edit(0, change={"quantity": 6})]}, "edits")
    without = Sheet(sheet.api, SHEET.replace("W1,4,36 in,48 in,L1,North,window\n", ""), sheet.path)
    assert [q["severity"] for q in without.questions("edit_without_line", open=False)] == ["to_know"]
    assert without.report()["edits"][0]["state"] == "without_line"
    assert Sheet(sheet.api, SHEET, sheet.path).lines()[0]["quantity"] == 6


def test_a_line_added_by_hand_and_then_drawn_is_asked_about(sheet: Sheet) -> None:
    added = {"mark": "W7", "quantity": 3, "width": "30 in", "height": "48 in", "storey": "L2", "elevation": "East"}
    sheet.answer({"edits": [edit(add=added)]}, "edits")
    same = Sheet(sheet.api, SHEET, sheet.path)
    assert [line["mark"] for line in same.lines()] == ["W1", "W2", "D1", "W3", "W7"]
    drawn = Sheet(sheet.api, SHEET + MORE, sheet.path)
    assert [line["mark"] for line in drawn.lines()] == ["W1", "W2", "D1", "W3", "W7"]
    (question,) = drawn.questions("added_line_in_file")
    base = drawn.at
    drawn.answer({"answers": {question["id"]: "keep_both"}})
    assert [line["mark"] for line in drawn.lines()][-2:] == ["W7", "W7"]
    drawn.at = base
    drawn.answer({"answers": {question["id"]: "take_file"}})
    assert len(drawn.lines()) == 5 and drawn.report()["edits"] == []


def test_edits_are_taken_back_one_by_one(sheet: Sheet) -> None:
    sheet.answer({"edits": [edit(0, change={"quantity": 6}), edit(0, change={"width": "40 in"})]}, "edits")
    first, second = (entry["id"] for entry in sheet.report()["edits"])
    sheet.answer({"take_back": [first]}, "edits")
    assert (sheet.lines()[0]["quantity"], sheet.lines()[0]["width"]) == (4, "40 in")
    assert [entry["id"] for entry in sheet.report()["edits"]] == [second]
    assert faults(sheet.send({"take_back": [first]}, "edits")) == [("/take_back/0", "not_found")]
    sheet.answer({"take_back": [second]}, "edits")
    assert sheet.lines()[0]["width"] == "36 in"


def test_an_edit_settles_the_question_about_its_cell_and_answers_outlive_it(api: Api) -> None:
    sheet = Sheet(api, SHEET.replace("W2,2,36 in,60 in", "W2,?,36 in,60 in"))
    access = sheet.questions("access_missing")[0]["id"]
    sheet.answer({"answers": {access: "lift"}})
    assert len(sheet.questions("quantity_unknown")) == 1
    told = sheet.answer({"edits": [edit(1, change={"quantity": 9})]}, "edits")
    assert [s["code"] for s in told["settled"]] == ["quantity_unknown"]
    assert [line["quantity"] for line in sheet.lines()] == [4, 9, 1, 1]
    assert [line.get("access") for line in sheet.lines()] == ["lift", None, "lift", "lift"]
    assert [(a["code"], a["lines"]) for a in told["asked"]] == [("access_missing", 1)]  # the line was not read before


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        ({"edits": []}, [("/edits", "missing")]),
        ({"edits": [{"line": 0, "change": {"width": "40 in"}}]}, [("/edits/0/reason", "missing")]),
        ({"edits": [edit(0)]}, [("/edits/0", "one_of")]),
        ({"edits": [edit(0, set_aside=True, change={"width": "1 in"})]}, [("/edits/0", "one_of")]),
        ({"edits": [edit(change={"width": "40 in"})]}, [("/edits/0/line", "missing")]),
        ({"edits": [edit(0, add={"mark": "W9"})]}, [("/edits/0/line", "unknown_field")]),
        ({"edits": [edit(99, set_aside=True)]}, [("/edits/0/line", "not_found")]),
        ({"edits": [edit(0, change={"width": "wide"})]}, [("/edits/0/change/width", "not_a_length")]),
        ({"edits": [edit(0, change={"width": 40})]}, [("/edits/0/change/width", "unit_missing")]),
        ({"edits": [edit(0, change={"colour": "red"})]}, [("/edits/0/change/colour", "unknown_field")]),
        ({"edits": [edit(0, change={"shape": "round"})]},
         [("/edits/0/change/diameter", "missing"), ("/edits/0/change/height", "not_of_shape"),
          ("/edits/0/change/width", "not_of_shape")]),
        ({"edits": [edit(0, change={"mark": None}), edit(1, change={"quantity": -1})]},
         [("/edits/0/change/mark", "missing"), ("/edits/1/change/quantity", "too_small")]),
        ({"edits": [edit(add={"mark": "W9", "quantity": 1})]},
         [("/edits/0/add/height", "missing"), ("/edits/0/add/width", "missing")]),
        ({"edits": [edit(0, change=[])]}, [("/edits/0/change", "not_an_object")]),
    ],
)  # fmt: skip
def test_what_is_refused_and_where(sheet: Sheet, body: Any, expected: Any, office: Office) -> None:
    found = faults(sheet.send(body, "edits"))
    assert sorted(place for place, _ in found) == sorted(place for place, _ in expected)
    assert len(expected) > 1 or found == expected
    assert ScheduleRevision.objects.of(office.company).count() == 1


FIELDS = ("mark", "quantity", "width", "height", "shape", "kind", "storey", "elevation", "access", "excluded", "sill")


def junk(chance: Random, ids: list[str]) -> tuple[str, Any]:
    """A body that nobody means: parts of sound ones, values of every kind at every place."""

    def value(depth: int = 0) -> Any:
        if depth < 3 and chance.random() < 0.3:
            names = ("question", "line", "rule", "answer", "code", "change", "add", "set_aside", "reason", *FIELDS)
            return {chance.choice(names): value(depth + 1) for _ in range(chance.randrange(4))}
        if depth < 3 and chance.random() < 0.2:
            return [value(depth + 1) for _ in range(chance.randrange(3))]
        return chance.choice((*VALUES, *ids, 1.5, 2, 3, "lift", "door", "60 in", "L4"))

    change = {chance.choice(FIELDS): value(2) for _ in range(chance.choice((1, 1, 2, 3)))}
    line = {"mark": "J", "quantity": 1, "width": "36 in", "height": "48 in"} | change
    made = {
        "edits": chance.choice((
            {"edits": [{"line": chance.randrange(6), "change": change, "reason": "x"}]},
            {"edits": [{"add": line, "reason": "x"}]},
            {"edits": [{"line": value(), "set_aside": value(), "reason": value()}]},
            {"edits": value(), "take_back": value()},
            value(),
        )),
        "answers": chance.choice((
            {"answers": [{"question": chance.choice(ids), "line": chance.randrange(6), "answer": value(2)}]},
            {"answers": [{"rule": {"code": "access_missing", "storey": value(2)}, "answer": value(2)}]},
            {"answers": {chance.choice(ids): value(2)}, "preview": value(2)},
            {"answers": value(), "take_back": value()},
            value(),
        )),
    }  # fmt: skip
    sound = {"line": chance.randrange(4), "reason": "x"}
    if chance.random() < 0.15:
        made["edits"] = {"edits": [sound | {"change": {"note": value(3)}}, sound | {"set_aside": True}]}
    part = chance.choice(("edits", "answers"))
    return part, made[part]


def test_junk_is_refused_or_taken_whole_and_never_a_fault(sheet: Sheet, office: Office) -> None:
    chance = Random(9)
    ids = [question["id"] for question in sheet.questions(open=False)]
    statuses: dict[int, int] = {}
    for _ in range(300):
        part, body = junk(chance, ids)
        count = ScheduleRevision.objects.of(office.company).count()
        answer = sheet.send(body, part)
        statuses[answer.status_code] = statuses.get(answer.status_code, 0) + 1
        assert answer.status_code in (200, 201, 400, 422), (part, body, answer.content)
        stored = ScheduleRevision.objects.of(office.company).count() - count
        assert stored == (answer.status_code == 201), (part, body)
        if answer.status_code == 201 and chance.random() < 0.2:
            sheet.at = answer.headers["Location"]
            ids = [question["id"] for question in sheet.questions(open=False)] or ids
    assert statuses[201] > 10 and statuses[422] > 100


def test_a_line_set_aside_leaves_the_questions_that_are_about_others_too(api: Api) -> None:
    sheet = Sheet(api, SHEET.replace("W1,4,36 in", "W1,?,TBD").replace("W2,2,36 in", "W2,2,TBD"))
    assert {q["code"] for q in sheet.questions()} >= {"quantity_unknown", "size_unknown"}
    sheet.answer({"edits": [edit(0, set_aside=True), edit(1, change={"width": "36 in"})]}, "edits")
    assert {q["code"] for q in sheet.questions()} & {"quantity_unknown", "size_unknown"} == set()
    assert sheet.api.get(sheet.at).json()["questions"]["blocks_costing"] == 0
