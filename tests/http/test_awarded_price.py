"""An award with an alternate has one price everywhere: in the contract, in every answer and page that tells it.

Prices are the golden case's 1,655.00 (tests/worked_cases) and what /alternates?accept= says of the whole job with it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

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
    return Awarded(api, person, project, estimate, str(quote), taken["price"])


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
