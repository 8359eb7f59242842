"""Schedules as offices send them, over HTTP: told by content, asked about, answered, compared, exported."""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from api.rest.schedules import WORKBOOK
from estimating.models import KeptColumns, ScheduleRevision
from tests.cast import Api, Office, make_office
from tests.db.making import golden_request
from tests.intake.test_planted_faults import answers_by_line, book, read, rows
from tests.intake.workbooks import DOOR_ROWS, WINDOW_ROWS, office_workbook, workbook

DATA = Path(__file__).resolve().parents[1] / "data"
HEAD = ["MARK", "QTY", "WIDTH (IN)", "HEIGHT (IN)", "ACCESS"]
TWO_WAY = [*HEAD, "ELEV"]  # a wall's name or its height above grade


@pytest.fixture
def path(api: Api) -> str:
    """The address of a new project's schedules."""
    return f"{api.post('/v1/projects', {'name': 'Hall'}).headers['Location']}/opening-schedules"


def sheet(*lines: list[object], head: Sequence[object] = HEAD) -> bytes:
    return workbook({"Windows": [head, *lines]})


def send(api: Api, path: str, data: bytes, media: str = WORKBOOK) -> Any:
    made = api.post(path, data, Content_Type=media)
    assert made.status_code == 201, made.content
    return made


def questions(api: Api, made: Any, query: str = "?open=true&limit=500") -> list[dict[str, Any]]:
    answer = api.get(f"{made.headers['Location']}/questions{query}")
    assert answer.status_code == 200, answer.content
    found: list[dict[str, Any]] = answer.json()["items"]
    return found


def answer(api: Api, made: Any, **answers: str) -> Any:
    """The response to answers by question code."""
    ids = {question["code"]: question["id"] for question in questions(api, made)}
    return api.post(f"{made.headers['Location']}/answers", {"answers": {ids[c]: a for c, a in answers.items()}})


def test_an_office_workbook_is_a_revision_and_its_bytes_come_back(api: Api, path: str) -> None:
    data = office_workbook()
    made = api.post(f"{path}?file_name=schedule.csv&drawing_issue=Bid", data, Content_Type=WORKBOOK)
    document = made.json()
    assert (document["format"], document["lines"]) == ("xlsx", WINDOW_ROWS + DOOR_ROWS)
    assert document["questions"]["blocks_costing"] == 0
    assert api.get(made.headers["Location"] + "/source").content == data
    line = api.get(made.headers["Location"] + "/reading?limit=1").json()["items"][0]
    assert (line["cell"], line["fields"]["width"]["cell"]) == ("Windows!row 7", "Windows!C7")
    report = api.get(made.headers["Location"] + "/report").json()
    assert [table["sheet"] for table in report["tables"]] == ["Windows", "Doors"]
    assert len(report["notes"]) == 3


def test_columns_are_confirmed_once_for_the_company_and_other_headings_ask_again(
    api: Api, path: str, office: Office
) -> None:
    line = ["W1", 1, 36, 48, "ground", "1"]
    first = send(api, path, sheet(line, head=TWO_WAY))
    assert {q["code"] for q in questions(api, first)} == {"columns"}
    confirmed = answer(api, first, columns="confirm")
    assert confirmed.status_code == 201
    assert (confirmed.json()["revision"], confirmed.json()["answers_of"]) == (2, first.json()["id"])
    assert KeptColumns.objects.of(office.company).count() == 1
    other = api.post("/v1/projects", {"name": "Another"}).headers["Location"] + "/opening-schedules"
    assert questions(api, send(api, other, sheet(["W7", 3, 30, 40, "ground", "2"], head=TWO_WAY))) == []
    renamed = sheet(line, head=[*HEAD[:2], "W (IN)", *TWO_WAY[3:]])
    assert {q["code"] for q in questions(api, send(api, other, renamed))} == {"columns"}
    stranger = Api(make_office("Stranger").key)
    theirs = stranger.post("/v1/projects", {"name": "Theirs"}).headers["Location"] + "/opening-schedules"
    asked = questions(stranger, send(stranger, theirs, sheet(line, head=TWO_WAY)))
    assert {question["code"] for question in asked} == {"columns"}


