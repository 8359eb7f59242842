"""People: invited, signed in, choosing a company, removed; sessions with CSRF; nothing tells who has an account."""

from __future__ import annotations

import datetime
from typing import Any

import pytest
from django.test import Client

from rates.actions import accounts, people
from rates.models import Member, Person, SignInFailures
from tests.cast import NOW, PASSWORD, Api, Office, make_office, make_person


def sign_in(email: str, password: str = PASSWORD, **more: Any) -> tuple[Any, Api]:
    """The answer to a sign-in, and the client that it was sent with."""
    api = Api(None, Client(raise_request_exception=False))
    return api.post("/v1/session", {"email": email, "password": password} | more), api


def without_instance(answer: Any) -> dict[str, Any]:
    return {k: v for k, v in answer.json().items() if k not in ("instance", "request_id")}


def test_from_invitation_to_removal(api: Api) -> None:
    made = api.post("/v1/members", {"name": "Ann", "email": "Ann@office.example", "role": "estimator"})
    assert (made.status_code, made.json()["email"], made.json()["joined_at"]) == (201, "ann@office.example", None)
    path = made.headers["Location"]
    assert sign_in("ann@office.example")[0].status_code == 401
    guest = Api(None, Client())
    accepted = guest.post("/v1/session/invitation", {"invitation": made.json()["invitation"], "password": PASSWORD})
    assert (accepted.status_code, accepted.json()["role"]) == (201, "estimator")
    assert guest.get("/v1/company").status_code == 200
    assert guest.get("/v1/members").status_code == 403
    again = guest.post("/v1/session/invitation", {"invitation": made.json()["invitation"], "password": PASSWORD})
    assert again.status_code == 401
    answer, second = sign_in("ANN@office.example")
    assert answer.status_code == 201
    demoted = api.send("PATCH", path, {"role": "viewer"}, If_Match=api.get(path).headers["ETag"])
    assert demoted.json()["role"] == "viewer"
    assert second.post("/v1/projects", {"name": "a"}).status_code == 403, "the role holds from the next request on"
    assert api.send("DELETE", path, If_Match=demoted.headers["ETag"]).status_code == 204
    assert second.get("/v1/company").status_code == 401, "a removed member is out at once"
    assert sign_in("ann@office.example")[0].json()["companies"] == []


def test_a_key_of_a_removed_member_fails_on_the_next_request(api: Api, office: Office) -> None:
    approver = Api(office.approver_key)
    assert approver.get("/v1/company").status_code == 200
    path = f"/v1/members/{office.approver}"
    assert api.send("DELETE", path, If_Match=api.get(path).headers["ETag"]).status_code == 204
    assert approver.get("/v1/company").status_code == 401


def test_the_last_principal_stays(api: Api, office: Office) -> None:
    for member in (office.approver, office.drafter):
        path = f"/v1/members/{member}"
        answer = api.send("PATCH", path, {"role": "viewer"}, If_Match=api.get(path).headers["ETag"])
        if member == office.approver:
            assert answer.status_code == 200
    assert (answer.status_code, answer.json()["errors"][0]["code"]) == (409, "last_principal")


def test_sign_in_tells_nothing_of_accounts_and_locks(office: Office, settings: Any) -> None:
    make_person(office, "sales", "sam@office.example")
    settings.SIGN_IN_FAILURES, settings.WRONG_KEYS_LIMIT = 3, 1000
    known = [sign_in("sam@office.example", "wrong")[0] for _ in range(3)]
    unknown = [sign_in("nobody@office.example", "wrong")[0] for _ in range(3)]
    assert {answer.status_code for answer in known + unknown} == {401}
    locked = sign_in("sam@office.example")[0]
    assert locked.status_code == 401, "even the right password is refused while the address is locked"
    bodies = [without_instance(answer) for answer in [*known, *unknown, locked]]
    assert all(body == bodies[0] for body in bodies)
    assert SignInFailures.objects.count() == 2, "failures are counted whether anybody has the address or not"
    SignInFailures.objects.update(locked_until=NOW - datetime.timedelta(days=1))
    assert sign_in("sam@office.example")[0].status_code == 201


def test_too_many_wrong_passwords_from_one_place(office: Office, settings: Any) -> None:
    settings.WRONG_KEYS_LIMIT = 2
    answers = [sign_in(f"{n}@office.example", "wrong")[0].status_code for n in range(4)]
    assert answers[-1] == 429


@pytest.mark.parametrize(
    ("password", "codes"),
    [
        ("short", {"password_too_short"}),
        ("q1w2e3r4t5y6", {"password_too_common"}),
        ("94731857203461", {"password_entirely_numeric"}),
        ("ann@office.example", {"password_too_similar"}),
    ],
)
def test_password_rules(office: Office, password: str, codes: set[str]) -> None:
    made = people.invite(company=office.company, name="Ann", email="ann@office.example", role="sales", now=NOW)
    Member.objects.of(office.company).filter(pk=made.member.id).update(invited_until="2100-01-01T00:00:00Z")
    answer = Api(None).post("/v1/session/invitation", {"invitation": made.invitation, "password": password})
    found = {error["code"] for error in answer.json()["errors"]}
    assert (answer.status_code, found & codes) == (422, codes)
    assert not Person.objects.filter(email="ann@office.example").exists()


