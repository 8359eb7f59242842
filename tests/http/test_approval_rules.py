"""Who may approve: another person, unless the principal has switched that off; a thin margin takes the principal."""

from __future__ import annotations

from typing import Any

import pytest

from tests.cast import Api, Office, make_person
from tests.worked_cases import read_case

FLOOR_OF_GOLDEN = "10"  # the golden edition's margin, in percent


def submitted(api: Api, office: Office, **changes: Any) -> Any:
    """The answer that shows a submitted edition."""
    document = read_case("golden", "edition.json") | {"effective_from": "2027-06-01"} | changes
    made = api.post(f"/v1/rate-books/{office.rate_book}/editions", document)
    return api.post(f"{made.headers['Location']}/submit", If_Match=made.headers["ETag"])


def approve(api: Api, shown: Any) -> Any:
    body = {"digest": shown.json()["digest"]}
    return api.post(f"/v1/editions/{shown.json()['id']}/approve", body, If_Match=shown.headers["ETag"])


def set_company(api: Api, **changes: Any) -> None:
    tag = api.get("/v1/company").headers["ETag"]
    assert api.send("PATCH", "/v1/company", changes, If_Match=tag).status_code == 200


def test_a_drafter_approves_by_no_route(api: Api, office: Office) -> None:
    keeper = make_person(office, "rate_keeper", "kim@office.example")
    shown = submitted(keeper, office)
    for tag in (shown.headers["ETag"], "*"):
        body = {"digest": shown.json()["digest"]}
        refused = keeper.post(f"/v1/editions/{shown.json()['id']}/approve", body, If_Match=tag)
        assert (refused.status_code, refused.json()["errors"][0]["code"]) == (403, "own_edition")
    table = keeper.send("PUT", f"/v1/editions/{shown.json()['id']}/labour", [], If_Match="*")
    assert table.status_code in (409, 422)
    assert keeper.get(f"/v1/editions/{shown.json()['id']}").json()["state"] == "submitted"
    assert keeper.get("/v1/access-keys").status_code == 403, "nor by giving out a key"
    assert approve(api, shown).json()["state"] == "approved"


def test_second_approval_switched_off_is_recorded(api: Api, office: Office) -> None:
    shown = submitted(api, office)
    assert approve(api, shown).status_code == 403
    set_company(api, second_approval=False)
    assert approve(api, shown).json()["state"] == "approved"
    steps = api.get(f"/v1/editions/{shown.json()['id']}/steps").json()["items"]
    assert [s["reason"] for s in steps if s["step"] == "approved"] == ["second approval is switched off"]
    (entry,) = api.get("/v1/audit?action=change-company").json()["items"]
    assert (entry["before"]["second_approval"], entry["after"]["second_approval"]) == (True, False)


@pytest.mark.parametrize(("floor", "status"), [(FLOOR_OF_GOLDEN, 200), ("10.01", 403)])
def test_a_margin_below_the_floor_takes_the_principal(api: Api, office: Office, floor: str, status: int) -> None:
    keeper = make_person(office, "rate_keeper", "kim@office.example")
    set_company(api, margin_floor=floor)
    shown = submitted(api, office)
    answer = approve(keeper, shown)
    assert answer.status_code == status, answer.content
    if status == 403:
        assert answer.json()["errors"][0]["code"] == "below_margin_floor"
        assert approve(Api(office.approver_key), shown).json()["state"] == "approved"
