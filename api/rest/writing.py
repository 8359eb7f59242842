"""An answer written as an HTTP response: format, ETag, Link, 304."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping
from typing import Any
from urllib.parse import quote, urlencode

from django.http import HttpRequest, HttpResponse

from api.common_headers import Fields
from api.compression import is_to_be_coded, mark_coded
from api.plain import plain
from api.rest.exchange import Answer, File, Operation
from api.rest.list_tables import CAUTIONS, MEDIA_TYPES, write_table
from api.rest.reading import any_tags
from api.veil import prices_tag, veiled
from rates.documents import write_json
from rates.paging import Page

VARY = {"Vary": "Accept, Accept-Encoding, Authorization, Cookie"}
OF_A_CALLER = Fields({"Cache-Control": "private, no-cache"} | VARY)
UNKEPT = Fields({"Cache-Control": "no-store"} | VARY)


def write_answer(request: HttpRequest, operation: Operation, answer: Answer, format: str) -> HttpResponse:
    """The response of an answer; a GET that the client already has is 304."""
    shown = veiled(getattr(request, "caller", None), operation, answer.content)
    headers = dict(answer.headers)
    if isinstance(shown, Page):
        headers |= link_next(request, shown)
    body, media_type = write_content(operation, shown, format, headers, answer.beside)
    tag = answer.tag
    if tag is not None and shown is not answer.content:
        tag = prices_tag(tag)
    if tag is not None and format in MEDIA_TYPES:
        tag = f"{tag}.{format}"
    if tag is None and answer.status == 200 and request.method in ("GET", "HEAD"):
        tag = hashlib.blake2b(body, digest_size=16).hexdigest()
    response = HttpResponse(body, status=answer.status, content_type=media_type)
    if answer.status == 204:
        del response["Content-Type"]
    if tag is not None:
        response["ETag"] = f'"{tag}"'
    if answer.location is not None:
        response["Location"] = answer.location
    for name, value in headers.items():
        response[name] = value
    (UNKEPT if answer.secret else OF_A_CALLER).put_missing(response)
    return not_modified(request, response, tag)


def not_modified(request: HttpRequest, response: HttpResponse, tag: str | None) -> HttpResponse:
    """304 without content where If-None-Match names the tag."""
    field = request.META.get("HTTP_IF_NONE_MATCH", "")
    if not field or tag is None or request.method not in ("GET", "HEAD") or response.status_code != 200:
        return response
    if not any_tags(field) & {tag, "*"}:
        return response
    if is_to_be_coded(request, response):
        mark_coded(response)
    short = HttpResponse(status=304)
    del short["Content-Type"]
    for name in ("ETag", "Cache-Control", "Vary", "Link"):
        if name in response:
            short[name] = response[name]
    return short


def write_content(
    operation: Operation, content: Any, format: str, headers: dict[str, str], beside: Mapping[str, Any]
) -> tuple[bytes, str]:
    """The body and its media type; header fields of files are added."""
    if isinstance(content, File):
        name = re.sub(r"[^A-Za-z0-9._-]", "_", content.name)[:100] or "file"
        encoded = quote(content.name[:200], safe="")
        headers["Content-Disposition"] = f"attachment; filename=\"{name}\"; filename*=UTF-8''{encoded}"
        return content.content, content.media_type
    if format in MEDIA_TYPES:
        rows = content.items if isinstance(content, Page) else content
        cautions = beside.get(CAUTIONS, ())
        table = write_table([plain(row) for row in rows], format, operation, cautions)
        headers["Content-Disposition"] = f'attachment; filename="{operation.name}.{format}"'
        return table, MEDIA_TYPES[format]
    if content is None:
        return b"", "application/json"
    if isinstance(content, Page):
        return write_json({"items": plain(content.items), "next": content.next} | plain(beside)), "application/json"
    written = plain(content)
    return written if isinstance(written, bytes) else write_json(written), "application/json"


def link_next(request: HttpRequest, page: Page[Any]) -> dict[str, str]:
    """The Link field to the next page (RFC 8288)."""
    if page.next is None:
        return {}
    query = {name: value for name, value in request.GET.items() if name != "cursor"} | {"cursor": page.next}
    return {"Link": f'<{request.path}?{urlencode(query)}>; rel="next"'}
