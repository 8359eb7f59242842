"""Access keys as pages: made with the secret shown once, no more than its maker may do, revoked."""

from __future__ import annotations

import datetime
import re
from typing import Any

import pytest

from tests.cast import Api, Office
from tests.http.visitor import Job, Visitor


@pytest.fixture
def job(office: Office) -> Job:
    return Job(office)


def secret_of(page: str) -> str:
    """The key that a page shows."""
    found = re.search(r"<textarea[^>]*readonly[^>]*>([^<]+)</textarea>", page)
    assert found is not None
    return found[1]


def make(principal: Visitor, **typed: list[str]) -> tuple[str, dict[str, Any]]:
    """The key, and the form that it was made by."""
    principal.see("/access-keys/new")
    sent = principal.fields() | {"title": ["Accounts"], "scopes": ["read", "estimate"]} | typed
    return secret_of(principal.send_again("/access-keys/new", sent, 200)), sent


def test_a_key_is_shown_once_and_does_what_it_was_given(job: Job) -> None:
    principal = job.person("principal")
    secret, sent = make(principal)
    again = principal.client.post("/access-keys/new", sent)
    assert again.status_code == 303 and secret not in again.content.decode(), "the same form makes no second key"
    program = Api(secret)
    assert program.post("/v1/projects", {"name": "By the program"}).status_code == 201
    assert program.get("/v1/access-keys").status_code == 403
    for path in ("/access-keys", "/audit"):
        assert secret not in principal.see(path)
    assert "Make access key" in principal.text
    assert "Accounts" in principal.see("/access-keys") and "estimate, read" in principal.text


def test_the_answer_with_a_key_is_kept_by_no_browser(job: Job) -> None:
    principal = job.person("principal")
    principal.see("/access-keys/new")
    sent = principal.fields() | {"title": ["Accounts"], "scopes": ["read"]}
    assert principal.client.post("/access-keys/new", sent)["Cache-Control"] == "no-store"


def test_a_revoked_key_is_refused(job: Job) -> None:
    principal = job.person("principal")
    secret, _ = make(principal)
    assert Api(secret).get("/v1/projects").status_code == 200
    ids = {one["title"]: one["id"] for one in job.api.get("/v1/access-keys").json()["items"]}
    path = f"/access-keys/{ids['Accounts']}"
    assert "in use" in principal.see(path)
    assert principal.send(path) == "/access-keys"
    assert Api(secret).get("/v1/projects").status_code == 401
    page = principal.see(path)
    assert "revoked" in page and "Revoke the key" not in page
    assert "Revoke access key" in principal.see("/audit")


def test_a_last_day_is_whole_in_the_time_of_the_company(job: Job) -> None:
    """30 June in Chicago ends at 05:00 UTC of 1 July: five hours behind in summer."""
    tag = job.api.get("/v1/company").headers["ETag"]
    job.api.send("PATCH", "/v1/company", {"time_zone": "America/Chicago"}, If_Match=tag)
    make(job.person("principal"), last_day=["2031-06-30"])
    ends = next(one for one in job.api.get("/v1/access-keys").json()["items"] if one["title"] == "Accounts")
    assert datetime.datetime.fromisoformat(ends["expires_at"]) == datetime.datetime(2031, 7, 1, 5, tzinfo=datetime.UTC)


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"title": [""]}, "title"),
        ({"scopes": []}, "scopes-0"),
        ({"scopes": ["everything"]}, "scopes-0"),
        ({"last_day": ["2001-01-01"]}, "last_day"),
        ({"last_day": ["soon"]}, "last_day"),
    ],
)
def test_faults_stand_at_their_fields(job: Job, typed: dict[str, list[str]], field: str) -> None:
    principal = job.person("principal")
    principal.see("/access-keys/new")
    sent = principal.fields() | {"title": ["Accounts"], "scopes": ["read"]} | typed
    assert f'href="#field-{field}"' in principal.send_again("/access-keys/new", sent, 422)
    assert [one["title"] for one in job.api.get("/v1/access-keys").json()["items"]].count("Accounts") == 0
