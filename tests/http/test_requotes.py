"""A quote made anew on a later drawing: in three calls, at held rates, today's or a blend."""

from __future__ import annotations

import datetime
import uuid
from decimal import Decimal
from typing import Any

import pytest

from tests.cast import Api, Office, approve, make_person
from tests.db.making import golden_request, issue_quote, sign_all
from tests.pdf_texts import text_of_pdf
from tests.worked_cases import read_case

LINES = read_case("golden", "request.json")["openings"]


class Job:
    """A project whose first drawing is quoted and issued, and a sales member."""

    def __init__(self, office: Office) -> None:
        self.office = office
        self.api = Api(office.key)
        self.sales = make_person(office, "sales", "sales@office.example")
        self.project = self.api.post("/v1/projects", {"name": "Clinic"}).json()["id"]
        request = {name: v for name, v in golden_request(office).items() if name not in ("openings", "edition")}
        self.request = request | {"rate_book": str(office.rate_book), "allocate_by": "own_use"}
        self.first = self.add(LINES)
        self.estimate = self.api.estimate(self.request | {"schedule": self.first}).json()["id"]
        sign_all(office, self.estimate)
        body = {"estimate": self.estimate, "customer": {"name": "Northfield Builders"}}
        made = self.api.post("/v1/quotes", body, Idempotency_Key=str(uuid.uuid4()))
        self.quote = issue_quote(office, made.json()["id"])

    def add(self, lines: Any) -> str:
        """The id of a new schedule revision, sent by sales."""
        made = self.sales.post(f"/v1/projects/{self.project}/opening-schedules", lines)
        assert made.status_code == 201, made.content
        return str(made.json()["id"])

    def requote(self, **body: Any) -> Any:
        return self.sales.post(f"/v1/quotes/{self.quote['id']}/requote", body)

    def issue(self, quote: Any) -> Any:
        """The answer to the issue of a quote just made, by the tag that it came with."""
        return self.sales.post(f"/v1/quotes/{quote.json()['id']}/issue", If_Match=quote.headers["ETag"])

    def dearer(self, wage: str = "40.00") -> None:
        """A new edition with another wage, in force from the next day on."""
        document = read_case("golden", "edition.json") | {"effective_from": "2027-03-01"}
        document["tables"]["labour"][0]["wage"] = wage
        approve(self.office.company, self.office.rate_book, self.office.drafter, self.office.approver, document)


@pytest.fixture
def job(office: Office) -> Job:
    return Job(office)


def changed(**fields: Any) -> Any:
    """The lines with the first of them changed."""
    return [LINES[0] | fields, *LINES[1:]]


def prices(quote: Any) -> dict[str, str | None]:
    """The offers of a quote by their basis."""
    return {offer["basis"]: offer["price"] for offer in quote["offers"]}


def test_a_one_line_change_goes_from_file_to_letter_in_three_calls(job: Job) -> None:
    job.dearer()
    second = job.sales.post(f"/v1/projects/{job.project}/opening-schedules", changed(quantity=12))
    drafted = job.requote(schedule=second.json()["id"], basis="blend", basis_reason="promised to hold")
    assert drafted.status_code == 201, drafted.content
    issued = job.issue(drafted)
    assert issued.status_code == 200, issued.content
    assert (issued.json()["number"], issued.json()["state"]) == (2, "issued")
    before = job.api.get(f"/v1/quotes/{job.quote['id']}").json()
    assert before["state"] == "superseded" and before["price"] == job.quote["price"]
    signed = job.api.get(f"/v1/estimates/{issued.json()['estimate']}/sign-offs").json()
    assert signed["open"] == 0 and {item["state"] for item in signed["items"]} == {"inherited", "entered"}
    assert {d["name"] for d in issued.json()["documents"]} == {
        "letter.pdf", "letter.html", "changes.pdf", "changes.html", "ubl.xml",
    }  # fmt: skip
    letter = text_of_pdf(job.sales.get(f"/v1/quotes/{issued.json()['id']}/changes.pdf").content)
    assert "10 openings of A (1, North) became 12." in " ".join(letter.split())


def test_the_offers_stand_beside_each_other_with_what_holding_gives_away(job: Job) -> None:
    job.dearer()
    quote = job.requote(schedule=job.add(changed(quantity=12))).json()
    assert quote["basis"] == "today" and set(prices(quote)) == {"today", "held", "blend"}
    held, blend, today = (Decimal(prices(quote)[name] or "") for name in ("held", "blend", "today"))
    assert held < blend < today
    given = {offer["basis"]: Decimal(offer["given_away"]) for offer in quote["offers"]}
    assert given == {"today": 0, "held": today - held, "blend": today - blend}


