"""The pages of quotes, without a browser: from a new drawing to the letter, refusals at their fields, nothing twice."""

from __future__ import annotations

import datetime
import re
from decimal import Decimal

import pytest

from estimating.models import Quote
from tests.cast import Api, Office, make_person
from tests.db.making import draft_quote, golden_request, issue_quote, sign_all
from tests.http.visitor import LINES, Job, Visitor
from tests.worked_cases import read_case


@pytest.fixture
def job(office: Office) -> Job:
    return Job(office)


def test_a_quote_goes_from_the_estimate_to_the_letter(job: Job) -> None:
    sales = job.person("sales")
    path = f"/projects/{job.project}/quotes/new"
    edit = sales.send(
        f"{path}?estimate={job.estimate}",
        customer_name="Northfield Builders",
        customer_address="12 Mill Road\r\nNorthfield",
    )
    shown = sales.see(edit)
    assert "Two coats of fluid-applied flashing." in shown and shown.count(" checked") == 3
    typed = sales.fields() | {
        "exclusions": ["power"], "own_exclusions": "Night work.", "addendum_name_0": "Addendum 1",
        "addendum_day_0": "2027-01-05", "addendum_schedule_0": job.first, "then": "check",
    }  # fmt: skip
    check = sales.send_again(edit, typed)
    shown = sales.see(check)
    for words in (
        "Northfield Builders", "12 Mill Road<br>Northfield", "Power for lifts.", "Night work.", "1,655.00",
        "Addendum 1, Jan 5, 2027", "Thirty days net.", "Bulletin 2",
    ):  # fmt: skip
        assert words in shown, words
    assert "<li>Permits.</li>" not in shown and "Issue the quote" in shown
    quote = sales.send(check)
    assert "Quote 1 to Northfield Builders" in sales.see(quote)
    letter = sales.client.get(f"{quote}/documents/letter.html")
    kept = sales.client.get(f"/v1{quote}/letter.html")
    assert letter.content == kept.content and letter["Content-Disposition"].startswith("inline")
    assert (
        "style-src 'sha256-" in letter["Content-Security-Policy"] and "unsafe" not in letter["Content-Security-Policy"]
    )
    assert sales.client.get(f"{quote}/documents/letter.pdf").content.startswith(b"%PDF")
    assert sales.client.get(f"{quote}/documents/other.html").status_code == 404


def test_a_one_line_change_goes_from_the_drawing_to_the_letter(job: Job) -> None:
    before, sales = job.quoted(), job.person("sales")
    job.dearer()
    second = job.add([LINES[0] | {"quantity": 12}, *LINES[1:]], "Bulletin 3")
    assert f"/quotes/{before}/requote?schedule={second}" in sales.see(f"/schedules/{second}")
    shown = sales.see(f"/quotes/{before}/requote?schedule={second}")
    assert "10 openings of A (1, North) became 12." in shown and "1 line changed, 2 lines did not." in shown
    offers = sales.send(f"/quotes/{before}/requote", addendum_name="Bulletin 3", addendum_day="2027-01-09")
    told = job.api.get(f"/v1{offers.removesuffix('/offers')}").json()
    shown = sales.see(offers)
    for offer in told["offers"]:
        assert f"{float(offer['price']):,.2f}" in shown and f"{float(offer['given_away']):,.2f}" in shown
    end = job.api.get(f"/v1/quotes/{before}").json()["valid_until"]
    quote = sales.send(offers, basis="blend", valid_until=end, basis_reason="promised to hold")
    assert "blend: held" in sales.see(quote).lower() and "promised to hold" in sales.text
    assert "10 openings of A (1, North) became 12." in sales.see(f"{quote}/issue")
    assert sales.send(f"{quote}/issue") == quote
    assert "Quote 2 to Northfield Builders" in sales.see(quote)
    assert "Superseded" in sales.see(f"/quotes/{before}")
    assert b"10 openings of A (1, North) became 12." in sales.client.get(f"{quote}/documents/changes.html").content
    awarded = sales.send(f"{quote}/award", reason="on the phone")
    assert "Awarded: on the phone" in sales.see(awarded)
    closed = sales.send(f"{quote}/close", reason="it was another job", competing_price="1600.00")
    assert "1,600.00" in sales.see(closed) and "Not awarded: it was another job" in sales.text


