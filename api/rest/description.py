"""What the API says of itself: the service document, the OpenAPI description, and a page of it to read."""

from __future__ import annotations

from functools import cache

from django.http import HttpRequest, HttpResponse

from api.errors import problem
from api.rest.openapi import build
from api.rest.readable import write_page
from api.rest.routes import OPERATIONS, by_path
from rates.documents import write_json


def only_get(request: HttpRequest) -> HttpResponse | None:
    """405 for anything but GET and HEAD."""
    if request.method in ("GET", "HEAD"):
        return None
    return problem(request, "method_not_allowed", "this address takes GET, HEAD", headers={"Allow": "GET, HEAD"})


@cache
def description() -> bytes:
    """The OpenAPI document as JSON."""
    return write_json(build())


@cache
def page() -> str:
    """The description as a page."""
    return write_page(build())


def front(request: HttpRequest) -> HttpResponse:
    """GET /v1/: the service document with links."""
    links = {
        operations["GET"].name: path
        for path, operations in by_path(OPERATIONS).items()
        if "GET" in operations and "{" not in path
    }
    document = {
        "title": "Estimates for sealing rough openings",
        "links": links | {"make-estimate": "/v1/estimates", "openapi": "/v1/openapi.json", "docs": "/v1/docs"},
    }
    return only_get(request) or HttpResponse(write_json(document), content_type="application/json")


def describe(request: HttpRequest) -> HttpResponse:
    """GET /v1/openapi.json."""
    return only_get(request) or HttpResponse(description(), content_type="application/json")


def read_page(request: HttpRequest) -> HttpResponse:
    """GET /v1/docs: the description as a page, with nothing from any other host."""
    if (refused := only_get(request)) is not None:
        return refused
    response = HttpResponse(page())
    response["Content-Security-Policy"] = "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'"
    return response
