"""Sessions and CSRF tokens, for requests that may have to do with either.

Both live in cookies. A program's request, which carries an access key and no cookie, goes past them, except to the
addresses of the session itself: there anybody may sign in.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, cast

from django.contrib.sessions.middleware import SessionMiddleware
from django.core.handlers.exception import convert_exception_to_response
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.middleware.csrf import CsrfViewMiddleware

SESSION_ADDRESSES = "/v1/session"  # all operations that use a session besides signing in by it stand below

Way = Callable[[HttpRequest], HttpResponseBase]


class Cookies:
    """The framework's two middlewares as one, in their usual order."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response
        self.tokens = CsrfViewMiddleware(get_response)
        tokens = cast(Way, convert_exception_to_response(self.tokens))  # none of them waits for a loop
        self.sessions = cast(Way, SessionMiddleware(tokens))

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        return self.get_response(request) if has_none(request) else self.sessions(request)

    def process_view(self, request: HttpRequest, view: Any, args: Any, kwargs: Any) -> HttpResponseBase | None:
        """The check of the token, for all requests alike: a change that needs one and has no cookie is refused."""
        return self.tokens.process_view(request, view, args, kwargs)


def has_none(request: HttpRequest) -> bool:
    """Whether a request neither brings a cookie nor can be given one."""
    fields = request.META
    return (
        "HTTP_AUTHORIZATION" in fields
        and not fields.get("HTTP_COOKIE")
        and not request.path.startswith(SESSION_ADDRESSES)
    )
