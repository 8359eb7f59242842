"""Ann, whose address several companies invite, in browsers of her own."""

from __future__ import annotations

from typing import Any

from django.test import Client

from tests.cast import PASSWORD, Api, Office

ANN = "ann@build.example"
OWN = "jamb and header 4"
INVITATION = "/v1/session/invitation"


def invite(office: Office, name: str = "Ann", email: str = ANN, role: str = "estimator") -> Any:
    """The answer to an invitation."""
    return Api(office.key).post("/v1/members", {"name": name, "email": email, "role": role})


def browser() -> Api:
    """Somebody with cookies of their own."""
    return Api(None, Client(raise_request_exception=False))


def accept(office: Office, password: str = PASSWORD, api: Api | None = None, **person: str) -> tuple[Any, Api]:
    """The answer to accepting a new invitation of the office, and the client that did it."""
    api = api or browser()
    made = invite(office, **person)
    assert made.status_code == 201, made.content
    return api.post(INVITATION, {"invitation": made.json()["invitation"], "password": password}), api


def sign_in(password: str, **more: Any) -> tuple[Any, Api]:
    """The answer to a sign-in as Ann, and the client."""
    api = browser()
    return api.post("/v1/session", {"email": ANN, "password": password} | more), api


def alike(answer: Any) -> Any:
    """An answer without what names the request."""
    return {k: v for k, v in answer.json().items() if k not in ("instance", "request_id", "csrf_token")}


def companies_of(answer: Any) -> list[str]:
    return [place["company"] for place in answer.json()["companies"]]
