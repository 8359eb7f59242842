"""Every JSON answer of the tests is held against the schema that the description gives for it, strictly.

A field that no schema names fails here, as does one that is missing or of another kind: what the description promises
and what is answered can't come apart. What the description leaves open (`{}`) may be anything.
"""

from __future__ import annotations

import json
import re
from functools import cache
from typing import Any

import jsonschema_rs

from api.rest.openapi import build
from api.rest.routes import OPERATIONS

REFERENCE = re.compile(r'"#/components/schemas/([^"]+)"')
ANSWERS = ("application/json", "application/problem+json")


def closed(schema: Any) -> Any:
    """The schema without room for fields that it does not name."""
    if isinstance(schema, list):
        return [closed(part) for part in schema]
    if not isinstance(schema, dict):
        return schema
    found = {name: closed(part) for name, part in schema.items()}
    if found.get("type") == "object" and isinstance(found.get("properties"), dict):
        found.setdefault("additionalProperties", False)
    return found


@cache
def document() -> dict[str, Any]:
    """The description, made once."""
    return build()


@cache
def components() -> dict[str, Any]:
    """The description's schemas by name, closed."""
    schemas: dict[str, Any] = closed(document()["components"]["schemas"])
    return schemas


@cache
def validator(name: str, status: int, media: str) -> Any:
    """What an operation's answer must be, None where the description has no such answer."""
    for methods in document()["paths"].values():
        for operation in methods.values():
            if operation["operationId"] == name:
                answer = operation["responses"].get(str(status), {})
                if "$ref" in answer:
                    answer = document()["components"]["responses"][answer["$ref"].rpartition("/")[2]]
                content = answer.get("content", {}).get(media)
                return content and compiled(json.dumps(closed(content["schema"]), sort_keys=True))
    raise AssertionError(f"no operation {name}")


@cache
def compiled(schema: str) -> Any:
    """The validator of a schema, with the components that it reaches: once for all the operations that answer so."""
    found: dict[str, Any] = {}
    waiting = [schema]
    while waiting:
        for name in set(REFERENCE.findall(waiting.pop())) - found.keys():
            found[name] = components()[name]
            waiting.append(json.dumps(found[name]))
    return jsonschema_rs.Draft202012Validator({"components": {"schemas": found}} | json.loads(schema))


@cache
def patterns() -> list[tuple[str, re.Pattern[str], str]]:
    """Method, address and name of every operation; addresses with fewer places first."""
    found = []
    for operation in sorted(OPERATIONS, key=lambda one: one.path.count("{")):
        place = re.sub(r"\\\{figure\\\}", ".+", re.sub(r"\\\{(?!figure)\w+\\\}", "[^/]+", re.escape(operation.path)))
        found.append((operation.method, re.compile(place + r"(?:\.json)?\Z"), operation.name))
    return found


def operation_of(method: str, path: str) -> str | None:
    """The name of the operation that answers there."""
    bare = path.partition("?")[0]
    return next((name for verb, pattern, name in patterns() if verb == method and pattern.match(bare)), None)


def hold(method: str, path: str, status: int, media: str, content: bytes) -> None:
    """Fails where an answer in JSON is not what the description says."""
    media = media.partition(";")[0]
    name = operation_of(method, path) if media in ANSWERS else None
    if name is None or name == "schedule-source":
        return
    found = validator(name, status, media)
    assert found is not None, f"{name} answers {status} as {media}, which the description does not know"
    faults = [
        f"/{'/'.join(map(str, e.instance_path))}: {e.message[:300]}" for e in found.iter_errors(json.loads(content))
    ]
    assert not faults, f"{name} {status} is not as described (see api/rest/schemas): " + "; ".join(faults[:5])
