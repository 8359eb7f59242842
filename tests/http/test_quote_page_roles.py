"""Pages of quotes by role, and how many queries each takes; where quotes are found and what waits for sales."""

from __future__ import annotations

import datetime

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from tests.cast import Office
from tests.http.visitor import LINES, Job


@pytest.fixture
def job(office: Office) -> Job:
    return Job(office)


@pytest.mark.parametrize("role", ["viewer", "sales"])
def test_no_cost_or_margin_on_the_pages_of_quotes(job: Job, role: str) -> None:
    before = job.quoted()
    draft = job.api.post(f"/v1/quotes/{before}/requote", {}).json()["id"]
    person, principal = job.person(role), job.person("principal")
    margin = job.api.get(f"/v1/quotes/{draft}").json()["margin_percent"]
    assert margin in principal.see(f"/quotes/{draft}")
    paths = ["/", "/quotes", "/search?words=1", f"/projects/{job.project}"]
    ends = ("", "/edit", "/offers", "/issue", "/requote", "/award", "/close")
    paths += [f"/quotes/{id}{end}" for id in (before, draft) for end in ends]
    for path in paths:
        text = person.client.get(path).content.decode()
        assert "argin" not in text and margin not in text and "1,464.38" not in text, path
    if role == "viewer":
        shown = person.see(f"/quotes/{draft}")
        assert "<form method" not in shown and "Check and issue" not in shown
        for end in ("edit", "offers", "issue", "award", "close", "requote"):
            assert person.client.post(f"/quotes/{draft}/{end}", {"basis": "held"}).status_code == 403, end


def test_a_page_of_a_quote_takes_a_fixed_number_of_queries(job: Job) -> None:
    """Counted on a list of one and of six, and on a quote of three lines and of 400."""
    before, sales = job.quoted(), job.person("principal")
    large = job.add([LINES[0] | {"mark": f"A{n}"} for n in range(400)])
    drafts = [job.api.post(f"/v1/quotes/{before}/requote", {"schedule": s}).json()["id"] for s in (job.first, large)]

    def taken(path: str) -> int:
        with CaptureQueriesContext(connection) as queries:
            sales.see(path)
        return len(queries)

    ends = ("", "/edit", "/offers", "/issue", "/approve", "/award", "/close")
    small, big = ([taken(f"/quotes/{id}{end}") for end in ends] for id in drafts)
    assert small == big and max(big) <= 40, (small, big)
    lists = ("/quotes", "/", "/search?words=north", f"/projects/{job.project}")
    few = [taken(path) for path in lists]
    for _ in range(4):
        job.api.post(f"/v1/quotes/{before}/requote", {"schedule": job.first})
    assert [taken(path) for path in lists] == few and max(few) <= 30, few


def test_search_finds_quotes_by_number_and_customer(job: Job) -> None:
    quote, viewer = job.quoted(), job.person("viewer")
    for words in ("1", "northfield"):
        assert f'href="/quotes/{quote}"' in viewer.see(f"/search?words={words}")
    assert f'href="/quotes/{quote}"' not in viewer.see("/search?words=2")


def test_what_waits_for_sales_leads_on(job: Job) -> None:
    soon = (datetime.datetime.now(datetime.UTC) + datetime.timedelta(hours=5)).isoformat(timespec="seconds")
    path = f"/v1/projects/{job.project}"
    changed = job.api.send("PATCH", path, {"due_at": soon}, If_Match=job.api.get(path).headers["ETag"])
    assert changed.status_code == 200, changed.content
    sales, viewer = job.person("sales"), job.person("viewer")
    assert f'href="/projects/{job.project}/quotes/new"' in sales.see("/") and ">you<" in sales.text
    assert "quotes/new" not in viewer.see("/") and ">you<" not in viewer.text
    quote = job.quoted()
    assert f'href="/quotes/{quote}"' in sales.see("/")
    job.add([LINES[0] | {"quantity": 2}, *LINES[1:]])
    assert f'href="/quotes/{quote}/requote"' in sales.see("/")
    assert f"/quotes/{quote}/requote" not in viewer.see("/")
