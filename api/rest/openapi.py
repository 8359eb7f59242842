"""The OpenAPI 3.1 description, made from the table of operations and the field tables: it can't differ from them."""

from __future__ import annotations

import re
from typing import Any

from api.errors import KINDS
from api.errors import MEDIA_TYPE as PROBLEM_MEDIA
from api.rest import schedules
from api.rest.examples import put_examples
from api.rest.exchange import MERGE_PATCH, Operation
from api.rest.reading import MEDIA, media_taken, needs_nothing
from api.rest.routes import OPERATIONS, by_path
from api.rest.schemas import bodies, documents
from api.rest.schemas.components import Components, camel
from api.rest.schemas.documents import page_of
from api.rest.schemas.refining import refine
from rates.core.fields import Field
from rates.roles import roles_with

Json = dict[str, Any]
ENTITY_TAGS = r'^(\*|(W/)?"[!#-~]*"( *, *(W/)?"[!#-~]*")*)$'  # RFC 9110, 13.1.1
TITLES = {200: "done", 201: "made", 202: "taken; ask again at Location", 204: "done, nothing to show"}
DESCRIPTION = (
    "Opening schedules in, costed estimates out. Money and quantities are decimal text; times are RFC 3339 in UTC. "
    "Errors are problem documents (RFC 9457) with every fault at once. The product data sheet, local code and the "
    "licensed design professional govern."
)
TAGS = {
    "projects": "projects and what was done for them",
    "schedules": "opening schedules: files read, questions, answers, edits, revisions compared",
    "estimates": "costed estimates and their parts",
    "comparisons": "two estimates, and the causes of the change in price",
    "quotes": "what customers are offered, letters, and the texts kept for them",
    "change orders": "changes to contracts after the award, what contracts come to, notices due",
    "feed": "what changed, for systems that pull",
    "rates": "rate books and their editions",
    "company": "the company, its members and access keys",
    "session": "signing in with a browser",
    "site": "what crews did, how far a job is, and links for crews",
    "audit": "who did what, when, from where",
}
OF_WORDS = {
    "projects": "projects", "opening-schedules": "schedules", "estimates": "estimates", "comparisons": "comparisons",
    "quotes": "quotes", "quote-texts": "quotes", "bids-due": "quotes",
    "change-orders": "change orders", "contract": "change orders", "notices-due": "change orders",
    "job-records": "site", "progress": "site", "site-links": "site",
    "feed": "feed", "climates": "estimates", "rate-books": "rates", "editions": "rates", "company": "company",
    "members": "company", "access-keys": "company", "session": "session", "audit": "audit",
}  # fmt: skip
OCTETS = "application/octet-stream"
FILE_MEDIA = tuple(media for media in schedules.MEDIA if media != OCTETS)
ALWAYS = (
    "malformed", "unauthenticated", "not_allowed", "not_acceptable", "not_in_time", "uri_too_long", "too_many_requests",
    "fields_too_large", "fault", "unavailable",
)  # fmt: skip


def build() -> Json:
    """The whole document."""
    components = Components()
    for name, schema in (documents.SCHEMAS | bodies.SCHEMAS).items():
        components.reference(schema_name(name), schema)
    paths = {
        path: {method.lower(): describe_operation(operation, components) for method, operation in operations.items()}
        for path, operations in by_path(OPERATIONS).items()
    }
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
        "tags": [{"name": name, "description": about} for name, about in TAGS.items()],
        "paths": paths,
        "components": {
            "securitySchemes": {
                "access_key": {"type": "http", "scheme": "bearer"},
                "session": {"type": "apiKey", "in": "cookie", "name": "sessionid"},
            },
            "schemas": dict(sorted(components.found.items())),
            "responses": {kind: describe_problem(kind) for kind in KINDS},
        },
    }


def describe_problem(kind: str) -> Json:
    """The response of one kind of problem."""
    schema = {"$ref": "#/components/schemas/Problem"}
    return {"description": KINDS[kind][1], "content": {PROBLEM_MEDIA: {"schema": schema}}}


def describe_operation(operation: Operation, components: Components) -> Json:
    """One operation."""
    found: Json = {
        "operationId": operation.name,
        "tags": [tag_of(operation.path)],
        "summary": operation.summary,
        "description": who_may(operation.scope),
        "parameters": parameters(operation, components),
        "responses": responses(operation, components),
    }
    if operation.scope:
        found["x-scope"] = operation.scope
    else:
        found["security"] = []
    if content := body(operation, components):
        found["requestBody"] = {"required": not needs_nothing(operation), "content": content}
    put_examples(found)
    return found


def who_may(scope: str) -> str:
    """Who may call an operation, in a sentence."""
    return f"Needs the scope `{scope}`: {roles_with(scope)}." if scope else "Needs no key."