def test_nothing_changed_is_held_at_the_price_that_was_quoted(job: Job) -> None:
    job.dearer()
    quote = job.requote(schedule=job.add(LINES), basis="held").json()
    assert quote["price"] == prices(quote)["held"] == prices(quote)["blend"] == job.quote["price"]


def test_the_letter_of_changes_sums_to_the_change(job: Job) -> None:
    job.dearer()
    lines = [LINES[0] | {"quantity": 7}, LINES[1] | {"width": "60 in"}, LINES[2] | {"mark": "D9", "width": "50 in"}]
    quote = job.requote(schedule=job.add(lines)).json()
    page = job.sales.get(f"/v1/quotes/{quote['id']}/changes.html").content.decode()
    for title in ("Openings that came", "Openings that went", "Openings that changed"):
        assert title in page
    last = page.rpartition("<tbody>")[2]
    cells = [row.rpartition(">")[2] for row in last.split("</td></tr>")[:-1]]
    amounts = [Decimal(cell.replace("−", "-").replace("+", "").replace(",", "")) for cell in cells]
    assert len(amounts) == 6  # A, B, D9, C, the others, the change
    assert sum(amounts[:-1]) == amounts[-1] == Decimal(quote["price"]) - Decimal(job.quote["price"])


def test_a_new_mark_that_leaves_something_out_wants_its_own_signature(job: Job) -> None:
    drafted = job.requote(schedule=job.add([*LINES, LINES[0] | {"mark": "E"}]))
    blocks = drafted.json()["blocks"]
    assert [block["code"] for block in blocks] == ["assumptions_open"] and blocks[0]["who"] == "estimator"
    refused = job.issue(drafted)
    assert refused.status_code == 422 and refused.json()["errors"][0]["code"] == "assumptions_open"


def test_marks_that_may_be_one_go_to_the_estimator(job: Job) -> None:
    second = job.add(changed(mark="R1"))
    drafted = job.requote(schedule=second)
    codes = [block["code"] for block in drafted.json()["blocks"]]
    assert "matches_open" in codes and "A and R1" in drafted.json()["blocks"][codes.index("matches_open")]["sentence"]
    assert job.issue(drafted).status_code == 422
    said = {"from": job.first, "pairs": [{"before": 0, "after": 0, "same": True}]}
    assert job.api.post(f"/v1/opening-schedules/{second}/matches", said).status_code == 200
    again = job.requote(schedule=second)
    assert "matches_open" not in [block["code"] for block in again.json()["blocks"]]


def test_a_count_that_disagrees_is_refused_with_its_reason(job: Job) -> None:
    sheet = "Mark,Qty,Width,Height,Access\nA,6,48 in,48 in,ground\nB,2,36 in,36 in,ground\nTotal,9,,,\n"
    path = f"/v1/projects/{job.project}/opening-schedules"
    made = job.sales.post(path, sheet, Content_Type="text/csv")
    assert made.json()["questions"]["blocks_costing"] > 0
    refused = job.requote(schedule=made.json()["id"])
    assert refused.status_code == 422
    details = [error["detail"] for error in refused.json()["errors"]]
    assert any("9" in detail and "8" in detail and detail.endswith("(estimator)") for detail in details), details


def test_a_missing_depth_is_refused_with_its_reason(job: Job, office: Office) -> None:
    given = [line | {"treated_depth": "6 in"} for line in LINES]
    request = {name: value for name, value in job.request.items() if name != "treated_depth"}
    estimate = job.api.estimate(request | {"schedule": job.add(given)}).json()["id"]
    sign_all(office, estimate)
    body = {"estimate": estimate, "customer": {"name": "Northfield Builders"}}
    made = job.api.post("/v1/quotes", body, Idempotency_Key="depth").json()["id"]
    issue_quote(office, made)
    refused = job.sales.post(f"/v1/quotes/{made}/requote", {"schedule": job.add(LINES)})
    errors = refused.json()["errors"]
    assert refused.status_code == 422 and errors[0]["code"] == "missing" and "depth" in errors[0]["detail"]
    assert errors[0]["detail"].endswith("(estimator)")


