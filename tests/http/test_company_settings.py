"""What new editions start from: the company's rounding, way of sales tax and titles of cost codes; figures invented."""

from __future__ import annotations

from typing import Any

import pytest

from tests.cast import Api, Office
from tests.db.making import golden_request
from tests.worked_cases import read_case

CODES = {"07 27 00": "Air barriers", "01 54 23": "Scaffolding and platforms"}


def change(api: Api, **fields: Any) -> Any:
    """The response to a change of the company."""
    return api.send("PATCH", "/v1/company", fields, If_Match=api.get("/v1/company").headers["ETag"])


def drafted(api: Api, office: Office, **fields: Any) -> Any:
    """A new draft with the golden tables."""
    document = read_case("golden", "edition.json") | fields
    return api.post(f"/v1/rate-books/{office.rate_book}/editions", document).json()


def approve(api: Api, office: Office, edition: Any) -> str:
    """The draft's id, approved by the second person."""
    path = f"/v1/editions/{edition['id']}"
    sent = api.post(f"{path}/submit", None, If_Match="*")
    body = {"digest": sent.json()["digest"]}
    answer = Api(office.approver_key).post(f"{path}/approve", body, If_Match="*")
    assert answer.status_code == 200, answer.content
    return str(edition["id"])


def test_a_new_edition_states_the_company_s_settings_and_those_that_stand_keep_theirs(api: Api, office: Office) -> None:
    before = api.get(f"/v1/editions/{office.edition}").json()
    settings = {"rounding": "half_even", "sales_tax_by": "item", "cost_codes": CODES}
    answer = change(api, **settings)
    assert {name: answer.json()[name] for name in settings} == settings
    made = drafted(api, office)
    assert {name: made[name] for name in settings} == settings
    assert api.get(f"/v1/editions/{office.edition}").json() == before
    own = drafted(api, office, rounding="half_up", sales_tax_by="invoice", cost_codes={"x": "X"})
    assert (own["rounding"], own["sales_tax_by"], own["cost_codes"]) == ("half_up", "invoice", {"x": "X"})
    changes = api.get(f"/v1/editions/{made['id']}/changes?from={office.edition}").json()["items"]
    assert [(c["table"], [f["field"] for f in c["fields"]]) for c in changes] == [
        ("edition", ["rounding", "sales_tax_by", "cost_codes/01 54 23", "cost_codes/07 27 00"])
    ]


def test_cost_codes_are_told_with_their_titles(api: Api, office: Office) -> None:
    change(api, cost_codes=CODES)
    id = approve(api, office, drafted(api, office))
    made = api.estimate(golden_request(office, edition=id)).json()
    assert made["totals"]["price"] == "1655.00"
    rows = api.get(f"/v1/estimates/{made['id']}/cost-codes").json()["items"]
    assert {row["code"]: row["title"] for row in rows} == CODES | {None: "no cost code"}
    plain = api.estimate(golden_request(office)).json()
    rows = api.get(f"/v1/estimates/{plain['id']}/cost-codes").json()["items"]
    assert {row["title"] for row in rows} == {None, "no cost code"}


def test_rounding_of_the_company_reaches_the_price(api: Api, office: Office) -> None:
    """One opening takes 0.5 h at 30.01 an hour: 15.005 is 15.01 half up and 15.00 half to even."""
    tables = read_case("golden", "edition.json")["tables"]
    tables["labour"] = [{"code": "journeyman", "title": "J", "wage": "30.01"}]
    tables |= {"overheads": [], "production": {"opening_minutes": {"minimum": "30", "per_foot": "1"}}}
    line = golden_request(office)["openings"][0] | {"quantity": 1}
    found = []
    for rounding in ("half_up", "half_even"):
        change(api, rounding=rounding)
        id = approve(api, office, drafted(api, office, tables=tables))
        made = api.estimate(golden_request(office, edition=id, openings=[line])).json()
        found.append(next(x["amount"] for x in made["build_up"] if x["step"] == "labour"))
    assert found == ["15.01", "15.00"]


@pytest.mark.parametrize(
    ("fields", "expected"),
    [
        ({"rounding": "down"}, ("/rounding", "unknown_choice")),
        ({"sales_tax_by": "month"}, ("/sales_tax_by", "unknown_choice")),
        ({"cost_codes": {"07 27 00": ""}}, ("/cost_codes/07 27 00", "blank")),
        ({"cost_codes": []}, ("/cost_codes", "not_an_object")),
        ({"length_style": "cubits"}, ("/length_style", "unknown_choice")),
        ({"length_style": 16}, ("/length_style", "unknown_choice")),
        ({"length_denominator": 4}, ("/length_denominator", "unknown_choice")),
        ({"length_denominator": "8"}, ("/length_denominator", "unknown_choice")),
        ({"length_denominator": 8.5}, ("/length_denominator", "not_whole")),
    ],
)
def test_settings_that_can_t_be_read_are_refused(api: Api, fields: Any, expected: Any) -> None:
    answer = change(api, **fields)
    assert [(e["pointer"], e["code"]) for e in answer.json()["errors"]] == [expected]


def test_the_length_style_is_changed_under_its_etag_and_audited(api: Api) -> None:
    before = api.get("/v1/company")
    assert (before.json()["length_style"], before.json()["length_denominator"]) == ("feet_inches", 16)
    assert api.send("PATCH", "/v1/company", {"length_style": "mm"}).status_code == 428
    answer = change(api, length_style="inches", length_denominator=8)
    assert (answer.json()["length_style"], answer.json()["length_denominator"]) == ("inches", 8)
    stale = api.send("PATCH", "/v1/company", {"length_style": "mm"}, If_Match=before.headers["ETag"])
    assert (stale.status_code, stale.json()["current"]["length_style"]) == (412, "inches")
    (entry,) = api.get("/v1/audit?action=change-company").json()["items"]
    told = [(entry[when]["length_style"], entry[when]["length_denominator"]) for when in ("before", "after")]
    assert told == [("feet_inches", 16), ("inches", 8)]


def test_another_unit_system_leaves_the_length_style(api: Api) -> None:
    changed = change(api, unit_system="metric").json()
    assert (changed["unit_system"], changed["length_style"]) == ("metric", "feet_inches")