def parameters(operation: Operation, components: Components) -> list[Json]:
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
            "schema": components.place(parameter_schema(field), parameter_name(operation, field)),
        }
        for field in operation.query
    ]
    if operation.if_match:
        shown = operation.body is not None and "preview" in operation.body.by_name
        but = "; a preview needs none" if shown else ""
        doc = f"the ETag that was read; 428 without it, 412 where it is no longer this{but}"
        tag = header("If-Match", doc, not shown)
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


def parameter_schema(field: Field) -> Json:
    """What a query field may be; the words that turn an order round have names that a program can have."""
    schema = refine(field.reader.schema)
    if field.name != "ordering":
        return schema
    words = [f"{word[1:]}_descending" if word.startswith("-") else word for word in schema["enum"]]
    return schema | {"x-enum-varnames": [word.upper() for word in words]}


def parameter_name(operation: Operation, field: Field) -> str:
    """The name of an enumeration in a query; orders by the same fields are one."""
    if field.name != "ordering":
        return camel(operation.name) + camel(field.name)
    words = [word for word in field.reader.schema["enum"] if not word.startswith("-")]
    return "OrderBy" + "".join(map(camel, words))


def header(name: str, description: str, required: bool) -> Json:
    """A header field of a request."""
    schema = {"type": "string"}
    return {"name": name, "in": "header", "required": required, "description": description, "schema": schema}


def body(operation: Operation, components: Components) -> Json:
    """What a request's body may be, by media type."""
    if operation.body is not None:
        schema = components.place(refine(operation.body.schema), f"{camel(operation.name)}Body")
        return {media: {"schema": schema} for media in media_taken(operation)}
    found: Json = {}
    for media in operation.media:
        json = media in (MEDIA["json"], MERGE_PATCH)
        found[media] = {"schema": reference(operation.schema, components) if json else dict(FILE)}
    return found


FILE: Json = {"type": "string", "format": "binary"}


def schema_name(name: str) -> str:
    """The name of a component by what an operation calls it: a part of an estimate, a table of an edition."""
    group, _, part = name.partition(":")
    return {"Part": f"Estimate{camel(part)}", "Table": f"{camel(part)}Table"}.get(group, name) if part else name


def reference(name: str, components: Components) -> Json:
    """A named schema: `X[]` is a page of X, `X|Y` one of two."""
    if "|" in name:
        return {"anyOf": [reference(part, components) for part in name.split("|")]}
    whole = schema_name(name.removesuffix("[]"))
    found = {"$ref": f"#/components/schemas/{whole}"}
    return components.reference(f"{whole}Page", page_of(found)) if name.endswith("[]") else found


def tag_of(path: str) -> str:
    """What an address is about: the tag of its last collection."""
    return next(tag for word, tag in reversed(OF_WORDS.items()) if word in path.split("/"))


def responses(operation: Operation, components: Components) -> Json:
    """What an operation answers, problems included."""
    found: Json = {}
    for status, name in operation.answers.items():
        found[str(status)] = {"description": TITLES[status]} | contents(operation, name, components)
        if status < 300:
            found[str(status)]["headers"] = answer_headers(operation, status)
    if operation.method == "GET":
        found["304"] = {"description": "unchanged"}
    for kind in problems(operation):
        found.setdefault(str(KINDS[kind][0]), {"$ref": f"#/components/responses/{kind}"})
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


def contents(operation: Operation, name: str, components: Components) -> Json:
    """The content of an answer, by media type."""
    if not name:
        return {}
    if operation.formats == ("file",):
        # as it was posted: JSON is whatever JSON that was
        return {
            "content": {
                media: {"schema": {} if media == MEDIA["json"] else dict(FILE)} for media in (OCTETS, *FILE_MEDIA)
            }
        }
    found: Json = {}
    for format in operation.formats:
        schema = (
            reference(name, components) if format == "json" else dict(FILE) if format != "csv" else {"type": "string"}
        )
        found[MEDIA[format]] = {"schema": schema}
    return {"content": found}


def problems(operation: Operation) -> list[str]:
    """The kinds of problem that an operation may answer."""
    found = list(ALWAYS)
    if "{" in operation.path:
        found.append("not_found")
    if operation.query or operation.method != "GET":
        found.append("refused")
    if operation.body is not None or operation.media:
        found += ["malformed", "too_large"]
    found += ["unsupported_media_type", "too_large"]  # of a GET, too, that brings content
    if operation.idempotency:
        found += ["malformed", "conflict", "refused"]
    if operation.if_match:
        found += ["stale", "if_match_missing"]
    if operation.method != "POST" or operation.body is not None or "{id}" in operation.path:
        found.append("conflict")
    return found
