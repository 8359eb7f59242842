"""What systems of customers and of the office take of a quote: the UBL document, cost by code, the budget to import."""

from __future__ import annotations

import csv
import io
from decimal import Decimal
from typing import Any

from lxml import etree

from estimating.models import Quote
from tests.cast import Api, Office
from tests.core.test_ubl import NAMES, amounts, lxml_schema, second_schema
from tests.db.making import cost_golden, draft_quote, golden_request, issue_quote, sign_all


def quoted(api: Api, office: Office, **changes: Any) -> str:
    """The id of an issued quote of the worked example, 1,655.00."""
    made = cost_golden(office)
    sign_all(office, made)
    quote = str(draft_quote(office, made))
    if changes:
        tag = api.get(f"/v1/quotes/{quote}").headers["ETag"]
        assert api.send("PATCH", f"/v1/quotes/{quote}", changes, If_Match=tag).status_code == 200
    issue_quote(office, quote)
    return quote


def award(api: Api, quote: str) -> None:
    """The customer takes it."""
    tag = api.get(f"/v1/quotes/{quote}").headers["ETag"]
    assert api.post(f"/v1/quotes/{quote}/award", {}, If_Match=tag).status_code == 200


def total(items: Any, name: str = "amount") -> Decimal:
    """The sum of a column."""
    return sum((Decimal(item[name]) for item in items), Decimal(0))


def test_an_issued_quote_is_a_valid_quotation_with_the_database_s_amounts_and_stays_as_it_was(
    api: Api, office: Office
) -> None:
    quote = quoted(api, office)
    answer = api.get(f"/v1/quotes/{quote}/ubl.xml")
    assert (answer.status_code, answer.headers["Content-Type"]) == (200, "application/xml")
    assert lxml_schema().validate(etree.fromstring(answer.content))
    assert second_schema().is_valid(answer.content.decode())
    row = Quote.objects.of(office.company).get(pk=quote)
    price, lines = amounts(answer.content, row.currency)
    assert (price, sum(lines)) == (row.price_minor, row.price_minor) == (165_500, 165_500)
    assert etree.fromstring(answer.content).findtext("cbc:ID", namespaces=NAMES) == str(row.number)
    award(api, quote)
    assert api.get(f"/v1/quotes/{quote}/ubl.xml").content == answer.content


def test_a_draft_is_no_quotation(api: Api, office: Office) -> None:
    made = cost_golden(office)
    refused = api.get(f"/v1/quotes/{draft_quote(office, made)}/ubl.xml")
    assert (refused.status_code, refused.json()["errors"][0]["code"]) == (409, "not_issued")


def test_an_awarded_quote_tells_its_cost_by_code_and_as_a_budget_that_sum_to_its_price(
    api: Api, office: Office
) -> None:
    quote = quoted(api, office)
    assert api.get(f"/v1/quotes/{quote}/budget").status_code == 409
    award(api, quote)
    codes = api.get(f"/v1/quotes/{quote}/cost-codes")
    assert total(codes.json()["items"]) == Decimal("1655.00")
    assert codes.json()["items"] == api.get(f"/v1/estimates/{show(api, quote)['estimate']}/cost-codes").json()["items"]
    rows = list(csv.DictReader(io.StringIO(api.get(f"/v1/quotes/{quote}/budget.csv").content.decode(), newline="")))
    assert total(rows) == Decimal("1655.00")
    kinds = {kind: total(codes.json()["items"], kind) for kind in ("labour", "materials", "equipment", "other")}
    for kind, amount in kinds.items():
        assert total([row for row in rows if row["kind"] == kind]) == amount
    assert {row["quote"] for row in rows} == {"1"} and {row["currency"] for row in rows} == {"USD"}
    kept = api.get(f"/v1/quotes/{quote}/budget")
    assert api.get(f"/v1/quotes/{quote}/budget", If_None_Match=kept.headers["ETag"]).status_code == 304


def show(api: Api, quote: str) -> Any:
    return api.get(f"/v1/quotes/{quote}").json()


def test_a_discount_is_a_row_of_its_own_and_the_feed_tells_of_the_award(api: Api, office: Office) -> None:
    """10 % of 1,655.00 is 165.50; 1,489.50 is quoted."""
    quote = quoted(api, office, discount_percent="10")
    award(api, quote)
    assert show(api, quote)["price"] == "1489.50"
    codes = api.get(f"/v1/quotes/{quote}/cost-codes").json()["items"]
    assert (codes[-1]["code"], codes[-1]["amount"], total(codes)) == (None, "-165.50", Decimal("1489.50"))
    budget = api.get(f"/v1/quotes/{quote}/budget").json()["items"]
    assert total(budget) == Decimal("1489.50") and budget[-1]["kind"] == "other"
    told = api.get("/v1/feed").json()["items"][-1]
    assert (told["kind"], told["subject"]) == ("quote.awarded", quote)
    tag = api.get(f"/v1/quotes/{quote}").headers["ETag"]
    assert api.post(f"/v1/quotes/{quote}/close", {"reason": "not ours"}, If_Match=tag).status_code == 200
    assert api.get(f"/v1/quotes/{quote}/budget").status_code == 409
    assert api.get("/v1/feed").json()["items"][-1]["kind"] == "quote.not_awarded"


def test_alternates_taken_with_an_award_are_in_its_budget_and_in_the_contract(api: Api, office: Office) -> None:
    """The two adds together are one price of the whole job less 1,655.00, as /alternates?accept= has it."""
    project = api.post("/v1/projects", {"name": "Clinic"}).headers["Location"]
    lines = golden_request(office)["openings"]
    more = {"quantity": 3, "width": "48 in", "height": "48 in", "access": "ground", "elevation": "West"}
    lines += [more | {"mark": name, "alternate": {"name": f"add {name}", "kind": "add"}} for name in ("X", "Y")]
    request = golden_request(office, project=project.rpartition("/")[2], openings=lines)
    estimate = api.estimate(request).json()["id"]
    (both,) = api.get(f"/v1/estimates/{estimate}/alternates?accept=add X;add Y").json()["items"]
    sign_all(office, estimate)
    quote = draft_quote(office, estimate)
    issue_quote(office, quote)
    letter = api.get(f"/v1/quotes/{quote}/letter.html").content.decode()
    for one in api.get(f"/v1/estimates/{estimate}/alternates").json()["items"]:
        assert f"+{Decimal(one['adds']):,}" in letter and one["alternate"] in letter
    path, tag = f"/v1/quotes/{quote}", api.get(f"/v1/quotes/{quote}").headers["ETag"]
    unknown = api.post(f"{path}/award", {"alternates": ["add Z"]}, If_Match=tag)
    assert (unknown.status_code, unknown.json()["errors"][0]["code"]) == (422, "unknown_alternate")
    taken = api.post(f"{path}/award", {"alternates": ["add Y", "add X"]}, If_Match=tag).json()
    assert (taken["price"], taken["alternates_price"]) == ("1655.00", both["adds"])
    assert taken["accepted_alternates"] == ["add X", "add Y"]
    for part in ("cost-codes", "budget"):
        assert total(api.get(f"{path}/{part}").json()["items"]) == Decimal(both["price"])
    (contract,) = api.get(f"{project}/change-orders").json()["contracts"]
    assert contract["awarded"] == contract["contract"] == both["price"]
    (line,) = api.get(f"{project}/contract").json()["items"]
    assert (line["title"], line["contract"]) == (
        "quote 1 to Northfield Builders, with alternates add X, add Y", both["price"],
    )  # fmt: skip
