"""Site and crew as a page: the calendar of the request there, what the API gave beside it kept or left out."""

from __future__ import annotations

import re

import pytest

from tests.cast import Office
from tests.http.test_climates import CSV as AS_CSV
from tests.http.test_climates import load, station_rows
from tests.http.visitor import Job

OFF = {"first": "2027-03-18", "last": "2027-03-19", "reason": "air test"}
MILD = {"title": "Nowhere near", "unit": "f", "months": [{"month": 3, "high": "70", "low": "60"}]}


@pytest.fixture
def job(office: Office) -> Job:
    return Job(office)


def cost(job: Job, typed: dict[str, list[str]], **changed: list[str]) -> str:
    """The address of the estimate after both steps: looked over, then costed."""
    person, path = job.person("estimator"), f"/schedules/{job.first}/site"
    person.see(path)
    fields = person.fields() | typed | changed
    page = person.send_again(path, fields | {"step": "check"}, 200)
    assert "Look over, then cost" in page
    return person.send_again(path, person.fields() | {"step": "cost"})


def test_the_calendar_goes_with_site_and_crew(job: Job) -> None:
    load(job.api, station_rows(), **AS_CSV)
    typed = {
        "calendar_start": ["2027-05-03"],
        "holidays": ["us-wi"],
        "working_days": ["monday", "wednesday"],
        "climate": ["milwaukee-wi"],
    }
    price = job.api.get(f"/v1/estimates/{job.estimate}").json()["totals"]["price"]
    path = cost(job, typed)
    found = job.api.get(f"/v1{path}/calendar").json()
    assert (found["start"], found["holidays"], found["climate"]["title"]) == ("2027-05-03", "US-WI", "milwaukee-wi")
    assert {row["weekday"] for row in found["items"]} <= {"monday", "wednesday"}
    assert job.api.get(f"/v1{path}").json()["totals"]["price"] == price, "a calendar moves no price"


def test_the_fields_hold_what_the_last_estimate_was_asked_for_with(job: Job) -> None:
    load(job.api, station_rows(), **AS_CSV)
    calendar = {"start": "2027-05-03", "holidays": "US", "working_days": ["tuesday"], "climate": "phoenix-az"}
    job.api.estimate(job.request | {"schedule": job.first, "calendar": calendar})
    person = job.person("estimator")
    page = person.see(f"/schedules/{job.first}/site")
    fields = person.fields()
    assert [fields[name] for name in ("calendar_start", "holidays")] == [["2027-05-03"], ["US"]]
    assert fields["climate"] == ["phoenix-az"]
    assert fields["working_days"] == ["tuesday"] and "calendar_kept" not in fields
    assert "come with a request to the API" in page


@pytest.mark.parametrize("keep", [True, False])
def test_what_the_api_gave_is_kept_or_left_out_as_said(job: Job, keep: bool) -> None:
    calendar = {"days_off": [OFF], "climate": MILD, "zones": [{"units_due": "2027-06-01"}], "starts": "06:30"}
    last = job.api.estimate(job.request | {"schedule": job.first, "calendar": calendar}).json()["id"]
    page = job.person("principal").see(f"/schedules/{job.first}/site")
    words = re.search(r'name="calendar_kept" value="([^"]+)" checked><label[^>]*>keep: ([^<]+)', page)
    assert words is not None and words[1] == last
    assert words[2] == (
        "the dates of zones (1), the site's days off, the day's start at 06:30, the climate of Nowhere near"
    )
    typed = {"holidays": ["US"]} | ({} if keep else {"calendar_kept": [""]})
    found = job.api.get(f"/v1{cost(job, typed)}/calendar").json()
    zones = [row["units_due"] for row in found["zones"]]
    assert found["holidays"] == "US"
    assert set(zones) == ({"2027-06-01"} if keep else {None})
    assert (found["climate"] and found["climate"]["title"]) == ("Nowhere near" if keep else None)
    assert {row["starts"] for row in found["items"]} == ({"06:30"} if keep else {"07:00"})


def test_a_climate_that_is_chosen_goes_before_one_that_is_kept(job: Job) -> None:
    load(job.api, station_rows(), **AS_CSV)
    job.api.estimate(job.request | {"schedule": job.first, "calendar": {"climate": MILD}})
    found = job.api.get(f"/v1{cost(job, {'climate': ['phoenix-az']})}/calendar").json()
    assert found["climate"]["title"] == "phoenix-az"


def test_what_is_wrong_is_told_at_its_field(job: Job) -> None:
    person, path = job.person("estimator"), f"/schedules/{job.first}/site"
    person.see(path)
    fields = person.fields()
    wrong = {"calendar_start": ["soon"], "holidays": ["Wisconsin"], "working_days": ["payday"], "climate": ["Nowhere"]}
    page = person.send_again(path, fields | wrong | {"step": "check"}, 422)
    for field in ("calendar_start", "holidays", "working_days-0", "climate"):
        assert f'href="#field-{field}"' in page, field
    page = person.send_again(path, fields | {"holidays": ["XX"], "step": "check"}, 422)
    assert 'href="#field-holidays"' in page


def test_a_job_without_a_calendar_asks_for_none(job: Job) -> None:
    path = cost(job, {})
    assert job.api.get(f"/v1{path}/calendar").json()["holidays"] is None
    document = job.api.get(f"/v1{path}/purchase-list").json()["items"][0]
    assert document["need_by"] == job.request["work_date"], "without a calendar the day of the work"
