"""Who lost the password gets back in: by a principal's renewed invitation, or by the operator; nobody else is moved."""

from __future__ import annotations

import re
from io import StringIO
from typing import Any

import pytest
from django.core.management import CommandError, call_command
from django.utils import timezone

from rates.models import Member, Person, SignInFailures
from tests.cast import PASSWORD, Api, Office, make_office
from tests.http.people import ANN, INVITATION, OWN, accept, browser, companies_of, invite, sign_in


@pytest.fixture
def other(office: Office) -> Office:
    return make_office("Other")


def test_a_renewed_invitation_lets_in_who_lost_the_password(office: Office, other: Office) -> None:
    _, ann = accept(office)
    assert ann.post(INVITATION, {"invitation": invite(other).json()["invitation"]}).status_code == 201
    (member,) = [m for m in Api(office.key).get("/v1/members").json()["items"] if m["email"]]
    renewed = Api(office.key).post(f"/v1/members/{member['id']}/invitation")
    assert (renewed.status_code, renewed.json()["joined_at"]) == (201, member["joined_at"])
    assert sign_in(PASSWORD)[0].status_code == 201, "the old way holds until the new one is taken"
    body = {"invitation": renewed.json()["invitation"], "password": OWN}
    back = browser().post(INVITATION, body)
    assert (back.status_code, back.json()["role"], companies_of(back)) == (201, "estimator", [str(office.company)])
    answer, again = sign_in(OWN)
    assert (answer.status_code, companies_of(answer)) == (201, [str(office.company)])
    assert again.post("/v1/projects", {"name": "x"}).status_code == 201, "as the same member"
    assert ann.send("PATCH", "/v1/session", {"company": str(office.company)}).status_code == 422
    old, _ = sign_in(PASSWORD)
    assert companies_of(old) == [str(other.company)], "a principal opens the own company alone"
    assert browser().post(INVITATION, body).status_code == 401, "once"
    actions = [entry["action"] for entry in Api(office.key).get("/v1/audit").json()["items"]]
    assert actions == ["invite-member", "accept-invitation", "renew-invitation", "accept-invitation", "sign-in",
                       "make-project"]  # fmt: skip


def test_a_renewed_invitation_lets_in_whose_address_is_locked(office: Office, settings: Any) -> None:
    settings.SIGN_IN_FAILURES, settings.WRONG_KEYS_LIMIT = 3, 1000
    accept(office)
    for _ in range(4):
        assert sign_in("forgotten")[0].status_code == 401
    assert sign_in(PASSWORD)[0].status_code == 401, "locked"
    path = f"/v1/members/{Member.objects.of(office.company).get(email=ANN).pk}"
    renewed = Api(office.key).post(f"{path}/invitation").json()["invitation"]
    assert browser().post(INVITATION, {"invitation": renewed, "password": OWN}).status_code == 201
    for _ in range(2):
        assert sign_in(OWN)[0].status_code == 201
    locked_until = SignInFailures.objects.get().locked_until
    assert [sign_in(password)[0].status_code for password in ("a guess", OWN)] == [401, 401], "guesses count again"
    assert SignInFailures.objects.get().locked_until == locked_until, "the lock grows no longer by trying"
    SignInFailures.objects.update(locked_until=timezone.now())
    assert [sign_in(password)[0].status_code for password in ("a guess", OWN)] == [401, 201], "it starts afresh"


def test_a_renewed_invitation_is_for_who_may_come_in(office: Office, other: Office) -> None:
    api = Api(office.key)
    made = invite(office)
    path = made.headers["Location"]
    renewed = api.post(f"{path}/invitation")
    first = browser().post(INVITATION, {"invitation": made.json()["invitation"], "password": OWN})
    assert first.status_code == 401, "the one before holds no more"
    assert browser().post(INVITATION, {"invitation": renewed.json()["invitation"], "password": OWN}).status_code == 201
    api.send("DELETE", path, If_Match=api.get(path).headers["ETag"])
    for id, code in ((path.rpartition("/")[2], "member_removed"), (str(office.approver), "no_address")):
        refused = api.post(f"/v1/members/{id}/invitation")
        assert (refused.status_code, refused.json()["errors"][0]["code"]) == (409, code)
    assert Api(other.key).post(f"{path}/invitation").status_code == 404


