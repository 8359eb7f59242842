"""The overview and the audit as pages: values and margins by state, won and lost, margin only for who may see costs."""

from __future__ import annotations

import datetime
import uuid
from decimal import Decimal
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from estimating.queries.overview import overview
from rates.actions import editions
from rates.refusals import ANY_STATE
from tests.cast import NOW, Office
from tests.db.making import issue_quote, sign_all
from tests.http.visitor import LINES, Job
from tests.worked_cases import read_case


@pytest.fixture
def job(office: Office) -> Job:
    return Job(office)


def told(job: Job) -> Any:
    return overview(company=job.office.company, now=datetime.datetime.now(datetime.UTC))


def other_project(job: Job, name: str, **said: Any) -> str:
    """The id of a quote, issued, of another project with the same openings."""
    project = job.api.post("/v1/projects", {"name": name}).json()["id"]
    schedule = job.api.post(f"/v1/projects/{project}/opening-schedules", LINES).json()["id"]
    estimate = job.api.estimate(job.request | {"schedule": schedule}).json()["id"]
    sign_all(job.office, estimate)
    body = {"estimate": estimate, "customer": {"name": name}} | said
    quote = job.api.post("/v1/quotes", body, Idempotency_Key=str(uuid.uuid4())).json()["id"]
    issue_quote(job.office, quote)
    return str(quote)


def end(job: Job, quote: str, step: str, **body: Any) -> None:
    path = f"/v1/quotes/{quote}"
    sent = job.api.post(f"{path}/{step}", body, If_Match=job.api.get(path).headers["ETag"])
    assert sent.status_code == 200, sent.content


def test_one_price_of_a_bid_counts(job: Job) -> None:
    """The worked example is 1,655.00; what it has to cover, by hand: 1,464.38 of cost and 24.78 of bond."""
    margin = Decimal("1655.00") - Decimal("24.78") - Decimal("1464.38")
    first = told(job)
    assert [(s.state, s.bids, s.value) for s in first.sums] == [("costed", 1, "1655.00")]
    assert Decimal(first.sums[0].margin) == margin
    quote = job.quoted()
    job.api.post(f"/v1/quotes/{quote}/requote", {"schedule": job.add([LINES[0] | {"quantity": 12}, *LINES[1:]])})
    other_project(job, "Hall")
    job.api.post("/v1/projects", {"name": "No schedule yet"})
    found = told(job)
    assert [(s.state, s.bids, s.value) for s in found.sums] == [("issued", 2, "3310.00"), ("not_priced", 1, "0.00")]
    assert Decimal(found.sums[0].margin) == 2 * margin, "the draft anew is no second bid"
    of_quote = job.api.get(f"/v1/quotes/{quote}").json()["margin_percent"]
    assert {bid.margin_percent for bid in found.bids if bid.value} == {of_quote} == {found.sums[0].margin_percent}


def test_won_and_lost_are_counted_with_what_others_took(job: Job) -> None:
    won, lost = job.quoted(), other_project(job, "Hall")
    end(job, won, "award", reason="on the phone")
    end(job, lost, "close", reason="dearer", competing_price="1600.00")
    found = told(job)
    assert found.bids == () and [one.quote for one in found.ended] == [uuid.UUID(lost), uuid.UUID(won)]
    (ends,) = found.ends
    assert (ends.awarded, ends.not_awarded, ends.won_percent, ends.awarded_value) == (1, 1, "50", "1655.00")
    assert found.ended[0].difference == "55.00" and found.ended[1].difference is None
    page = job.person("viewer").see("/overview")
    for words in ("dearer", "1,600.00", "55.00", "on the phone"):
        assert words in page


def test_margin_and_editions_only_for_who_may_see_them(job: Job) -> None:
    document = read_case("golden", "edition.json") | {"effective_from": "2027-03-01"}
    who = {"company": job.office.company, "member": job.office.drafter}
    whole = editions.draft_edition(**who, rate_book=job.office.rate_book, document=document, now=NOW)
    editions.submit(**who, id=whole.edition.id, expected=ANY_STATE, now=NOW)
    margin = told(job).bids[0].margin
    for role in ("viewer", "sales"):
        page = job.person(role).see("/overview")
        assert "1,655.00" in page and "argin" not in page and margin not in page and "Edition" not in page, role
        assert "/audit" not in page
    page = job.person("estimator").see("/overview")
    assert margin in page and f"/editions/{whole.edition.id}" in page and "/audit" not in page
    page = job.person("principal").see("/overview")
    assert f'href="/editions/{whole.edition.id}/approve"' in page and 'href="/audit"' in page


def test_a_bid_below_the_least_margin_is_told(job: Job) -> None:
    tag = job.api.get("/v1/company").headers["ETag"]
    job.api.send("PATCH", "/v1/company", {"margin_floor": "40"}, If_Match=tag)
    assert "below the least" in job.person("principal").see("/overview")
    assert "below the least" not in job.person("sales").see("/overview")


def test_the_audit_is_shown_to_who_may_see_it(job: Job) -> None:
    quote, principal = job.quoted(), job.person("principal")
    page = principal.see(f"/audit?subject={quote}")
    assert "Issue quote" in page and "Make quote" in page and "Make project" not in page
    assert f'href="/quotes/{quote}"' in page and "Northfield Builders" in page
    rows = principal.see(f"/audit?subject={quote}&action=issue-quote").partition("<tbody")[2]
    assert "Issue quote" in rows and "Make quote" not in rows
    assert "Nothing was changed" in principal.see("/audit?since=2099-01-01")
    assert "Make project" in principal.see("/audit?since=never&member=nobody")
    for role in ("viewer", "sales", "estimator"):
        job.person(role).see("/audit", 403)


def test_the_overview_takes_a_fixed_number_of_queries(job: Job) -> None:
    quote, principal = job.quoted(), job.person("principal")

    def taken(path: str) -> int:
        with CaptureQueriesContext(connection) as queries:
            principal.see(path)
        return len(queries)

    few = [taken(path) for path in ("/overview", "/audit")]
    end(job, quote, "close", reason="dearer")
    for name in ("Hall", "School", "Store"):
        other_project(job, name)
    assert [taken(path) for path in ("/overview", "/audit")] == few and max(few) <= 20
