"""Rates of branches and projects over HTTP: what differs, within the company's band, and who supplied each number."""

from __future__ import annotations

from typing import Any

import pytest

from tests.cast import Api, Office
from tests.db.making import golden_request
from tests.worked_cases import read_case


@pytest.fixture
def approver(office: Office) -> Api:
    return Api(office.approver_key)


def book(api: Api, name: str, layer: str, base: Any, **fields: Any) -> Any:
    """The response to a new rate book that stands on another."""
    return api.post("/v1/rate-books", {"name": name, "layer": layer, "base": str(base)} | fields)


def approved(api: Api, approver: Api, rate_book: str, tables: Any, start: str = "2027-01-01") -> str:
    """The id of an approved edition of a layer."""
    answer = api.post(f"/v1/rate-books/{rate_book}/editions", {"effective_from": start, "tables": tables})
    assert answer.status_code == 201, answer.content
    id = str(answer.json()["id"])
    answer = api.post(f"/v1/editions/{id}/submit", None, If_Match=answer.headers["ETag"])
    body = {"digest": answer.json()["digest"]}
    answer = approver.post(f"/v1/editions/{id}/approve", body, If_Match=answer.headers["ETag"])
    assert answer.status_code == 200, answer.content
    return id


def golden(office: Office, **fields: Any) -> dict[str, Any]:
    """The golden request under other rates than a named edition."""
    return {name: v for name, v in golden_request(office).items() if name != "edition"} | fields


def labour_of(estimate: Any) -> str:
    """The amount of the labour line."""
    return str(next(line["amount"] for line in estimate["build_up"] if line["step"] == "labour"))


def test_a_project_is_priced_by_its_own_layer_and_each_number_shows_its_layer(
    api: Api, approver: Api, office: Office
) -> None:
    """Wage 34.00 (branch) and fringe 10.00 (project): 34 + 10 + 28 % of 34 = 53.52; × 12.0025 h = 642.37."""
    branch = book(api, "North branch", "branch", office.rate_book).json()["id"]
    own = book(api, "Clinic", "project", branch).json()["id"]
    first = approved(api, approver, branch, {"labour": [{"code": "journeyman", "wage": "34.00"}]})
    second = approved(api, approver, own, {"labour": [{"code": "journeyman", "fringe": "10.00"}]})
    project = api.post("/v1/projects", {"name": "Clinic", "rate_book": own}).json()
    assert project["rate_book"] == own
    made = api.estimate(golden(office, project=project["id"])).json()
    assert (made["state"], labour_of(made)) == ("costed", "642.37")
    assert [(layer["layer"], layer["edition"]) for layer in made["layers"]] == [("branch", first), ("project", second)]
    assert made["edition"]["id"] == str(office.edition)
    told = api.get(f"/v1/estimates/{made['id']}/derivations/labour.journeyman.rate").json()
    sources = {i["name"]: (i["source"]["layer"], i["source"]["edition"]) for i in told["inputs"] if "source" in i}
    assert sources == {"wage": ("branch", first), "fringe": ("project", second)}
    burden = api.get(f"/v1/estimates/{made['id']}/derivations/labour.journeyman.burden.0").json()
    assert {i["name"]: i["source"]["layer"] for i in burden["inputs"]} == {"wage": "branch", "percent": "company"}


def test_a_book_that_is_named_goes_before_the_project_s(api: Api, approver: Api, office: Office) -> None:
    own = book(api, "Clinic", "project", office.rate_book).json()["id"]
    approved(api, approver, own, {"labour": [{"code": "journeyman", "wage": "34.00"}]})
    project = api.post("/v1/projects", {"name": "Clinic", "rate_book": own}).json()["id"]
    named = api.estimate(golden(office, project=project, rate_book=str(office.rate_book))).json()
    assert (labour_of(named), named["layers"]) == ("605.65", [])


def test_a_layer_without_an_edition_in_force_leaves_the_company_s_rates(
    api: Api, approver: Api, office: Office
) -> None:
    own = book(api, "Clinic", "project", office.rate_book).json()["id"]
    approved(api, approver, own, {"labour": [{"code": "journeyman", "wage": "34.00"}]}, "2027-04-01")
    request = golden(office, rate_book=own)
    assert labour_of(api.estimate(request).json()) == "605.65"
    later = api.estimate(request | {"work_date": "2027-04-01"}).json()
    assert labour_of(later) != "605.65"


