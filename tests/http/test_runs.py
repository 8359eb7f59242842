"""Estimates as runs over HTTP: 202 and its address, waiting, cancelling, comparing, the feed, derivations."""

from __future__ import annotations

from typing import Any

from estimating.work.execute import work_off
from tests.cast import Api, Office, approve, make_person
from tests.db.making import golden_request
from tests.worked_cases import read_case


def test_without_waiting_202_then_costed(api: Api, office: Office) -> None:
    made = api.estimate(golden_request(office), wait=None)
    assert (made.status_code, made.headers["Retry-After"]) == (202, "1")
    assert made.headers["Location"] == f"/v1/estimates/{made.json()['id']}"
    assert made.json()["progress"] == {"done": 0, "total": 3, "step": ""}
    tag = api.get(made.headers["Location"]).headers["ETag"]
    assert work_off() == 1
    costed = api.get(made.headers["Location"], If_None_Match=tag)
    assert (costed.status_code, costed.json()["state"], costed.json()["totals"]["price"]) == (200, "costed", "1655.00")


def test_parts_of_an_estimate_that_is_not_costed_are_a_conflict(api: Api, office: Office) -> None:
    made = api.estimate(golden_request(office), wait=None)
    answer = api.get(made.headers["Location"] + "/openings")
    assert (answer.status_code, answer.json()["errors"][0]["code"]) == (409, "not_costed")


def test_a_large_run_waits_for_a_worker_and_answers_202_when_none_comes(
    api: Api, office: Office, settings: Any
) -> None:
    settings.SMALL_RUN_LINES = 2
    made = api.estimate(golden_request(office), wait=1)
    assert (made.status_code, made.headers["Preference-Applied"], made.json()["state"]) == (202, "wait=1", "queued")


def test_cancelling(api: Api, office: Office) -> None:
    made = api.estimate(golden_request(office), wait=None)
    first = api.send("DELETE", made.headers["Location"])
    again = api.send("DELETE", made.headers["Location"])
    assert [(r.status_code, r.json()["state"]) for r in (first, again)] == [(200, "cancelled")] * 2
    assert work_off() == 0
    costed = api.estimate(golden_request(office))
    refused = api.send("DELETE", costed.headers["Location"])
    assert (refused.status_code, refused.json()["errors"][0]["code"]) == (409, "run_ended")


def test_the_comparison_of_the_worked_case_in_four_modes(api: Api, office: Office) -> None:
    expected = read_case("13-attribution", "expected.json")
    ids = {}
    for side in ("before", "after"):
        document = read_case("13-attribution", f"{side}.edition.json")
        edition = approve(office.company, office.rate_book, office.drafter, office.approver, document)
        made = api.estimate(read_case("13-attribution", f"{side}.request.json") | {"edition": str(edition)})
        ids[side] = made.json()["id"]
    for mode in ("even_handed", "in_order"):
        for smooth in (False, True):
            body = ids | {"attribution": mode, "smooth": smooth}
            made = api.post("/v1/comparisons", body | ({"order": expected["order"]} if mode == "in_order" else {}))
            assert made.status_code == 201, made.content
            found = made.json()
            shown = {
                "before": found["before"]["price"],
                "after": found["after"]["price"],
                "change": found["change"],
                "causes": {cause["cause"]: cause["amount"] for cause in found["causes"]},
            }
            assert shown == expected[f"{mode}_smooth" if smooth else mode]
            assert api.get(made.headers["Location"]).json() == found
    assert len(api.get("/v1/comparisons").json()["items"]) == 4


def test_what_a_comparison_refuses(api: Api, office: Office) -> None:
    costed = api.estimate(golden_request(office)).json()["id"]
    queued = api.estimate(golden_request(office), wait=None).json()["id"]
    body = {"before": costed, "after": queued, "attribution": "in_order", "order": ["openings"]}
    refused = api.post("/v1/comparisons", body)
    codes = [(error["pointer"], error["code"]) for error in refused.json()["errors"]]
    assert codes == [("/after", "not_costed"), ("/order", "incomplete_order")]


