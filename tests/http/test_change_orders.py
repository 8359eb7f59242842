"""Change orders over HTTP: priced in each way, counted by state, kept once agreed; who may do and see what."""

from __future__ import annotations

import csv
import datetime
import io
import uuid
from decimal import Decimal
from typing import Any

import pytest

from estimating.queries.change_orders import notices_due
from rates.paging import Wanted
from tests.cast import Api, Office, make_person
from tests.db.making import golden_request, make_contract, propose_change

TICKET = {
    "labour": [{"labour": "journeyman", "hours": "8"}],
    "materials": [{"title": "Sealant", "cost": "120.00"}],
    "equipment": [{"equipment": "lift", "days": 2}],
}
ASKED = [{"mark": "A", "quantity": 4, "valid_until": "2027-12-31"}]


def step(api: Api, order: Any, name: str, body: Any = None) -> Any:
    """The answer to a step of a change order, as it is known now."""
    path = f"/v1/change-orders/{order['id']}"
    tag = api.get(path).headers["ETag"]
    if name == "revise":
        return api.send("PATCH", path, body, If_Match=tag)
    return api.post(f"{path}/{name}", body, If_Match=tag)


def contract(api: Api, project: str) -> dict[str, str]:
    """What the project's only contract comes to."""
    (found,) = api.get(f"{project}/change-orders").json()["contracts"]
    return {name: found[name] for name in ("awarded", "agreed", "contract", "exposure", "withdrawn")}


def codes(answer: Any) -> list[tuple[str, str]]:
    """The faults of an answer."""
    return [(error["pointer"], error["code"]) for error in answer.json()["errors"]]


def test_time_and_material_is_priced_by_the_frozen_edition_as_by_hand(api: Api, office: Office) -> None:
    """By hand from the golden edition's percentages, each line rounded half up.

    8 h × 50.46 = 403.68; 120.00; lift two days 370.00; small tools 3 % of labour 12.11: direct 905.79. Overhead 12 %
    108.69; contingency 3 % of 1,014.48 is 30.43; cost 1,044.91. A margin of 10 % is a ninth, 116.10; 1,161.01. A bond
    of 1.5 % of the price that contains it, 1,161.01 × 1.5 ÷ 98.5 = 17.68. Price 1,178.69: no minimum, no rounding up.
    """
    project, _ = make_contract(office)
    made = propose_change(office, project, time_and_material=TICKET)
    assert made["price"] == "1178.69" and made["edition"]["id"] == str(office.edition)
    assert [(x["step"], x["amount"]) for x in made["build_up"]] == [
        ("labour", "403.68"), ("materials", "120.00"), ("equipment", "370.00"), ("small_tools", "12.11"),
        ("overhead", "108.69"), ("contingency", "30.43"), ("profit", "116.10"), ("bond", "17.68"),
    ]  # fmt: skip
    assert [(x["title"], x["quantity"], x["unit"], x["cost"], x["rate"]) for x in made["lines"]] == [
        ("Journeyman", "8", "hours", "403.68", "50.46"), ("Sealant", "1", "lump_sum", "120.00", None),
        ("Lift", "2", "days", "370.00", None),
    ]  # fmt: skip
    assert sum(Decimal(x["price"]) for x in made["lines"]) == Decimal("1178.69")


def test_unit_prices_hold_in_their_range_and_time_alone(api: Api, office: Office) -> None:
    project, quote = make_contract(office, unit_prices=ASKED)
    estimate = api.get(f"/v1/quotes/{quote}").json()["estimate"]
    (quoted,) = api.get(f"/v1/estimates/{estimate}/unit-prices").json()["items"]
    more, fewer = (Decimal(quoted[f"{way}_unit_price"]) for way in ("add", "deduct"))
    said = {"work_date": "2027-04-05", "unit_prices": [{"mark": "A", "openings": 3}, {"mark": "a", "openings": -2}]}
    made = propose_change(office, project, **said)
    assert Decimal(made["price"]) == 3 * more + 2 * fewer and more > 0 > fewer
    assert [x["quantity"] for x in made["lines"]] == ["3", "-2"] and made["build_up"] == []

    def refused(**said: Any) -> list[tuple[str, str]]:
        return codes(api.post(f"{project}/change-orders", {"title": "x", "work_date": "2027-04-05"} | said))

    assert refused(unit_prices=[{"mark": "A", "openings": 2}]) == [("/unit_prices/0/openings", "out_of_range")]
    assert refused(unit_prices=[{"mark": "B", "openings": 1}]) == [("/unit_prices/0/mark", "not_quoted")]
    late = {"unit_prices": [{"mark": "A", "openings": 1}, {"mark": "Z", "openings": 1}], "work_date": "2028-01-01"}
    assert refused(**late) == [("/unit_prices/0", "out_of_time"), ("/unit_prices/1/mark", "not_quoted")]
    assert refused(unit_prices=[{"mark": "A", "openings": 1}], work_date=None) == [("/work_date", "missing")]
    assert step(api, made, "withdraw", {"reason": "not needed"}).status_code == 200
    again = propose_change(office, project, work_date="2027-04-05", unit_prices=[{"mark": "A", "openings": 4}])
    assert Decimal(again["price"]) == 4 * more, "what is withdrawn uses nothing of the range"
    assert [x["number"] for x in api.get(f"{project}/change-orders").json()["items"]] == [1, 2]