def test_columns_can_be_named_in_the_answer(api: Api, path: str) -> None:
    made = send(api, path, sheet(["W1", 1, 36, 48, "ground"], head=[*HEAD[:3], "DIM B", "ACCESS"]))
    asked = {question["code"] for question in questions(api, made)}
    assert {"no_column", "columns", "columns_of_numbers"} & asked == {"columns_of_numbers"}
    assert "height" not in api.get(made.headers["Location"] + "/openings").json()["items"][0]
    after = answer(api, made, columns_of_numbers="D=height_in")
    lines = api.get(after.headers["Location"] + "/openings").json()["items"]
    assert [(line["width"], line["height"]) for line in lines] == [("36 in", "48 in")]
    wrong = answer(api, made, columns_of_numbers="D=colour")
    assert wrong.status_code == 422
    assert wrong.json()["errors"][0]["code"] == "answer_does_not_fit"


def test_25_planted_faults_over_http_and_the_next_revision(api: Api, path: str) -> None:
    lines = rows()
    made = send(api, path, book(lines))
    found = questions(api, made)
    assert len(found) == 18 and all(question["cells"] for question in found)
    after = api.post(f"{made.headers['Location']}/answers", {"answers": answers_by_line(read(lines), lines)})
    assert after.status_code == 201, after.content
    assert after.json()["questions"]["blocks_costing"] == after.json()["questions"]["blocks_issue"] == 0
    moved = rows()
    moved.insert(0, ["W00", *moved[0][1:]])
    next(line for line in moved if line[0] == "W12")[2] = "2"
    third = send(api, path, book(moved))
    assert [question["code"] for question in questions(api, third)] == ["size_out_of_band"]
    assert [item["revision"] for item in api.get(path).json()["items"]] == [1, 2, 3]


def test_open_questions_stand_in_the_way_of_costing_until_answered(api: Api, path: str, office: Office) -> None:
    made = send(api, path, sheet(["W1", None, 36, 48, "ground"]))
    request = {k: v for k, v in golden_request(office).items() if k != "openings"}
    refused = api.estimate(request | {"schedule": made.json()["id"]})
    assert refused.status_code == 422
    assert ("/schedule", "questions_open") in {(e["pointer"], e["code"]) for e in refused.json()["errors"]}
    after = answer(api, made, quantity_unknown="4")
    costed = api.estimate(request | {"schedule": after.json()["id"]})
    assert costed.status_code == 201 and costed.json()["totals"]["openings"] == 4


def test_answers_to_no_question_of_the_revision_are_refused_and_store_nothing(api: Api, path: str) -> None:
    made = send(api, path, sheet(["W1", 1, 36, 48, "rope"]))
    unknown = api.post(f"{made.headers['Location']}/answers", {"answers": {"no-such": "x"}})
    assert [(e["pointer"], e["code"]) for e in unknown.json()["errors"]] == [("/answers/no-such", "not_found")]
    assert answer(api, made, access_unknown="balloon").status_code == 422
    assert len(api.get(path).json()["items"]) == 1


def test_changes_between_revisions_with_clouds(api: Api, path: str) -> None:
    first = send(api, path, sheet(["W1", 1, 36, 48, "ground"], ["W2", 2, 40, 48, "ground"]))
    second = api.post(
        f"{path}?clouds=W2,W9&drawing_issue=ASI-1",
        sheet(["W1", 5, 36, 48, "ground"], ["W2", 3, 40, 48, "ground"]),
        Content_Type=WORKBOOK,
    )
    found = api.get(f"{second.headers['Location']}/changes?from={first.json()['id']}").json()
    assert [(line["mark"], line["classes"], line["clouded"]) for line in found["lines"]] == [
        ("W1", ["quantity"], False),
        ("W2", ["quantity"], True),
    ]
    assert (found["not_clouded"], found["clouded_unchanged"]) == (["W1"], ["W9"])
    elsewhere = api.post("/v1/projects", {"name": "Else"}).headers["Location"] + "/opening-schedules"
    foreign = send(api, elsewhere, sheet(["W1", 1, 36, 48, "ground"]))
    refused = api.get(f"{second.headers['Location']}/changes?from={foreign.json()['id']}")
    assert (refused.status_code, refused.json()["errors"][0]["code"]) == (422, "not_found")


def test_a_model_by_content_whatever_its_name(api: Api, path: str) -> None:
    pytest.importorskip("ifcopenshell", reason="the extra ifc is not installed")
    data = (DATA / "ifc" / "duplex.ifc").read_bytes()
    made = api.post(f"{path}?file_name=x.csv", data, Content_Type="application/octet-stream")
    assert (made.json()["format"], made.json()["lines"]) == ("ifc", 38)
    apart = api.get(made.headers["Location"] + "/report").json()["apart"]
    assert [part["what"] for part in apart].count("skylight") == 2
    assert api.get(made.headers["Location"] + "/source").content == data


