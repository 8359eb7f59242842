"""What an edition would do before it is approved: every open estimate, old price against new; rates are invented."""

from __future__ import annotations

import datetime
from decimal import Decimal
from typing import Any

import pytest

from estimating.queries.overview import overview
from tests.cast import Api, Office
from tests.db.making import cost_golden, draft_quote, golden_request, issue_quote, sign_all
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


@pytest.mark.parametrize("end", ["award", "close", "archive"])
def test_a_bid_that_ended_is_no_open_bid_here_either(api: Api, office: Office, end: str) -> None:
    """An awarded job stood among the open bids of an edition, 215.00 dearer under it, and not among the overview's."""
    project = api.post("/v1/projects", {"name": "A"}).json()["id"]
    estimate = in_project(api, office, project)["id"]
    draft = dearer(api, office)
    assert set(impact(api, draft)) == {estimate}
    if end == "archive":
        path, body = f"/v1/projects/{project}", {"state": "archived"}
        assert api.send("PATCH", path, body, If_Match=api.get(path).headers["ETag"]).status_code == 200
    else:
        sign_all(office, estimate)
        quote = draft_quote(office, estimate)
        issue_quote(office, quote)
        assert set(impact(api, draft)) == {estimate}
        tag = api.get(f"/v1/quotes/{quote}").headers["ETag"]
        assert api.post(f"/v1/quotes/{quote}/{end}", {"reason": "told"}, If_Match=tag).status_code == 200
    assert impact(api, draft) == {}
    assert overview(company=office.company, now=datetime.datetime.now(datetime.UTC)).bids == ()


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


def test_impact_and_submission_tell_what_moves_against_the_edition_before(api: Api, office: Office) -> None:
    """32.00 to 40.00 is 25 %, more than the 10 % that a company starts with; the lift's row went."""
    document = read_case("golden", "edition.json") | {"effective_from": "2027-03-01"}
    document["tables"]["labour"][0]["wage"] = "40.00"
    document["tables"]["equipment"] = []
    draft = api.post(f"/v1/rate-books/{office.rate_book}/editions", document)
    path = f"/v1/editions/{draft.json()['id']}"
    told = api.get(f"{path}/impact").json()["rate_moves"]
    assert (told["before"]["id"], told["limit_percent"]) == (str(office.edition), "10")
    assert [move["sentence"] for move in told["prices"]] == [
        "Journeyman (journeyman): wage 32.00 to 40.00 an hour, up 25 %."
    ]
    assert [(row["table"], row["code"]) for row in told["gone"]] == [("equipment", "lift")]
    sent = api.post(f"{path}/submit", None, If_Match=draft.headers["ETag"])
    assert (sent.json()["rate_moves"], sent.json()["state"]) == (told, "submitted")
    tag = api.get("/v1/company").headers["ETag"]
    assert api.send("PATCH", "/v1/company", {"rate_move_limit": "25"}, If_Match=tag).status_code == 200
    told = api.get(f"{path}/impact").json()["rate_moves"]
    assert (told["prices"], len(told["gone"])) == ([], 1)
    assert b"rate_moves" not in api.get(f"{path}/impact.csv").content


def test_the_first_edition_of_a_book_has_nothing_before_it_and_an_approved_one_never_itself(
    api: Api, office: Office
) -> None:
    nothing: dict[str, Any] = {"before": None, "limit_percent": "10", "prices": [], "gone": []}
    assert api.get(f"/v1/editions/{office.edition}/impact").json()["rate_moves"] == nothing


def test_the_first_edition_of_a_branch_is_held_against_the_rates_below_it(api: Api, office: Office) -> None:
    body = {"name": "North", "layer": "branch", "base": str(office.rate_book)}
    branch = api.post("/v1/rate-books", body).json()["id"]
    tables = {"labour": [{"code": "journeyman", "wage": "40.00"}]}
    draft = api.post(f"/v1/rate-books/{branch}/editions", {"effective_from": "2027-03-01", "tables": tables})
    told = api.get(f"/v1/editions/{draft.json()['id']}/impact").json()["rate_moves"]
    assert told["before"] is None and told["gone"] == []
    assert [(move["field"], move["percent"]) for move in told["prices"]] == [("wage", "25")]


@pytest.mark.parametrize("limit", ["-1", "1001", "much", True])
def test_a_limit_that_is_no_percentage_is_refused(api: Api, limit: Any) -> None:
    tag = api.get("/v1/company").headers["ETag"]
    answer = api.send("PATCH", "/v1/company", {"rate_move_limit": limit}, If_Match=tag)
    assert [error["pointer"] for error in answer.json()["errors"]] == ["/rate_move_limit"]


def test_issued_quotes_that_would_not_cover_their_cost_are_named(api: Api, office: Office) -> None:
    """1,655.00 at a wage of 32.00 has 24.78 bond and 1,464.38 cost to cover: 165.84 is left.

    At 40.00 an hour costs 60.70: labour 728.55, small tools 21.86, direct 1,395.99, overhead 167.52, contingency 46.91,
    cost 1,610.42, bond 27.25: 17.33 is left. At 60.00 an hour costs 86.30: labour 1,035.82, small tools 31.07, direct
    1,712.47, overhead 205.50, contingency 57.54, cost 1,975.51, bond 33.43: 353.94 is lacking.
    """
    estimate = cost_golden(office)
    sign_all(office, estimate)
    quote, drafted = (draft_quote(office, estimate) for _ in "ab")
    issue_quote(office, quote)
    some, much = dearer(api, office), dearer(api, office, "60.00")
    told = [api.get(f"/v1/editions/{e.json()['id']}/impact").json()["quotes_under_water"] for e in (some, much)]
    assert told[0] == {"quotes": [], "not_looked_at": 0}
    (found,) = told[1]["quotes"]
    assert (found["quote"], found["number"], found["customer"]) == (quote, 1, "Northfield Builders")
    assert (found["price"], found["margin_before"], found["margin"]) == ("1655.00", "165.84", "-353.94")
    sent = api.post(f"/v1/editions/{much.json()['id']}/submit", None, If_Match=much.headers["ETag"]).json()
    assert sent["quotes_under_water"] == told[1]
    assert drafted not in str(told)
    tag = api.get(f"/v1/quotes/{quote}").headers["ETag"]
    assert api.post(f"/v1/quotes/{quote}/close", {"reason": "lost"}, If_Match=tag).status_code == 200
    assert api.get(f"/v1/editions/{much.json()['id']}/impact").json()["quotes_under_water"]["quotes"] == []
