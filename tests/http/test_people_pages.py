"""People as pages: invited with an invitation shown once, changed, let in again, removed; the last principal stays."""

from __future__ import annotations

import re

import pytest

from tests.cast import Api, Office
from tests.http.visitor import Job, Visitor


@pytest.fixture
def job(office: Office) -> Job:
    return Job(office)


def invited(page: str) -> str:
    """The invitation that a page shows."""
    found = re.search(r"<textarea[^>]*readonly[^>]*>([^<]+)</textarea>", page)
    assert found is not None
    return found[1]


def members(job: Job, principal: Visitor) -> dict[str, str]:
    """Ids of the people by address, as the list links to them."""
    shown = re.compile(r'/people/([0-9a-f-]{36})".*data-title="E-mail">([^<]+)<', re.S)
    rows = principal.see("/people").split("<tr>")
    return {found[2]: found[1] for row in rows if (found := shown.search(row))}


def test_an_invitation_is_shown_once_and_lets_in(job: Job) -> None:
    principal = job.person("principal")
    principal.see("/people/new")
    typed = principal.fields() | {"name": ["Ada Mason"], "email": ["Ada@Build.example"], "role": ["sales"]}
    page = principal.send_again("/people/new", typed, 200)
    secret = invited(page)
    assert "never again" in page
    sent = principal.client.post("/people/new", typed)
    assert sent.status_code == 303 and secret not in sent.content.decode(), "the same form makes no second invitation"
    listed = principal.see("/people")
    assert "ada@build.example" in listed and ">invited<" in listed and secret not in listed
    audit = principal.see("/audit")
    assert "Invite member" in audit and secret not in audit
    said = {"invitation": secret, "password": "a long pass phrase of Ada's"}
    taken = job.api.post("/v1/session/invitation", said)
    assert taken.status_code in (200, 201), taken.content
    assert ">joined<" in principal.see(f"/people/{members(job, principal)['ada@build.example']}")


def test_the_answer_with_an_invitation_is_kept_by_no_browser(job: Job) -> None:
    principal = job.person("principal")
    principal.see("/people/new")
    typed = principal.fields() | {"name": ["Bo"], "email": ["bo@build.example"], "role": ["viewer"]}
    assert principal.client.post("/people/new", typed)["Cache-Control"] == "no-store"


def test_faults_stand_at_their_fields(job: Job) -> None:
    principal = job.person("principal")
    page = principal.send("/people/new", 422, name=[""], email=["nobody"], role=["sales"])
    assert 'href="#field-name"' in page and 'href="#field-email"' in page and 'value="nobody"' in page
    page = principal.send("/people/new", 422, name=["P"], email=["principal@build.example"], role=["sales"])
    assert "a member already" in page


def test_a_role_changes_from_the_next_request_on_and_the_last_principal_stays(job: Job) -> None:
    principal, viewer = job.person("principal"), job.person("viewer")
    ids = members(job, principal)
    path = f"/people/{ids['viewer@build.example']}"
    viewer.see("/projects/new", 403)
    assert principal.send(path, role=["estimator"]) == "/people"
    viewer.see("/projects/new")
    own = ids["principal@build.example"]
    for one in job.api.get("/v1/members").json()["items"]:
        if one["role"] == "principal" and one["id"] != own:
            assert principal.send(f"/people/{one['id']}", role=["viewer"]) == "/people"
    assert "at least one principal" in principal.send(f"/people/{own}", 422, role=["viewer"])
    assert "at least one principal" in principal.send(f"/people/{own}/removal", 422)
    viewer.see("/people", 403)


def test_who_lost_the_password_is_let_in_again(job: Job) -> None:
    principal = job.person("principal")
    job.person("sales")
    path = f"/people/{members(job, principal)['sales@build.example']}"
    principal.see(f"{path}/invitation")
    first = invited(principal.send_again(f"{path}/invitation", principal.fields(), 200))
    principal.see(f"{path}/invitation")
    answer = principal.client.post(f"{path}/invitation", principal.fields() | {"send_as_well": ["yes"]})
    second = invited(answer.content.decode())
    body = {"password": "another long pass phrase"}
    api = Api(job.office.key)
    assert api.post("/v1/session/invitation", body | {"invitation": first}).status_code >= 400, "it holds no more"
    assert api.post("/v1/session/invitation", body | {"invitation": second}).status_code in (200, 201)


def test_who_is_removed_is_out_with_the_next_request(job: Job) -> None:
    principal, sales = job.person("principal"), job.person("sales")
    path = f"/people/{members(job, principal)['sales@build.example']}"
    sales.see("/projects")
    assert principal.send(f"{path}/removal") == "/people"
    assert sales.client.get("/projects").status_code in (303, 403)
    assert ">removed<" in principal.see(path) and f"{path}/removal" not in principal.text
    refused = principal.send(f"{path}/invitation", 422)
    assert "invite the person again" in refused
