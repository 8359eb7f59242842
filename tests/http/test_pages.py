"""Pages by role and size: who is let in, that no cost reaches who may not see it, how many queries each takes."""

from __future__ import annotations

import json
import re
import uuid
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from api.pages.routes import PAGES
from estimating import snapshots
from rates.roles import Role
from tests.cast import Api, Office, make_person
from tests.db.making import golden_request, make_contract, propose_change
from tests.worked_cases import read_case

LINE = {"mark": "A", "kind": "window", "quantity": 1, "width": "4 ft", "height": "4 ft", "access": "ground"}
# Written by hand beside the table of pages: who opens a page, and who sends its form
EVERYBODY, ESTIMATORS = frozenset(Role.values), frozenset({"estimator", "rate_keeper", "principal"})
MAKERS, KEEPERS = ESTIMATORS | {"sales"}, frozenset({"rate_keeper", "principal"})
SEE = {
    "new-project": MAKERS, "new-schedule": MAKERS, "grid": MAKERS, "compare": MAKERS, "site": MAKERS, "what-if": MAKERS,
    "line": ESTIMATORS, "new-line": ESTIMATORS, "edits": ESTIMATORS, "why": ESTIMATORS, "rates": ESTIMATORS,
    "rate-book": ESTIMATORS, "edition": ESTIMATORS, "edition-table": ESTIMATORS, "edition-step": ESTIMATORS,
    "new-quote": MAKERS, "edit-quote": MAKERS, "offers": MAKERS, "issue-quote": MAKERS, "award-quote": MAKERS,
    "close-quote": MAKERS, "requote": MAKERS, "approve-quote": frozenset({"principal"}), "audit": KEEPERS,
    "estimate-methods": ESTIMATORS, "estimate-alternates": ESTIMATORS, "estimate-cost-codes": ESTIMATORS,
    **dict.fromkeys(("people", "invite", "person", "invite-again", "remove-person"), frozenset({"principal"})),
    **dict.fromkeys(("access-keys", "new-access-key", "access-key"), frozenset({"principal"})),
    "edit-project": MAKERS, "new-change-order": MAKERS, "edit-change-order": MAKERS, "change-order-step": MAKERS,
}  # fmt: skip
SEND = SEE | {
    "rate-book": KEEPERS,
    "edition-table": KEEPERS,
    "questions": ESTIMATORS,
    "question": ESTIMATORS,
    "estimate": MAKERS,
    "progress": MAKERS,
    "zone": MAKERS,
    "start": KEEPERS,
    "estimate-assumptions": ESTIMATORS,
    "texts": frozenset({"principal"}),
    "schedule-changes": ESTIMATORS,
    "climates": ESTIMATORS,
}


STATEFUL = ("question", "edition-step")  # there only in some states of what they show


def openings(count: int) -> list[dict[str, Any]]:
    """Lines of so many openings, of a few sizes."""
    return [LINE | {"mark": f"A{n}", "width": f"{36 + n % 5} in", "storey": str(n % 9)} for n in range(count)]


@pytest.fixture
def made(office: Office, api: Api) -> dict[str, str]:
    return make(office, api, 20)


def make(office: Office, api: Api, count: int) -> dict[str, str]:
    """Ids of a project with a schedule of so many lines, two estimates and a comparison."""
    project = api.post("/v1/projects", {"name": f"Project of {count}"}).json()["id"]
    body: dict[str, Any] = {"openings": openings(count)}
    schedule = api.post(f"/v1/projects/{project}/opening-schedules", body).json()["id"]
    golden = read_case("golden", "request.json")
    request = {name: value for name, value in golden.items() if name not in ("openings", "schedule", "edition")}
    request |= {"schedule": schedule, "rate_book": str(office.rate_book)}
    both = [api.estimate(request).json() for _ in range(2)]
    assert [one["state"] for one in both] == ["costed", "costed"], both[0]
    ids = {"before": both[0]["id"], "after": both[1]["id"]}
    comparison = api.post("/v1/comparisons", ids, Prefer="wait=10").json()["id"]
    body = {"estimate": ids["after"], "customer": {"name": "Northfield Builders"}}
    quote = api.post("/v1/quotes", body, Idempotency_Key=str(uuid.uuid4())).json()["id"]
    order = propose_change(office, make_contract(office)[0])
    rates = {"rate_book": str(office.rate_book), "edition": str(office.edition)}
    rates |= {"access_key": api.get("/v1/access-keys").json()["items"][0]["id"]}
    made = {"project": project, "schedule": schedule, "estimate": ids["after"], "comparison": comparison}
    return made | rates | {"quote": quote, "change_order": order["id"], "member": str(office.drafter)}


def address(path: str, made: dict[str, str]) -> str:
    """The address of a page for what was made."""
    subject = {
        "projects": "project", "schedules": "schedule", "estimates": "estimate", "comparisons": "comparison",
        "rates": "rate_book", "editions": "edition", "quotes": "quote",
        "change-orders": "change_order", "people": "member",
        "access-keys": "access_key",
    }  # fmt: skip
    first = path.split("/")[1]
    found = path.replace("{id}", made.get(subject.get(first, ""), str(uuid.uuid4())))
    return (
        found.replace("{figure}", "price")
        .replace("{zone}", "1")
        .replace("{line}", "0")
        .replace("{question}", "none")
        .replace("{table}", "labour")
        .replace("{zone}", "1")
        .replace("{step}", "submit" if first == "editions" else "agree")
        .replace("{document}", "letter.html")
    )


