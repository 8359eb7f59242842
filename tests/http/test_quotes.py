"""A quote from its draft to its end: what keeps it from being issued, what is frozen, who may do what."""

from __future__ import annotations

import datetime
import hashlib
import uuid
from typing import Any

import pytest

from estimating.actions import quote_issue
from estimating.models import Quote
from rates.refusals import ANY_STATE, Conflict
from tests.cast import NOW, Api, Office, approve, make_office, make_person
from tests.db.making import cost_golden, draft_quote, golden_request, issue_quote, sign_all
from tests.worked_cases import read_case


def codes(quote: Any) -> list[str]:
    """What keeps a draft from being issued."""
    return [block["code"] for block in quote["blocks"]]


def show(api: Api, quote: str) -> Any:
    return api.get(f"/v1/quotes/{quote}").json()


def send(api: Api, quote: str, name: str, body: Any = None) -> Any:
    """The answer to a step of a quote, as it is known now."""
    path = f"/v1/quotes/{quote}"
    tag = api.get(path).headers["ETag"]
    if name == "change":
        return api.send("PATCH", path, body, If_Match=tag)
    return api.post(f"{path}/{name}", body, If_Match=tag)


def settle(api: Api, **changes: Any) -> None:
    """Settings of the company changed."""
    tag = api.get("/v1/company").headers["ETag"]
    assert api.send("PATCH", "/v1/company", changes, If_Match=tag).status_code == 200


@pytest.fixture
def estimate(office: Office) -> uuid.UUID:
    """A costed estimate of the worked example, 1,655.00, its assumptions signed off."""
    made = cost_golden(office)
    sign_all(office, made)
    return made


def test_a_quote_is_drafted_issued_and_awarded(api: Api, office: Office, estimate: uuid.UUID) -> None:
    quote = draft_quote(office, estimate)
    drafted = show(api, quote)
    assert (drafted["state"], drafted["number"], drafted["price"], codes(drafted)) == ("drafted", None, "1655.00", [])
    assert drafted["documents"] == []
    patch = {"If_Match": api.get(f"/v1/quotes/{quote}").headers["ETag"], "Content_Type": "application/merge-patch+json"}
    named = api.send("PATCH", f"/v1/quotes/{quote}", {"customer": {"contact": "Ann"}}, **patch).json()["customer"]
    assert (named["name"], named["contact"], named["email"]) == ("Northfield Builders", "Ann", "")
    issued = send(api, quote, "issue")
    assert issued.status_code == 200, issued.content
    assert (issued.json()["state"], issued.json()["number"]) == ("issued", 1)
    assert send(api, quote, "change", {"note": "x"}).status_code == 409
    assert send(api, quote, "issue").status_code == 409
    awarded = send(api, quote, "award", {"reason": "on the phone"}).json()
    assert (awarded["state"], awarded["close_reason"]) == ("awarded", "on the phone")
    silent = draft_quote(office, estimate)
    issue_quote(office, silent)
    assert send(api, silent, "award").json()["close_reason"] == "", "an award needs no word"
    corrected = send(api, quote, "close", {"reason": "it was for another job", "competing_price": "1600.00"}).json()
    assert (corrected["state"], corrected["competing_price"]) == ("not_awarded", "1600.00")
    kinds = [item["kind"] for item in api.get("/v1/feed").json()["items"]]
    assert kinds == [
        "estimate.costed", "quote.issued", "quote.awarded", "quote.issued", "quote.awarded", "quote.not_awarded",
    ]  # fmt: skip


def test_every_fault_of_a_new_quote_is_told_at_once(api: Api, office: Office, estimate: uuid.UUID) -> None:
    body = {
        "estimate": str(estimate),
        "customer": {"name": "x"},
        "valid_until": "2020-01-01",
        "inclusions": [{"code": "none"}],
        "addenda": [{"name": "1", "acknowledged_on": "2027-01-05", "schedule": str(uuid.uuid4())}],
    }
    answer = api.post("/v1/quotes", body, Idempotency_Key="k")
    assert answer.status_code == 422
    assert {error["pointer"] for error in answer.json()["errors"]} == {
        "/valid_until", "/inclusions/0/code", "/addenda/0/schedule",
    }  # fmt: skip
    assert api.get("/v1/quotes").json()["items"] == []