def test_the_feed_tells_what_was_costed_and_never_skips(api: Api, office: Office) -> None:
    start = api.get("/v1/feed").json()
    assert start["items"] == []
    ids = [api.estimate(golden_request(office)).json()["id"] for _ in range(3)]
    first = api.get(f"/v1/feed?limit=2&after={start['after']}").json()
    second = api.get(f"/v1/feed?limit=2&after={first['after']}").json()
    assert [item["subject"] for item in first["items"] + second["items"]] == ids
    assert [item["number"] for item in first["items"] + second["items"]] == [1, 2, 3]
    assert (first["next"], second["next"]) == (first["after"], None)
    nothing = api.get(f"/v1/feed?after={second['after']}").json()
    assert (nothing["items"], nothing["after"]) == ([], second["after"])
    refused = api.get("/v1/feed?after=abc")
    assert (refused.status_code, refused.json()["errors"][0]["pointer"]) == (422, "/query/after")


def test_the_same_input_gives_the_same_digest_and_figures(api: Api, office: Office) -> None:
    first, second = (api.estimate(golden_request(office)).json() for _ in range(2))
    own = ("id", "created_at", "known_at", "costed_at")
    assert {k: v for k, v in first.items() if k not in own} == {k: v for k, v in second.items() if k not in own}


def follow(api: Api, path: str, figure: str, seen: dict[str, Any]) -> None:
    """Collects the derivations of a figure and of everything it came from."""
    answer = api.get(f"{path}/derivations/{figure}")
    assert answer.status_code == 200, figure
    seen[figure] = answer.json()
    for part in answer.json()["inputs"]:
        if "figure" in part and part["figure"] not in seen:
            follow(api, path, part["figure"], seen)


def test_the_price_is_explained_down_to_rows_of_tables(api: Api, office: Office) -> None:
    path = api.estimate(golden_request(office)).headers["Location"]
    seen: dict[str, Any] = {}
    follow(api, path, "price", seen)
    assert seen["price"]["printed"] == "1655.00 USD"
    sources = [part["source"] for told in seen.values() for part in told["inputs"] if "source" in part]
    rows = {(s["table"], s.get("row"), s.get("field"), s.get("value")) for s in sources if "table" in s}
    assert ("labour", "journeyman", "wage", "32") in rows
    assert {s["edition"] for s in sources if "edition" in s} == {str(office.edition)}
    assert api.get(f"{path}/derivations/weather").status_code == 404
    whole = api.get(f"{path}/derivations/price?depth=20")
    assert len(whole.content) > len(api.get(f"{path}/derivations/price").content)


def test_sales_read_the_sentences_that_tell_of_no_cost(api: Api, office: Office) -> None:
    document = read_case("golden", "edition.json")
    document["tables"]["labour"][0]["wage"] = "39.17"
    edition = approve(office.company, office.rate_book, office.drafter, office.approver, document)
    request = golden_request(office)
    later = [request["openings"][0] | {"quantity": 12}, *request["openings"][1:]]
    others = {"edition": str(edition), "openings": later, "mobilisations": 2}
    ids = [api.estimate(made).json()["id"] for made in (request, request | others)]
    made = api.post("/v1/comparisons", {"before": ids[0], "after": ids[1]})
    whole = {row["cause"]: row for row in made.json()["causes"]}
    assert "wage 39.17 an hour instead of 32.00" in whole["rates"]["sentence"]
    person = make_person(office, "sales", "s@office.example")
    shown = person.get(made.headers["Location"]).json()
    told = {row["cause"]: row for row in shown["causes"]}
    assert told["openings"]["sentence"] == whole["openings"]["sentence"]
    assert "became 12" in told["openings"]["sentence"] and "became 12" in shown["customer_sentence"]
    assert told["calendar"]["sentence"].endswith(": mobilisations 2 instead of 1.")
    assert told["rates"]["sentence"] == f"The rates raise the price by {whole['rates']['amount']}."
    assert told["rates"]["changes"] == [] and "rate_rows" not in shown
    assert "39.17" not in str(shown) and "32.00" not in str(shown)
