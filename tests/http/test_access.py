"""Role × operation from one written table, and role × field: what each role may do, and what two never see.

The table is written here by hand, apart from the code's; an operation that it lacks fails the test.
"""

from __future__ import annotations

import io
import json
import zipfile
from typing import Any

import pytest

from api.rest.exchange import Operation
from api.rest.routes import OPERATIONS
from api.veil import SHAPES, VEILED_SCOPES
from rates.roles import SCOPES, Role
from tests.cast import Api, Office, make_office, make_person
from tests.db.making import golden_request
from tests.http.test_isolation import ask, body_of, ids_of
from tests.pdf_texts import text_of_pdf
from tests.worked_cases import read_case

# viewer, sales, estimator, rate keeper, principal: who may; everything else is refused
TABLE = {
    "vsekp": """company rate-books rate-book editions in-force projects project opening-schedules project-estimates
        opening-schedule schedule-openings schedule-source schedule-questions schedule-stakes schedule-reading
        schedule-report schedule-changes estimates estimate estimate-openings estimate-materials estimate-equipment
        estimate-hours estimate-pieces estimate-per-area estimate-assumptions estimate-checks comparisons comparison
        feed
        bids-due quotes quote quote-letter-pdf quote-letter-html quote-changes-pdf quote-changes-html quote-ubl
        quote-texts sign-offs estimate-breakouts estimate-unit-prices estimate-cut-plan estimate-purchase-list
        job-records job-record estimate-progress
        cut-plan-pdf estimate-calendar calendar-file calendar-picture estimate-crew climates
        crew-sheet-pdf project-history project-history-picture
        change-orders change-order project-contract notices-due""",
    "sekp": """make-project change-project add-opening-schedule make-estimate cancel-estimate make-comparison
        make-job-record add-job-records withdraw-job-record site-links site-link make-site-link revoke-site-link
        try-what-if make-quote requote change-quote issue-quote award-quote close-quote
        make-change-order revise-change-order direct-change-order agree-change-order dispute-change-order
        withdraw-change-order""",
    "ekp": """edition labour-table materials-table equipment-table production-table overheads-table edition-tables
        edition-changes edition-steps edition-impact quote-cost-codes quote-budget
        estimate-cost-codes estimate-methods estimate-alternates
        derivation decide-schedule-matches put-climates answer-schedule-questions edit-schedule
        sign-assumptions bid-summary-pdf bid-summary-html purchase-list-pdf estimate-workbook""",
    "kp": """make-rate-book change-rate-book draft-edition delete-draft put-labour-table put-materials-table
        put-equipment-table put-production-table put-overheads-table put-edition-tables change-prices submit-edition
        approve-edition send-back-edition withdraw-edition audit""",
    "p": """change-company access-keys make-access-key access-key revoke-access-key members invite-member member
        change-member remove-member renew-invitation
        approve-quote put-quote-texts""",
}
ANYBODY = "session sign-in choose-company sign-out accept-invitation change-password"
MAY = {name: roles for roles, names in TABLE.items() for name in names.split()}
LETTERS = {"viewer": "v", "sales": "s", "estimator": "e", "rate_keeper": "k", "principal": "p"}
DEAR = {
    "wage": "32.17", "fringe": "9.53", "burden": "27.31", "overhead": "12.43", "margin": "11.37",
    "price of a pack": "209.71", "rent": "183.29",
}  # fmt: skip


def test_the_table_knows_every_operation_and_no_other() -> None:
    assert set(MAY) | set(ANYBODY.split()) == {operation.name for operation in OPERATIONS}
    assert set(LETTERS) == set(Role.values)
    assert {operation.scope for operation in OPERATIONS} == {*SCOPES, ""}


def test_everything_open_to_those_without_costs_has_a_shape() -> None:
    reachable = {operation.name for operation in OPERATIONS if operation.scope in VEILED_SCOPES}
    assert set(SHAPES) == reachable | {"overview"}  # which only a page shows


@pytest.mark.parametrize("role", LETTERS)
def test_role_by_operation(office: Office, role: str) -> None:
    ids = ids_of(office)
    person = make_person(office, role, "p@office.example")
    wrong = {}
    for operation in OPERATIONS:
        if operation.name in ANYBODY.split():
            continue
        id = ids.get(operation.path.split("/")[2], "")
        status, body, _ = ask(person, operation, id) if operation.method == "GET" else try_to(person, operation, id)
        refused = status == 403 and body["errors"][0]["code"] == "missing_scope"
        if refused == (LETTERS[role] in MAY[operation.name]):
            wrong[operation.name] = (status, body)
    assert wrong == {}