def test_issue_waits_for_every_assumption(api: Api, office: Office) -> None:
    estimate = cost_golden(office)
    quote = draft_quote(office, estimate)
    assert codes(show(api, quote)) == ["assumptions_open"]
    refused = send(api, quote, "issue")
    assert refused.status_code == 422 and refused.json()["errors"][0]["code"] == "assumptions_open"
    sign_all(office, estimate)
    path = f"/v1/estimates/{estimate}/sign-offs"
    signed = api.get(path).json()["items"]
    entered = {item["field"] for item in signed if item["state"] == "entered"}
    assert entered == {"method", "treated_depth", "wall_barrier"}, "nobody signs what the request says"
    signed = [item for item in signed if item["field"] not in entered]
    assert {item["state"] for item in signed} == {"signed"}
    back = api.post(path, {"take_back": [signed[0]["assumption"]]}).json()
    assert back["open"] == 1 and codes(show(api, quote)) == ["assumptions_open"]
    sign_all(office, estimate)
    issue_quote(office, quote)
    api.post(path, {"take_back": [signed[0]["assumption"]]})
    assert show(api, quote)["state"] == "issued"


def test_an_assumption_that_it_does_not_make_is_not_signed(api: Api, estimate: uuid.UUID) -> None:
    answer = api.post(f"/v1/estimates/{estimate}/sign-offs", {"sign": ["0" * 32]})
    assert answer.status_code == 422 and answer.json()["errors"][0]["pointer"] == "/sign/0"


def test_texts_are_picked_by_what_the_estimate_holds(api: Api, office: Office, estimate: uuid.UUID) -> None:
    texts = {
        "inclusions": [{"code": "fluid", "text": "Two coats of fluid-applied flashing.", "when": ["method:fluid"]}],
        "exclusions": [
            {"code": "lift", "text": "Power for lifts.", "when": ["access:lift"]},
            {"code": "stage", "text": "Roof anchors.", "when": ["access:swing_stage"]},
            {"code": "permits", "text": "Permits."},
        ],
        "clarifications": [{"code": "tape", "text": "Tape is by others.", "when": ["method:tape", "perimeter_seal"]}],
        "terms": "Thirty days net.",
        "letterhead": ["12 Mill Road"],
        "validity_days": 10,
    }
    tag = api.get("/v1/quote-texts").headers["ETag"]
    assert api.send("PUT", "/v1/quote-texts", texts, If_Match=tag).status_code == 200
    quote = show(api, draft_quote(office, estimate))
    assert [x["code"] for x in quote["inclusions"]] == ["fluid"]
    assert [x["code"] for x in quote["exclusions"]] == ["lift", "permits"]
    assert quote["clarifications"] == [] and quote["terms"] == "Thirty days net."
    own = {"exclusions": [{"code": "stage"}, {"text": "Night work."}], "clarifications": []}
    changed = send(api, quote["id"], "change", own).json()
    assert [x["text"] for x in changed["exclusions"]] == ["Roof anchors.", "Night work."]
    wrong = api.send(
        "PUT", "/v1/quote-texts", {"exclusions": [{"code": "a", "text": "x", "when": ["soon"]}]}, If_Match="*"
    )
    assert wrong.status_code == 422 and wrong.json()["errors"][0]["pointer"] == "/exclusions/0/when/0"