def test_a_named_layer_edition_stands_on_what_is_in_force_below(api: Api, approver: Api, office: Office) -> None:
    own = book(api, "Clinic", "project", office.rate_book).json()["id"]
    id = approved(api, approver, own, {"labour": [{"code": "journeyman", "wage": "34.00"}]})
    made = api.estimate(golden(office, edition=id)).json()
    assert [layer["edition"] for layer in made["layers"]] == [id]
    early = api.estimate(golden(office, edition=id, work_date="2026-12-31"))
    assert "no_edition_in_force" in {e["code"] for e in early.json()["errors"]}


def test_an_estimate_of_layers_is_costed_again_from_its_own_editions(api: Api, approver: Api, office: Office) -> None:
    own = book(api, "Clinic", "project", office.rate_book).json()["id"]
    approved(api, approver, own, {"labour": [{"code": "journeyman", "wage": "34.00"}]})
    made = api.estimate(golden(office, rate_book=own)).json()
    approved(api, approver, own, {"labour": [{"code": "journeyman", "wage": "35.00"}]})
    told = api.get(f"/v1/estimates/{made['id']}/derivations/price").json()
    assert told["printed"] == f"{made['totals']['price']} USD"
    again = api.estimate(golden(office, rate_book=own, known_at=made["known_at"])).json()
    assert (again["input_digest"], again["build_up"]) == (made["input_digest"], made["build_up"])


def test_the_company_s_band_holds_the_layers(api: Api, office: Office) -> None:
    path = f"/v1/rate-books/{office.rate_book}"
    tag = api.get(path).headers["ETag"]
    band = {"percent": "10", "fields": {"labour/wage": "2"}, "new_rows": False}
    assert api.send("PATCH", path, {"band": band}, If_Match=tag).json()["band"] == band
    own = book(api, "Clinic", "project", office.rate_book).json()["id"]
    tables = {
        "labour": [
            {"code": "journeyman", "wage": "32.65", "fringe": "10.45"},
            {"code": "new", "title": "N", "wage": "1"},
        ]
    }
    refused = api.post(f"/v1/rate-books/{own}/editions", {"effective_from": "2027-01-01", "tables": tables})
    assert [(e["pointer"], e["code"]) for e in refused.json()["errors"]] == [
        ("/tables/labour/0/wage", "outside_band"),
        ("/tables/labour/1", "row_of_its_own"),
    ]


@pytest.mark.parametrize(
    ("fields", "expected"),
    [
        ({"layer": "branch"}, ("/base", "missing")),
        ({"layer": "branch", "base": "01a214f1-cadc-707f-9454-a38905726110"}, ("/base", "not_found")),
        ({"layer": "company", "base": "own"}, ("/base", "wrong_layer")),
        ({"layer": "branch", "base": "own", "band": {"percent": "5"}}, ("/band", "wrong_layer")),
        ({"layer": "team"}, ("/layer", "unknown_choice")),
        ({"band": {"percent": "-5"}}, ("/band/percent", "too_small")),
    ],
)
def test_a_book_that_can_t_stand_there_is_refused(api: Api, office: Office, fields: Any, expected: Any) -> None:
    own = {"base": str(office.rate_book)} if fields.get("base") == "own" else {}
    refused = api.post("/v1/rate-books", {"name": "Other"} | fields | own)
    assert [(e["pointer"], e["code"]) for e in refused.json()["errors"]] == [expected]


def test_a_layer_on_nothing_in_force_is_refused(api: Api, office: Office) -> None:
    own = book(api, "Clinic", "project", office.rate_book).json()["id"]
    tables = {"labour": [{"code": "journeyman", "wage": "34"}]}
    refused = api.post(f"/v1/rate-books/{own}/editions", {"effective_from": "2026-12-31", "tables": tables})
    assert [(e["pointer"], e["code"]) for e in refused.json()["errors"]] == [("/effective_from", "no_edition_in_force")]