def test_who_left_and_comes_back_is_the_same_member(office: Office) -> None:
    api = Api(office.key)
    _, ann = accept(office)
    (member,) = [m for m in api.get("/v1/members").json()["items"] if m["email"]]
    path = f"/v1/members/{member['id']}"
    api.send("DELETE", path, If_Match=api.get(path).headers["ETag"])
    assert ann.get("/v1/company").status_code == 401
    back = invite(office, role="viewer")
    assert (back.json()["id"], back.json()["joined_at"]) == (member["id"], None)
    assert ann.get("/v1/company").status_code == 401, "not before the invitation is accepted"
    assert ann.post(INVITATION, {"invitation": back.json()["invitation"]}).status_code == 201
    assert ann.get("/v1/company").status_code == 200


def test_nobody_is_two_members_of_one_company(office: Office) -> None:
    _, ann = accept(office)
    invitation = invite(office, email="another@build.example").json()["invitation"]
    refused = ann.post(INVITATION, {"invitation": invitation})
    assert (refused.status_code, refused.json()["errors"][0]["code"]) == (409, "member_exists")
    assert browser().post(INVITATION, {"invitation": invitation, "password": OWN}).status_code == 201


def reset(*arguments: str) -> str:
    """What the command prints."""
    out = StringIO()
    call_command("reset_password", *arguments, stdout=out)
    return out.getvalue()


def test_the_operator_lets_in_who_lost_the_password(office: Office, settings: Any) -> None:
    settings.SIGN_IN_FAILURES, settings.WRONG_KEYS_LIMIT = 3, 1000
    _, ann = accept(office)
    for _ in range(3):
        sign_in("forgotten")
    assert sign_in(PASSWORD)[0].status_code == 401, "locked"
    (line,) = reset(ANN.upper()).splitlines()
    given = re.search(r"\S+$", line)
    assert given is not None
    assert ann.get("/v1/company").status_code == 401, "every session has ended"
    assert sign_in(PASSWORD)[0].status_code == 401
    answer, api = sign_in(given[0])
    assert answer.status_code == 201
    assert api.post("/v1/session/password", {"old_password": given[0], "password": OWN}).status_code == 201
    entry = Api(office.key).get("/v1/audit?action=reset-password").json()["items"][-1]
    assert (entry["way"], given[0] in str(entry)) == ("command", False)


def test_the_operator_says_whom_where_an_address_has_several(office: Office, other: Office) -> None:
    for home, password in ((office, PASSWORD), (other, OWN)):
        accept(home, password)
    with pytest.raises(CommandError, match="--company"):
        reset(ANN)
    given = reset(ANN, "--company", str(other.company)).split()[-1]
    assert sign_in(PASSWORD)[0].status_code == 201
    assert sign_in(OWN)[0].status_code == 401
    assert companies_of(sign_in(given)[0]) == [str(other.company)]


def test_the_operator_is_told_where_nobody_signs_in(office: Office) -> None:
    invite(office, email="late@build.example")
    for email in ("late@build.example", "nobody@build.example"):
        with pytest.raises(CommandError, match="Nobody signs in"):
            reset(email)
    assert not SignInFailures.objects.exists()


def test_nothing_of_a_person_stays_that_nobody_is(office: Office) -> None:
    accept(office)
    path = f"/v1/members/{Member.objects.of(office.company).get(email=ANN).pk}"
    renewed = Api(office.key).post(f"{path}/invitation").json()["invitation"]
    assert browser().post(INVITATION, {"invitation": renewed, "password": OWN}).status_code == 201
    assert Person.objects.filter(email=ANN).count() == 1
    assert Member.objects.of(office.company).filter(joined_at__lte=timezone.now(), email=ANN).count() == 1
