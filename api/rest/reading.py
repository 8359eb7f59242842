"""What a request says beside its content, read or refused: format, query, ids, header fields."""

from __future__ import annotations

import re
import uuid
from collections.abc import Iterable, Mapping
from typing import Any

from django.conf import settings
from django.http import HttpRequest

from api.auth import Refusal
from api.compression import CODED
from api.rest.exchange import Operation
from api.veil import PRICES_END
from rates.core.problems import Problem, Refused
from rates.identity import read_id
from rates.refusals import Expected

MEDIA = {
    "json": "application/json",
    "csv": "text/csv",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    "pdf": "application/pdf",
    "html": "text/html",
    "svg": "image/svg+xml",
    "xml": "application/xml",
    "ics": "text/calendar",
}
TAG = re.compile(r'(?:W/)?"([\x21\x23-\x7e]*)"', re.ASCII)
FORMAT_ENDS = tuple(f".{format}" for format in MEDIA)


def choose_format(operation: Operation, accept: str, suffix: str | None) -> str:
    """The format of the answer: by suffix, else the best that Accept takes; Refusal 406."""
    if suffix or not accept.strip():
        return suffix or operation.formats[0]
    offered = {format: MEDIA.get(format, format) for format in operation.formats}
    ranked = [(quality(media, accept), -place, format) for place, (format, media) in enumerate(offered.items())]
    best = max(ranked)
    if best[0] <= 0 and operation.formats != ("file",):
        raise Refusal("not_acceptable", f"this address answers in {', '.join(offered.values())}", {})
    return best[2]


def quality(media: str, accept: str) -> float:
    """How much an Accept field wants a media type (RFC 9110 section 12.5.1); the most specific range decides."""
    if not accept.strip():
        return 1
    best = (-1, 0.0)
    for entry in accept.split(","):
        name, *parameters = (part.strip().lower() for part in entry.split(";"))
        kind, _, _ = media.partition("/")
        rank = {media: 2, f"{kind}/*": 1, "*/*": 0}.get(name)
        if rank is None and name == "application/problem+json":
            continue
        if rank is not None and rank > best[0]:
            best = (rank, read_quality(parameters))
    return best[1]


def read_quality(parameters: Iterable[str]) -> float:
    """The q of a media range, 1 without one, 0 for an unreadable one."""
    for parameter in parameters:
        name, _, value = parameter.partition("=")
        if name.strip() == "q":
            return float(value) if re.fullmatch(r"[01](\.[0-9]{0,3})?", value.strip()) else 0.0
    return 1.0


def read_query(request: HttpRequest, operation: Operation) -> dict[str, Any]:
    """The query's values by the operation's fields; Refused with pointers under /query."""
    if not operation.query and not request.META.get("QUERY_STRING"):
        return {}
    request.encoding = "utf-8"  # the content's charset says nothing of the address
    known = {field.name: field for field in operation.query}
    faults: list[Problem] = []
    values: dict[str, Any] = {field.name: field.default for field in operation.query}
    for name in request.GET:
        at = f"/query/{name[:60]}"
        given = request.GET.getlist(name)
        if name not in known:
            faults.append(Problem(at, "unknown_field", f"no such field; known here: {', '.join(known) or 'none'}"))
        elif len(given) > 1:
            faults.append(Problem(at, "given_twice", "this may stand once"))
        else:
            values[name] = known[name].reader.read(given[0], at, faults)
    for field in operation.query:
        if field.required and field.name not in request.GET:
            faults.append(Problem(f"/query/{field.name}", "missing", f"{field.name} is needed: {field.doc}"))
    if faults:
        raise Refused(faults)
    return values


def read_places(captured: Mapping[str, str]) -> dict[str, Any] | None:
    """The ids of an address, None where one is no id: such a thing is not there."""
    places: dict[str, Any] = {}
    for name, text in captured.items():
        value: uuid.UUID | str | None = read_id(text) if name == "id" else text
        if value is None:
            return None
        places[name] = value
    return places


def read_expected(request: HttpRequest, operation: Operation, body: Any) -> Expected:
    """The states that If-Match accepts; Refusal 428 where it is needed and missing. A preview needs none."""
    if not operation.if_match:
        return Expected(None)
    field = request.META.get("HTTP_IF_MATCH", "").strip()
    if not field:
        if isinstance(body, Mapping) and body.get("preview") is True:
            return Expected(None)
        raise Refusal("if_match_missing", "send the ETag you read: If-Match", {}, "if_match_missing")
    return Expected(None if field == "*" else strong_tags(field))


def strong_tags(field: str) -> frozenset[str]:
    """The strong tags of an If-Match field, without the end that a coding, a table or a veil gives them."""
    found = {match[1].removesuffix(CODED) for match in TAG.finditer(field) if not match[0].startswith("W/")}
    return frozenset(tag.removesuffix(".csv").removesuffix(".xlsx").removesuffix(PRICES_END) for tag in found)


def any_tags(field: str) -> frozenset[str]:
    """All tags of an If-None-Match field; "*" stands for any."""
    if field.strip() == "*":
        return frozenset({"*"})
    return frozenset(match[1].removesuffix(CODED) for match in TAG.finditer(field))


def read_wait(prefer: str) -> int | None:
    """The seconds that Prefer: wait=N asks for (RFC 7240), at most 30, None without a readable one."""
    for entry in prefer.split(","):
        name, _, value = entry.split(";")[0].partition("=")
        number = value.strip().strip('"')
        if name.strip().lower() == "wait" and number.isascii() and number.isdigit() and len(number) < 6:
            return min(int(number), settings.MOST_WAIT_SECONDS)
    return None