def test_changes_in_a_session_need_the_csrf_token(office: Office) -> None:
    make_person(office, "estimator", "eve@office.example")
    client = Client(enforce_csrf_checks=True, raise_request_exception=False)
    api = Api(None, client)
    body = {"email": "eve@office.example", "password": PASSWORD}
    refused = api.post("/v1/session", body)
    assert (refused.status_code, refused.json()["errors"][0]["code"]) == (403, "csrf_failed")
    token = api.get("/v1/session").json()["csrf_token"]
    token = api.post("/v1/session", body, X_CSRFToken=token).json()["csrf_token"]
    assert api.get("/v1/projects").status_code == 200
    refused = api.post("/v1/projects", {"name": "a"})
    assert (refused.status_code, refused.json()["errors"][0]["code"]) == (403, "csrf_failed")
    assert api.post("/v1/projects", {"name": "a"}, X_CSRFToken=token).status_code == 201


def test_a_bad_key_does_not_fall_back_to_the_cookie(office: Office) -> None:
    person = make_person(office, "estimator", "eve@office.example")
    assert person.get("/v1/company").status_code == 200
    for field in ("Bearer sw_0000000000_abc", "Bearer", "Basic abc", "nonsense"):
        assert person.get("/v1/company", Authorization=field).status_code == 401


def test_a_person_of_two_companies_chooses(office: Office) -> None:
    other = make_office("Other")
    make_person(office, "principal", "two@office.example")
    invited = people.invite(company=other.company, name="Two", email="two@office.example", role="viewer", now=NOW)
    (person,) = accounts.sign_in(email="two@office.example", password=PASSWORD, now=NOW)
    wrong = accounts.accept(invitation=invited.invitation, password="another password 9", person=person.person, now=NOW)
    assert wrong is None, "who has signed in accepts with the own password or none"
    assert accounts.accept(invitation=invited.invitation, person=person.person, now=NOW) is not None
    answer, api = sign_in("two@office.example")
    assert (answer.json()["company"], len(answer.json()["companies"])) == (None, 2)
    assert api.get("/v1/company").status_code == 401
    for office_, role in ((other, "viewer"), (office, "principal")):
        chosen = api.send("PATCH", "/v1/session", {"company": str(office_.company)})
        assert chosen.json()["role"] == role
        assert api.get("/v1/company").json()["id"] == str(office_.company)
    third = make_office("Third")
    for id in (str(third.company), "01a214f1-cadc-707f-9454-a38905726110"):
        refused = api.send("PATCH", "/v1/session", {"company": id})
        assert (refused.status_code, refused.json()["errors"][0]["code"]) == (422, "not_found")


def test_a_new_password_ends_the_other_sessions(office: Office) -> None:
    make_person(office, "sales", "sam@office.example")
    first, second = sign_in("sam@office.example")[1], sign_in("sam@office.example")[1]
    body = {"old_password": PASSWORD, "password": "another sill 4 all"}
    assert first.post("/v1/session/password", body | {"old_password": "x"}).status_code == 401
    assert first.post("/v1/session/password", body).status_code == 201
    assert (first.get("/v1/company").status_code, second.get("/v1/company").status_code) == (200, 401)
    assert first.send("DELETE", "/v1/session").status_code == 204
    assert first.get("/v1/company").status_code == 401


def test_a_session_of_the_release_before_goes_on(office: Office) -> None:
    api = make_person(office, "sales", "sam@office.example")
    session = api.client.session
    del session["people"]
    session.save()
    assert api.get("/v1/company").status_code == 200
    shown = api.get("/v1/session").json()
    assert (shown["company"], shown["person"]["name"]) == (str(office.company), "Sales")


def test_a_key_rotates_with_overlap(api: Api) -> None:
    old = api.post("/v1/access-keys", {"title": "erp", "scopes": ["read", "costs"]}).json()
    made = api.post("/v1/access-keys", {"replaces": old["id"], "overlap_hours": 2})
    assert (made.status_code, made.json()["title"], made.json()["scopes"]) == (201, "erp", ["costs", "read"])
    for key in (old, made.json()):
        assert Api(key["access_key"]).get("/v1/company").status_code == 200
    ends = datetime.datetime.fromisoformat(api.get(f"/v1/access-keys/{old['id']}").json()["expires_at"])
    assert ends <= datetime.datetime.now(datetime.UTC) + datetime.timedelta(hours=2)
    at_once = api.post("/v1/access-keys", {"replaces": made.json()["id"], "overlap_hours": 0})
    assert at_once.status_code == 201
    assert Api(made.json()["access_key"]).get("/v1/company").status_code == 401
    both = api.post("/v1/access-keys", {"replaces": at_once.json()["id"], "title": "x"})
    assert [error["code"] for error in both.json()["errors"]] == ["not_with_replaces"]
    assert api.post("/v1/access-keys", {"replaces": old["id"].replace("0", "1")}).status_code == 422


def test_company_settings(api: Api) -> None:
    tag = api.get("/v1/company").headers["ETag"]
    changes = {"time_zone": "America/Chicago", "length_denominator": 8, "discount_limit": "5", "margin_floor": "7.5",
               "second_approval": False, "cost_codes": {"07 27 00": "Air barriers"}}  # fmt: skip
    changed = api.send("PATCH", "/v1/company", changes, If_Match=tag)
    assert changed.status_code == 200, changed.content
    assert {name: changed.json()[name] for name in changes} == changes
    wrong = {"time_zone": "Mars/Base", "length_denominator": 7, "discount_limit": "101", "margin_floor": "much"}
    refused = api.send("PATCH", "/v1/company", wrong, If_Match=changed.headers["ETag"])
    assert sorted(e["pointer"] for e in refused.json()["errors"]) == sorted(f"/{name}" for name in wrong)
