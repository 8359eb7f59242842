"""One line of time for a project: every step in order, who and why, and prices whose causes sum to their change."""

from __future__ import annotations

import csv
import io
import xml.etree.ElementTree as ElementTree
from decimal import Decimal
from typing import Any

import pytest

from tests.cast import Api, Office, make_person
from tests.db.making import golden_request

SHEET = "Mark,Qty,Width,Height,Access\nW1,40,48 in,48 in,ground\nW2,1,36 in,36 in,ground\n"
LATER = "Mark,Qty,Width,Height,Access\nW1,60,48 in,48 in,ground\nW2,1,36 in,36 in,ground\n"


@pytest.fixture
def job(api: Api, office: Office) -> dict[str, str]:
    """A project with two drawing issues, an edit with its reason, a price of each, and a comparison of the two."""
    path = api.post("/v1/projects", {"name": "Clinic", "number": "26-014"}).headers["Location"]
    request = {name: value for name, value in golden_request(office).items() if name != "openings"}
    found = {"path": path}
    for issue, sheet in (("A", SHEET), ("B", LATER)):
        schedule = api.post(f"{path}/opening-schedules?drawing_issue={issue}", sheet, Content_Type="text/csv").json()
        found[issue] = schedule["id"]
        found[f"price {issue}"] = api.estimate(request | {"schedule": schedule["id"]}).json()["id"]
    edit = {"line": 0, "change": {"width": "50 in"}, "reason": "measured at the site"}
    answer = api.post(f"/v1/opening-schedules/{found['B']}/edits", {"edits": [edit]})
    assert answer.status_code == 201, answer.content
    compared = api.post("/v1/comparisons", {"before": found["price A"], "after": found["price B"]}, Prefer="wait=10")
    assert compared.status_code == 201, compared.content
    return found


def read(api: Api, job: dict[str, str], query: str = "") -> list[dict[str, Any]]:
    return list(api.get(f"{job['path']}/history{query}").json()["items"])


def test_every_step_stands_in_order_with_who_and_why(api: Api, job: dict[str, str]) -> None:
    items = read(api, job)
    told = [(item["kind"], item["step"], item["number"], item["drawing_issue"]) for item in items]
    assert told == [
        ("project", "made", None, ""),
        ("schedule", "received", 1, "A"),
        ("edition", "used", 1, ""),
        ("estimate", "costed", 1, "A"),
        ("schedule", "received", 2, "B"),
        ("estimate", "costed", 2, "B"),
        ("schedule", "answered", 3, "B"),
        ("comparison", "compared", 2, ""),
    ]
    assert [item["at"] for item in items] == sorted(item["at"] for item in items)
    edited = items[6]
    assert (edited["what"], edited["why"], edited["who_name"]) == ("1 edit", "measured at the site", "Drafter")
    document = api.get(f"/v1/estimates/{job['price A']}").json()
    assert (items[3]["price"], items[3]["digest"]) == (document["totals"]["price"], document["input_digest"])
    assert items[2]["who_name"] == "Approver"


def test_the_causes_of_a_price_sum_to_its_change(api: Api, job: dict[str, str]) -> None:
    first, second = read(api, job, "?kind=estimate")
    assert (first["change"], first["causes"]) == (None, [])
    change = Decimal(second["change"])
    assert change == Decimal(second["price"]) - Decimal(first["price"]) != 0
    assert sum(Decimal(cause["amount"]) for cause in second["causes"]) == change


def test_pages_one_by_one_and_backwards_are_the_whole(api: Api, job: dict[str, str]) -> None:
    whole = read(api, job)
    for ordering, expected in (("at", whole), ("-at", whole[::-1])):
        query, seen = f"?limit=1&ordering={ordering}", []
        page = api.get(f"{job['path']}/history{query}").json()
        while True:
            seen += page["items"]
            if page["next"] is None:
                break
            page = api.get(f"{job['path']}/history{query}&cursor={page['next']}").json()
        assert seen == expected
    for cursor in ("WzEsMiwzLDRd", "WyJhIiwiYiIsImMiLCJkIl0"):  # [1,2,3,4] and ["a","b","c","d"]
        assert api.get(f"{job['path']}/history?cursor={cursor}").status_code == 422


def test_as_a_table_each_cause_has_a_column(api: Api, job: dict[str, str]) -> None:
    text = api.get(f"{job['path']}/history.csv").content.decode()
    rows = list(csv.DictReader(io.StringIO(text)))
    assert len(rows) == len(read(api, job)) and "[" not in text and "{" not in text
    priced = next(row for row in rows if row["kind"] == "estimate" and row["number"] == "2")
    amounts = [Decimal(text) for name, text in priced.items() if name.endswith("/amount") and text]
    assert amounts
    assert sum(amounts) == Decimal(priced["change"])


def test_the_picture_shows_each_price_and_can_be_read_out(api: Api, job: dict[str, str]) -> None:
    answer = api.get(f"{job['path']}/history.svg")
    assert answer.headers["Content-Type"] == "image/svg+xml"
    root = ElementTree.fromstring(answer.content)
    texts = ["".join(part.itertext()) for part in root.iter("{http://www.w3.org/2000/svg}text")]
    for item in read(api, job, "?kind=estimate"):
        assert f"{Decimal(item['price']):,}" in texts
    assert root.get("role") == "img" and "2 prices" in str(root.get("aria-label"))


def test_a_project_without_a_price_has_a_picture_that_says_so(api: Api) -> None:
    path = api.post("/v1/projects", {"name": "New"}).headers["Location"]
    assert "No price yet." in api.get(f"{path}/history.svg").content.decode()


def test_a_viewer_reads_the_history_without_costs(api: Api, office: Office, job: dict[str, str]) -> None:
    viewer = make_person(office, "viewer", "v@office.example")
    assert [item["price"] for item in read(viewer, job)] == [item["price"] for item in read(api, job)]
