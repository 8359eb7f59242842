"""Who calls: an access key in the Authorization field. A bad key is refused, never passed over."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from django.conf import settings
from django.http import HttpRequest

from api.limits import Quota, spend
from rates.actions.sign_in import Caller, find_caller

CHALLENGE = {"WWW-Authenticate": 'Bearer realm="estimating"'}


@dataclass
class Refusal(Exception):
    """Why a request gets no further: the kind of problem, a sentence, header fields."""

    kind: str
    detail: str
    headers: dict[str, str]
    code: str | None = None


def authenticate(request: HttpRequest, now: datetime.datetime) -> tuple[Caller, Quota]:
    """The caller and what is left of the caller's rate; Refusal."""
    scheme, _, text = request.headers.get("Authorization", "").partition(" ")
    if scheme.lower() != "bearer" or not text.strip():
        raise Refusal("unauthenticated", "send an access key: Authorization: Bearer …", CHALLENGE)
    caller = find_caller(text.strip(), now=now)
    if caller is None:
        address = request.META.get("REMOTE_ADDR", "")
        quota = spend(f"wrong:{address}", settings.WRONG_KEYS_LIMIT, 60)
        if quota.refused:
            raise Refusal("too_many_requests", "too many wrong access keys from here", quota.fields)
        raise Refusal("unauthenticated", "this access key is not valid", CHALLENGE)
    quota = spend(caller.key.hex, settings.RATE_LIMIT, settings.RATE_WINDOW_SECONDS)
    if quota.refused:
        raise Refusal("too_many_requests", "this access key has used up its requests for now", quota.fields)
    return caller, quota


def require_scope(caller: Caller, scope: str) -> None:
    """Refusal unless the key has the scope."""
    if scope not in caller.scopes:
        raise Refusal("not_allowed", f"this access key lacks the scope {scope}", {}, "missing_scope")