def test_a_comparison_s_difference_starts_from_the_contract_and_is_taken_once(api: Api, office: Office) -> None:
    project, quote = make_contract(office)
    first = api.get(f"/v1/quotes/{quote}").json()["estimate"]

    def larger(quantity: int) -> str:
        request = golden_request(office, project=project.rpartition("/")[2])
        request["openings"][0]["quantity"] = quantity
        return str(api.estimate(request).json()["id"])

    def compared(before: str, after: str) -> Any:
        return api.post("/v1/comparisons", {"before": before, "after": after}, Prefer="wait=10").json()

    second, third = larger(14), larger(20)
    one, two, astray = compared(first, second), compared(second, third), compared(third, second)
    asked = {"title": "x", "comparison": two["id"]}
    assert codes(api.post(f"{project}/change-orders", asked)) == [("/comparison", "not_the_contract")]
    made = propose_change(office, project, comparison=one["id"])
    assert made["price"] == one["change"] != "0.00"
    assert [x["price"] for x in made["lines"]] == [x["amount"] for x in one["causes"] if Decimal(x["amount"])]
    assert codes(api.post(f"{project}/change-orders", asked | {"comparison": one["id"]})) == [
        ("/comparison", "compared_already")
    ]
    assert propose_change(office, project, comparison=two["id"])["price"] == two["change"]
    refused = api.post(f"{project}/change-orders", asked | {"comparison": astray["id"]})
    assert codes(refused) == [("/comparison", "compared_already")]
    unknown = api.post(f"{project}/change-orders", asked | {"comparison": str(uuid.uuid4())})
    assert codes(unknown) == [("/comparison", "not_found")]


def test_the_list_sums_to_the_contract_of_today(api: Api, office: Office) -> None:
    """1,655.00 awarded (the worked example); 8 h are 403.68 at cost and 541.06 as above, worked by hand:

    403.68 + 12.11 = 415.79; 49.89; 13.97; 53.29; 532.94; bond 8.12. Contract 1,655.00 + 541.06; three stand open.
    """
    project, _ = make_contract(office)
    orders = [propose_change(office, project, title=f"change {n}") for n in range(5)]
    assert {order["price"] for order in orders} == {"541.06"}
    assert step(api, orders[0], "agree", {"reason": "letter of 3 April"}).status_code == 200
    assert step(api, orders[1], "direct", {"by": "the architect", "on": "2027-04-01"}).status_code == 200
    assert step(api, orders[2], "dispute", {"reason": "not extra"}).status_code == 200
    assert step(api, orders[3], "withdraw", {"reason": "by others"}).status_code == 200
    assert contract(api, project) == {
        "awarded": "1655.00", "agreed": "541.06", "contract": "2196.06", "exposure": "1623.18", "withdrawn": "541.06",
    }  # fmt: skip
    settled = step(api, orders[1], "agree", {"price": "500.00"}).json()
    assert (settled["price"], settled["lines"][-1]["price"]) == ("500.00", "-41.06")
    rows = list(csv.DictReader(io.StringIO(api.get(f"{project}/contract.csv").content.decode(), newline="")))
    assert [(row["kind"], row["state"], row["contract"], row["exposure"]) for row in rows] == [
        ("award", "", "1655.00", "0.00"), ("change_order", "agreed", "541.06", "0.00"),
        ("change_order", "agreed", "500.00", "0.00"), ("change_order", "disputed", "0.00", "541.06"),
        ("change_order", "withdrawn", "0.00", "0.00"), ("change_order", "proposed", "0.00", "541.06"),
    ]  # fmt: skip
    assert sum(Decimal(row["contract"]) for row in rows) == Decimal(contract(api, project)["contract"])
    assert sum(Decimal(row["exposure"]) for row in rows) == Decimal(contract(api, project)["exposure"])
    assert api.get(f"{project}/change-orders.csv").content.count(b"\r\n") == 6
    told = api.get(f"{project}/history?kind=change_order").json()["items"]
    assert [(x["number"], x["step"]) for x in told[-3:]] == [(3, "disputed"), (4, "withdrawn"), (2, "agreed")]
    kinds = [item["kind"] for item in api.get("/v1/feed").json()["items"]]
    assert kinds[-1] == "change_order.agreed" and kinds.count("change_order.proposed") == 5