def test_held_rates_past_the_validity_go_to_the_principal(job: Job) -> None:
    before, sales, principal = job.quoted(), job.person("sales"), job.person("principal")
    job.dearer()
    offers = sales.send(f"/quotes/{before}/requote")
    later = (datetime.datetime.now(datetime.UTC).date() + datetime.timedelta(days=200)).isoformat()
    quote = sales.send(offers, basis="held", valid_until=later)
    shown = sales.see(f"{quote}/issue")
    assert "held only as long as the quote that it replaces" in shown and "Issue the quote" not in shown
    assert '<span class="mark">principal</span>' in shown
    typed = {"version": sales.fields().get("version", ""), "once": "by hand"}
    assert "held only as long" in sales.send_again(f"{quote}/issue", typed, 422)
    assert sales.client.get(f"{quote}/approve").status_code == 403
    assert "Margin" in principal.see(f"{quote}/approve")
    assert "say why" in principal.send(f"{quote}/approve", 422, reason=" ").lower()
    principal.send(f"{quote}/approve", reason="an old customer")
    assert "Issue the quote" in sales.see(f"{quote}/issue") and "an old customer" in sales.text
    principal.send(f"{quote}/approve", take_back="yes")
    assert "Issue the quote" not in sales.see(f"{quote}/issue")


def test_renumbered_lines_go_to_the_estimator(job: Job) -> None:
    before, sales = job.quoted(), job.person("sales")
    second = job.add([LINES[0] | {"mark": "R1"}, *LINES[1:]])
    quote = sales.send(f"/quotes/{before}/requote").removesuffix("/offers")
    shown = sales.see(quote)
    way = re.search(r'href="(/schedules/[^"]+/changes\?from=[^"]+)"', shown)
    assert way is not None and second in way[1] and job.first in way[1]
    assert "An estimator says which" in sales.see(way[1]) and 'type="radio"' not in sales.text
    assert sales.client.post(way[1], {"from": job.first, "pair_0_0": "yes"}).status_code == 403
    estimator = job.person("estimator")
    estimator.send(way[1], pair_0_0="yes")
    assert "one line</span>" in estimator.see(way[1])
    assert "not yet" in estimator.send(way[1].partition("?")[0], 422, **{"pair_0_0": [], "from": job.first}).lower()


def test_every_fault_of_what_it_says_stands_at_its_field(job: Job) -> None:
    sales = job.person("sales")
    edit = sales.send(f"/projects/{job.project}/quotes/new", customer_name="Northfield Builders")
    typed = {
        "customer_name": "", "valid_until": "2020-01-01", "discount_percent": "lots", "own_exclusions": "x" * 1001,
        "addendum_name_1": "Addendum 1", "addendum_day_1": "soon",
    }  # fmt: skip
    shown = sales.send(edit, 422, **typed)
    for field in ("customer_name", "discount_percent", "own_exclusions", "addendum_day_1"):
        assert f'<p class="error" id="field-{field}-error">' in shown, field
    shown = sales.send(edit, 422, valid_until="2020-01-01")
    assert '<p class="error" id="field-valid_until-error">' in shown
    assert "a quote stands" not in sales.send(f"/projects/{job.project}/quotes/new", 422, customer_name="").lower()


def test_who_comes_second_sees_what_is_stored(job: Job) -> None:
    sales, other = job.person("sales"), job.person("estimator")
    edit = sales.send(f"/projects/{job.project}/quotes/new", customer_name="Northfield Builders")
    sales.see(edit)
    typed = sales.fields() | {"terms": "Sixty days."}
    other.send(edit, exclusions=["power"], terms="Ten days.")
    shown = sales.send_again(edit, typed, 422)
    assert "It has changed since you opened it" in shown and "Stored now: Ten days." in shown
    assert "Stored now: Power for lifts." in shown


def test_nothing_is_made_or_issued_twice(job: Job) -> None:
    sales = job.person("sales")
    new = f"/projects/{job.project}/quotes/new"
    sales.see(new)
    typed = sales.fields() | {"customer_name": "Northfield Builders"}
    edit = sales.send_again(new, typed)
    assert sales.send_again(new, typed) == edit
    assert "was sent before" in sales.send_again(new, typed | {"once": "from the back button"}, 409)
    issue = edit.replace("/edit", "/issue")
    sales.see(issue)
    typed = sales.fields()
    assert sales.send_again(issue, typed) == sales.send_again(issue, typed) == edit.removesuffix("/edit")
    sales.send_again(issue, typed | {"once": "again"}, 409)
    assert "issued once and stays" in sales.see(issue)
    assert [one.number for one in Quote.objects.of(job.office.company)] == [1]


def test_a_step_that_gives_a_reason_is_not_taken_without(job: Job) -> None:
    """Also where the browser does not ask: an edit of a line, an edition withdrawn."""
    principal = job.person("principal")
    line, edition = f"/schedules/{job.first}/lines/0", f"/editions/{job.office.edition}/withdraw"
    assert '<p class="error" id="field-reason-error">' in principal.send(line, 422, width="40 in", reason=" ")
    assert '<p class="error" id="field-reason-error">' in principal.send(edition, 422, reason="")
    assert job.api.get(f"/v1/editions/{job.office.edition}").json()["state"] == "approved"


