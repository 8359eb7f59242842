"""Change orders as pages: what the contract comes to, a new one priced in each way, its steps, who may do what."""

from __future__ import annotations

from typing import Any

import pytest

from tests.cast import Api, Office, make_person
from tests.db.making import golden_request, make_contract, propose_change
from tests.http.visitor import Visitor

ASKED = [{"mark": "A", "quantity": 4, "valid_until": "2027-12-31"}]
COSTS = ("403.68", "905.79", "108.69", "1,044.91", "116.10")  # of the ticket below, worked by hand in the API's test


def person(office: Office, role: str) -> Visitor:
    return Visitor(make_person(office, role, f"{role.replace('_', '-')}@build.example").client)


def made(api: Api, visitor: Visitor, at: str, **typed: Any) -> Any:
    """The change order that the form of a new one came to."""
    to = visitor.send(f"{at}/new", **{name: [value] for name, value in typed.items()})
    return api.get(f"/v1{to}").json()


def test_time_and_material_is_typed_and_priced_as_the_api_prices_it(api: Api, office: Office) -> None:
    """8 h, 120.00 of material and a lift for two days are 1,178.69: worked by hand in tests/http/test_change_orders."""
    project, _ = make_contract(office)
    at = project.removeprefix("/v1") + "/change-orders"
    estimator = person(office, "estimator")
    said = {"hours.journeyman": "8", "bought_0": "Sealant", "bought_cost_0": "120.00", "days.lift": "2"}
    order = made(api, estimator, at, title="Extra collars", way="time_and_material", **said)
    assert order["price"] == "1178.69" and order["title"] == "Extra collars"
    page = estimator.see(f"/change-orders/{order['id']}")
    assert "1,178.69" in page and all(cost in page for cost in ("403.68", "108.69", "116.10"))
    sales, viewer = person(office, "sales"), person(office, "viewer")
    page = sales.see(f"/change-orders/{order['id']}")
    assert "1,178.69" in page and not any(cost in page for cost in COSTS)
    assert "hours.journeyman" not in sales.see(f"{at}/new")
    assert "Change order 1: Extra collars" in viewer.see(at) and "New change order" not in viewer.text


def test_unit_prices_are_typed_by_mark_with_faults_at_their_fields(api: Api, office: Office) -> None:
    project, quote = make_contract(office, unit_prices=ASKED)
    at = project.removeprefix("/v1") + "/change-orders"
    estimate = api.get(f"/v1/quotes/{quote}").json()["estimate"]
    (quoted,) = api.get(f"/v1/estimates/{estimate}/unit-prices").json()["items"]
    sales = person(office, "sales")
    typed = {"title": ["More of A"], "way": ["unit_prices"], "unit_mark_1": ["A"], "work_date": ["2027-04-05"]}
    page = sales.send(f"{at}/new", 422, **typed, unit_openings_1=["40"])
    assert 'href="#field-unit_openings_1"' in page and 'value="More of A"' in page
    page = sales.send(f"{at}/new", 422, **typed, unit_openings_1=["half"])
    assert 'href="#field-unit_openings_1"' in page
    to = sales.send(f"{at}/new", **typed, unit_openings_1=["+2"])
    assert float(api.get(f"/v1{to}").json()["price"]) == 2 * float(quoted["add_unit_price"])
    page = sales.send(f"{at}/new", 422, title=["None"], way=["unit_prices"])
    assert 'href="#field-way-0"' in page


def test_a_difference_of_two_estimates_is_chosen(api: Api, office: Office) -> None:
    project, quote = make_contract(office)
    at, first = project.removeprefix("/v1") + "/change-orders", api.get(f"/v1/quotes/{quote}").json()["estimate"]
    request = golden_request(office, project=project.rpartition("/")[2])
    request["openings"][0]["quantity"] = 14
    second = api.estimate(request).json()["id"]
    compared = api.post("/v1/comparisons", {"before": first, "after": second}, Prefer="wait=10").json()
    sales = person(office, "sales")
    assert "estimate 2 less estimate 1" in sales.see(f"{at}/new")
    order = made(api, sales, at, title="Four more", way="comparison", comparison=compared["id"])
    assert order["price"] == compared["change"]
    assert 'href="#field-comparison"' in sales.send(f"{at}/new", 422, title=["Again"], way=["comparison"])