def test_what_is_agreed_or_withdrawn_never_changes(api: Api, office: Office) -> None:
    project, quote = make_contract(office)
    for name in ("agree", "withdraw"):
        order = propose_change(office, project)
        ended = step(api, order, name, {"reason": "x"})
        assert ended.status_code == 200, ended.content
        before = api.get(f"/v1/change-orders/{order['id']}")
        for again in ("agree", "withdraw", "dispute", "revise"):
            answer = step(api, order, again, {"reason": "y"} if again != "revise" else {"title": "y"})
            assert (answer.status_code, codes(answer)[0][1]) == (409, "change_order_state")
        after = api.get(f"/v1/change-orders/{order['id']}")
        assert (after.content, after.headers["ETag"]) == (before.content, before.headers["ETag"])
    tag = api.get(f"/v1/quotes/{quote}").headers["ETag"]
    closed = api.post(f"/v1/quotes/{quote}/close", {"reason": "x"}, If_Match=tag)
    assert (closed.status_code, codes(closed)[0][1]) == (409, "has_change_orders")


def test_a_directive_may_come_before_the_price(api: Api, office: Office) -> None:
    project, _ = make_contract(office)
    made = api.post(f"{project}/change-orders", {"title": "Night work"}).json()
    assert (made["price"], made["basis"], made["lines"]) == (None, None, [])
    directed = step(api, made, "direct", {"by": "site office", "reference": "FD 4", "on": "2027-04-01"}).json()
    assert directed["directive"] == {"by": "site office", "reference": "FD 4", "on": "2027-04-01"}
    (found,) = api.get(f"{project}/change-orders").json()["contracts"]
    assert (found["unpriced"], found["exposure"]) == (1, "0.00")
    assert codes(step(api, made, "agree", {})) == [("/price", "missing")]
    priced = step(api, made, "revise", {"time_and_material": TICKET}).json()
    assert (priced["state"], priced["price"]) == ("directed", "1178.69")
    assert [x["step"] for x in priced["steps"]] == ["proposed", "directed", "revised"]


@pytest.mark.parametrize(
    ("said", "due"),
    [
        ({"days": 7, "counted": "calendar"}, "2027-04-08"),
        ({"days": 7, "counted": "working"}, "2027-04-12"),  # 1 April 2027 is a Thursday: 2, 5–9, 12
        ({"days": 7, "counted": "working", "holidays": ["2027-04-05"]}, "2027-04-13"),
        ({"days": 0, "counted": "working"}, "2027-04-01"),
    ],
)
def test_notice_is_due_by_the_contract_s_days(api: Api, office: Office, said: Any, due: str) -> None:
    """Counted on a calendar of April 2027 by hand."""
    project, _ = make_contract(office)
    notice = {"known_on": "2027-04-01"} | said
    made = propose_change(office, project, notice=notice)
    assert made["notice_due"] == due
    last = datetime.date.fromisoformat(due)

    def listed(day: datetime.date) -> list[bool]:
        noon = datetime.datetime.combine(day, datetime.time(12), datetime.UTC)
        found = notices_due(company=office.company, wanted=Wanted(), now=noon).items
        return [x.overdue for x in found]

    assert listed(last) == [False] and listed(last + datetime.timedelta(days=1)) == [True]
    given = step(api, made, "revise", {"notice": notice | {"given_on": due, "reference": "letter 9"}}).json()
    assert given["notice_state"] == "given" and listed(last) == []
    late = str(last + datetime.timedelta(days=1))
    assert step(api, made, "revise", {"notice": notice | {"given_on": late}}).json()["notice_state"] == "given_late"
    tag = api.get(f"/v1/change-orders/{made['id']}").headers["ETag"]
    patch = {"If_Match": tag, "Content_Type": "application/merge-patch+json"}
    merged = api.send("PATCH", f"/v1/change-orders/{made['id']}", {"notice": {"given_on": due}}, **patch).json()
    assert (merged["notice"]["days"], merged["notice_state"]) == (said["days"], "given")
    early = step(api, made, "revise", {"notice": notice | {"given_on": "2027-03-31"}})
    assert codes(early) == [("/notice/given_on", "out_of_order")]