def test_who_approves_rates_sees_the_quotes_that_would_not_cover_their_cost(job: Job) -> None:
    """1,655.00 has 1,975.51 and 33.43 to cover at a wage of 60.00: test_impact.py, by hand."""
    quote = draft_quote(job.office, job.estimate)
    issue_quote(job.office, quote)
    document = read_case("golden", "edition.json") | {"effective_from": "2027-03-01"}
    document["tables"]["labour"][0]["wage"] = "60.00"
    draft = job.api.post(f"/v1/rate-books/{job.office.rate_book}/editions", document).json()["id"]
    shown = job.person("principal").see(f"/editions/{draft}/submit")
    assert "Quotes that would not cover their cost" in shown
    assert f'<a href="/quotes/{quote}">Quote 1</a>' in shown and "353.94" in shown


def test_an_award_takes_alternates_with_it_at_what_they_come_to_together(api: Api, office: Office) -> None:
    """The two adds together are one price of the whole job, as /alternates?accept= has it, beside 1,655.00."""
    project = api.post("/v1/projects", {"name": "Clinic"}).headers["Location"].rpartition("/")[2]
    lines = golden_request(office)["openings"]
    more = {"quantity": 3, "width": "48 in", "height": "48 in", "access": "ground", "elevation": "West"}
    lines += [more | {"mark": name, "alternate": {"name": f"add {name}", "kind": "add"}} for name in ("X", "Y")]
    estimate = api.estimate(golden_request(office, project=project, openings=lines)).json()["id"]
    (both,) = api.get(f"/v1/estimates/{estimate}/alternates?accept=add X;add Y").json()["items"]
    sign_all(office, estimate)
    quote = draft_quote(office, estimate)
    issue_quote(office, quote)
    sales = Visitor(make_person(office, "sales", "sam@build.example").client)
    path = f"/quotes/{quote}/award"
    assert sales.see(path).count('type="checkbox"') == 2 and "add X, 3 openings" in sales.text
    names = {"alternates": ["add X", "add Y"]}
    page = sales.send(path, 200, then="look", **names)
    assert f"{Decimal(both['price']):,}" in page and f"+{Decimal(both['adds']):,}" in page
    assert page.count(" checked") == 2 and api.get(f"/v1/quotes/{quote}").json()["state"] == "issued"
    sales.send(path, **names)
    assert api.get(f"/v1/quotes/{quote}").json()["accepted_alternates"] == ["add X", "add Y"]
    page = sales.see(f"/quotes/{quote}")
    assert "Taken with it: add X, add Y" in page and f"/projects/{project}/change-orders" in page
    assert f"{Decimal(both['price']):,}" in sales.see(f"/projects/{project}/change-orders")
    estimator = Visitor(make_person(office, "estimator", "eve@build.example").client)
    page = estimator.see(f"/estimates/{estimate}/alternates")
    for one in api.get(f"/v1/estimates/{estimate}/alternates").json()["items"]:
        assert one["alternate"] in page and f"+{Decimal(one['adds']):,}" in page


@pytest.mark.parametrize("role", ["principal", "sales"])
def test_a_letter_without_exclusions_or_terms_is_warned_of_and_may_be_issued(job: Job, role: str) -> None:
    person, new = job.person(role), f"/projects/{job.project}/quotes/new"
    assert "are picked by what the estimate holds" in person.see(new) and "keeps no texts" not in person.text
    quote = person.send(new, customer_name="Northfield Builders").removesuffix("/edit")
    assert "Before it goes out" not in person.see(f"{quote}/issue")
    person.send(f"{quote}/edit", exclusions=[], own_exclusions="", terms="")
    page = person.see(f"{quote}/issue")
    assert "The letter has no exclusions and no terms" in page and ('href="/texts"' in page) == (role == "principal")
    person.send(f"{quote}/issue")
    tag = job.api.get("/v1/quote-texts").headers["ETag"]
    assert job.api.send("PUT", "/v1/quote-texts", {}, If_Match=tag).status_code == 200
    page = person.see(new)
    assert (
        "are picked by" not in page and "keeps no texts" in page and ('href="/texts"' in page) == (role == "principal")
    )


def test_a_margin_in_percent_names_its_base_and_has_two_places(job: Job) -> None:
    """By hand, with the figures of test_quotes.py: (1,655.00 − 24.78 bond − 1,464.38) ÷ (1,655.00 − 24.78)."""
    principal, quote = job.person("principal"), job.quoted()
    page = principal.see(f"/quotes/{quote}")
    assert "percent of the price before allowances, bond and receipts tax</dt><dd>10.17 %" in page
    overview = principal.see("/overview")
    assert "in percent is of the price before allowances, bond and receipts tax" in overview
    assert 'data-title="Margin, %">10.17' in overview
