"""By role: no page holds a link or a form that the role would be refused, and no cost of anything that it shows."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import unescape
from typing import Any

import pytest
from django.urls import resolve
from django.urls.exceptions import Resolver404

from api.pages.routes import PAGES
from rates.roles import Role
from tests.cast import Api, Office, make_person
from tests.db.making import make_contract, propose_change, sign_all
from tests.http.test_pages import EVERYBODY, SEE, SEND, STATEFUL, address, make
from tests.http.visitor import Job

TICKET = {
    "labour": [{"labour": "journeyman", "hours": "7.25"}],
    "materials": [{"title": "Sealant", "cost": "131.17"}],
}
NAMED = {f"page {page.name}": page for page in PAGES}
LINK, FORM = re.compile(r'href="(/[^"#]*)'), re.compile(r'<form method="post"(?: [^>]*?action="([^"]*)")?')


@pytest.fixture
def states(office: Office) -> list[dict[str, str]]:
    """Ids of things in several states: drafted, issued, replaced by a draft, awarded with change orders; a bid due."""
    job = Job(office)
    api = job.api
    before = job.quoted()
    anew = api.post(f"/v1/quotes/{before}/requote", {}).json()["id"]
    path, project = f"/v1/projects/{job.project}", make_contract(office)[0]
    api.send("PATCH", path, {"due_at": "2099-01-01T12:00:00Z"}, If_Match=api.get(path).headers["ETag"])
    order = propose_change(office, project, time_and_material=TICKET)
    awarded = api.get(f"{project}/contract").json()
    shared = {"schedule": job.first, "estimate": job.estimate, "rate_book": str(office.rate_book)}
    shared |= {"edition": str(office.edition), "change_order": order["id"], "member": str(office.drafter)}
    shared |= {"access_key": api.get("/v1/access-keys").json()["items"][0]["id"]}
    contract = api.get(f"{project}/change-orders").json()["contracts"][0]["quote"]
    assert awarded["items"]
    more = make(office, api, 12)
    sign_all(office, more["estimate"])
    quotes = ((before, job.project), (anew, job.project), (contract, project.rpartition("/")[2]))
    return [*(shared | {"quote": quote, "project": project} for quote, project in quotes), more]


def shown(office: Office, role: str, states: list[dict[str, str]]) -> Iterator[tuple[str, str, str]]:
    """(page, address, text) of every page that a role may see, in each state."""
    person = make_person(office, role, f"{role.replace('_', '-')}@build.example")
    for page in PAGES:
        for made in states:
            path = address(page.path, made)
            answer = person.get(path, Accept="text/html")
            if role in SEE.get(page.name, EVERYBODY) and answer.status_code == 200 and page.name not in STATEFUL:
                yield page.name, path, answer.content.decode()


def page_at(path: str) -> Any:
    """The page at an address; None for what is no page."""
    try:
        return NAMED.get(str(resolve(path.partition("?")[0]).url_name))
    except Resolver404:
        return None


@pytest.mark.parametrize("role", sorted(Role.values))
def test_no_page_leads_to_what_its_reader_would_be_refused(
    office: Office, states: list[dict[str, str]], role: str
) -> None:
    wrong, seen = set(), 0
    for name, here, text in shown(office, role, states):
        for link in LINK.findall(text):
            seen += 1
            if (page := page_at(link)) is not None and role not in SEE.get(page.name, EVERYBODY):
                wrong.add(f"{name} links to {page.name}")
        main = text.partition("<main")[2]
        for action in FORM.findall(main):
            page = page_at(action or here)
            if page is not None and page.scope and role not in SEND.get(page.name, EVERYBODY):
                wrong.add(f"{name} has the form of {page.name}")
    assert seen > 500 and wrong == set()


@pytest.mark.parametrize("role", sorted(Role.values))
def test_every_file_that_a_page_offers_is_there_for_its_reader(
    office: Office, states: list[dict[str, str]], role: str
) -> None:
    files: dict[str, str] = {}
    for name, _, text in shown(office, role, states[-2:]):
        files |= {unescape(link): name for link in LINK.findall(text) if link.startswith("/v1/")}
    person = make_person(office, role, "reader@build.example")
    assert files
    assert {link: files[link] for link in files if person.get(link).status_code != 200} == {}


def costs_in(api: Api, states: list[dict[str, str]]) -> set[str]:
    """Amounts that only costs have: of estimates, of change orders, of the edition's wages and packs."""
    amounts: set[str] = set()
    shown: set[str] = set()
    for made in states:
        document = api.get(f"/v1/estimates/{made['estimate']}").json()
        totals = document["totals"]
        amounts |= {row["amount"] for row in document["build_up"]} | {totals["direct_cost"], totals["cost"]}
        amounts |= {row["amount"] for row in api.get(f"/v1/estimates/{made['estimate']}/materials").json()["items"]}
        shown |= {value for row in document["by_mark"] for value in (row["price"], row["unit_price"])}
        shown |= {totals["price"]}
        order = api.get(f"/v1/change-orders/{made['change_order']}").json()
        amounts |= {line["cost"] for line in order["lines"]} | {step["amount"] for step in order["build_up"]}
        shown |= {line["price"] for line in order["lines"]} | {order["price"]}
    return {f"{float(one):,.2f}" for one in amounts if float(one) > 20} - {f"{float(one):,.2f}" for one in shown}


@pytest.mark.parametrize("role", ["viewer", "sales"])
def test_no_cost_of_any_state_reaches_who_may_not_see_it(
    office: Office, api: Api, states: list[dict[str, str]], role: str
) -> None:
    costs = costs_in(api, states)
    assert len(costs) > 12 and "131.17" in costs
    found = {
        (name, cost)
        for name, _, text in shown(office, role, states)
        for cost in costs
        if re.search(rf"(?<![\d,.]){re.escape(cost)}(?![\d,.])", text)
    }
    assert found == set()


def test_the_search_finds_costs_where_they_are_shown(office: Office, api: Api, states: list[dict[str, str]]) -> None:
    costs = costs_in(api, states)
    text = "".join(text for name, _, text in shown(office, "estimator", states) if name in ("estimate", "change-order"))
    assert sum(cost in text for cost in costs) > 10
