"""GET /v1/estimates/{id}/assumptions: defaults, editions, answers and kept columns, for each role, in every format."""

from __future__ import annotations

import csv
import io
from typing import Any

import pytest

from estimating.models import EstimatePart
from tests.cast import Api, Office, lift_rules, make_office, make_person
from tests.db.making import cost_golden, golden_request

SHEET = "MARK,QTY,WIDTH (IN),HEIGHT (IN),ACCESS,ELEV\nW1,2,36,48,ground,1\nW2,5,36,36,,1\n"


def assumptions(api: Api, estimate: str, end: str = "?limit=500") -> list[dict[str, Any]]:
    answer = api.get(f"/v1/estimates/{estimate}/assumptions{end}")
    assert answer.status_code == 200, answer.content
    items: list[dict[str, Any]] = answer.json()["items"]
    return items


def take_in(api: Api, path: str, text: str) -> dict[str, Any]:
    """A new revision of a project's schedule."""
    made = api.post(path, text.encode(), Content_Type="text/csv")
    assert made.status_code == 201, made.content
    document: dict[str, Any] = made.json()
    return document


def price(api: Api, office: Office, schedule: str) -> str:
    """The id of the costed estimate of a schedule."""
    request = {k: v for k, v in golden_request(office).items() if k != "openings"}
    made = api.estimate(request | {"schedule": schedule})
    assert made.status_code == 201, made.content
    return str(made.json()["id"])


def new_project(api: Api) -> str:
    return f"{api.post('/v1/projects', {'name': 'Hall'}).headers['Location']}/opening-schedules"


def test_the_golden_estimate_says_what_nobody_entered(api: Api, office: Office) -> None:
    items = assumptions(api, str(cost_golden(office)))
    assert all(set(item) == {"field", "value", "source", "openings", "sentence"} for item in items)
    found = {item["field"]: (item["value"], item["source"], item["openings"]) for item in items}
    assert found["sides"] == ("all", "default", 14), "the doors say theirs"
    assert found["treated_depth"] == ('6"', "request", 16), "in the company's style"
    assert found["equipment/lift/delivery"] == ("0", "edition", 4)
    assert not {"crew/experience", "mobilisations", "access", "kind"} & set(found), "entered"
    pages = [assumptions(api, str(cost_golden(office)), "?limit=5")]
    assert pages[0] == items[:5]


def test_answers_and_kept_columns_stand_in_the_list(api: Api, office: Office) -> None:
    path = new_project(api)
    first = take_in(api, path, SHEET)
    asked = api.get(f"/v1/opening-schedules/{first['id']}/questions?open=true").json()["items"]
    ids = {question["code"]: question["id"] for question in asked}
    answers = {"answers": {ids["columns"]: "confirm", ids["access_missing"]: "ladder"}}
    answered = api.post(f"/v1/opening-schedules/{first['id']}/answers", answers)
    assert answered.status_code == 201, answered.content
    items = assumptions(api, price(api, office, answered.json()["id"]))
    told = {item["field"]: item for item in items if item["source"] == "answer"}
    assert set(told) == {"columns", "access_missing"}
    assert (told["access_missing"]["value"], told["access_missing"]["openings"]) == ("ladder", 5)
    assert told["columns"]["openings"] == 7
    assert told["access_missing"]["sentence"].endswith("Answered: ladder.")
    assert not [item for item in items if item["source"] == "learnt"], "this very file was asked about"
    second = take_in(api, new_project(api), SHEET.replace("W2", "W3"))
    learnt = [i for i in assumptions(api, price(api, office, second["id"])) if i["source"] == "learnt"]
    assert {(item["field"], item["value"]) for item in learnt} >= {("width_in", 'column C, "WIDTH (IN)"')}
    assert {item["openings"] for item in learnt} == {7}


def test_as_a_table(api: Api, office: Office) -> None:
    id = str(cost_golden(office))
    items = assumptions(api, id)
    rows = list(csv.DictReader(io.StringIO(api.get(f"/v1/estimates/{id}/assumptions.csv").content.decode())))
    assert [(row["field"], row["source"], row["openings"]) for row in rows] == [
        (item["field"], item["source"], str(item["openings"])) for item in items
    ]
    assert api.get(f"/v1/estimates/{id}/assumptions.xlsx").content.startswith(b"PK")


@pytest.mark.parametrize("role", ["viewer", "sales"])
def test_those_without_costs_see_nothing_of_the_editions_tables(api: Api, office: Office, role: str) -> None:
    id = str(cost_golden(office))
    whole = assumptions(api, id)
    person = make_person(office, role, "p@office.example")
    assert assumptions(person, id) == [item for item in whole if item["source"] != "edition"] != whole
    assert b"edition" not in person.get(f"/v1/estimates/{id}/assumptions.csv").content.replace(
        b"the edition knows", b""
    )


def test_another_company_and_an_unfinished_estimate(api: Api, office: Office) -> None:
    id = cost_golden(office)
    stranger = Api(make_office("Stranger").key)
    assert stranger.get(f"/v1/estimates/{id}/assumptions").status_code == 404
    waiting = api.estimate(golden_request(office), wait=None).json()
    refused = api.get(f"/v1/estimates/{waiting['id']}/assumptions")
    assert (refused.status_code, refused.json()["errors"][0]["code"]) == (409, "not_costed")


def test_an_estimate_of_old_has_them_too(api: Api, office: Office) -> None:
    id = cost_golden(office)
    before = assumptions(api, str(id))
    assert not EstimatePart.objects.of(office.company).filter(estimate_id=id, name="assumptions").exists()
    lift_rules()
    assert assumptions(api, str(id)) == before