def test_rates_are_held_only_while_the_quote_is_valid(job: Job) -> None:
    job.dearer()
    drafted = job.requote(schedule=job.add(changed(quantity=12)), basis="held").json()
    assert drafted["valid_until"] == job.quote["valid_until"] and drafted["blocks"] == []
    path = f"/v1/quotes/{drafted['id']}"
    later = job.sales.send("PATCH", path, {"valid_until": day_after(drafted["valid_until"])}, If_Match="*").json()
    assert [block["code"] for block in later["blocks"]] == ["held_too_long"]
    assert job.sales.post(f"{path}/issue", If_Match="*").status_code == 422
    approved = job.api.post(f"{path}/approve", {"reason": "an old customer"}, If_Match="*").json()
    assert approved["blocks"] == []
    further = {"valid_until": day_after(later["valid_until"])}
    longer = job.sales.send("PATCH", path, further, If_Match="*").json()
    assert longer["approval"] is None and [block["code"] for block in longer["blocks"]] == ["held_too_long"]


def day_after(day: str) -> str:
    """The next day."""
    return str(datetime.date.fromisoformat(day) + datetime.timedelta(days=1))


def test_only_open_quotes_are_quoted_anew(job: Job) -> None:
    path = f"/v1/quotes/{job.quote['id']}"
    assert job.api.post(f"{path}/award", {"reason": "x"}, If_Match="*").status_code == 200
    refused = job.requote(schedule=job.add(changed(quantity=12)))
    assert refused.status_code == 409


def test_a_discount_is_carried_and_limited_again(job: Job) -> None:
    tag = job.api.get("/v1/company").headers["ETag"]
    job.api.send("PATCH", "/v1/company", {"discount_limit": "2"}, If_Match=tag)
    first = job.requote(schedule=job.add(changed(quantity=11)), discount_percent="2")
    assert first.json()["blocks"] == []
    assert job.issue(first).status_code == 200
    path = f"/v1/quotes/{first.json()['id']}/requote"
    second = job.sales.post(path, {"schedule": job.add(changed(quantity=12))})
    assert second.json()["discount_percent"] == "2"


def test_an_addendum_names_the_lines_that_it_brought(job: Job) -> None:
    path = f"/v1/projects/{job.project}/opening-schedules?drawing_issue=Addendum+2"
    lines = [LINES[0] | {"quantity": 12}, LINES[1], LINES[0] | {"mark": "N1"}]
    second = job.sales.post(path, lines).json()["id"]
    told = {"name": "Addendum 2", "acknowledged_on": "2027-01-05", "schedule": second, "marks": ["Z9"]}
    quote = job.requote(schedule=second, addenda=[told]).json()
    assert quote["addenda"][0]["marks"] == ["Z9", "A", "N1"]
    page = job.sales.get(f"/v1/quotes/{quote['id']}/letter.html").content.decode()
    assert "Addendum 2, acknowledged on January 5, 2027; it brought or changed Z9, A, N1" in page
    assert job.requote(schedule=second).json()["addenda"] == [], "an addendum is of the quote that names it"


@pytest.mark.parametrize("basis", ["today", "held", "blend"])
def test_no_basis_passes_by_the_floor(job: Job, basis: str) -> None:
    """Its own margin is 10 %: a floor of 12 % keeps each price in until the principal approves that one."""
    job.dearer()
    tag = job.api.get("/v1/company").headers["ETag"]
    assert job.api.send("PATCH", "/v1/company", {"margin_floor": "12"}, If_Match=tag).status_code == 200
    drafted = job.requote(schedule=job.add(changed(quantity=12)), basis=basis)
    assert [block["code"] for block in drafted.json()["blocks"]] == ["needs_approval"]
    path = f"/v1/quotes/{drafted.json()['id']}"
    estimator = make_person(job.office, "estimator", "estimator@office.example")
    for person in (job.sales, estimator):
        refused = person.post(f"{path}/issue", If_Match="*")
        assert (refused.status_code, refused.json()["errors"][0]["code"]) == (422, "needs_approval")
        assert person.post(f"{path}/approve", {"reason": "x"}, If_Match="*").status_code == 403
    assert job.api.post(f"{path}/approve", {"reason": "fills the week"}, If_Match="*").status_code == 200
    other = {"customer": {"name": "Somebody else"}}
    assert job.sales.send("PATCH", path, other, If_Match="*").json()["approval"] is None
    assert job.sales.post(f"{path}/issue", If_Match="*").status_code == 422, "the approval was of another draft"
    assert job.api.post(f"{path}/approve", {"reason": "fills the week"}, If_Match="*").status_code == 200
    assert job.sales.post(f"{path}/issue", If_Match="*").status_code == 200