def test_a_change_order_is_revised_directed_and_agreed(api: Api, office: Office) -> None:
    project, _ = make_contract(office)
    at, sales = project.removeprefix("/v1") + "/change-orders", person(office, "sales")
    order = made(api, sales, at, title="Sill pans", description="By phone.\nToday.")
    path = f"/change-orders/{order['id']}"
    assert order["price"] is None and "no price yet" in sales.see(at)
    assert sales.send(f"{path}/edit", title=["Sill pans, north"], known_on=["2027-04-01"], days=["10"]) == path
    stored = api.get(f"/v1{path}").json()
    assert (stored["title"], stored["notice_due"]) == ("Sill pans, north", "2027-04-11")
    assert stored["description"] == "By phone.\nToday."
    assert "Apr 11, 2027" in sales.see(at)
    page = sales.send(f"{path}/edit", 422, days=["soon"], holidays=["2027-05-31, never"])
    assert 'href="#field-days"' in page and 'href="#field-holidays"' in page
    assert 'href="#field-by"' in sales.send(f"{path}/direct", 422, on=["2027-04-02"])
    assert sales.send(f"{path}/direct", by=["the architect"], on=["2027-04-02"]) == path
    assert "the architect" in sales.see(path) and f"{path}/direct" not in sales.text
    page = sales.send(f"{path}/agree", 422)
    assert "no price yet" in page.lower()
    estimator = person(office, "principal")
    assert estimator.send(f"{path}/agree", price=["-250.00"], reason=["letter of 3 April"]) == path
    page = estimator.see(at)
    assert "1,405.00" in page, "1,655.00 awarded (the worked example) less 250.00"
    assert "stays as it is" in estimator.see(f"{path}/edit")
    assert "this step can't follow" in estimator.see(f"{path}/withdraw")
    estimator.see(f"{path}/nothing", 404)


def test_a_project_without_an_award_says_so(api: Api, office: Office) -> None:
    made = api.post("/v1/projects", {"name": "Not awarded"}).json()["id"]
    sales = person(office, "sales")
    assert "No quote of this project is awarded yet" in sales.see(f"/projects/{made}/change-orders")
    assert "<button>Propose it" not in sales.see(f"/projects/{made}/change-orders/new")
    sent = sales.client.post(f"/projects/{made}/change-orders/new", {"title": "x"})
    assert sent.status_code == 422


def test_what_is_not_allowed_is_refused_by_hand(api: Api, office: Office) -> None:
    project, _ = make_contract(office)
    at = project.removeprefix("/v1") + "/change-orders"
    order = propose_change(office, project, title="x")
    viewer, sales = person(office, "viewer"), person(office, "sales")
    path = f"/change-orders/{order['id']}"
    assert "<form method" not in viewer.see(path) and f"{path}/agree" not in viewer.text
    for end in ("edit", "agree", "direct", "dispute", "withdraw"):
        assert viewer.client.get(f"{path}/{end}").status_code == 403
        assert viewer.client.post(f"{path}/{end}", {"reason": "x"}).status_code == 403
    typed = {"title": "x", "way": "time_and_material", "hours.journeyman": "1"}
    sent = sales.client.post(f"{at}/new", typed)
    assert sent.status_code == 422 and b"priced by who may see costs" in sent.content


@pytest.mark.parametrize("orders", [1, 5])
def test_the_list_sums_as_the_api_does(api: Api, office: Office, orders: int) -> None:
    project, _ = make_contract(office)
    for n in range(orders):
        propose_change(office, project, title=f"change {n}")
    (contract,) = api.get(f"{project}/change-orders").json()["contracts"]
    page = person(office, "viewer").see(project.removeprefix("/v1") + "/change-orders")
    assert f"{float(contract['exposure']):,.2f}" in page and f"{float(contract['contract']):,.2f}" in page