def test_another_company_s_book_is_no_base_and_no_project_s_book(api: Api, office: Office) -> None:
    foreign = "01a214f1-cadc-707f-9454-a38905726110"
    refused = api.post("/v1/projects", {"name": "Clinic", "rate_book": foreign})
    assert [(e["pointer"], e["code"]) for e in refused.json()["errors"]] == [("/rate_book", "not_found")]


def test_a_layer_s_table_goes_out_and_in_as_a_sheet(api: Api, approver: Api, office: Office) -> None:
    own = book(api, "Clinic", "project", office.rate_book).json()["id"]
    tables = {"labour": [{"code": "journeyman", "wage": "34", "cost_code": None}], "production": {"pair": None}}
    body = {"effective_from": "2027-01-01", "tables": tables}
    made = api.post(f"/v1/rate-books/{own}/editions", body).json()
    sheet = api.get(f"/v1/editions/{made['id']}/labour.csv").content
    assert sheet == b"code,wage,cost_code\r\njourneyman,34,(none)\r\n"
    other = api.post(f"/v1/rate-books/{own}/editions", {"effective_from": "2027-01-01", "tables": {}}).json()
    for name in ("labour", "production", "materials"):
        data = api.get(f"/v1/editions/{made['id']}/{name}.csv").content
        kept = api.send("PUT", f"/v1/editions/{other['id']}/{name}", data, If_Match="*", Content_Type="text/csv")
        assert kept.status_code == 200, kept.content
    after = api.get(f"/v1/editions/{other['id']}").json()
    assert (after["digest"], after["tables"]) == (made["digest"], tables)


def test_approval_looks_again_at_what_lies_below(api: Api, approver: Api, office: Office) -> None:
    """Between draft and approval the company takes the row away that the layer changes."""
    own = book(api, "Clinic", "project", office.rate_book).json()["id"]
    tables = {"equipment": [{"code": "lift", "delivery": "50"}]}
    answer = api.post(f"/v1/rate-books/{own}/editions", {"effective_from": "2027-01-01", "tables": tables})
    id = answer.json()["id"]
    answer = api.post(f"/v1/editions/{id}/submit", None, If_Match=answer.headers["ETag"])
    document = read_case("golden", "edition.json")
    document["tables"]["equipment"] = []
    whole = api.post(f"/v1/rate-books/{office.rate_book}/editions", document)
    sent = api.post(f"/v1/editions/{whole.json()['id']}/submit", None, If_Match=whole.headers["ETag"])
    digest = {"digest": sent.json()["digest"]}
    approver.post(f"/v1/editions/{whole.json()['id']}/approve", digest, If_Match=sent.headers["ETag"])
    body = {"digest": answer.json()["digest"]}
    refused = approver.post(f"/v1/editions/{id}/approve", body, If_Match=answer.headers["ETag"])
    assert refused.status_code == 422
    assert ("/tables/equipment/0/title", "missing") in {(e["pointer"], e["code"]) for e in refused.json()["errors"]}


def test_each_part_of_a_season_split_lies_under_the_layers_of_its_own_date(
    api: Api, approver: Api, office: Office
) -> None:
    """The project's wage of 34.00 starts between the two parts: only the later one is costed with it."""
    own = book(api, "Clinic", "project", office.rate_book).json()["id"]
    layer = approved(api, approver, own, {"labour": [{"code": "journeyman", "wage": "34.00"}]}, "2027-04-01")
    parts = [{"work_date": "2027-03-15", "openings": ["A", "B"]}, {"work_date": "2027-04-15"}]
    made = api.estimate(golden(office, rate_book=own, mobilisations=parts)).json()
    assert made["state"] == "costed", made
    path = f"/v1/estimates/{made['id']}/derivations"
    found = []
    for part in (0, 1):
        told = api.get(f"{path}/part.{part}.labour.journeyman.rate").json()
        found += [
            (i["value"], i["source"]["layer"], i["source"]["edition"]) for i in told["inputs"] if i["name"] == "wage"
        ]
    assert found == [("32", "company", str(office.edition)), ("34", "project", layer)]
