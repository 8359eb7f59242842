"""Pages of a project: its next step with its quotes, when it is due, its history; what is cut and bought for it."""

from __future__ import annotations

import datetime
import re
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from tests.cast import Office
from tests.db.making import issue_quote
from tests.http.visitor import LINES, Job, Visitor


@pytest.fixture
def job(office: Office) -> Job:
    return Job(office)


def next_of(person: Visitor, job: Job) -> str:
    """The next step as the page of the project has it, without its markup."""
    found = re.search(r"<dt>Next</dt><dd>(.*?)</dd>", person.see(f"/projects/{job.project}"), re.S)
    assert found is not None
    return " ".join(re.sub(r"<[^>]+>", " ", found[1]).split())


def step(job: Job, quote: str, name: str, **body: Any) -> None:
    path = f"/v1/quotes/{quote}"
    sent = job.api.post(f"{path}/{name}", body, If_Match=job.api.get(path).headers["ETag"])
    assert sent.status_code == 200, sent.content


def test_the_next_step_knows_of_quotes(job: Job) -> None:
    sales, viewer = job.person("sales"), job.person("viewer")
    assert next_of(sales, job) == "Check the price Draft a quote" and next_of(viewer, job) == "Check the price"
    body = {"estimate": job.estimate, "customer": {"name": "Northfield Builders"}}
    draft = job.api.post("/v1/quotes", body, Idempotency_Key="first").json()["id"]
    assert next_of(sales, job) == "Check and issue the draft" and next_of(viewer, job) == "A draft of a quote"
    issue_quote(job.office, draft)
    assert next_of(sales, job).startswith("Quote 1 is with the customer valid until ")
    job.add([LINES[0] | {"quantity": 12}, *LINES[1:]])
    assert next_of(sales, job) == "Quote it anew quote 1 is of an older price"
    assert next_of(viewer, job).startswith("To be quoted anew")
    anew = job.api.post(f"/v1/quotes/{draft}/requote", {}).json()["id"]
    assert next_of(sales, job) == "Check and issue the draft"
    step(job, draft, "award", reason="on the phone")
    assert next_of(sales, job) == "Check and issue the draft", "the newest draft is what waits"
    assert f'href="/quotes/{anew}"' in sales.see("/projects")


@pytest.mark.parametrize(("ended", "told"), [("award", "is awarded"), ("close", "was not awarded")])
def test_an_ended_quote_is_told(job: Job, ended: str, told: str) -> None:
    quote = job.quoted()
    step(job, quote, ended, reason="on the phone")
    sales = job.person("sales")
    assert next_of(sales, job).startswith(f"Quote 1 {told}")
    assert f'href="/quotes/{quote}"' in sales.see("/projects")


def test_no_step_of_others_is_a_link_for_a_viewer(job: Job) -> None:
    made = job.api.post("/v1/projects", {"name": "No schedule yet"}).json()["id"]
    page = job.person("viewer").see(f"/projects/{made}")
    assert "A schedule to be added" in page and "schedules/new" not in page and f"{made}/edit" not in page


def test_the_list_of_projects_takes_as_many_queries_whatever_it_holds(job: Job) -> None:
    sales = job.person("sales")

    def taken(path: str) -> int:
        with CaptureQueriesContext(connection) as queries:
            sales.see(path)
        return len(queries)

    paths = ("/projects", "/", f"/projects/{job.project}")
    job.quoted()
    few = [taken(path) for path in paths]
    for name in ("Hall", "School", "Store"):
        job.api.post("/v1/projects", {"name": name})
    assert [taken(path) for path in paths] == few and max(few) <= 20, few


def test_the_time_zone_of_a_bid_is_never_a_blank(job: Job) -> None:
    """At 14:00 on 2 March Chicago is six hours behind UTC."""
    sales, path = job.person("sales"), f"/projects/{job.project}/edit"
    page = sales.see(path)
    assert 'name="due_zone" type="text" value="UTC"' in page and "The company has not said its own" in page
    company = job.api.get("/v1/company")
    job.api.send("PATCH", "/v1/company", {"time_zone": "America/Chicago"}, If_Match=company.headers["ETag"])
    page = sales.see(path)
    assert 'value="America/Chicago"' in page and "America/Chicago is the company's." in page
    sales.send(path, due_day=["2027-03-02"], due_time=["14:00"])
    stored = job.api.get(f"/v1/projects/{job.project}").json()
    assert (stored["due_at"], stored["due_zone"]) == ("2027-03-02T20:00:00Z", "America/Chicago")