def test_the_tables_name_every_page() -> None:
    assert set(SEE) | set(SEND) <= {page.name for page in PAGES}
    asked = {page.name for page in PAGES if page.scope and page.scope != "read"}
    assert asked <= set(SEE), "a page that not everybody sees stands in the table"
    assert {page.name for page in PAGES if page.post and page.scope} <= set(SEND)


@pytest.mark.parametrize("role", sorted(Role.values))
def test_each_role_has_its_pages_and_no_other(office: Office, made: dict[str, str], role: str) -> None:
    person = make_person(office, role, f"{role.replace('_', '-')}@build.example")
    wrong = []
    for page in PAGES:
        if not page.scope:
            continue
        path = address(page.path, made)
        status = person.get(path, Accept="text/html").status_code
        expected = role in SEE.get(page.name, EVERYBODY)
        if (status == 403) is expected or status >= 500 or (expected and page.name not in STATEFUL and status != 200):
            wrong.append(f"GET {page.name}: {status}")
        if page.post is not None and role not in SEND[page.name]:
            sent = person.client.post(path, {"step": "rates", "reason": "by hand"})
            if sent.status_code != 403:
                wrong.append(f"POST {page.name}: {sent.status_code}")
    assert wrong == []


def test_the_first_day_s_settings_take_the_principal(office: Office) -> None:
    keeper = make_person(office, "rate_keeper", "keeper@build.example")
    before = Api(office.key).get("/v1/company").json()
    sent = keeper.client.post("/start", {"step": "settings", "name": "Taken over", "version": "x"})
    assert sent.status_code == 422 and "only a principal" in sent.content.decode().lower()
    assert Api(office.key).get("/v1/company").json() == before


def costs_of(api: Api, estimate: str) -> set[str]:
    """Every figure of an estimate that tells a cost, as pages write it."""
    document = api.get(f"/v1/estimates/{estimate}").json()
    totals = document["totals"]
    amounts = {row["amount"] for row in document["build_up"]} | {totals["direct_cost"], totals["cost"]}
    amounts |= {row["amount"] for row in api.get(f"/v1/estimates/{estimate}/materials").json()["items"]}
    shown = {row["price"] for row in document["by_mark"]} | {row["unit_price"] for row in document["by_mark"]}
    return {f"{float(one):,.2f}" for one in amounts if float(one) > 20} - {f"{float(one):,.2f}" for one in shown}


@pytest.mark.parametrize("role", ["viewer", "sales"])
def test_no_cost_reaches_sales_or_viewer(office: Office, api: Api, made: dict[str, str], role: str) -> None:
    person, costs = make_person(office, role, f"{role}@build.example"), costs_of(api, made["estimate"])
    estimator = make_person(office, "estimator", "estimator@build.example")
    assert len(costs) > 5
    page = estimator.get(f"/estimates/{made['estimate']}").content.decode()
    assert any(one in page for one in costs), "the check finds costs where they are shown"
    for one in PAGES:
        text = person.get(address(one.path, made)).content.decode()
        found = sorted(cost for cost in costs if re.search(rf"(?<![\d,.]){re.escape(cost)}(?![\d,.])", text))
        assert found == [], one.name
        for word in ("Margin", "Direct cost", "Cost of a standard hour"):
            assert word not in text or one.name == "start", (one.name, word)


ASKED = {"questions": "?by=openings"}  # up to 200 lines they are told by money, which takes a costing more


def counted(office: Office, api: Api, *sizes: int) -> dict[str, list[int]]:
    """How many queries each page takes on projects of so many openings, by the name of the page."""
    worlds = [make(office, api, size) for size in sizes]
    person = make_person(office, "principal", "principal@build.example")
    counts: dict[str, list[int]] = {}
    for page in PAGES:
        for made in (worlds[0], *worlds):  # what a process reads once it has read after the first
            with CaptureQueriesContext(connection) as queries:
                person.get(address(page.path, made) + ASKED.get(page.name, ""))
            counts.setdefault(page.name, []).append(len(queries))
    return {name: taken[1:] for name, taken in counts.items()}


def assert_fixed(counts: dict[str, list[int]]) -> None:
    assert {name: taken for name, taken in counts.items() if len(set(taken)) > 1 or max(taken) > 30} == {}


def test_a_page_takes_as_many_queries_for_400_openings_as_for_10(office: Office, api: Api) -> None:
    assert_fixed(counted(office, api, 10, 400))


@pytest.mark.campaign
def test_a_page_takes_as_many_queries_for_10_000_openings_as_for_10(office: Office, api: Api) -> None:
    assert_fixed(counted(office, api, 10, 10_000))


def test_an_estimate_of_many_marks_shows_the_first_and_says_that_there_are_others(office: Office, api: Api) -> None:
    lines = [LINE | {"mark": f"M{number}"} for number in range(1, 71)]
    whole = api.estimate(golden_request(office) | {"openings": lines}).json()
    page = make_person(office, "estimator", "e@build.example").get(f"/estimates/{whole['id']}").content.decode()
    row = re.findall(r'<tr><th scope="row">(M\d+)</th>', page)
    assert len(whole["by_mark"]) == 70 and row == [f"M{number}" for number in range(1, 61)]
    assert "The first 60 marks are shown" in page and "Sum of all marks" in page
    for found in (snapshots.read_beginning, snapshots.read_summary):
        told = json.loads(found(company=office.company, estimate=uuid.UUID(whole["id"])) or b"")
        marks = told.pop("by_mark")
        assert marks == whole["by_mark"][: len(marks)] and told == {k: v for k, v in whole.items() if k != "by_mark"}
        assert len(marks) == (61 if found is snapshots.read_beginning else 70)
