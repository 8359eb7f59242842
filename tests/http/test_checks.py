"""Checks and cautions where they are seen: documents, lists, tables, comparisons, editions; by role; of old ones."""

from __future__ import annotations

import csv
import html
import io
import json
import zipfile
from typing import Any

import pytest

from estimating import snapshots
from estimating.models import EstimatePart
from rates.documents import pack
from tests.cast import Api, Office, lift_rules, make_person
from tests.db.making import cost_golden, golden_request
from tests.http.visitor import Visitor
from tests.worked_cases import read_case


def cost(api: Api, office: Office, **changes: Any) -> dict[str, Any]:
    """A costed golden estimate with changes of its request."""
    made = api.estimate(golden_request(office) | changes)
    assert made.status_code == 201, made.content
    document: dict[str, Any] = made.json()
    return document


def tall(office: Office) -> list[dict[str, Any]]:
    """The golden openings, the first line on the ninth storey from the ground."""
    lines = [dict(line) for line in golden_request(office)["openings"]]
    lines[0]["storey"] = "9"
    return lines


def codes(checks: list[dict[str, Any]]) -> list[str]:
    return [check["code"] for check in checks]


def no_profit_document() -> dict[str, Any]:
    """An edition without profit, at a wage that is a slip."""
    document: dict[str, Any] = read_case("golden", "edition.json") | {"effective_from": "2027-02-01"}
    document["tables"]["overheads"] = [row for row in document["tables"]["overheads"] if row["step"] != "profit"]
    document["tables"]["labour"][0]["wage"] = "3400.00"
    return document


def no_profit(office: Office, api: Api) -> str:
    """The id of it approved."""
    draft = api.post(f"/v1/rate-books/{office.rate_book}/editions", no_profit_document())
    path = f"/v1/editions/{draft.json()['id']}"
    impact = api.get(f"{path}/impact").json()
    sent = api.post(f"{path}/submit", None, If_Match=draft.headers["ETag"])
    assert codes(sent.json()["checks"]) == ["access_without_equipment", "no_profit", "wage_unlikely"]
    assert impact["checks"] == sent.json()["checks"]
    digest = {"digest": sent.json()["digest"]}
    Api(office.approver_key).post(f"{path}/approve", digest, If_Match=sent.headers["ETag"])
    return str(draft.json()["id"])


def test_an_estimate_tells_what_is_unlikely_in_its_document_its_list_and_its_tables(api: Api, office: Office) -> None:
    made = cost(api, office, openings=tall(office))
    assert codes(made["checks"]) == ["access_out_of_reach", "no_penetrations"]
    assert made["checks"][0]["lines"] == [1]
    assert made["checks"][0]["sentence"].startswith("A (10 openings): heads up to 84'-0\" above grade")
    path = f"/v1/estimates/{made['id']}/checks"
    listed = api.get(path).json()
    assert (listed["items"], listed["cautions"]) == (made["checks"], made["cautions"])
    rows = list(csv.DictReader(io.StringIO(api.get(f"{path}.csv").content.decode())))
    assert codes(rows) == codes(made["checks"])
    assert api.get(f"{path}?limit=1").json()["items"] == made["checks"][:1]


def test_an_edition_tells_them_before_it_is_approved_and_its_estimates_after(api: Api, office: Office) -> None:
    made = cost(api, office, edition=no_profit(office, api))
    assert codes(made["checks"]) == ["no_penetrations", "no_profit", "wage_unlikely"]


@pytest.mark.parametrize("role", ["viewer", "sales"])
def test_who_may_not_see_costs_sees_no_check_of_wages_and_profit(api: Api, office: Office, role: str) -> None:
    made = cost(api, office, edition=no_profit(office, api))
    person = make_person(office, role, "p@office.example")
    assert codes(person.get(f"/v1/estimates/{made['id']}").json()["checks"]) == ["no_penetrations"]
    shown = person.get(f"/v1/estimates/{made['id']}/checks").json()["items"]
    assert codes(shown) == ["no_penetrations"]
    assert b"3,400" not in person.get(f"/v1/estimates/{made['id']}/checks.csv").content
    other = cost(api, office)
    compared = api.post("/v1/comparisons", {"before": other["id"], "after": made["id"]}, Prefer="wait=10").json()
    assert [(c["change"], c["code"]) for c in compared["checks"]] == [("came", "no_profit"), ("came", "wage_unlikely")]
    seen = person.get(f"/v1/comparisons/{compared['id']}").json()
    assert (seen["checks"], seen["cautions"]) == ([], compared["cautions"])


