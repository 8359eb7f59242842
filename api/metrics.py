"""Counts of this process and of the queue, in the text format that collectors read."""

from __future__ import annotations

import secrets
import threading
from collections import Counter

from django.conf import settings
from django.http import HttpRequest, HttpResponse

from api.errors import problem
from estimating.queries.runs import counts_by_state

METHODS = ("GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS")
_lock = threading.Lock()
_requests: Counter[tuple[str, str, int]] = Counter()
_seconds: Counter[tuple[str, str]] = Counter()


def count_request(method: str, route: str, status: int, seconds: float) -> None:
    """Counts one answer."""
    with _lock:
        _requests[method, route, status] += 1
        _seconds[method, route] += seconds  # type: ignore[assignment]


def write_metrics() -> str:
    """All counts as text."""
    with _lock:
        requests, seconds = dict(_requests), dict(_seconds)
    lines = ["# HELP sillwright_requests_total Answers by route.", "# TYPE sillwright_requests_total counter"]
    lines += [
        f'sillwright_requests_total{{method="{method}",route="{route}",status="{status}"}} {count}'
        for (method, route, status), count in sorted(requests.items())
    ]
    lines += [
        "# HELP sillwright_request_seconds_total Time spent on answers by route.",
        "# TYPE sillwright_request_seconds_total counter",
    ]
    lines += [
        f'sillwright_request_seconds_total{{method="{method}",route="{route}"}} {spent:.6f}'
        for (method, route), spent in sorted(seconds.items())
    ]
    lines += ["# HELP sillwright_runs Runs by state.", "# TYPE sillwright_runs gauge"]
    lines += [f'sillwright_runs{{state="{state}"}} {count}' for state, count in sorted(counts_by_state().items())]
    return "\n".join(lines) + "\n"


def may_see(request: HttpRequest) -> bool:
    """Whether a request brings METRICS_TOKEN, or only this machine reaches the service."""
    scheme, _, sent = request.META.get("HTTP_AUTHORIZATION", "").partition(" ")
    fits = secrets.compare_digest(sent.strip().encode(), settings.METRICS_TOKEN.encode())
    return settings.METRICS_OPEN or bool(settings.METRICS_TOKEN and scheme.lower() == "bearer" and fits)


def metrics(request: HttpRequest) -> HttpResponse:
    """GET /metrics."""
    if not may_see(request):
        detail = "send the METRICS_TOKEN of the service: Authorization: Bearer …"
        return problem(request, "unauthenticated", detail, headers={"WWW-Authenticate": 'Bearer realm="metrics"'})
    return HttpResponse(write_metrics(), content_type="text/plain; version=0.0.4; charset=utf-8")