FORMULAS = ('=HYPERLINK("http://invalid")', "+1+1", "-2+3", "@SUM(A1)")


def test_no_export_holds_a_formula(api: Api, path: str) -> None:
    made = send(api, path, sheet(*([mark, 1, 36, 48, mark] for mark in FORMULAS)))
    place = made.headers["Location"]
    for part in ("openings", "questions", "reading"):
        with zipfile.ZipFile(io.BytesIO(api.get(f"{place}/{part}.xlsx").content)) as package:
            sheets = [package.read(name) for name in package.namelist() if "worksheets" in name]
        assert sheets and not any(b"<f>" in data or b"<f " in data for data in sheets)
        for row in api.get(f"{place}/{part}.csv").content.decode().splitlines():
            cells = row.replace('"', "").split(",")
            assert not any(cell.startswith(("=", "+", "@")) for cell in cells), row


def test_nothing_is_stored_of_a_file_that_is_refused(api: Api, path: str, office: Office) -> None:
    for data, media, status in (
        (office_workbook()[:3000], WORKBOOK, 422),
        (b"MARK,QTY\n" + b"W,1\n" * 1_000_000, "text/csv", 422),
        (b"%PDF-1.7", "text/csv", 422),
        (json.dumps([{"mark": "A"}]).encode(), "application/json", 422),
    ):
        assert api.post(path, data, Content_Type=media).status_code == status
    assert not ScheduleRevision.objects.of(office.company).exists()


def test_the_money_at_stake_in_a_question(api: Api, path: str, office: Office) -> None:
    made = send(api, path, sheet(["W1", "2 TYP x 3", 48, 48, "ground"], ["W2", 1, 36, 36, "ground"]))
    request = {k: v for k, v in golden_request(office).items() if k != "openings"}
    costed = {}
    for choice in ("multiplied", "in_all"):
        answered = answer(api, made, typical_count=choice).json()
        costed[choice] = api.estimate(request | {"schedule": answered["id"]}).json()
    assert [costed[choice]["totals"]["openings"] for choice in costed] == [7, 3]
    # the count blocks costing, so what is at stake is told by an estimate of a revision that answers it
    found = api.get(f"{made.headers['Location']}/stakes?estimate={costed['multiplied']['id']}").json()["items"]
    assert [item["code"] for item in found] == ["typical_count"]
    prices = {choice: estimate["totals"]["price"] for choice, estimate in costed.items()}
    assert found[0]["prices"] == prices
    assert found[0]["amount"] == f"{Decimal(prices['multiplied']) - Decimal(prices['in_all']):.2f}"


def past_jobs(api: Api, count: int) -> None:
    """So many projects of 10 openings of 36 x 48 in on 100 m2 of wall."""
    for number in range(count):
        location = api.post("/v1/projects", {"name": f"Past {number}"}).headers["Location"]
        lines = [{"mark": "W1", "quantity": 10 + number % 2, "width": "36 in", "height": "48 in", "access": "ground"}]
        made = api.post(f"{location}/opening-schedules?wall_area=100%20m2", lines)
        assert made.status_code == 201, made.content


def test_sizes_and_densities_are_held_against_the_companys_past(api: Api, path: str) -> None:
    lines = [{"mark": "W1", "quantity": 90, "width": "60 in", "height": "48 in", "access": "ground"}]
    new = api.post(f"{path}?wall_area=100%20m2", lines)
    assert questions(api, new) == []  # nothing is usual yet
    past_jobs(api, 5)
    found = {q["code"]: q for q in questions(api, api.post(f"{path}?wall_area=100%20m2", lines))}
    assert set(found) == {"size_out_of_band", "density_outlier"}
    assert found["size_out_of_band"]["cells"] == ["/openings/0/width"]
    assert "90 openings are 83.61 per 1,000 ft2" in found["density_outlier"]["sentence"]  # 90 / 1076.391 ft2


def test_a_wall_area_beyond_any_building_is_refused(api: Api, path: str) -> None:
    refused = api.post(f"{path}?wall_area=100000000000%20m2", [])
    assert (refused.status_code, refused.json()["errors"][0]["pointer"]) == (422, "/query/wall_area")