def test_a_discount_is_limited_by_role_and_the_price_by_the_floor(office: Office, estimate: uuid.UUID) -> None:
    """1,655.00 less 3 % is 1,605.35. The margin by hand: (price − 24.78 bond − 1,464.38) ÷ (price − 24.78)."""
    api = Api(office.key)
    settle(api, discount_limit="3", estimator_discount_limit="5")
    sales, estimator = (make_person(office, role, f"{role}@office.example") for role in ("sales", "estimator"))
    quote = draft_quote(office, estimate)
    three = send(sales, quote, "change", {"discount_percent": "3"}).json()
    assert (three["price"], three["discount"], codes(three)) == ("1605.35", "49.65", [])
    four = send(sales, quote, "change", {"discount_percent": "4"}).json()
    assert codes(four) == ["needs_approval"] and codes(show(estimator, quote)) == []
    assert send(sales, quote, "issue").status_code == 422
    beyond = four["blocks"][0]["sentence"]
    # at 3 %: 100 × (1605.35 − 24.78 − 1464.38) ÷ (1605.35 − 24.78) = 7.35 %
    send(sales, quote, "change", {"discount_percent": "3"})
    settle(api, margin_floor="7.3")
    assert show(api, quote)["margin_percent"] == "7.35"
    assert codes(show(sales, quote)) == []
    settle(api, margin_floor="7.4")
    refused = send(sales, quote, "issue").json()["errors"]
    assert [e["detail"] for e in refused] == [f"{beyond} (principal)"], "the same words, whichever limit is passed"
    assert codes(show(estimator, quote)) == ["needs_approval"]
    told = api.get(f"/v1/quotes/{quote}").json()
    assert told.pop("margin") == "116.19" and "margin" not in str(told).replace("margin_percent", "")
    assert "margin_percent" not in show(sales, quote)
    assert sales.post(f"/v1/quotes/{quote}/approve", {"reason": "x"}, If_Match="*").status_code == 403
    approved = send(api, quote, "approve", {"reason": "fills the week"}).json()
    assert approved["blocks"] == [] and approved["approval"]["reason"] == "fills the week"
    back = send(api, quote, "approve", {}).json()
    assert codes(back) == ["needs_approval"] and back["approval"] is None
    send(api, quote, "approve", {"reason": "fills the week"})
    changed = send(sales, quote, "change", {"discount_percent": "3.5"}).json()
    assert codes(changed) == ["needs_approval"], "another price takes the approval away"
    send(api, quote, "approve", {"reason": "fills the week"})
    assert send(sales, quote, "issue").status_code == 200


def test_without_a_limit_sales_give_nothing_away(office: Office, estimate: uuid.UUID) -> None:
    sales = make_person(office, "sales", "sales@office.example")
    quote = draft_quote(office, estimate)
    assert codes(send(sales, quote, "change", {"discount_percent": "0.1"}).json()) == ["needs_approval"]


def test_changed_rates_stand_against_an_old_estimate(api: Api, office: Office, estimate: uuid.UUID) -> None:
    quote = draft_quote(office, estimate)
    assert codes(show(api, quote)) == []
    document = read_case("golden", "edition.json") | {"effective_from": "2027-03-01"}
    document["tables"]["labour"][0]["wage"] = "33.00"
    approve(office.company, office.rate_book, office.drafter, office.approver, document)
    assert codes(show(api, quote)) == ["rates_changed"]
    assert send(api, quote, "issue").status_code == 422
    assert send(api, quote, "approve", {"reason": "promised on the phone"}).json()["blocks"] == []


def test_invented_rates_are_not_offered(rules: None) -> None:
    document = read_case("golden", "edition.json")
    document["tables"]["materials"][0]["source"] = "Invented for the start"
    office = make_office("Starter", document)
    estimate = cost_golden(office)
    sign_all(office, estimate)
    quote = show(Api(office.key), draft_quote(office, estimate))
    assert codes(quote) == ["invented_rates"] and "materials" in quote["blocks"][0]["sentence"]


def test_a_customer_in_letters_that_no_font_has_is_told_before_issue(
    api: Api, office: Office, estimate: uuid.UUID
) -> None:
    quote = draft_quote(office, estimate, customer={"name": "株式会社 North"})
    found = show(api, quote)["blocks"]
    assert [block["code"] for block in found] == ["letters_not_shown"] and "株" in found[0]["sentence"]
    assert api.get(f"/v1/quotes/{quote}/letter.pdf").status_code == 409
    assert send(api, quote, "issue").status_code == 422
    changed = send(api, quote, "change", {"customer": {"name": "Строй Дом, Žółć Ελληνική"}}).json()
    assert changed["blocks"] == []