def test_sales_see_prices_and_no_cost_and_price_no_ticket(api: Api, office: Office) -> None:
    project, _ = make_contract(office, unit_prices=ASKED)
    sales, viewer = (make_person(office, role, f"{role}@office.example") for role in ("sales", "viewer"))
    order = propose_change(office, project, time_and_material=TICKET)
    for person in (sales, viewer):
        seen = person.get(f"/v1/change-orders/{order['id']}").json()
        assert seen["price"] == "1178.69" and seen["build_up"] == []
        assert all(set(line) == {"title", "mark", "quantity", "unit", "unit_price", "price"} for line in seen["lines"])
        assert "50.46" not in str(seen) and "403.68" not in str(seen)
        assert contract(person, project)["exposure"] == "1178.69"
    refused = sales.post(f"{project}/change-orders", {"title": "x", "time_and_material": TICKET})
    assert (refused.status_code, codes(refused)[0][1]) == (403, "missing_scope")
    assert viewer.post(f"{project}/change-orders", {"title": "x"}).status_code == 403
    units = {"title": "x", "work_date": "2027-04-05", "unit_prices": [{"mark": "A", "openings": 1}]}
    made = sales.post(f"{project}/change-orders", units)
    assert made.status_code == 201
    assert codes(step(sales, order, "agree", {"price": "1178.68"}))[0][1] == "needs_approval"
    assert step(sales, order, "agree", {}).status_code == 200


def test_a_price_below_the_floor_is_agreed_by_the_principal_alone(api: Api, office: Office) -> None:
    """By hand: at 1,140.00 (1,140.00 − 17.68 bond − 1,044.91 cost) ÷ (1,140.00 − 17.68) is 6.897 % of margin."""
    project, _ = make_contract(office)
    estimator = make_person(office, "estimator", "e@office.example")
    orders = [propose_change(office, project, time_and_material=TICKET) for _ in range(2)]
    for floor, order, status in (("6.9", orders[0], 403), ("6.89", orders[0], 200), ("6.9", orders[1], 403)):
        tag = api.get("/v1/company").headers["ETag"]
        assert api.send("PATCH", "/v1/company", {"margin_floor": floor}, If_Match=tag).status_code == 200
        assert step(estimator, order, "agree", {"price": "1140.00"}).status_code == status
    assert step(api, orders[1], "agree", {"price": "1140.00"}).json()["price"] == "1140.00"


def test_every_fault_of_a_change_order_is_told_at_once(api: Api, office: Office) -> None:
    project, _ = make_contract(office)
    body = {
        "notice": {"known_on": "soon", "days": -1, "counted": "weeks"},
        "unit_prices": [{"mark": "A", "openings": 0}],
        "time_and_material": {"labour": [{"labour": "x", "hours": "0"}]},
    }
    assert {pointer for pointer, _ in codes(api.post(f"{project}/change-orders", body))} == {
        "/title", "/notice/known_on", "/notice/days", "/notice/counted", "/unit_prices/0/openings",
        "/time_and_material/labour/0/hours",
    }  # fmt: skip
    unknown = {"labour": [{"labour": "x", "hours": "1"}], "equipment": [{"equipment": "y", "days": 1}]}
    assert codes(api.post(f"{project}/change-orders", {"title": "x", "time_and_material": unknown})) == [
        ("/time_and_material/labour/0/labour", "not_found"), ("/time_and_material/equipment/0/equipment", "not_found"),
    ]  # fmt: skip
    both = {"title": "x", "time_and_material": TICKET, "unit_prices": [{"mark": "A", "openings": 1}]}
    assert codes(api.post(f"{project}/change-orders", both)) == [("/time_and_material", "one_of")]
    assert codes(api.post(f"{project}/change-orders", {"title": "x", "time_and_material": {}})) == [
        ("/time_and_material", "missing")
    ]
    assert api.get(f"{project}/change-orders").json()["items"] == []


def test_a_change_order_starts_from_an_award(api: Api, office: Office) -> None:
    project = api.post("/v1/projects", {"name": "Hall"}).headers["Location"]
    assert codes(api.post(f"{project}/change-orders", {"title": "x"})) == [("/quote", "not_awarded")]
    assert api.get(f"{project}/change-orders").json()["contracts"] == []


def test_a_key_sent_twice_makes_one_change_order_and_an_old_tag_is_refused(api: Api, office: Office) -> None:
    project, _ = make_contract(office)
    both = [api.post(f"{project}/change-orders", {"title": "x"}, Idempotency_Key="once") for _ in range(2)]
    assert both[0].json()["id"] == both[1].json()["id"] and both[1].status_code == 201
    path, tag = f"/v1/change-orders/{both[0].json()['id']}", both[0].headers["ETag"]
    assert api.send("PATCH", path, {"title": "y"}).status_code == 428
    assert api.send("PATCH", path, {"title": "y"}, If_Match=tag).status_code == 200
    stale = api.send("PATCH", path, {"title": "z"}, If_Match=tag)
    assert stale.status_code == 412 and api.get(path).json()["title"] == "y"
    entries = api.get(f"/v1/audit?subject={path.rpartition('/')[2]}").json()["items"]
    told = [(x["action"], (x["before"] or {}).get("title"), x["after"]["title"]) for x in entries]
    assert sorted(told, key=lambda entry: entry[0]) == [
        ("make-change-order", None, "x"), ("revise-change-order", "x", "y"),
    ]  # fmt: skip
