"""An address is no identity: who accepts an invitation first owns nothing of it for others.

Ann's real address is invited by several companies. Each invitation opens its own company alone, by an own password.
"""

from __future__ import annotations

from typing import Any

import pytest
from django.contrib.auth import hashers

from rates.actions.passwords import nobody
from tests.cast import PASSWORD, Api, Office, make_office
from tests.http.people import ANN, INVITATION, OWN, accept, alike, browser, companies_of, invite, sign_in


@pytest.fixture
def other(office: Office) -> Office:
    return make_office("Other")


def test_a_taken_invitation_is_accepted_by_its_addressee(office: Office, other: Office) -> None:
    first, _ = accept(office, "whoever came first 1")
    assert first.status_code == 201
    second, _ = accept(other, OWN)
    assert second.status_code == 201, second.content
    assert companies_of(second) == [str(other.company)]
    for password, home in (("whoever came first 1", office), (OWN, other)):
        answer, api = sign_in(password)
        assert (answer.status_code, companies_of(answer)) == (201, [str(home.company)])
        assert api.get("/v1/company").json()["id"] == str(home.company)


def test_a_second_company_is_joined_while_signed_in(office: Office, other: Office) -> None:
    _, ann = accept(office)
    for password in ({}, {"password": PASSWORD}):
        invitation = invite(other).json()["invitation"] if not password else ""
        if password:  # in a third company by another address: the person counts, not the address
            invitation = invite(make_office("Third"), email="a.b@c.example").json()["invitation"]
        answer = ann.post(INVITATION, {"invitation": invitation} | password)
        assert answer.status_code == 201, answer.content
    assert len(companies_of(answer)) == 3
    answer, _ = sign_in(PASSWORD)
    assert (answer.json()["company"], len(companies_of(answer))) == (None, 3)
    fourth = invite(make_office("Fourth")).json()["invitation"]
    wrong = ann.post(INVITATION, {"invitation": fourth, "password": "x" * 15})
    assert wrong.status_code == 401, "who is signed in joins with the own password or none"


def test_who_has_not_signed_in_needs_a_password(office: Office) -> None:
    invitation = invite(office).json()["invitation"]
    for more in ({}, {"password": None}):
        answer = browser().post(INVITATION, {"invitation": invitation} | more)
        assert [(e["pointer"], e["code"]) for e in answer.json()["errors"]] == [("/password", "missing")]
    assert browser().post(INVITATION, {"invitation": invitation, "password": OWN}).status_code == 201


def test_one_password_for_both_opens_both(office: Office, other: Office) -> None:
    for home in (office, other):
        accept(home)
    answer, api = sign_in(PASSWORD)
    assert sorted(companies_of(answer)) == sorted([str(office.company), str(other.company)])
    for home in (office, other):
        assert api.send("PATCH", "/v1/session", {"company": str(home.company)}).status_code == 200
        assert api.get("/v1/company").json()["id"] == str(home.company)
    named, api = sign_in(PASSWORD, company=str(other.company))
    assert api.get("/v1/company").json()["id"] == named.json()["company"] == str(other.company)
    changed = api.post("/v1/session/password", {"old_password": PASSWORD, "password": OWN})
    assert (changed.status_code, changed.json()["company"]) == (201, str(other.company))
    assert (sign_in(PASSWORD)[0].status_code, len(companies_of(sign_in(OWN)[0]))) == (401, 2)


def test_names_are_the_company_s_own(office: Office, other: Office) -> None:
    accept(office, name="Ann of the office")
    second, api = accept(other, OWN, name="A. Other")
    assert second.json()["person"] == {"name": "A. Other", "email": ANN}
    assert [place["known_as"] for place in second.json()["companies"]] == ["A. Other"]
    assert [m["name"] for m in Api(other.key).get("/v1/members").json()["items"] if m["email"]] == ["A. Other"]
    names = Api(office.key).get("/v1/audit.csv").content + Api(office.key).get("/v1/members.csv").content
    assert b"A. Other" not in names and b"Ann of the office" in names


class Counted(hashers.PBKDF2PasswordHasher):
    """Counts what takes the time of a sign-in: rounds of the hash."""

    iterations = 10
    rounds = 0

    def encode(self, password: str, salt: str, iterations: int | None = None) -> str:
        type(self).rounds += iterations or self.iterations
        return super().encode(password, salt, iterations)


@pytest.fixture
def counted(settings: Any) -> None:
    settings.PASSWORD_HASHERS = ["tests.http.test_addresses.Counted"]
    nobody.cache_clear()


def work_of(act: Any) -> tuple[Any, int]:
    """What something answers, and the rounds of hashing that it took."""
    Counted.rounds = 0
    return act(), Counted.rounds


def test_no_answer_and_no_time_tells_whether_an_address_is_known_elsewhere(
    office: Office, counted: None, settings: Any
) -> None:
    settings.SIGN_IN_FAILURES, settings.WRONG_KEYS_LIMIT = 1000, 1000
    sign_in("wrong")  # once before: the hash of nobody is made once
    said = []
    for elsewhere in (0, 1, 2):  # companies that know the address already
        if elsewhere:
            accept(make_office(f"Elsewhere {elsewhere}"), f"password of company {elsewhere}")
        probe = make_office(f"Probe {elsewhere}")
        invited = invite(probe)
        own = ("id", "invitation", "created_at", "invited_until")
        shown = {name: value for name, value in invited.json().items() if name not in own}
        assert shown == {"name": "Ann", "email": ANN, "role": "estimator", "joined_at": None, "removed_at": None}
        refused, rounds = work_of(lambda: sign_in("wrong")[0])
        assert (refused.status_code, rounds) == (401, 10)
        again, rounds = work_of(lambda: browser().post(INVITATION, {"invitation": "x_y", "password": OWN}))
        assert (again.status_code, rounds) == (401, 10)
        weak = browser().post(INVITATION, {"invitation": invited.json()["invitation"], "password": "short"})
        assert weak.status_code == 422
        said.append(alike(weak))
        body = {"invitation": invited.json()["invitation"], "password": f"{OWN} {elsewhere}"}
        taken, rounds = work_of(lambda body=body: browser().post(INVITATION, body))
        assert (taken.status_code, rounds, companies_of(taken)) == (201, 10, [str(probe.company)])
        entered, rounds = work_of(lambda own=f"{OWN} {elsewhere}": sign_in(own)[0])
        assert (entered.status_code, rounds, companies_of(entered)) == (201, 10, [str(probe.company)])
    assert said == [said[0]] * 3


def test_an_older_hash_takes_as_long_as_a_new_one(office: Office, counted: None, monkeypatch: Any) -> None:
    accept(office)
    monkeypatch.setattr(Counted, "iterations", 25)  # a later release of the framework
    for password, status in (("wrong", 401), (PASSWORD, 201)):
        answer, rounds = work_of(lambda password=password: sign_in(password)[0])
        assert (answer.status_code, rounds) == (status, 25)


def test_an_account_of_the_same_address_gives_no_more_guesses(office: Office, other: Office, settings: Any) -> None:
    """Neither signing in nor setting passwords of one's own at the address clears or evades the count of guesses."""
    settings.SIGN_IN_FAILURES, settings.WRONG_KEYS_LIMIT = 6, 1000
    accept(office)
    _, thief = accept(other, OWN)
    for _ in range(3):
        assert sign_in("a guess")[0].status_code == 401
        sign_in(OWN)
    old = OWN
    for n in range(3):
        new = f"{OWN} guess {n}"
        thief.post("/v1/session/password", {"old_password": old, "password": new})
        old = new
    assert sign_in(old)[0].status_code == 401, "locked"
