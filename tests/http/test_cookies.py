"""Who goes past sessions and CSRF tokens: a request with a key and no cookie, and not on its way to a session."""

from __future__ import annotations

import pytest
from django.test import Client, RequestFactory

from api.cookies import SESSION_ADDRESSES, has_none
from api.rest.routes import OPERATIONS
from tests.cast import PASSWORD, Api, Office, make_person


@pytest.mark.parametrize(
    ("fields", "path", "past"),
    [
        ({"HTTP_AUTHORIZATION": "Bearer x"}, "/v1/estimates", True),
        ({"HTTP_AUTHORIZATION": ""}, "/v1/estimates", True),
        ({"HTTP_AUTHORIZATION": "Bearer x", "HTTP_COOKIE": "sessionid=a"}, "/v1/estimates", False),
        ({"HTTP_COOKIE": "sessionid=a"}, "/v1/estimates", False),
        ({}, "/v1/estimates", False),
        ({"HTTP_AUTHORIZATION": "Bearer x"}, "/v1/session", False),
        ({"HTTP_AUTHORIZATION": "Bearer x"}, "/v1/session/invitation", False),
    ],
)
def test_who_goes_past(fields: dict[str, str], path: str, past: bool) -> None:
    assert has_none(RequestFactory().get(path, **fields)) is past


def test_every_operation_that_needs_no_key_is_below_the_session() -> None:
    free = {operation.path for operation in OPERATIONS if not operation.scope}
    assert free
    assert all(path.startswith(SESSION_ADDRESSES) for path in free)


def test_who_sends_a_key_can_still_sign_in(office: Office) -> None:
    make_person(office, "viewer", "ann@office.example")
    api = Api(office.key, Client(raise_request_exception=False))
    assert api.get("/v1/session").json()["csrf_token"]
    answer = api.post("/v1/session", {"email": "ann@office.example", "password": PASSWORD})
    assert (answer.status_code, answer.json()["role"]) == (201, "viewer")
    assert {"sessionid", "csrftoken"} <= set(answer.cookies)
    assert answer.json()["csrf_token"]


@pytest.mark.parametrize("key", [None, "sw_wrong_key"])
def test_a_change_outside_the_api_needs_a_token_with_and_without_a_key(key: str | None) -> None:
    fields = {"HTTP_AUTHORIZATION": f"Bearer {key}"} if key else {}
    answer = Client(enforce_csrf_checks=True).post("/healthz", **fields)
    assert (answer.status_code, answer.json()["errors"][0]["code"]) == (403, "csrf_failed")


def test_a_key_sets_no_cookie(api: Api) -> None:
    answer = api.get("/v1/company")
    assert answer.status_code == 200 and not answer.cookies
