"""Lengths as the company's people read them: reading report, questions, stakes, cut pieces; what is exact stays."""

from __future__ import annotations

import csv
import io
import json
from typing import Any

import pytest

from api.rest.schedules import WORKBOOK
from estimating import snapshots
from rates.core.fraction import Fraction
from rates.core.length_styles import DENOMINATORS, STYLES, LengthStyle
from rates.core.units import LENGTH_NM, read_length
from tests.cast import Api, Office, make_office, make_person
from tests.db.making import golden_request
from tests.intake.workbooks import workbook

ROWS: list[list[object]] = [
    ["MARK", "QTY", "WIDTH (IN)", "HEIGHT (IN)", "ACCESS"],
    ["W1", 2, "36", "40 3/8", "ground"],
    ["W2", 1, "2 1/2", "48", "ground"],
    ["W3", 1, "48", "48", "ground"],
    ["W3", 3, "48", "60", "ground"],
]


def choose(api: Api, style: str, denominator: int = 16) -> None:
    """Another length style of the company."""
    tag = api.get("/v1/company").headers["ETag"]
    body = {"length_style": style, "length_denominator": denominator}
    assert api.send("PATCH", "/v1/company", body, If_Match=tag).status_code == 200


@pytest.fixture
def schedule(api: Api) -> str:
    """The address of a stored schedule with questions that name lengths."""
    return store(api, workbook({"Windows": ROWS}), WORKBOOK)


def store(api: Api, data: bytes, media_type: str) -> str:
    """The address of a schedule of a new project."""
    path = api.post("/v1/projects", {"name": "Hall"}).headers["Location"]
    made = api.post(f"{path}/opening-schedules", data, Content_Type=media_type)
    assert made.status_code == 201, made.content
    return str(made.headers["Location"])


def asked(api: Api, schedule: str) -> dict[str, dict[str, Any]]:
    """The questions by code."""
    return {question["code"]: question for question in api.get(f"{schedule}/questions").json()["items"]}


@pytest.mark.parametrize(
    ("style", "denominator", "shown", "size"),
    [
        ("feet_inches", 16, ["3'-0\"", "3'-4 3/8\""], '2 1/2"'),
        ("feet_inches", 8, ["3'-0\"", "3'-4 3/8\""], '2 1/2"'),
        ("inches", 8, ["36 in", "40 3/8 in"], "2 1/2 in"),
        ("mm", 16, ["914.4 mm", "1025.5 mm"], "63.5 mm"),
        ("m", 16, ["0.9144 m", "1.0255 m"], "0.0635 m"),
    ],
)
def test_the_reading_report_speaks_the_companys_style(
    api: Api, schedule: str, style: str, denominator: int, shown: list[str], size: str
) -> None:
    choose(api, style, denominator)
    lines = api.get(f"{schedule}/reading").json()["items"]
    fields = lines[0]["fields"]
    assert [fields[name]["shown"] for name in ("width", "height")] == shown
    assert [fields[name]["value"] for name in ("width", "height")] == ["36 in", "40 3/8 in"]
    assert "shown" not in fields["mark"] and "shown" not in fields["quantity"]
    question = asked(api, schedule)["size_out_of_band"]
    assert question["sentence"] == f"The width of W2, {size}, is outside any likely size. Is it right?"
    table = list(csv.DictReader(io.StringIO(api.get(f"{schedule}/reading.csv").content.decode())))
    assert table[0]["fields/width/shown"] == shown[0]


def test_bare_numbers_are_shown_in_the_unit_that_the_schedule_tells(api: Api) -> None:
    line = {"mark": "W1", "quantity": 1, "width": 36, "height": 48.25, "access": "ground"}
    told = store(api, json.dumps({"length_unit": "in", "openings": [line]}).encode(), "application/json")
    fields = api.get(f"{told}/reading").json()["items"][0]["fields"]
    assert [(fields[name]["value"], fields[name]["shown"]) for name in ("width", "height")] == [
        (36, "3'-0\""),
        (48.25, "4'-0 1/4\""),
    ]
    untold = store(api, json.dumps({"openings": [line]}).encode(), "application/json")
    fields = api.get(f"{untold}/reading").json()["items"][0]["fields"]
    assert "shown" not in fields["width"]  # the request for an estimate is to tell


def test_an_answer_is_given_in_any_style_and_outlives_another(api: Api, schedule: str) -> None:
    before = asked(api, schedule)["mark_of_two_sizes"]
    choose(api, "mm")
    now = asked(api, schedule)["mark_of_two_sizes"]
    assert (now["id"], now["choices"]) == (before["id"], before["choices"])
    assert now["choices_shown"] == ["1219.2 mm x 1219.2 mm", "1219.2 mm x 1524 mm", "all_right"]
    assert "1219.2 mm x 1524 mm. Which is right?" in now["sentence"]
    answers = {"answers": {now["id"]: now["choices"][1]}}
    after = api.post(f"{schedule}/answers", answers)
    assert after.status_code == 201, after.content
    choose(api, "inches", 8)
    kept = asked(api, after.headers["Location"])["mark_of_two_sizes"]
    assert (kept["answer"], kept["open"]) == (before["choices"][1], False)
    lines = api.get(after.headers["Location"] + "/reading").json()["items"]
    assert [line["fields"]["height"]["shown"] for line in lines[2:]] == ["60 in", "60 in"]


