"""Who calls, what they may, how much is left: the classes that every address of the API stands behind.

A key that is sent must be good: a bad one is refused, never passed over for the next way in.
"""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from typing import Any

from django.conf import settings
from rest_framework.authentication import BaseAuthentication
from rest_framework.permissions import BasePermission
from rest_framework.request import Request
from rest_framework.throttling import BaseThrottle

from api.limits import spend
from rates.actions.sign_in import Caller, find_caller

CHALLENGE = {"WWW-Authenticate": 'Bearer realm="estimating"'}


@dataclass
class Refusal(Exception):
    """Why a request gets no further: the kind of problem, a sentence, header fields."""

    kind: str
    detail: str
    headers: dict[str, str]
    code: str | None = None


class AccessKeyAuthentication(BaseAuthentication):
    """Authorization: Bearer and an access key."""

    def authenticate(self, request: Request) -> tuple[Caller, str] | None:
        """The caller whose key was sent, None where the field is missing; Refusal."""
        field = request._request.headers.get("Authorization", "")
        if not field.strip():
            return None
        scheme, _, text = field.partition(" ")
        if scheme.lower() != "bearer" or not text.strip():
            raise Refusal("unauthenticated", "send an access key: Authorization: Bearer …", CHALLENGE)
        caller = find_caller(text.strip(), now=datetime.datetime.now(datetime.UTC))
        if caller is None:
            quota = spend(f"wrong:{request.META.get('REMOTE_ADDR', '')}", settings.WRONG_KEYS_LIMIT, 60)
            if quota.refused:
                raise Refusal("too_many_requests", "too many wrong access keys from here", quota.fields)
            raise Refusal("unauthenticated", "this access key is not valid", CHALLENGE)
        return caller, "key"


class KeyThrottle(BaseThrottle):
    """So many requests of one key in a window; what is left stands in every answer."""

    def allow_request(self, request: Request, view: Any) -> bool:
        """Whether the caller has requests left; Refusal never, the view says so."""
        quota = spend(request.user.key.hex, settings.RATE_LIMIT, settings.RATE_WINDOW_SECONDS)
        view.headers |= quota.fields
        return not quota.refused


class ScopePermission(BasePermission):
    """What the caller has the scope for."""

    code = "missing_scope"

    def has_permission(self, request: Request, view: Any) -> bool:
        """Whether the caller may do the operation at hand."""
        self.message = f"this access key lacks the scope {view.operation.scope}"
        return view.operation.scope in request.user.scopes
