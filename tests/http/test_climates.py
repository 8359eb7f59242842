"""The climates that a company loads: JSON and CSV in, faults at their cells, calendars that name a place."""

from __future__ import annotations

import csv
import io
from typing import Any

import pytest

from tests.cast import Api, Office, make_office, make_person
from tests.climate import stations
from tests.db.making import golden_request

PATH = "/v1/climates"
CSV = {"Content_Type": "text/csv"}
HEAD = "place,month,high,low,unit,wet_days,dry_hours,source\n"


def station_rows() -> str:
    """The twelve stations of tests/data/weather as a company would load them."""
    lines = [
        f"{name},{row['month']},{row['normal_high_f']},{row['normal_low_f']},F,{row['normal_days_ge_0.10in']},,NOAA"
        for name, rows in stations().items()
        for row in rows
    ]
    return HEAD + "\n".join(lines) + "\n"


def load(api: Api, content: Any, **fields: str) -> Any:
    """The table loaded over the one that stands."""
    return api.send("PUT", PATH, content, If_Match=api.get(PATH).headers["ETag"], **fields)


def test_twelve_stations_come_back_as_they_were_loaded(api: Api) -> None:
    assert api.get(PATH).json() == {"items": []}
    answer = load(api, station_rows(), **CSV)
    assert answer.status_code == 200 and len(answer.json()["items"]) == 144
    first = answer.json()["items"][0]
    assert (first["place"], first["month"], first["high"], first["low"], first["wet_days"]) == (
        "milwaukee-wi", 1, "30.9", "17.2", "5",
    )  # fmt: skip
    table = api.get(f"{PATH}.csv").content.decode()
    assert len(list(csv.DictReader(io.StringIO(table, newline="")))) == 144
    again = load(api, table, **CSV)
    assert again.status_code == 200 and again.json() == answer.json()
    assert load(api, answer.json()).status_code == 200


def test_a_calendar_names_a_place_and_keeps_its_months(api: Api, office: Office) -> None:
    """Milwaukee's March is left out whole; the table that is loaded later moves no calendar that stands."""
    load(api, station_rows(), **CSV)
    named = golden_request(office) | {"calendar": {"climate": " Milwaukee-WI"}}
    path = f"/v1/estimates/{api.estimate(named).json()['id']}/calendar"
    found = api.get(path).json()
    assert (found["start"], found["climate"]) == ("2027-04-01", {"title": "milwaukee-wi", "source": "NOAA"})
    load(api, {"items": []})
    assert api.get(path).json() == found
    refused = api.estimate(named)
    assert refused.status_code == 422
    assert [(e["pointer"], e["code"]) for e in refused.json()["errors"]] == [("/calendar/climate", "unknown_climate")]


@pytest.mark.parametrize(("name", "code"), [("x" * 101, "too_long"), ("a\u202eb", "control_character"), (" ", "blank")])
def test_a_place_that_is_no_name_is_a_fault_of_its_field(api: Api, office: Office, name: str, code: str) -> None:
    refused = api.estimate(golden_request(office) | {"calendar": {"climate": name}})
    assert refused.status_code == 422
    assert [(e["pointer"], e["code"]) for e in refused.json()["errors"]] == [("/calendar/climate", code)]


def test_a_trial_may_name_a_place_too(api: Api, office: Office) -> None:
    load(api, station_rows(), **CSV)
    estimate = api.estimate(golden_request(office)).json()["id"]
    found = api.post(f"/v1/estimates/{estimate}/what-if", {"calendar": {"climate": "phoenix-az"}}).json()
    assert found["feasible"] and found["difference"] == "0.00"


@pytest.mark.parametrize(
    ("row", "column", "code"),
    [
        ("x,13,50,40,f,,,", 2, "too_large"),
        ("x,1,warm,40,f,,,", 3, "not_a_number"),
        ("x,1,40,50,f,,,", 4, "low_above_high"),
        ("x,1,50,40,k,,,", 5, "unknown_choice"),
        ("x,1,50,40,f,40,,", 6, "too_large"),
        (",1,50,40,f,,,", 1, "missing"),
        ("y,2,50,40,f,,,", 2, "month_twice"),
        ("y,3,50,40,c,,,", 5, "two_units"),
    ],
)
def test_each_fault_of_a_sheet_stands_at_its_cell_and_nothing_is_kept(
    api: Api, row: str, column: int, code: str
) -> None:
    sheet = f"{HEAD}y,2,50,40,f,5,,\n{row}\n"
    answer = load(api, sheet, **CSV)
    assert answer.status_code == 422
    assert [(e["line"], e["column"], e["code"]) for e in answer.json()["errors"]] == [(3, column, code)]
    assert api.get(PATH).json() == {"items": []}


def test_what_is_no_table_is_refused(api: Api) -> None:
    for content, fields, code in (
        ("\n\n", CSV, "missing_heading"),
        ("place,month,high,low,unit,snow\n", CSV, "unknown_field"),
        ([], {}, "not_an_object"),
        ({}, {}, "missing"),
        ({"items": {}}, {}, "not_a_list"),
    ):
        answer = load(api, content, **fields)
        assert answer.status_code == 422, content
        assert [e["code"] for e in answer.json()["errors"]] == [code]
    assert api.send("PUT", PATH, {"items": []}).status_code == 428
    assert api.send("PUT", PATH, {"items": []}, If_Match='"old"').status_code == 412


def test_each_company_has_its_own_and_who_may_not_answer_loads_none(api: Api, office: Office) -> None:
    load(api, station_rows(), **CSV)
    other = Api(make_office("Other").key)
    assert other.get(PATH).json() == {"items": []}
    for role, status in (("viewer", 403), ("sales", 403), ("estimator", 200)):
        person = make_person(office, role, f"{role}@office.example")
        assert len(person.get(PATH).json()["items"]) == 144
        assert person.send("PUT", PATH, {"items": []}, If_Match="*").status_code == status
