"""An award with an alternate has one price everywhere: in the contract, in every answer and page that tells it.

Prices are the golden case's 1,655.00 (tests/worked_cases) and what /alternates?accept= says of the whole job with it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import Any
from urllib.parse import quote_plus

import pytest

from tests.cast import Api, Office, make_person
from tests.db.making import draft_quote, golden_request, issue_quote, sign_all
from tests.http.visitor import Visitor


@dataclass
class Awarded:
    """A project whose quote was awarded with one alternate of two."""

    api: Api
    person: Visitor
    project: str
    estimate: str
    quote: str
    request: dict[str, Any]
    price: str  # with the alternate

    @property
    def shown(self) -> str:
        """The price as pages write it."""
        return f"{Decimal(self.price):,}"


@pytest.fixture
def awarded(api: Api, office: Office) -> Awarded:
    person = Visitor(make_person(office, "principal", "pat@build.example").client)
    project = api.post("/v1/projects", {"name": "Alternate hall (invented)"}).json()["id"]
    lines = golden_request(office)["openings"]
    more = {"quantity": 2, "width": "48 in", "height": "48 in", "access": "ground", "elevation": "West"}
    lines += [more | {"mark": name, "alternate": {"name": f"add {name}", "kind": "add"}} for name in ("X", "Y")]
    schedule = api.post(f"/v1/projects/{project}/opening-schedules", {"openings": lines}).json()["id"]
    request = {name: value for name, value in golden_request(office).items() if name != "openings"}
    estimate = api.estimate(request | {"schedule": schedule}).json()["id"]
    (taken,) = api.get(f"/v1/estimates/{estimate}/alternates?accept=add X").json()["items"]
    sign_all(office, estimate)
    quote = draft_quote(office, estimate)
    issue_quote(office, quote)
    tag = api.get(f"/v1/quotes/{quote}").headers["ETag"]
    assert api.post(f"/v1/quotes/{quote}/award", {"alternates": ["add X"]}, If_Match=tag).status_code == 200
    assert taken["price"] != "1655.00"
    return Awarded(api, person, project, estimate, str(quote), request, taken["price"])


def test_every_answer_tells_what_was_awarded(awarded: Awarded) -> None:
    api, project = awarded.api, f"/v1/projects/{awarded.project}"
    quote = api.get(f"/v1/quotes/{awarded.quote}").json()
    (line,) = api.get("/v1/quotes").json()["items"]
    (contract,) = api.get(f"{project}/change-orders").json()["contracts"]
    history = api.get(f"{project}/history").json()["items"]
    (end,) = [one for one in history if one["step"] == "awarded"]
    budget = api.get(f"/v1/quotes/{awarded.quote}/budget").json()["items"]
    told = [quote["awarded_price"], line["awarded_price"], contract["awarded"], contract["contract"], end["price"]]
    assert told == [awarded.price] * 5 and sum(Decimal(one["amount"]) for one in budget) == Decimal(awarded.price)
    assert quote["price"] == line["price"] == "1655.00", "what was quoted"
    assert Decimal(quote["price"]) + Decimal(quote["alternates_price"]) == Decimal(awarded.price)


@pytest.mark.parametrize("role", ["principal", "sales"])
def test_every_page_tells_what_was_awarded(awarded: Awarded, office: Office, role: str) -> None:
    person = Visitor(make_person(office, role, "sam@build.example").client)
    for path in (
        "/", "/projects", f"/projects/{awarded.project}", f"/projects/{awarded.project}/change-orders",
        f"/projects/{awarded.project}/history", "/quotes", f"/quotes/{awarded.quote}", "/overview",
        "/search?words=Northfield", "/search?words=hall",
    ):  # fmt: skip
        page = person.see(path)
        assert awarded.shown in page, path
        beside = "history" in path or path == f"/projects/{awarded.project}" or path.startswith("/quotes/")
        if not beside:  # these tell of the estimate, the quote and its lines as well
            assert "1,655.00" not in re.sub(r"quoted 1,655\.00", "", page), path
    assert f"<dt>Awarded, USD</dt><dd>{awarded.shown}" in person.see("/overview")


def test_a_quote_that_is_not_awarded_has_no_awarded_price(awarded: Awarded) -> None:
    tag = awarded.api.get(f"/v1/quotes/{awarded.quote}").headers["ETag"]
    closed = awarded.api.post(f"/v1/quotes/{awarded.quote}/close", {"reason": "another job"}, If_Match=tag).json()
    assert closed["awarded_price"] is None and closed["price"] == "1655.00"
    assert "<dt>Not awarded, USD</dt><dd>1,655.00" in awarded.person.see("/overview")


def test_pages_say_that_the_alternates_awarded_are_not_in_the_estimate_and_how_they_get_in(awarded: Awarded) -> None:
    """The base has 1,655.00; with the two openings of X in it the new revision costs what the award came to."""
    person, told = awarded.person, "is awarded with add X"
    base = awarded.api.get(f"/v1/estimates/{awarded.estimate}").json()
    for part in ("", "/hours", "/cut-plan", "/crew", "/purchase-list", "/calendar"):
        page = person.see(f"/estimates/{awarded.estimate}{part}")
        assert told in page and "are without the alternates" in page, part
    assert told in person.see(f"/projects/{awarded.project}")
    schedule = base["schedule"]["id"]
    assert f'<a href="/schedules/{schedule}#lines">' in person.text
    lines = awarded.api.get(f"/v1/opening-schedules/{schedule}/reading?limit=500").json()["items"]
    (place,) = [one["line"] for one in lines if one["mark"] == "X"]
    assert 'name="alternate" type="text" value="add X"' in person.see(f"/schedules/{schedule}/lines/{place}")
    to = person.send(f"/schedules/{schedule}/lines/{place}", alternate=[""], reason=["awarded"], step=["change"])
    revision = to.partition("?")[0].rpartition("/")[2]
    request = {name: value for name, value in awarded.request.items() if name != "openings"}
    again = awarded.api.estimate(request | {"schedule": revision}).json()
    assert again["totals"]["price"] == awarded.price
    assert again["totals"]["openings"] == base["totals"]["openings"] + 2
    assert told not in person.see(f"/estimates/{again['id']}") and told not in person.see(
        f"/projects/{awarded.project}"
    )


@pytest.mark.parametrize("words", ["1", "#1", "quote 1", "Quote #1", "QUOTE 1", " No. 1"])
def test_a_quote_is_found_by_its_number_as_people_write_it(awarded: Awarded, words: str) -> None:
    page = awarded.person.see(f"/search?words={quote_plus(words)}")
    assert f'<a href="/quotes/{awarded.quote}">Quote 1</a>' in page
    assert f'<a href="/quotes/{awarded.quote}">' not in awarded.person.see("/search?words=quote+2")


def test_an_alternate_that_is_named_anew_keeps_what_it_does(awarded: Awarded, office: Office) -> None:
    """A deduct stands in the base price: taken for an addition, its line would leave it in silence."""
    lines = golden_request(office)["openings"]
    lines[0]["alternate"] = {"name": "Alt 1", "kind": "deduct"}
    path = f"/v1/projects/{awarded.project}/opening-schedules"
    schedule = awarded.api.post(path, {"openings": lines}).json()["id"]
    to = awarded.person.send(
        f"/schedules/{schedule}/lines/0", alternate=["Deduct 1"], reason=["named so"], step=["change"]
    )
    found = awarded.api.get(
        f"/v1/opening-schedules/{to.split('/')[2].partition('#')[0].partition('?')[0]}/reading?limit=1"
    )
    assert found.json()["items"][0]["fields"]["alternate"]["value"] == {"name": "Deduct 1", "kind": "deduct"}
