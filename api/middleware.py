"""Stands around every request: an id, a log line, a count; and a problem document for whatever got through."""

from __future__ import annotations

import time
from collections.abc import Callable
from functools import lru_cache

from django.conf import settings
from django.core.exceptions import DisallowedHost, RequestDataTooBig, SuspiciousOperation
from django.http import HttpRequest, HttpResponse
from django.http.request import UnreadablePostError, split_domain_port, validate_host

from api import errors, metrics
from api.common_headers import Fields
from api.compression import put_coding
from api.logs import note_request
from rates.identity import new_id

SAFETY = Fields(
    {
        "X-Content-Type-Options": "nosniff",
        "Referrer-Policy": "same-origin",
        "X-Frame-Options": "DENY",
        "Content-Security-Policy": "default-src 'self'; frame-ancestors 'none'; base-uri 'none'; form-action 'self'",
    }
)
BODILESS = (204, 304)


@lru_cache(maxsize=64)
def is_ours(host: str, allowed: tuple[str, ...]) -> bool:
    """Whether a Host is one of the names that are answered; most requests bring the same."""
    domain, _ = split_domain_port(host)
    return bool(domain) and validate_host(domain, allowed)


class Attend:
    """The outermost middleware."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        start = time.perf_counter()
        request.request_id = str(new_id())  # type: ignore[attr-defined]
        response = self.refuse_host(request) or self.get_response(request)
        response["X-Request-Id"] = request.request_id  # type: ignore[attr-defined]
        put_coding(request, response)
        if response.status_code not in BODILESS:
            response["Content-Length"] = str(len(response.content))  # else it goes out in chunks, one write each
        SAFETY.put_missing(response)
        self.note(request, response, time.perf_counter() - start)
        return response

    def refuse_host(self, request: HttpRequest) -> HttpResponse | None:
        """400 for a Host that is not ours; a look at /healthz may come by any name."""
        if request.path == "/healthz" or is_ours(request.META.get("HTTP_HOST", ""), tuple(settings.ALLOWED_HOSTS)):
            return None
        try:
            request.get_host()
        except DisallowedHost:
            return errors.bad_request(request)
        return None

    def note(self, request: HttpRequest, response: HttpResponse, seconds: float) -> None:
        """One line of the log and one count, by the pattern of the address and never its query."""
        match = request.resolver_match
        route = getattr(match, "view_name", None) or "none" if match else "none"
        method = request.method if request.method in metrics.METHODS else "OTHER"
        secret = match.kwargs.get("token") if match else None  # lets in by itself
        path = request.path.replace(secret, "…") if secret else request.path
        metrics.count_request(method or "OTHER", route, response.status_code, seconds)
        caller = getattr(request, "caller", None)
        note_request(
            request_id=request.request_id,  # type: ignore[attr-defined]
            method=method,
            path=path[:300],
            route=route,
            status=response.status_code,
            ms=round(seconds * 1000, 2),
            company=caller.company if caller else None,
            member=caller.member if caller else None,
            key=caller.key if caller else None,
        )

    def process_exception(self, request: HttpRequest, exception: Exception) -> HttpResponse | None:
        """What no view answered for."""
        if isinstance(exception, RequestDataTooBig):
            return errors.problem(request, "too_large", "the content is larger than this service takes")
        if isinstance(exception, SuspiciousOperation | UnreadablePostError):
            return errors.bad_request(request)
        return errors.unforeseen(request, exception)