def test_a_comparison_tells_what_came_what_went_and_what_says_something_else(api: Api, office: Office) -> None:
    lines = tall(office)
    before = cost(api, office, openings=lines)
    higher = [lines[0] | {"storey": "10"}, *lines[1:]]
    allowance = {"title": "Pipes not scheduled", "count": "4", "unit_price": "40.00"}
    after = cost(api, office, openings=higher, allowances=[allowance], mobilisations=0)
    compared = api.post("/v1/comparisons", {"before": before["id"], "after": after["id"]}, Prefer="wait=10").json()
    told = {(check["change"], check["code"]) for check in compared["checks"]}
    assert told == {("changed", "access_out_of_reach"), ("came", "not_mobilised"), ("went", "no_penetrations")}


def test_an_estimate_costed_before_checks_were_told_reads_and_lists_them(api: Api, office: Office) -> None:
    id = cost_golden(office)
    document = json.loads(snapshots.read_summary(company=office.company, estimate=id) or b"")
    checks, cautions = document.pop("checks"), document["cautions"]
    lift_rules()
    parts = EstimatePart.objects.of(office.company).filter(estimate_id=id)
    parts.filter(name__in=["checks", "cautions"]).delete()
    parts.filter(name=snapshots.SUMMARY).update(body=pack(document))
    person = make_person(office, "sales", "p@office.example")
    for reader in (api, person):
        old = reader.get(f"/v1/estimates/{id}")
        assert (old.status_code, "checks" in old.json()) == (200, False)
        assert reader.get(f"/v1/estimates/{id}/checks").json()["items"] == checks
        assert reader.get(f"/v1/estimates/{id}/openings").json()["cautions"] == cautions


@pytest.mark.parametrize(
    "part", ["openings", "materials", "equipment", "pieces", "methods", "alternates", "cost-codes"]
)
def test_every_list_that_leaves_the_office_carries_the_cautions(api: Api, office: Office, part: str) -> None:
    made = cost(api, office)
    assert any(caution.startswith("Lifts:") for caution in made["cautions"])
    assert not any(caution.startswith("Swing stages:") for caution in made["cautions"])
    path = f"/v1/estimates/{made['id']}/{part}"
    answer = api.get(path).json()
    assert answer["cautions"] == made["cautions"]
    rows = list(csv.reader(io.StringIO(api.get(f"{path}.csv").content.decode())))
    if len(rows) > 1:  # there are no alternates
        assert (rows[0][-1], rows[1][-1]) == ("cautions", " ".join(made["cautions"]))
        assert {row[-1] for row in rows[2:]} <= {""}
        assert {len(row) for row in rows} == {len(rows[0])}
        fields = {"mark" if name == "marks" else name for name in answer["items"][0]}  # pieces are listed by mark
        assert {heading.partition("/")[0] for heading in rows[0][:-1]} == fields, "every other column is as it was"
    book = zipfile.ZipFile(io.BytesIO(api.get(f"{path}.xlsx").content))
    assert '<sheet name="cautions" sheetId="2"' in book.read("xl/workbook.xml").decode()
    text = html.unescape("".join(book.read(name).decode() for name in book.namelist() if name.endswith(".xml")))
    assert all(caution in text for caution in made["cautions"])


def test_pages_show_them_where_a_price_and_an_edition_are_judged(api: Api, office: Office) -> None:
    plain, made = cost(api, office), cost(api, office, edition=no_profit(office, api))
    ids = {"before": plain["id"], "after": made["id"]}
    compared = api.post("/v1/comparisons", ids, Prefer="wait=10").json()
    draft = api.post(
        f"/v1/rate-books/{office.rate_book}/editions", no_profit_document() | {"effective_from": "2027-02-02"}
    )
    keeper, sales = (
        Visitor(make_person(office, role, f"{role}@build.example").client) for role in ("rate_keeper", "sales")
    )
    sentences = [check["sentence"] for check in made["checks"]]
    assert len(sentences) == 3 and all(one in keeper.see(f"/estimates/{made['id']}") for one in sentences)
    assert [one in sales.see(f"/estimates/{made['id']}") for one in sentences] == [True, False, False]
    came = [check["sentence"] for check in compared["checks"]]
    assert len(came) == 2 and all(one in keeper.see(f"/comparisons/{compared['id']}") for one in came)
    assert not any(one in sales.see(f"/comparisons/{compared['id']}") for one in came)
    for path in (f"/editions/{draft.json()['id']}", f"/editions/{draft.json()['id']}/submit"):
        assert all(one in keeper.see(path) for one in came)