def test_a_quote_expires_by_the_company_s_day(office: Office, estimate: uuid.UUID) -> None:
    """Valid until 15 March: in Chicago (UTC−5 from 14 March 2027 on) that ends on the 16th at 05:00 UTC."""
    api = Api(office.key)
    settle(api, time_zone="America/Chicago")
    quote = draft_quote(office, estimate, valid_until=str(datetime.date.today() + datetime.timedelta(days=5)))
    issue_quote(office, quote)
    lift = Quote.objects.of(office.company)
    row = lift.get(pk=quote)
    last = datetime.datetime.combine(
        row.valid_until, datetime.time(23, 30), datetime.timezone(datetime.timedelta(hours=-6))
    )
    who: dict[str, Any] = {"company": office.company, "member": office.drafter, "id": row.pk, "expected": ANY_STATE}
    with pytest.raises(Conflict, match="re-quote"):
        quote_issue.award(**who, reason="late", now=last + datetime.timedelta(hours=2))
    assert quote_issue.award(**who, reason="in time", now=last - datetime.timedelta(hours=2)).state == "awarded"


def test_the_letter_is_kept_byte_for_byte(
    api: Api, office: Office, estimate: uuid.UUID, monkeypatch: pytest.MonkeyPatch
) -> None:
    """After new editions, other settings, another engine and another library of documents."""
    quote = draft_quote(office, estimate)
    draft = api.get(f"/v1/quotes/{quote}/letter.html").content.decode()
    assert "Draft: not an offer until it is issued." in draft
    issued = issue_quote(office, quote)
    before = {}
    for document in issued["documents"]:
        answer = api.get(f"/v1/quotes/{quote}/{document['name']}")
        before[document["name"]] = answer.content
        assert hashlib.sha256(answer.content).hexdigest() == document["digest"]
        assert answer.headers["Content-Disposition"].startswith('attachment; filename="quote-1-')
    assert set(before) == {"letter.html", "letter.pdf", "ubl.xml"} and before["letter.pdf"].startswith(b"%PDF")
    approve(office.company, office.rate_book, office.drafter, office.approver, read_case("golden", "edition.json"))
    settle(api, name="Another name", time_zone="Asia/Tokyo", length_style="mm")
    monkeypatch.setattr("estimating.core.estimate.ENGINE_VERSION", "9")
    for name in ("pdf.compile_pdf", "html.write_html"):
        monkeypatch.setattr(f"estimating.outputs.printed.{name}", None)
    monkeypatch.setattr("estimating.outputs.quotes.files.WRITERS", {})
    assert {name: api.get(f"/v1/quotes/{quote}/{name}").content for name in before} == before


def test_only_costed_estimates_are_quoted(api: Api, office: Office) -> None:
    waiting = api.estimate(golden_request(office), wait=None).json()["id"]
    answer = api.post("/v1/quotes", {"estimate": waiting, "customer": {"name": "x"}}, Idempotency_Key="q")
    assert answer.status_code == 422 and answer.json()["errors"][0]["code"] == "not_costed"


def test_lists_by_state_and_project(api: Api, office: Office, estimate: uuid.UUID) -> None:
    first, second = draft_quote(office, estimate), draft_quote(office, estimate)
    issue_quote(office, first)
    listed = {state: api.get(f"/v1/quotes?state={state}").json()["items"] for state in ("drafted", "issued", "expired")}
    assert {state: [x["id"] for x in items] for state, items in listed.items()} == {
        "drafted": [second], "issued": [first], "expired": [],
    }  # fmt: skip
    assert api.get("/v1/quotes.csv").content.count(b"\r\n") == 3


def test_a_long_letter_is_laid_out_before_the_lock_and_is_the_same(api: Api, office: Office) -> None:
    lines = [
        {"mark": f"W{n}", "quantity": 1, "width": "48 in", "height": "48 in", "access": "ground", "storey": "1"}
        for n in range(quote_issue.LONG_LETTER)
    ]
    estimate = cost_golden(office, openings=lines)
    sign_all(office, estimate)
    first, second = draft_quote(office, estimate), draft_quote(office, estimate)
    ahead = quote_issue.draw_ahead(company=office.company, id=uuid.UUID(second), now=NOW)
    assert ahead is not None and ahead.letter.number == 1
    assert issue_quote(office, first)["number"] == 1
    who: dict[str, Any] = {"company": office.company, "member": office.drafter, "expected": ANY_STATE, "now": NOW}
    issued = quote_issue.issue(**who, id=uuid.UUID(second), drawn=ahead)
    assert issued.number == 2, "another was issued meanwhile"
    letter = api.get(f"/v1/quotes/{second}/letter.html").content.decode()
    assert "Quote 2" in letter and "Quote 1" not in letter
