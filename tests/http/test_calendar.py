"""Calendar and crew sheets over HTTP: JSON, tables, iCalendar, picture, PDF; for every role, without money."""

from __future__ import annotations

import csv
import io
import xml.etree.ElementTree as ElementTree

import icalendar
import pytest

from tests.cast import Api, Office, make_person
from tests.climate import climate_of
from tests.db.making import cost_golden, golden_request
from tests.pdf_texts import text_of_pdf

MONEY = ("174.00", "212.00", "1655.00", "605.65", "50.46")  # of the worked example
ENDS = ("", ".csv", ".xlsx", ".ics", ".svg")


def test_the_worked_example_takes_one_day(api: Api, office: Office) -> None:
    """12.0025 standard hours (3 of them set-up) of two workers with 8 hours each: Monday 15 March 2027."""
    found = api.get(f"/v1/estimates/{cost_golden(office)}/calendar").json()
    assert (found["start"], found["finish"], found["working_days"]) == ("2027-03-15", "2027-03-15", 1)
    assert [(row["title"], row["openings"]) for row in found["zones"]] == [
        ("North, storey 1", 12),
        ("East, storey 1", 4),
    ]
    assert found["parts"][0]["hours"] == "12.0025" and found["cautions"]


def test_a_calendar_in_its_forms(api: Api, office: Office) -> None:
    """Milwaukee in January: no work before April, in JSON, in the table, in the file and in the picture."""
    calendar = {"start": "2027-01-04", "holidays": "US-WI", "climate": climate_of("milwaukee-wi")}
    path = f"/v1/estimates/{api.estimate(golden_request(office) | {'calendar': calendar}).json()['id']}/calendar"
    found = api.get(path).json()
    assert found["start"] == "2027-04-01"
    rows = list(csv.DictReader(io.StringIO(api.get(f"{path}.csv").content.decode(), newline="")))
    assert [(row["date"], row["hours"]) for row in rows] == [(row["date"], row["hours"]) for row in found["items"]]
    file = api.get(f"{path}.ics")
    assert file.headers["Content-Type"] == "text/calendar; charset=utf-8"
    events = icalendar.Calendar.from_ical(file.content).walk("VEVENT")
    assert {event.decoded("DTSTART").isoformat() for event in events} == {"2027-04-01"}
    assert api.get(path, Accept="text/csv").headers["Content-Type"].startswith("text/csv")
    svg = ElementTree.fromstring(api.get(f"{path}.svg").content)
    texts = "".join(svg.itertext())
    assert "North, storey 1" in texts and "April 1, 2027" in texts


def test_a_calendar_moves_no_price(api: Api, office: Office) -> None:
    plain = api.estimate(golden_request(office)).json()
    held = api.estimate(golden_request(office) | {"calendar": {"start": "2028-05-01"}}).json()
    assert held["totals"] == plain["totals"] and held["build_up"] == plain["build_up"]
    assert held["input_digest"] != plain["input_digest"]


@pytest.mark.parametrize(
    ("region", "code"), [("ZZ", "unknown_region"), ("US-QQ", "unknown_region"), ("?", "not_a_region")]
)
def test_a_region_that_nobody_knows_is_refused_when_it_is_sent(
    api: Api, office: Office, region: str, code: str
) -> None:
    answer = api.estimate(golden_request(office) | {"calendar": {"holidays": region}})
    assert answer.status_code == 422
    assert [(e["pointer"], e["code"]) for e in answer.json()["errors"]] == [("/calendar/holidays", code)]


def test_every_role_sees_it_and_it_shows_no_money(api: Api, office: Office) -> None:
    path = f"/v1/estimates/{cost_golden(office)}/calendar"
    viewer = make_person(office, "viewer", "viewer@office.example")
    for end in ENDS:
        answer = viewer.get(path + end)
        assert answer.status_code == 200
        assert not [amount for amount in MONEY if amount.encode() in answer.content]


def test_the_same_answer_twice_and_nothing_sent_again(api: Api, office: Office) -> None:
    path = f"/v1/estimates/{cost_golden(office)}/calendar"
    for end in ENDS:
        first = api.get(path + end)
        assert api.get(path + end, If_None_Match=first.headers["ETag"]).status_code == 304
        assert api.get(path + end).content == first.content


def test_a_calendar_waits_for_its_estimate(api: Api, office: Office) -> None:
    waiting = api.estimate(golden_request(office), wait=None).json()["id"]
    for end in ENDS:
        assert api.get(f"/v1/estimates/{waiting}/calendar{end}").status_code == 409


def test_crew_sheets_of_the_worked_example(api: Api, office: Office) -> None:
    """Twelve openings in the north: ten of 30 minutes and two doors of 31.875; the pieces are those of the cut plan."""
    path = f"/v1/estimates/{cost_golden(office)}"
    found = api.get(f"{path}/crew").json()
    north, east = found["items"]
    assert [(row["mark"], row["quantity"], row["minutes_each"]) for row in north["lines"]] == [
        ("A", 10, "30"),
        ("C", 2, "31.875"),
    ]
    assert [row["minutes"] for row in east["lines"]] == ["176.4"]  # 4 × 36.75 × 1.20 from a lift
    assert any("Lifts" in caution for caution in east["cautions"]) and found["cautions"]
    bundles = api.get(f"{path}/cut-plan").json()["bundles"]
    names = ("mark", "piece", "length", "length_shown", "width", "count", "material")
    of_sheets = sorted(tuple(row[n] for n in names) for sheet in found["items"] for row in sheet["pieces"])
    assert of_sheets == sorted(tuple(row[n] for n in names) for row in bundles)
    assert [sheet["zone"] for sheet in api.get(f"{path}/crew?first=2").json()["items"]] == [2]


def test_the_printed_sheets_are_for_every_role_and_have_no_money(api: Api, office: Office) -> None:
    path = f"/v1/estimates/{cost_golden(office)}/crew-sheet.pdf"
    viewer = make_person(office, "viewer", "viewer@office.example")
    text = " ".join(text_of_pdf(viewer.get(path).content).split())
    assert "Zone 1: North, storey 1" in text and "Zone 2: East, storey 1" in text
    assert not [amount for amount in MONEY if amount in text]
    assert "Zone 1" not in text_of_pdf(api.get(f"{path}?first=2&last=2").content)
    first = api.get(path)
    assert api.get(path, If_None_Match=first.headers["ETag"]).status_code == 304
    sheets = viewer.get(path.replace("-sheet.pdf", "")).content.decode()
    assert not [amount for amount in MONEY if amount in sheets]


def test_a_file_holds_a_hundred_sheets_at_most(api: Api, office: Office) -> None:
    lines = [{"mark": f"W{i}", "quantity": 1, "width": "3 ft", "height": "4 ft", "storey": f"{i}"} for i in range(101)]
    path = f"/v1/estimates/{api.estimate(golden_request(office) | {'openings': lines}).json()['id']}/crew-sheet.pdf"
    refused = api.get(path)
    assert refused.status_code == 422
    assert [(e["pointer"], e["code"]) for e in refused.json()["errors"]] == [("/query/last", "too_many_sheets")]
    assert api.get(f"{path}?first=100").status_code == 200
