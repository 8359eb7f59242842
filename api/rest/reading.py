"""What a request says, read or refused: format, ids, query, header fields, and its content by its field table."""

from __future__ import annotations

import codecs
import re
import uuid
import zlib
from collections.abc import Iterable, Mapping
from typing import Any

from django.conf import settings
from django.http import HttpRequest

from api.auth import Refusal
from api.compression import CODED
from api.rest.exchange import MERGE_PATCH, Operation
from api.veil import PRICES_END
from rates.core.fields import note_unknown
from rates.core.jsontext import read_json
from rates.core.problems import Problem, Refused
from rates.identity import read_id
from rates.quick_json import read_plain
from rates.refusals import Expected

JSON = "application/json"
JSON_TYPES = (JSON, MERGE_PATCH)
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
GZIP_HEAD = 31  # zlib's name for gzip's head and checksum around 32 KiB of history
UTF_8 = ("utf-8", "ascii")  # names by which codecs know what JSON and CSV are written in


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


class Malformed(Exception):
    """A body that is not the JSON it claims to be; carries every fault."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        super().__init__("malformed")
        self.problems = tuple(problems)


def media_taken(operation: Operation) -> tuple[str, ...]:
    """The media types that an operation takes; none where it takes no content."""
    if operation.body is None:
        return operation.media
    return (JSON, MERGE_PATCH) if operation.method == "PATCH" else (JSON,)


def read_data(request: HttpRequest, operation: Operation) -> tuple[bytes, str]:
    """The content, out of its coding, and its media type, both empty where none is needed; Refusal 400, 413 and 415."""
    taken = media_taken(operation)
    data = decode(request, read_bytes(request, operation), most(operation))
    media_type = (request.content_type or "").lower()
    if not taken:
        refuse_content(request, data, media_type)
        return b"", ""
    if not data and needs_nothing(operation):
        return b"", ""
    if not data and not media_type:
        raise Refusal("malformed", f"content is needed, as {' or '.join(taken)}", {})
    if media_type not in taken and not (media_type.startswith("text/") and "text/*" in taken):
        raise Refusal(
            "unsupported_media_type", f"content is taken as {' or '.join(taken)}", {"Accept": ", ".join(taken)}
        )
    refuse_characters(request, operation)
    return data, media_type


def most(operation: Operation) -> int:
    """The bytes that an operation takes, as sent and out of its coding alike."""
    return operation.largest or settings.SMALL_BODY_BYTES


def needs_nothing(operation: Operation) -> bool:
    """Whether a POST can be done without a field being named: no content is then as good as {}."""
    body = operation.body
    return operation.method == "POST" and body is not None and not any(field.required for field in body.fields)


def read_bytes(request: HttpRequest, operation: Operation) -> bytes:
    """The content as it was sent; Refusal 413."""
    largest = most(operation)
    length = request.META.get("CONTENT_LENGTH", "")
    if length.isdigit() and int(length) > largest:
        raise too_large(largest)
    data = request.read(largest + 1)  # whole: the server gives nothing else to a view
    if len(data) > largest:
        raise too_large(largest)
    return data


def too_large(largest: int) -> Refusal:
    """The refusal of content that is longer than is taken."""
    return Refusal("too_large", f"at most {largest} bytes are taken here", {})


def decode(request: HttpRequest, data: bytes, largest: int) -> bytes:
    """The content out of its coding, which is gzip or none; never more bytes of it than would be taken plain."""
    coding = request.META.get("HTTP_CONTENT_ENCODING", "").strip().lower()
    if coding in ("", "identity"):
        return data
    if coding not in ("gzip", "x-gzip"):
        raise Refusal("unsupported_media_type", "content is taken plain or as gzip", {"Accept-Encoding": "gzip"})
    reader = zlib.decompressobj(wbits=GZIP_HEAD)
    try:
        plain = reader.decompress(data, largest + 1)
    except zlib.error:
        raise Refusal("malformed", "the content is not the gzip that it is said to be", {}, "bad_gzip") from None
    if len(plain) > largest:
        raise too_large(largest)
    if not reader.eof or reader.unused_data:
        raise Refusal("malformed", "the content is not one whole gzip member", {}, "bad_gzip")
    return plain


def refuse_content(request: HttpRequest, data: bytes, media_type: str) -> None:
    """Refusal, Refused for content where none is taken: an empty object says nothing, and many clients send it."""
    if not data:
        return
    if request.method in ("GET", "HEAD") or media_type != JSON:
        raise Refusal("unsupported_media_type", "no content is taken here", {})
    value = read_json_value(data)
    faults: list[Problem] = []
    if isinstance(value, dict):
        note_unknown(tuple(value), ("none",), "", faults)
    elif value is not None:
        faults.append(Problem("", "not_an_object", "nothing, or an empty object, is expected"))
    if faults:
        raise Refused(faults)


def refuse_characters(request: HttpRequest, operation: Operation) -> None:
    """Refusal for a charset in which nothing is read here: JSON and tables are UTF-8, a schedule's bytes tell."""
    name = (request.content_params or {}).get("charset", "utf-8")
    try:
        known = codecs.lookup(name).name
    except LookupError:
        known = ""
    if not known or (known not in UTF_8 and operation.schema != "ScheduleFile"):
        raise Refusal("unsupported_media_type", f"content is taken in UTF-8, not in {name[:40]}", {})


def read_json_value(data: bytes) -> Any:
    """The JSON value of a body; Malformed with line and column."""
    quickly = read_plain(data, settings.MOST_JSON_DEPTH)
    if quickly is not None:
        return quickly
    try:
        return read_json(data, max_depth=settings.MOST_JSON_DEPTH)
    except Refused as refusal:
        raise Malformed(refusal.problems) from None


def is_merged(operation: Operation, value: Any, media_type: str) -> bool:
    """Whether a value is a merge patch that goes into the objects which stand at the address (RFC 7396)."""
    is_patch = media_type == MERGE_PATCH and operation.method == "PATCH" and operation.body is not None
    return is_patch and isinstance(value, dict) and any(isinstance(item, Mapping) for item in value.values())


def read_fields(operation: Operation, value: Any) -> Any:
    """The values by the operation's field table, the value itself where it has none; Refused with all faults."""
    if operation.body is None:
        return value
    faults: list[Problem] = []
    cleared: dict[str, Any] = {}
    if operation.method == "PATCH" and isinstance(value, dict):
        for name in (name for name, item in value.items() if item is None and name in operation.body.by_name):
            if name in operation.clears:
                cleared[name] = operation.clears[name]
            else:
                detail = "this can't be taken away; leave it out to keep it"
                faults.append(Problem(f"/{name}", "not_removable", detail))
    values = operation.body.read(value, "", faults)
    if faults:
        raise Refused(faults)
    return values | cleared if cleared else values