def test_changes_of_a_revision_are_told_in_the_style(api: Api) -> None:
    path = api.post("/v1/projects", {"name": "Hall"}).headers["Location"] + "/opening-schedules"
    line = {"mark": "W1", "quantity": 1, "width": "914 mm", "height": "4'-0\"", "access": "ground"}
    first, second = (
        api.post(path, json.dumps({"openings": [line | {"width": width}]}).encode())
        for width in ("914 mm", "40 3/8 in")
    )
    told = {}
    for style in ("feet_inches", "mm"):
        choose(api, style)
        found = api.get(f"{second.headers['Location']}/changes?from={first.json()['id']}").json()
        told[style] = found["lines"][0]["sentence"]
    assert told == {
        "feet_inches": "W1: size 3'-4 3/8\" x 4'-0\" instead of 3'-0\" x 4'-0\".",
        "mm": "W1: size 1025.5 mm x 1219.2 mm instead of 914 mm x 1219.2 mm.",
    }


def test_money_at_stake_is_told_in_the_style(api: Api, office: Office, schedule: str) -> None:
    made = api.estimate(golden_request(office)).json()
    choose(api, "mm")
    (stake,) = [
        item
        for item in api.get(f"{schedule}/stakes?estimate={made['id']}").json()["items"]
        if item["code"] == "mark_of_two_sizes"
    ]
    assert stake["prices"].keys() == {"4'-0\" x 4'-0\"", "4'-0\" x 5'-0\"", "all_right"}
    assert stake["choices_shown"] == {
        "4'-0\" x 4'-0\"": "1219.2 mm x 1219.2 mm",
        "4'-0\" x 5'-0\"": "1219.2 mm x 1524 mm",
        "all_right": "all_right",
    }
    assert "1219.2 mm x 1524 mm" in stake["sentence"]


@pytest.mark.parametrize("units", ["imperial", "metric"])
def test_pieces_carry_their_texts_beside_what_is_exact(api: Api, office: Office, units: str) -> None:
    made = api.estimate(golden_request(office, units=units)).json()
    path, unit = f"/v1/estimates/{made['id']}/pieces", LENGTH_NM[made["units"]["length"]]
    stored = json.loads(snapshots.read_bytes(company=office.company, estimate=made["id"], name="pieces") or b"")
    tags = set()
    for name in STYLES:
        for denominator in DENOMINATORS:
            choose(api, name, denominator)
            answer = api.get(path)
            step = LengthStyle(name, denominator).step_nm if name in ("feet_inches", "inches") else Fraction(10**6)
            tags.add(answer.headers["ETag"])
            items = answer.json()["items"]
            for item in items:
                for exact in ("length", "width"):
                    back = read_length(item.pop(f"{exact}_shown")).nm
                    assert -unit / 10**6 <= back - Fraction(item[exact]) * unit < step
                    assert (back / step).denominator == 1
            assert answer.json()["count"] == stored["count"] and items == stored["items"]
    assert len(tags) == len(STYLES) * len(DENOMINATORS)
    again = snapshots.read_bytes(company=office.company, estimate=made["id"], name="pieces")
    assert json.loads(again or b"") == stored
    assert api.get(f"/v1/estimates/{made['id']}").json() == made


def test_pieces_in_the_default_style_and_under_their_tag(api: Api, office: Office) -> None:
    made = api.estimate(golden_request(office)).json()
    path = f"/v1/estimates/{made['id']}/pieces"
    first = api.get(path)
    longest = first.json()["items"][0]
    assert list(longest)[:6] == ["material", "piece", "length", "length_shown", "width", "width_shown"]
    assert api.get(path, If_None_Match=first.headers["ETag"]).status_code == 304
    choose(api, "mm")
    other = api.get(path, If_None_Match=first.headers["ETag"])
    assert other.status_code == 200 and other.json()["items"][0]["length_shown"].endswith(" mm")
    choose(api, "feet_inches")
    assert api.get(path).content == first.content


@pytest.mark.parametrize("format", ["csv", "xlsx"])
def test_pieces_as_a_table(api: Api, office: Office, format: str) -> None:
    made = api.estimate(golden_request(office)).json()
    path = f"/v1/estimates/{made['id']}/pieces"
    items = api.get(path).json()["items"]
    answer = api.get(f"{path}.{format}")
    assert answer.status_code == 200, answer.content
    if format == "csv":
        rows = list(csv.DictReader(io.StringIO(answer.content.decode())))
        told = [(item["length_shown"], mark, str(count)) for item in items for mark, count in item["marks"].items()]
        assert [(row["length_shown"], row["mark"], row["count"]) for row in rows] == told


def test_who_may_not_see_costs_sees_lengths_too(api: Api, office: Office) -> None:
    made = api.estimate(golden_request(office)).json()
    viewer = make_person(office, "viewer", "v@office.example")
    items = viewer.get(f"/v1/estimates/{made['id']}/pieces").json()["items"]
    assert items and all(item["length_shown"] and item["width_shown"] for item in items)
    assert viewer.get("/v1/company").json()["length_style"] == "feet_inches"


def test_each_company_reads_its_own_style(api: Api, office: Office) -> None:
    other = make_office("Other")
    theirs = Api(other.key)
    choose(theirs, "mm")
    made = api.estimate(golden_request(office)).json()
    same = theirs.estimate(golden_request(other)).json()
    assert '"' in api.get(f"/v1/estimates/{made['id']}/pieces").json()["items"][0]["length_shown"]
    assert "mm" in theirs.get(f"/v1/estimates/{same['id']}/pieces").json()["items"][0]["length_shown"]
    assert made["input_digest"] == same["input_digest"]


def test_pieces_of_an_unknown_estimate(api: Api, office: Office) -> None:
    for path in ("pieces", "pieces.csv"):
        assert api.get(f"/v1/estimates/{office.company}/{path}").status_code == 404
