"""Who calls, what they may, how much is left: the classes that every address of the API stands behind.

A key that is sent must be good: a bad one is refused, never passed over for the next way in. Requests are counted in
Redis where the deployment has one, so that all processes count together; else in this process. A Redis that is away
never refuses anybody: counting goes on here.
"""

from __future__ import annotations

import datetime
import threading
import time
import uuid
from dataclasses import dataclass
from functools import cache
from typing import Any

import redis
from django.conf import settings
from django.http import HttpRequest
from rest_framework.authentication import BaseAuthentication, SessionAuthentication
from rest_framework.exceptions import PermissionDenied
from rest_framework.permissions import BasePermission
from rest_framework.request import Request
from rest_framework.throttling import BaseThrottle

from api.origin import address_of
from rates.actions.sign_in import Caller, find_caller, find_member
from rates.roles import roles_with, scopes_of

CHALLENGE = {"WWW-Authenticate": 'Bearer realm="estimating"'}


@dataclass
class Refusal(Exception):
    """Why a request gets no further: the kind of problem, a sentence, header fields."""

    kind: str
    detail: str
    headers: dict[str, str]
    code: str | None = None


def count_wrong(request: HttpRequest, what: str) -> None:
    """Counts a wrong key or password by address; Refusal for too many."""
    quota = spend(f"wrong:{address_of(request)}", settings.WRONG_KEYS_LIMIT, 60)
    if quota.refused:
        raise Refusal("too_many_requests", f"too many wrong {what} from here", quota.fields)


class AccessKeyAuthentication(BaseAuthentication):
    """Authorization: Bearer and an access key."""

    def authenticate(self, request: Request) -> tuple[Caller, str] | None:
        """The caller whose key was sent, None where the field is missing; Refusal."""
        field = request._request.META.get("HTTP_AUTHORIZATION", "")
        if not field.strip():
            return None
        scheme, _, text = field.partition(" ")
        if scheme.lower() != "bearer" or not text.strip():
            raise Refusal("unauthenticated", "send an access key: Authorization: Bearer …", CHALLENGE)
        caller = find_caller(text.strip(), now=datetime.datetime.now(datetime.UTC))
        if caller is None:
            count_wrong(request._request, "access keys")
            raise Refusal("unauthenticated", "this access key is not valid", CHALLENGE)
        return caller, "key"


class MemberAuthentication(SessionAuthentication):
    """The session of a person who has signed in and chosen a company; changes need the CSRF token."""

    def authenticate(self, request: Request) -> tuple[Caller, str] | None:
        """The member, None where nobody has signed in, or as a member no more; Refusal without the token."""
        bare = request._request
        if settings.SESSION_COOKIE_NAME not in bare.COOKIES:
            return None
        person, company = bare.session.get("person"), bare.session.get("company")
        if not person or not company:
            return None
        stamp = bare.session.get("stamp", "")
        caller = find_member(person=uuid.UUID(person), company=uuid.UUID(company), stamp=stamp)
        if caller is None:
            return None
        require_token(bare)
        return caller, "session"


def require_token(request: HttpRequest) -> None:
    """Refusal for a change without the CSRF token: another page may have sent it in the person's name."""
    try:
        SessionAuthentication().enforce_csrf(request)
    except PermissionDenied:
        detail = "send the CSRF token of GET /v1/session: X-CSRFToken"
        raise Refusal("not_allowed", detail, {}, "csrf_failed") from None


class CallerThrottle(BaseThrottle):
    """So many requests of one key, member or address in a window; what is left stands in every answer."""

    def allow_request(self, request: Request, view: Any) -> bool:
        """Whether the caller has requests left."""
        caller = view.caller
        who = caller.owner.hex if caller is not None else f"address:{address_of(request._request)}"
        quota = spend(who, settings.RATE_LIMIT, settings.RATE_WINDOW_SECONDS)
        view.headers |= quota.fields
        return not quota.refused


class ScopePermission(BasePermission):
    """What the caller has the scope for, by role and key: rates.roles and the table of operations say which."""

    code = "missing_scope"

    def has_permission(self, request: Request, view: Any) -> bool:
        """Whether the caller may do the operation at hand."""
        scope, caller = view.operation.scope, view.caller
        if not scope or scope in caller.scopes:
            return True
        lacking = "this access key" if scope in scopes_of(caller.role) else f"the role {caller.role}"
        self.message = f"{lacking} lacks the scope {scope}, which {roles_with(scope)} have"
        return False


_lock = threading.Lock()
_windows: dict[tuple[str, int], int] = {}


@dataclass(frozen=True)
class Quota:
    """What is left of a window after one more request."""

    limit: int
    window: int  # seconds
    left: int  # below 0: refused
    reset: int  # seconds until the next window

    @property
    def refused(self) -> bool:
        return self.left < 0

    @property
    def fields(self) -> dict[str, str]:
        """The RateLimit header fields."""
        fields = {
            "RateLimit-Policy": f'"default";q={self.limit};w={self.window}',
            "RateLimit": f'"default";r={max(self.left, 0)};t={self.reset}',
        }
        return fields | ({"Retry-After": str(self.reset)} if self.refused else {})


def spend(who: str, limit: int, window: int) -> Quota:
    """Counts one request of `who` and tells what is left."""
    now = int(time.time())
    slot = now // window
    used = count_shared(f"rate:{who}:{slot}", window) if settings.REDIS_URL else None
    if used is None:
        used = count_here(who, slot)
    return Quota(limit, window, limit - used, (slot + 1) * window - now)


def count_here(who: str, slot: int) -> int:
    """The count in this process; windows gone by are dropped."""
    with _lock:
        if len(_windows) > 10_000:
            for key in [key for key in _windows if key[1] < slot]:
                del _windows[key]
        _windows[who, slot] = used = _windows.get((who, slot), 0) + 1
    return used


@cache
def counters() -> redis.Redis:
    """The connections to the counts that all processes share."""
    return redis.Redis.from_url(settings.REDIS_URL, socket_connect_timeout=0.2, socket_timeout=0.2)


_redis_away_until = 0.0


def count_shared(name: str, window: int) -> int | None:
    """The count in Redis, None while it is away; then it is left alone for a few seconds."""
    global _redis_away_until
    if time.monotonic() < _redis_away_until:
        return None
    try:
        pipeline = counters().pipeline()
        pipeline.incr(name)
        pipeline.expire(name, 2 * window)
        return int(pipeline.execute()[0])
    except redis.RedisError:
        _redis_away_until = time.monotonic() + 5
        return None