def try_to(person: Api, operation: Operation, id: str) -> tuple[int, Any, Any]:
    """The answer to a change that can't succeed: a tag that nothing has, a body that nobody takes."""
    path = operation.path.replace("{id}", id)
    fields = {"If_Match": '"none"'} if operation.if_match else {}
    answer = person.send(
        operation.method, path, {"x": 1} if operation.body is not None else body_of(operation), **fields
    )
    return answer.status_code, json.loads(answer.content) if answer.content else None, None


@pytest.fixture
def dear(rules: None) -> Office:
    """An office whose wages, burden, overhead, margin and prices of packs occur nowhere else."""
    document = read_case("golden", "edition.json")
    tables = document["tables"]
    tables["labour"][0] |= {"wage": DEAR["wage"], "fringe": DEAR["fringe"]}
    tables["labour"][0]["burden"][0]["percent"] = DEAR["burden"]
    tables["materials"][0]["packs"][0]["price"] = DEAR["price of a pack"]
    tables["equipment"][0]["rental"][0]["price"] = DEAR["rent"]
    for row in tables["overheads"]:
        if row["step"] in ("overhead", "profit"):
            row["percent"] = DEAR["overhead" if row["step"] == "overhead" else "margin"]
    return make_office("Dear", document)


def figures(api: Api, estimate: str) -> set[str]:
    """Every figure of cost that a principal sees in an estimate, but those that are prices too."""
    document = api.get(f"/v1/estimates/{estimate}").json()
    found = {line["amount"] for line in document["build_up"]} | {document["totals"]["direct_cost"]}
    found |= {document["totals"]["cost"], document["totals"]["markup_percent"]}
    for part in ("materials", "equipment"):
        found |= {item["amount"] for item in api.get(f"/v1/estimates/{estimate}/{part}").json()["items"]}
    for item in api.get(f"/v1/estimates/{estimate}/cost-codes").json()["items"]:
        found |= {item[name] for name in ("labour", "materials", "equipment", "other")}
    found.add(api.get(f"/v1/estimates/{estimate}/hours").json()["hour_rate"])
    return {text for text in found if len(text) > 4} | set(DEAR.values())


def text_of(content: bytes) -> str:
    """The text of an answer; of a workbook that of all its parts, of a PDF that of its pages."""
    if content.startswith(b"%PDF"):
        return text_of_pdf(content)
    if not content.startswith(b"PK"):
        return content.decode()
    with zipfile.ZipFile(io.BytesIO(content)) as book:
        return "\n".join(book.read(name).decode() for name in book.namelist())


@pytest.mark.parametrize("role", ["viewer", "sales"])
def test_no_wage_cost_or_margin_reaches(dear: Office, role: str) -> None:
    principal = Api(dear.key)
    ids = ids_of(dear)
    hidden = figures(principal, ids["estimates"])
    assert len(hidden) > 20
    person = make_person(dear, role, "p@office.example")
    tag = principal.get("/v1/company").headers["ETag"]
    assert principal.send("PATCH", "/v1/company", {"margin_floor": "6.41"}, If_Match=tag).status_code == 200
    shown = [(name, text_of(content)) for name, content in everything(person, dear, ids)]
    assert len(shown) > 80
    leaks = {(name, figure) for name, text in shown for figure in hidden | {"6.41"} if holds(text, figure)}
    assert leaks == set()
    seen = "\n".join(text_of(content) for _, content in everything(principal, dear, ids))
    assert {figure for figure in hidden if not holds(seen, figure)} == set(), "the principal sees them all"


def holds(text: str, figure: str) -> bool:
    """Whether a figure stands in a text as a number of its own."""
    return any(
        f"{before}{figure}{after}" in text
        for before in ('"', ",", ">", " ", ":")
        for after in ('"', ",", "<", " ", "\r")
    )


def everything(person: Api, office: Office, ids: dict[str, str]) -> list[tuple[str, bytes]]:
    """All that a person gets: every GET in every format, what making things answers, and refusals."""
    found = []
    for operation in OPERATIONS:
        path = operation.path.replace("{id}", ids.get(operation.path.split("/")[2], "")).replace("{figure}", "price")
        if operation.method != "GET":
            content = json.dumps(try_to(person, operation, ids.get(operation.path.split("/")[2], ""))[1])
            found.append((operation.name, content.encode()))
            continue
        query = {"in-force": "?work_date=2027-03-15", "schedule-stakes": f"?estimate={ids['estimates']}"}
        ends = ("", ".csv", ".xlsx") if "csv" in operation.formats else ("",)
        found += [(operation.name, person.get(path + end + query.get(operation.name, "")).content) for end in ends]
    request = golden_request(office)
    for name, body in (("estimate", request), ("refused", request | {"crew": {"members": []}, "method": "tape"})):
        found.append((name, person.estimate(body).content))
    both = {"before": ids["estimates"], "after": ids["estimates"]}
    return [*found, ("compared", person.post("/v1/comparisons", both).content)]
