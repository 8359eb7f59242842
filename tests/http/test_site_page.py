"""Site and crew as a page: the calendar of the request there, what the API gave beside it kept or left out."""

from __future__ import annotations

import re

import pytest

from tests.cast import Office
from tests.http.test_climates import CSV as AS_CSV
from tests.http.test_climates import load, station_rows
from tests.http.visitor import LINES, Job, Visitor

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
    assert "Review, then cost" in page
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
    assert "Calendar: holidays, climate, days of the week" in page and "API" not in page


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


def blank(person: Visitor, path: str) -> dict[str, list[str]]:
    """The form of site and crew with nothing in it but what it hides."""
    person.see(path)
    kept = ("once", "rate_book", "csrfmiddlewaretoken")
    return {name: value for name, value in person.fields().items() if name in kept} | {"step": ["check"]}


def test_all_that_an_empty_form_lacks_is_told_at_once(job: Job) -> None:
    person = job.person("estimator")
    lines = [{"mark": "A", "quantity": 2, "width": "3 ft", "height": "4 ft"}]
    path = f"/schedules/{job.add(lines)}/site"
    page = person.send_again(path, blank(person, path), 422)
    for field in ("method-0", "work_date", "treated_depth", "crew."):
        assert f'href="#field-{field}' in page, field
    page = person.send_again(path, blank(person, path) | {"method": ["fluid"], "wall_barrier": ["sheet"]}, 422)
    for field in ("work_date", "treated_depth", "crew.", "method_override"):
        assert f'href="#field-{field}' in page, field
    assert 'href="#field-method-0"' not in page


def test_the_review_says_how_the_work_is_reached_and_which_sides_are_treated(job: Job) -> None:
    size = {"width": "3 ft", "height": "7 ft", "treated_depth": "6 in"}
    lines = [
        {"mark": "W1", "quantity": 110, "access": "ladder"} | size,
        {"mark": "W2", "quantity": 3} | size,
        {"mark": "D1", "quantity": 2, "kind": "door", "access": "ground", "sides": ["jambs", "head"]} | size,
        {"mark": "D2", "quantity": 5, "kind": "door", "access": "ground"} | size,
        {"mark": "X1", "quantity": 40, "access": "lift", "excluded": {"reason": "by others"}} | size,
    ]
    person, path = job.person("estimator"), f"/schedules/{job.add(lines)}/site"
    person.see(path)
    page = person.send_again(path, person.fields() | {"step": "check"}, 200)
    assert "ladder: 110 openings; ground: 7 openings; not said, taken as ground: 3 openings" in page
    assert "Sides treated, windows</dt><dd>all four sides: 113 openings" in page
    assert "Sides treated, doors</dt><dd>all four sides: 5 openings; jambs, head: 2 openings" in page
    assert "lift" not in page, "a line set aside is not priced"
    assert "Why this method may stand" not in page and "no primer" not in page


def test_that_an_estimate_is_kept_is_said_where_there_is_one(job: Job) -> None:
    person, path = job.person("estimator"), f"/schedules/{job.first}/site"
    person.see(path)
    assert "estimate 1 is kept" in person.send_again(path, person.fields() | {"step": "check"}, 200)
    job.project = job.api.post("/v1/projects", {"name": "Another"}).json()["id"]
    path = f"/schedules/{job.add(LINES)}/site?like={job.estimate}"
    person.see(path)
    typed = person.fields() | {"step": "check", "work_date": ["2027-03-15"]}
    page = person.send_again(path, typed, 200)
    assert "An estimate is never changed once costed." in page and "is kept" not in page


def test_what_open_questions_leave_is_said_beside_the_way_on(job: Job) -> None:
    text = "Mark,Qty,Kind,Width,Height\nW1,10,window,3'-0\",4'-0\"\nD1,4,door,3'-0\",7'-0\"\n"
    path = f"/v1/projects/{job.project}/opening-schedules?file_name=list.csv"
    made = job.api.send("POST", path, text.encode(), Content_Type="text/csv")
    assert made.status_code == 201, made.content
    person, schedule = job.person("estimator"), f"/schedules/{made.json()['id']}"
    page = person.see(schedule)
    assert f'<a class="button" href="{schedule}/questions">Answer 2 questions first</a>' in page
    assert f'<a class="button plain" href="{schedule}/site">Go on to site and crew</a>' in page
    taken = "openings without access are priced from the ground; doors without sides are treated on all four"
    for shown in (page, person.see(f"{schedule}/site")):
        assert taken in shown
    questions = job.api.get(f"/v1/opening-schedules/{made.json()['id']}/questions").json()["items"]
    asked = {one["code"]: one["id"] for one in questions if one["severity"] == "blocks_issue"}
    answers = [{"question": asked["access_missing"], "answer": "ladder"}]
    job.api.post(f"/v1/opening-schedules/{made.json()['id']}/answers", {"answers": answers})
    newest = job.api.get(f"/v1/projects/{job.project}/opening-schedules?ordering=-revision").json()["items"][0]["id"]
    page = person.see(f"/schedules/{newest}")
    assert "Until then doors without sides are treated on all four." in page


def test_the_like_job_is_chosen_by_a_person(job: Job) -> None:
    page = job.person("estimator").see(f"/schedules/{job.first}/site")
    assert '<select id="like" name="like" required><option value="">choose a job</option>' in page


def test_what_may_be_left_blank_says_so(job: Job) -> None:
    job.project = job.api.post("/v1/projects", {"name": "Another"}).json()["id"]
    page = job.person("estimator").see(f"/schedules/{job.add(LINES)}/site")
    for label in ("Water-resistive barrier of the wall", "Mobilisations", "Gross wall area", "Public holidays of"):
        assert f"{label} <small>(optional)</small>" in page, label
    for label in ("Method", "First day of the work", "Treated depth into the opening"):
        assert f"{label}</" in page, label
