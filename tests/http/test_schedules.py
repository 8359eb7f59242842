"""Opening schedules over HTTP: JSON and CSV become numbered revisions, the file kept; a faulty one leaves nothing."""

from __future__ import annotations

from typing import Any

import pytest

from tests.cast import Api, Office
from tests.db.making import golden_request

CSV = "mark,kind,quantity,width,height,elevation,storey,access\n" + (
    "A,window,10,48 in,48 in,North,1,ground\nB,window,4,72 in,60 in,East,1,lift\n"
)


@pytest.fixture
def path(api: Api) -> str:
    """The address of a new project's schedules."""
    return f"{api.post('/v1/projects', {'name': 'Clinic'}).headers['Location']}/opening-schedules"


def test_csv_is_read_kept_and_numbered(api: Api, path: str) -> None:
    made = api.post(f"{path}?file_name=count.csv&drawing_issue=ASI-2", CSV.encode(), Content_Type="text/csv")
    assert made.status_code == 201, made.content
    document = made.json()
    assert (document["revision"], document["lines"], document["file_name"]) == (1, 2, "count.csv")
    lines = api.get(made.headers["Location"] + "/openings").json()["items"]
    assert [(line["mark"], line["width"]) for line in lines] == [("A", "48 in"), ("B", "72 in")]
    source = api.get(made.headers["Location"] + "/source")
    assert (source.content, source.headers["Content-Type"]) == (CSV.encode(), "text/csv")
    assert source.headers["Content-Disposition"].startswith('attachment; filename="count.csv"')
    again = api.post(path, CSV.encode(), Content_Type="text/csv")
    assert again.json()["revision"] == 2
    assert [item["revision"] for item in api.get(path).json()["items"]] == [1, 2]


def test_a_list_of_lines_and_an_object_of_openings_are_the_same(api: Api, path: str, office: Office) -> None:
    lines = golden_request(office)["openings"]
    made = [api.post(path, body).headers["Location"] for body in (lines, {"openings": lines})]
    first, second = (api.get(f"{location}/openings").json() for location in made)
    assert first == second and first["items"] == lines


def test_every_fault_of_a_file_is_told_with_line_and_column_and_nothing_is_stored(api: Api, path: str) -> None:
    with_nul = CSV.replace("10,48 in", "10,48\0 in")
    refused = api.post(path, with_nul.encode(), Content_Type="text/csv")
    assert refused.status_code == 422
    assert [(e["code"], e["line"], e["document"]) for e in refused.json()["errors"]] == [
        ("control_character", 2, "schedule")
    ]
    assert api.get(path).json()["items"] == []


def test_what_a_person_wrote_under_field_names_is_asked_at_its_cell(api: Api, path: str) -> None:
    faulty = CSV.replace("10,48 in", "several,48 in").replace("72 in,60 in", "72 in,wide")
    made = api.post(path, faulty.encode(), Content_Type="text/csv")
    assert made.status_code == 201
    asked = api.get(f"{made.headers['Location']}/questions?open=true").json()["items"]
    blocking = {q["code"]: [cell[-1] for cell in q["cells"]] for q in asked if q["severity"] == "blocks_costing"}
    assert blocking == {"quantity_unreadable": ["2"], "size_unreadable": ["3"]}


@pytest.mark.parametrize(
    ("data", "media", "status", "code"),
    [
        (b"", "text/csv", 422, "empty"),
        (b"PK\x03\x04zip", "text/csv", 422, "broken_zip"),
        (b"{", "application/json", 400, "not_json"),
        (b'{"openings": [], "crew": {}}', "application/json", 422, "unknown_field"),
        (b'{"openings": "text"}', "application/json", 422, "not_a_list"),
        (b"mark,quantity\n", "application/xml", 415, "unsupported_media_type"),
    ],
)
def test_what_is_no_schedule(api: Api, path: str, data: bytes, media: str, status: int, code: str) -> None:
    refused = api.send("POST", path, data or b" ", Content_Type=media)
    assert (refused.status_code, refused.json()["errors"][0]["code"]) == (status, code)


def test_bare_numbers_take_the_unit_that_the_file_or_the_request_tells(api: Api, path: str, office: Office) -> None:
    lines: list[dict[str, Any]] = golden_request(office)["openings"]
    bare = [line | {"width": int(line["width"][:-3]), "height": int(line["height"][:-3])} for line in lines]
    request = {k: v for k, v in golden_request(office).items() if k != "openings"}

    def price(schedule: Any, **fields: str) -> Any:
        answer = api.estimate(request | fields | {"schedule": schedule.json()["id"]})
        return answer.json()["totals"]["price"] if answer.status_code == 201 else answer.json()["errors"][0]["code"]

    told = api.post(path, {"length_unit": "in", "openings": bare})
    untold = api.post(path, bare)
    assert (told.json()["length_unit"], untold.json()["length_unit"]) == ("in", "")
    assert (price(told), price(untold, length_unit="in"), price(untold)) == ("1655.00", "1655.00", "unit_missing")
