"""Bids by their due time, told in the hours of the place, with what each waits for and who can do it."""

from __future__ import annotations

import datetime
from typing import Any

from estimating.queries.bids_due import bids_due, local_time
from rates.paging import Wanted
from tests.cast import Api, Office
from tests.db.making import golden_request, issue_quote, sign_all


def soon(hours: int) -> str:
    """A time so many hours from now."""
    return (datetime.datetime.now(datetime.UTC) + datetime.timedelta(hours=hours)).isoformat(timespec="seconds")


def bids(api: Api) -> dict[str, Any]:
    """The list by the projects' names."""
    return {item["name"]: item for item in api.get("/v1/bids-due").json()["items"]}


def test_a_bid_goes_from_one_waiting_to_the_next(api: Api, office: Office) -> None:
    made = api.post("/v1/projects", {"name": "Clinic", "due_at": soon(5), "due_zone": "America/Chicago"}).json()
    api.post("/v1/projects", {"name": "Hall", "due_at": soon(2)})
    api.post("/v1/projects", {"name": "No time"})
    assert list(bids(api)) == ["Hall", "Clinic"]

    def waits() -> tuple[str, str]:
        found = bids(api)["Clinic"]
        return found["waits_for"], found["who"]

    assert waits() == ("schedule", "estimator")
    path = f"/v1/projects/{made['id']}/opening-schedules"
    sheet = "Mark,Qty,Width,Height,Access\nW1,6,48,48,ground\n"
    api.post(path, sheet, Content_Type="text/csv")
    assert waits() == ("answers", "estimator") and bids(api)["Clinic"]["blocks_costing"] > 0
    request = golden_request(office)
    schedule = api.post(path, request.pop("openings")).json()["id"]
    assert waits() == ("estimate", "estimator")
    estimate = api.estimate(request | {"schedule": schedule}).json()["id"]
    assert waits() == ("quote", "sales")
    body = {"estimate": estimate, "customer": {"name": "Northfield Builders"}}
    quote = api.post("/v1/quotes", body, Idempotency_Key="q").json()["id"]
    assert waits() == ("issue", "sales")
    sign_all(office, estimate)
    issue_quote(office, quote)
    found = bids(api)["Clinic"]
    assert waits() == ("nothing", "") and (found["quote_state"], found["quote_number"]) == ("issued", 1)
    assert found["customer"] == "Northfield Builders" and found["estimate_is_of_latest"]
    api.post(path, golden_request(office)["openings"])
    assert waits() == ("estimate", "estimator"), "a newer drawing than the costed one shows"


def test_a_due_time_is_told_in_the_hours_of_its_place(api: Api, office: Office) -> None:
    """14:00 in Chicago on 15 March 2027 is 19:00 UTC (daylight time, UTC−5, from the second Sunday of March)."""
    moment = datetime.datetime(2027, 3, 15, 19, tzinfo=datetime.UTC)
    assert local_time(moment, "America/Chicago") == "2027-03-15 14:00 CDT"
    assert local_time(moment, "Asia/Kolkata") == "2027-03-16 00:30 IST"
    made = api.post("/v1/projects", {"name": "Clinic", "due_at": "2027-03-15T14:00:00-05:00"})
    assert made.json()["due_at"] == "2027-03-15T19:00:00Z"
    tag = api.get("/v1/company").headers["ETag"]
    api.send("PATCH", "/v1/company", {"time_zone": "America/Chicago"}, If_Match=tag)
    path = f"/v1/projects/{made.json()['id']}"
    tag = api.get(path).headers["ETag"]
    changed = api.send("PATCH", path, {"due_zone": "America/New_York"}, If_Match=tag).json()
    assert changed["due_zone"] == "America/New_York"

    def listed(now: datetime.datetime) -> list[tuple[str, bool]]:
        found = bids_due(company=office.company, wanted=Wanted(), now=now).items
        return [(bid.due_local, bid.overdue) for bid in found]

    assert listed(moment - datetime.timedelta(minutes=1)) == [("2027-03-15 15:00 EDT", False)]
    assert listed(moment + datetime.timedelta(minutes=1)) == [("2027-03-15 15:00 EDT", True)]
    assert listed(moment + datetime.timedelta(days=2)) == []
    wrong = api.post("/v1/projects", {"name": "x", "due_at": "2027-03-15T14:00:00", "due_zone": "Chicago"})
    assert {error["pointer"] for error in wrong.json()["errors"]} == {"/due_at", "/due_zone"}
