"""What the API says of itself: the service document, the OpenAPI description, and a page of it to read."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

from django.http import HttpRequest, HttpResponse
from django.views.decorators.csrf import csrf_exempt

from api.errors import problem
from api.rest.openapi import build
from api.rest.readable import write_page
from api.rest.routes import OPERATIONS, by_path
from rates.documents import write_json

ALLOWED = {"Allow": "GET, HEAD, OPTIONS"}
POLICY = "; ".join(
    [
        "default-src 'none'", "style-src 'self'", "script-src 'self'",
        "base-uri 'none'", "form-action 'none'", "frame-ancestors 'none'",
    ]
)  # fmt: skip


def only_get(request: HttpRequest) -> HttpResponse | None:
    """405 for anything but GET and HEAD; OPTIONS is told so."""
    if request.method in ("GET", "HEAD"):
        return None
    if request.method == "OPTIONS":
        return HttpResponse(status=204, headers=ALLOWED)
    return problem(request, "method_not_allowed", f"this address takes {ALLOWED['Allow']}", headers=ALLOWED)


@cache
def description() -> bytes:
    """The OpenAPI document as JSON."""
    return write_json(build())


@cache
def page() -> str:
    """The description as a page."""
    return write_page(build())


@csrf_exempt
def front(request: HttpRequest) -> HttpResponse:
    """GET /v1/: the service document with links."""
    links = {
        operations["GET"].name: path
        for path, operations in by_path(OPERATIONS).items()
        if "GET" in operations and "{" not in path
    }
    document = {
        "title": "Estimates for sealing rough openings",
        "links": links | {"openapi": "/v1/openapi.json", "docs": "/v1/docs"},
    }
    return only_get(request) or HttpResponse(write_json(document), content_type="application/json")


@csrf_exempt
def describe(request: HttpRequest) -> HttpResponse:
    """GET /v1/openapi.json."""
    return only_get(request) or HttpResponse(description(), content_type="application/json")


@csrf_exempt
def read_page(request: HttpRequest) -> HttpResponse:
    """GET /v1/docs: the description as a page, with nothing from any other host."""
    if (refused := only_get(request)) is not None:
        return refused
    response = HttpResponse(page())
    response["Content-Security-Policy"] = POLICY
    return response


def give(name: str, media_type: str) -> Callable[[HttpRequest], HttpResponse]:
    """The view of a file of the page."""
    content = (Path(__file__).with_name("page") / name).read_bytes()

    def read_file(request: HttpRequest) -> HttpResponse:
        return only_get(request) or HttpResponse(content, content_type=media_type)

    return read_file


read_style = give("docs.css", "text/css; charset=utf-8")
read_script = give("docs.js", "text/javascript; charset=utf-8")