def test_a_due_time_is_told_in_the_time_of_the_place(job: Job) -> None:
    """14:00 in New York on 2 March 2027 is 19:00 UTC: five hours behind until the second Sunday of March."""
    sales, path = job.person("sales"), f"/projects/{job.project}/edit"
    typed = {"due_day": ["2027-03-02"], "due_time": ["14:00"], "due_zone": ["America/New_York"], "number": ["27-014"]}
    assert sales.send(path, **typed) == f"/projects/{job.project}"
    stored = job.api.get(f"/v1/projects/{job.project}").json()
    due = datetime.datetime.fromisoformat(stored["due_at"])
    assert due == datetime.datetime(2027, 3, 2, 19, tzinfo=datetime.UTC) and stored["due_zone"] == "America/New_York"
    assert "Mar 2, 2027, 2:00 PM EST" in sales.see(f"/projects/{job.project}") and "27-014" in sales.text
    page = sales.see(path)
    assert 'value="14:00"' in page and 'value="2027-03-02"' in page
    sales.send(path, due_day=[""], due_time=[""])
    assert job.api.get(f"/v1/projects/{job.project}").json()["due_at"] is None
    audit = job.person("principal").see(f"/audit?subject={job.project}")
    assert "Change project" in audit


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ({"due_day": ["2027-03-02"]}, "the time of day is missing"),
        ({"due_time": ["14:00"]}, "the day is missing"),
        ({"due_day": ["2027-03-02"], "due_time": ["14:00"], "due_zone": ["Mars/Base"]}, "a time zone such as"),
        ({"due_day": ["soon"], "due_time": ["14:00"]}, "a day and a time such as"),
        # the clocks of New York go from 2:00 to 3:00 on 14 March 2027, the second Sunday (15 U.S.C. 260a)
        ({"due_day": ["2027-03-14"], "due_time": ["02:30"], "due_zone": ["America/New_York"]}, "leave this time out"),
        ({"name": [""]}, "a project needs a name"),
        ({"name": ["x" * 201]}, "at most 200"),
    ],
)
def test_what_is_wrong_with_a_due_time_is_told_and_nothing_is_stored(job: Job, typed: Any, told: str) -> None:
    sales, before = job.person("sales"), job.api.get(f"/v1/projects/{job.project}").json()
    page = sales.send(f"/projects/{job.project}/edit", 422, **typed)
    assert told in page.lower() and "data-faults" in page
    assert job.api.get(f"/v1/projects/{job.project}").json() == before


def test_who_lost_the_race_sees_both(job: Job) -> None:
    sales, path = job.person("sales"), f"/projects/{job.project}/edit"
    sales.see(path)
    mine = sales.fields() | {"name": ["Clinic, east wing"]}
    tag = job.api.get(f"/v1/projects/{job.project}").headers["ETag"]
    job.api.send("PATCH", f"/v1/projects/{job.project}", {"name": "Clinic, west wing"}, If_Match=tag)
    page = sales.send_again(path, mine, 422)
    assert "Clinic, east wing" in page and "Stored now: Clinic, west wing" in page


def test_an_archived_project_is_out_of_the_lists(job: Job) -> None:
    sales = job.person("sales")
    sales.send(f"/projects/{job.project}/edit", state=["archived"])
    assert "Clinic" not in sales.see("/projects") and "archived" in sales.see(f"/projects/{job.project}")


def test_the_history_tells_every_step_with_its_picture(job: Job) -> None:
    quote = job.quoted()
    step(job, quote, "award", reason="on the phone")
    items = job.api.get(f"/v1/projects/{job.project}/history?ordering=-at").json()["items"]
    viewer = job.person("viewer")
    page = viewer.see(f"/projects/{job.project}/history")
    assert page.count('data-title="When"') == len(items) and "<svg" in page
    for words in ("Quote 1 awarded", "on the phone", "1,655.00", "Bulletin 2", "Estimate 1 costed"):
        assert words in page, words
    assert f'href="/quotes/{quote}"' in page and "/editions/" not in page
    assert "/editions/" in job.person("estimator").see(f"/projects/{job.project}/history")
    only = viewer.see(f"/projects/{job.project}/history?kind=quote")
    assert "Quote 1 issued" in only and "Estimate 1 costed" not in only.partition("<tbody")[2]
    assert "Quote 1 issued" in viewer.see(f"/projects/{job.project}/history?kind=nothing")


def test_the_cut_plan_shows_what_the_api_answers(job: Job) -> None:
    plan = job.api.get(f"/v1/estimates/{job.estimate}/cut-plan").json()
    viewer = job.person("viewer")
    page = viewer.see(f"/estimates/{job.estimate}/cut-plan")
    rows = page.partition("Roll by roll")[2].partition("<tbody")[2].partition("</tbody>")[0]
    assert rows.count("<tr>") == len(plan["items"]) and "3 × 150 ft" in page
    for row in plan["items"]:
        assert f'<td class="n">{row["start_shown"]}</td><td class="n">{row["end_shown"]}</td>' in rows
    page = viewer.see(f"/estimates/{job.estimate}/cut-plan?by=bundles")
    rows = page.partition("Joined of")[2].partition("</tbody>")[0]
    assert rows.count("<tr>") == len(plan["bundles"])
    for end in ("pdf", "xlsx", "csv"):
        assert f'href="/v1/estimates/{job.estimate}/cut-plan.{end}"' in page
        assert viewer.client.get(f"/v1/estimates/{job.estimate}/cut-plan.{end}").status_code == 200


def test_the_purchase_list_has_prices_only_for_who_may_see_costs(job: Job) -> None:
    items = job.api.get(f"/v1/estimates/{job.estimate}/purchase-list").json()["items"]
    path = f"/estimates/{job.estimate}/purchase-list"
    costly = job.person("estimator").see(path)
    assert "212.00" in costly and "174.00" in costly and "purchase-list.pdf" in costly
    page = job.person("viewer").see(path)
    for one in items:
        assert one["title"] in page
        assert one["amount"] == "0.00" or one["amount"] not in page
    assert "purchase-list.pdf" not in page and "purchase-list.xlsx" in page and "1 × 5 gal" in page
