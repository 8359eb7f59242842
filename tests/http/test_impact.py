"""What an edition would do before it is approved: every open estimate, old price against new; rates are invented."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from tests.cast import Api, Office
from tests.db.making import golden_request
from tests.worked_cases import read_case


@pytest.fixture
def approver(office: Office) -> Api:
    return Api(office.approver_key)


def dearer(api: Api, office: Office, wage: str = "40.00", start: str = "2027-03-01") -> Any:
    """The response to a draft with another wage."""
    document = read_case("golden", "edition.json") | {"effective_from": start}
    document["tables"]["labour"][0]["wage"] = wage
    return api.post(f"/v1/rate-books/{office.rate_book}/editions", document)


def in_project(api: Api, office: Office, project: str, **fields: Any) -> Any:
    """A costed estimate of a project under the office's book."""
    request = {name: v for name, v in golden_request(office).items() if name != "edition"}
    made = api.estimate(request | {"project": project, "rate_book": str(office.rate_book)} | fields).json()
    assert made["state"] == "costed", made
    return made


def impact(api: Api, edition: Any, query: str = "") -> dict[str, dict[str, Any]]:
    """Each open estimate's line by its id."""
    answer = api.get(f"/v1/editions/{edition.json()['id']}/impact{query}")
    assert answer.status_code == 200, answer.content
    return {item["estimate"]: item for item in answer.json()["items"]}


def test_the_new_price_is_what_the_estimate_costs_once_the_edition_is_approved(
    api: Api, approver: Api, office: Office
) -> None:
    project = api.post("/v1/projects", {"name": "Clinic"}).json()["id"]
    made = in_project(api, office, project)
    draft = dearer(api, office)
    found = impact(api, draft)
    line = found[made["id"]]
    assert (line["outlook"], line["old_price"], line["project"]) == ("changed", "1655.00", project)
    before = api.get(f"/v1/editions/{draft.json()['id']}")
    assert (before.json()["state"], before.headers["ETag"]) == ("draft", draft.headers["ETag"])
    sent = api.post(f"/v1/editions/{draft.json()['id']}/submit", None, If_Match=draft.headers["ETag"])
    digest = {"digest": sent.json()["digest"]}
    assert impact(api, draft) == found
    approver.post(f"/v1/editions/{draft.json()['id']}/approve", digest, If_Match=sent.headers["ETag"])
    again = in_project(api, office, project)
    assert again["totals"]["price"] == line["new_price"] != line["old_price"]
    assert Decimal(line["change"]) == Decimal(line["new_price"]) - Decimal(line["old_price"])
    assert impact(api, draft)[again["id"]]["outlook"] == "unchanged"


def test_open_is_the_latest_of_each_project_and_every_one_without(api: Api, office: Office) -> None:
    first, second = (api.post("/v1/projects", {"name": name}).json()["id"] for name in ("A", "B"))
    old = in_project(api, office, first)
    new = in_project(api, office, first)
    other = in_project(api, office, second)
    alone = api.estimate(golden_request(office)).json()
    draft = dearer(api, office)
    assert set(impact(api, draft)) == {new["id"], other["id"], alone["id"]}
    assert old["id"] not in impact(api, draft)
    assert len(impact(api, draft, "?limit=2")) == 2


def test_work_before_the_edition_s_day_and_held_rates_are_not_touched(api: Api, office: Office) -> None:
    project = api.post("/v1/projects", {"name": "Clinic"}).json()["id"]
    early = in_project(api, office, project, work_date="2027-02-28")
    held = api.estimate(
        {name: v for name, v in golden_request(office).items() if name != "edition"} | {"hold": str(office.edition)}
    ).json()
    found = impact(api, dearer(api, office))
    assert [(found[e["id"]]["outlook"], found[e["id"]]["new_price"]) for e in (early, held)] == [
        ("not_priced_by_it", None),
        ("held", None),
    ]


def test_an_estimate_that_can_t_be_costed_under_it_says_why(api: Api, office: Office) -> None:
    made = api.estimate(golden_request(office)).json()
    document = read_case("golden", "edition.json")
    document["tables"]["labour"][0]["code"] = "other"
    draft = api.post(f"/v1/rate-books/{office.rate_book}/editions", document)
    line = impact(api, draft)[made["id"]]
    assert (line["outlook"], line["new_price"]) == ("refused", None)
    assert "journeyman" in line["reason"]


def test_a_layer_touches_only_what_is_priced_through_it(api: Api, office: Office) -> None:
    body = {"name": "North", "layer": "branch", "base": str(office.rate_book)}
    branch = api.post("/v1/rate-books", body).json()["id"]
    project = api.post("/v1/projects", {"name": "Clinic", "rate_book": branch}).json()["id"]
    request = {name: v for name, v in golden_request(office).items() if name != "edition"}
    through = api.estimate(request | {"project": project}).json()
    beside = api.estimate(golden_request(office)).json()
    tables = {"labour": [{"code": "journeyman", "wage": "40.00"}]}
    draft = api.post(f"/v1/rate-books/{branch}/editions", {"effective_from": "2027-01-01", "tables": tables})
    found = impact(api, draft)
    assert [found[e["id"]]["outlook"] for e in (through, beside)] == ["changed", "not_priced_by_it"]
