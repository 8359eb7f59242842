"""What the API says of itself: the service document, the OpenAPI description, and a page of it to read."""

from __future__ import annotations

from functools import cache
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils.html import escape

from api.errors import KINDS, problem
from api.rest.openapi import build
from api.rest.routes import OPERATIONS, by_path
from rates.documents import write_json

STYLE = """
body{font:1rem/1.5 system-ui,sans-serif;margin:2rem auto;max-width:60rem;padding:0 1rem;color:#1a1a1a;background:#fff}
h2{margin-top:2.5rem;border-top:1px solid #999}code,pre{font-family:ui-monospace,monospace;font-size:.9em}
table{border-collapse:collapse;width:100%}td,th{text-align:left;vertical-align:top;padding:.25rem .75rem .25rem 0}
"""


def only_get(request: HttpRequest) -> HttpResponse | None:
    """405 for anything but GET and HEAD."""
    if request.method in ("GET", "HEAD"):
        return None
    return problem(request, "method_not_allowed", "this address takes GET, HEAD", headers={"Allow": "GET, HEAD"})


@cache
def description() -> bytes:
    """The OpenAPI document as JSON."""
    return write_json(build())


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
    document = build()
    parts = [f"<h1>{escape(document['info']['title'])}</h1>", f"<p>{escape(document['info']['description'])}</p>"]
    parts.append('<p>The whole description: <a href="/v1/openapi.json">OpenAPI 3.1</a>.</p>')
    for path, methods in document["paths"].items():
        for method, operation in methods.items():
            parts.append(write_operation(path, method, operation))
    parts.append("<h2>Problems</h2><table><tr><th>type<th>status<th>title")
    for code, (status, title) in KINDS.items():
        parts.append(f'<tr id="problem-{code}"><td><code>{code}</code><td>{status}<td>{escape(title)}')
    parts.append("</table>")
    page = f"<!doctype html><html lang=en><meta charset=utf-8><title>API</title><style>{STYLE}</style>{''.join(parts)}"
    response = HttpResponse(page)
    response["Content-Security-Policy"] = "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'"
    return response


def write_operation(path: str, method: str, operation: dict[str, Any]) -> str:
    """One operation as a section of the page."""
    rows = [
        f"<tr><td><code>{escape(p['name'])}</code><td>{p['in']}<td>{escape(p.get('description', ''))}"
        for p in operation.get("parameters", ())
    ]
    table = f"<table><tr><th>name<th>in<th>what{''.join(rows)}</table>" if rows else ""
    answers = ", ".join(f"{status} {escape(told(answer))}" for status, answer in operation["responses"].items())
    head = f"<code>{method.upper()} {escape(path)}</code>"
    return f'<h2 id="{operation["operationId"]}">{head}</h2><p>{escape(operation["summary"])}.{table}<p>{answers}'


def told(answer: dict[str, Any]) -> str:
    """What an answer of an operation says, that of a shared problem too."""
    return str(answer.get("description") or KINDS[answer["$ref"].rpartition("/")[2]][1])
