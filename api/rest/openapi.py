"""The OpenAPI 3.1 description, made from the table of operations and the field tables: it can't differ from them."""

from __future__ import annotations

import re
from typing import Any

from api.errors import KINDS
from api.errors import MEDIA_TYPE as PROBLEM_MEDIA
from api.rest.exchange import Operation
from api.rest.reading import MEDIA
from api.rest.routes import OPERATIONS, by_path
from api.rest.schemas import bodies, documents
from api.rest.schemas.bodies import refine

Json = dict[str, Any]
ENTITY_TAGS = r'^(\*|(W/)?"[!#-~]*"( *, *(W/)?"[!#-~]*")*)$'  # RFC 9110, 13.1.1
TITLES = {200: "done", 201: "made", 202: "taken; ask again at Location", 204: "done, nothing to show"}
DESCRIPTION = (
    "Opening schedules in, costed estimates out. Money and quantities are decimal text; times are RFC 3339 in UTC. "
    "Errors are problem documents (RFC 9457) with every fault at once. The product data sheet, local code and the "
    "licensed design professional govern."
)
ALWAYS = (
    "malformed", "unauthenticated", "not_allowed", "not_acceptable", "not_in_time", "uri_too_long", "too_many_requests",
    "fields_too_large", "fault", "unavailable",
)  # fmt: skip


def build() -> Json:
    """The whole document."""
    return {
        "openapi": "3.1.0",
        "info": {
            "title": "Estimates for sealing rough openings",
            "version": "1",
            "description": DESCRIPTION,
            "license": {"name": "Apache-2.0", "identifier": "Apache-2.0"},
        },
        "servers": [{"url": "/"}],
        "security": [{"access_key": []}, {"session": []}],
        "paths": {
            path: {method.lower(): describe_operation(operation) for method, operation in operations.items()}
            for path, operations in by_path(OPERATIONS).items()
        },
        "components": {
            "securitySchemes": {
                "access_key": {"type": "http", "scheme": "bearer"},
                "session": {"type": "apiKey", "in": "cookie", "name": "sessionid"},
            },
            "schemas": documents.SCHEMAS | bodies.SCHEMAS,
            "responses": {kind: describe_problem(kind) for kind in KINDS},
        },
    }


def describe_problem(kind: str) -> Json:
    """The response of one kind of problem."""
    schema = {"$ref": "#/components/schemas/Problem"}
    return {"description": KINDS[kind][1], "content": {PROBLEM_MEDIA: {"schema": schema}}}


def describe_operation(operation: Operation) -> Json:
    """One operation."""
    found: Json = {
        "operationId": operation.name,
        "summary": operation.summary,
        "description": f"Needs the scope `{operation.scope}`." if operation.scope else "Needs no key.",
        "parameters": parameters(operation),
        "responses": responses(operation),
    }
    if not operation.scope:
        found["security"] = []
    if content := body(operation):
        found["requestBody"] = {"required": True, "content": content}
    return found


def parameters(operation: Operation) -> list[Json]:
    """What goes into the address and the header fields."""
    found: list[Json] = [
        {
            "name": name,
            "in": "path",
            "required": True,
            "schema": {"type": "string", "format": "uuid"} if name == "id" else {"type": "string", "minLength": 1},
        }
        for name in re.findall(r"\{(\w+)\}", operation.path)
    ]
    found += [
        {
            "name": field.name,
            "in": "query",
            "required": field.required,
            "description": field.doc,
            "schema": dict(field.reader.schema),
        }
        for field in operation.query
    ]
    if operation.if_match:
        tag = header("If-Match", "the ETag that was read; 428 without it, 412 where it is no longer this", True)
        tag["schema"] = {"type": "string", "pattern": ENTITY_TAGS}
        found.append(tag)
    if operation.idempotency:
        key = header("Idempotency-Key", "the same key and content give the first answer again", False)
        key["required"] = operation.idempotency == "required"
        key["schema"] = {"type": "string", "pattern": "^[!-~]{1,255}$"}
        found.append(key)
    if operation.show is not None:
        found.append(header("Prefer", "wait=N holds the answer up to N seconds, at most 30", False))
    if operation.method == "GET":
        found.append(header("If-None-Match", "304 where the ETag is still this", False))
    return found


def header(name: str, description: str, required: bool) -> Json:
    """A header field of a request."""
    schema = {"type": "string"}
    return {"name": name, "in": "header", "required": required, "description": description, "schema": schema}


def body(operation: Operation) -> Json:
    """What a request's body may be, by media type."""
    if operation.body is not None:
        return {"application/json": {"schema": refine(operation.body.schema)}}
    found: Json = {}
    for media in operation.media:
        plain_text = media.startswith("text/")
        found[media] = {"schema": {"type": "string"} if plain_text else reference(operation.schema)}
    return found


def reference(name: str) -> Json:
    """A named schema: `X[]` is a page of X; the names with a colon are flattened."""
    if name.endswith("[]"):
        items = {"type": "array", "items": reference(name[:-2])}
        nothing = {"type": ["string", "null"]}
        properties = {"items": items, "next": nothing}
        return {"type": "object", "properties": properties, "required": ["items", "next"]}
    return {"$ref": f"#/components/schemas/{name.replace(':', '.')}"}


def responses(operation: Operation) -> Json:
    """What an operation answers, problems included."""
    found: Json = {}
    for status, name in operation.answers.items():
        found[str(status)] = {"description": TITLES[status]} | contents(operation, name)
        if status < 300:
            found[str(status)]["headers"] = answer_headers(operation, status)
    if operation.method == "GET":
        found["304"] = {"description": "unchanged"}
    for kind in problems(operation):
        status = str(KINDS[kind][0])
        found.setdefault(status, {"$ref": f"#/components/responses/{kind}"})
    return dict(sorted(found.items()))


def answer_headers(operation: Operation, status: int) -> Json:
    """Header fields of an answer."""
    text = {"schema": {"type": "string"}}
    found: Json = {"X-Request-Id": text, "RateLimit": text, "RateLimit-Policy": text}
    if status != 204:
        found["ETag"] = text
    if status in (201, 202):
        found["Location"] = {"schema": {"type": "string"}}
    return found


def contents(operation: Operation, name: str) -> Json:
    """The content of an answer, by media type."""
    if not name:
        return {}
    if operation.formats == ("file",):
        whole = {"schema": {"type": "string"}}
        return {"content": {"application/json": {"schema": {}}, "text/csv": whole}}
    found: Json = {}
    for format in operation.formats:
        found[MEDIA[format]] = {"schema": reference(name) if format == "json" else {"type": "string"}}
    return {"content": found}


def problems(operation: Operation) -> list[str]:
    """The kinds of problem that an operation may answer."""
    found = list(ALWAYS)
    if "{" in operation.path:
        found.append("not_found")
    if operation.query or operation.body is not None or operation.media:
        found.append("refused")
    if operation.body is not None or operation.media:
        found += ["malformed", "too_large"]
    if operation.method != "GET":
        found += ["unsupported_media_type", "too_large"]
    if operation.idempotency:
        found += ["malformed", "conflict", "refused"]
    if operation.if_match:
        found += ["stale", "if_match_missing"]
    if operation.method != "POST" or operation.body is not None or "{id}" in operation.path:
        found.append("conflict")
    return found
