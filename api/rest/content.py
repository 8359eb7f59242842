"""The content of a request: size, coding, media type and characters, the JSON value, the fields of its table."""

from __future__ import annotations

import codecs
import zlib
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from django.conf import settings
from django.http import HttpRequest

from api.auth import Refusal
from api.rest.exchange import MERGE_PATCH, Operation
from rates.core.fields import note_unknown
from rates.core.jsontext import read_json
from rates.core.merge_patch import merge_patch
from rates.core.problems import Problem, Refused
from rates.quick_json import read_plain

JSON = "application/json"
GZIP_HEAD = 31  # zlib's name for gzip's head and checksum around 32 KiB of history
UTF_8 = ("utf-8", "ascii")  # names by which codecs know what JSON and CSV are written in


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
    value = read_body(data)
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


def read_body(data: bytes) -> Any:
    """The JSON value of a body; Malformed with line and column."""
    quickly = read_plain(data, settings.MOST_JSON_DEPTH)
    if quickly is not None:
        return quickly
    try:
        return read_json(data, max_depth=settings.MOST_JSON_DEPTH)
    except Refused as refusal:
        raise Malformed(refusal.problems) from None


def read_content(operation: Operation, data: bytes, media_type: str, current: Callable[[], Any]) -> Any:
    """The body by the operation's field table; the bare JSON value where it has none; None for other content.

    `current` gives what a merge patch is merged into.
    """
    if media_type not in (JSON, MERGE_PATCH):
        return {} if needs_nothing(operation) and not data else None
    value = read_body(data)
    if operation.body is None:
        return value
    if operation.method != "PATCH" or not isinstance(value, dict):
        return read_fields(operation, value, [])
    nothing = [name for name, item in value.items() if item is None and name in operation.body.by_name]
    fixed = [name for name in nothing if name not in operation.clears]
    faults = [
        Problem(f"/{name}", "not_removable", "this can't be taken away; leave it out to keep it") for name in fixed
    ]
    if media_type == MERGE_PATCH and any(isinstance(item, Mapping) for item in value.values()):
        whole = current()
        value = {name: merge_patch(whole.get(name), item) for name, item in value.items()}
    return read_fields(operation, value, faults) | {name: operation.clears[name] for name in nothing}


def read_fields(operation: Operation, value: Any, faults: list[Problem]) -> Any:
    """The values by the operation's field table; Refused with all faults."""
    assert operation.body is not None
    values = operation.body.read(value, "", faults)
    if faults:
        raise Refused(faults)
    return values
