"""Every way in which one company can reach for another's things, tried: operations times places of an id times callers.

Made from the OpenAPI document, which must name what the URL table names and nothing else.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import AbstractContextManager
from typing import Any

from django.urls import get_resolver

from api.rest.exchange import Operation
from api.rest.openapi import build
from api.rest.routes import OPERATIONS
from tests.cast import Api
from tests.http.test_isolation import body_of
from tests.http.worlds import COLLECTIONS, World, comparable, rows_of, text_of, unknown, weak_callers
from tests.worked_cases import read_case

MERE_TEXT = ("add-opening-schedule",)  # an id in the content of a file is a text like any other
MAY_SUCCEED = (*MERE_TEXT, "audit", "quotes", "job-records", "site-links")  # which finds nothing
QUERY_IDS = {
    "edition-changes": ("from", "editions"),
    "schedule-changes": ("from", "opening-schedules"),
    "schedule-stakes": ("estimate", "estimates"),
    "quotes": ("project", "projects"),
    "job-records": ("estimate", "estimates"),
    "site-links": ("estimate", "estimates"),
    "audit": ("subject", "projects"),
}


def described() -> dict[str, Operation]:
    """The operations by name, as the OpenAPI document, the URL table and the code name them alike."""
    by_name = {operation.name: operation for operation in OPERATIONS}
    document = build()
    found = {
        (told["operationId"], method.upper(), path)
        for path, methods in document["paths"].items()
        for method, told in methods.items()
    }
    assert found == {(o.name, o.method, o.path) for o in OPERATIONS}
    own = {"/v1/", "/v1/openapi.json", "/v1/docs", "/v1/docs.css", "/v1/docs.js"}
    names = [str(getattr(pattern, "name", "")) for pattern in get_resolver().url_patterns]
    answering = {f"/v1{name}" for name in names if name.startswith("/")}
    assert answering - own == set(document["paths"])
    for operation in OPERATIONS:
        if "{id}" in operation.path:
            assert operation.path.split("/")[2] in COLLECTIONS, f"{operation.path}: no id of it is known here"
    return by_name


def path_of(operation: Operation, id: str, query: str = "") -> str:
    """The address of an operation on an id."""
    fixed = {"in-force": "?work_date=2027-03-15"}.get(operation.name, "")
    return operation.path.replace("{id}", id).replace("{figure}", "price") + (query or fixed)


def send(api: Api, operation: Operation, id: str = "", query: str = "", body: Any = None, **fields: str) -> Any:
    """The answer to an operation on an id."""
    if operation.if_match:
        fields.setdefault("If_Match", "*")
    told = body if body is not None else body_of(operation)
    return api.send(operation.method, path_of(operation, id, query), told, **fields)


def bodies(operation: Operation, own: World, id: dict[str, str]) -> Iterator[Any]:
    """Bodies of an operation that name the ids `id` of each collection."""
    request = {k: v for k, v in read_case("golden", "request.json").items() if k != "openings"}
    line = {"mark": "A", "quantity": 1, "width": "48 in", "height": "48 in", "access": "ground"}
    if operation.name == "make-estimate":
        mine = {"edition": own.ids["editions"], "schedule": own.ids["opening-schedules"]}
        for name, collection in (("edition", "editions"), ("schedule", "opening-schedules"), ("project", "projects")):
            yield request | mine | {name: id[collection]}
        for name, collection in (("rate_book", "rate-books"), ("hold", "editions")):
            yield request | {"schedule": own.ids["opening-schedules"], name: id[collection]}
    elif operation.name == "make-comparison":
        yield {"before": id["estimates"], "after": own.ids["estimates"]}
        yield {"before": own.ids["estimates"], "after": id["estimates"]}
    elif operation.name == "make-quote":
        yield {"estimate": id["estimates"], "customer": {"name": "x"}}
    elif operation.name in ("make-job-record", "make-site-link"):
        yield body_of(operation) | {"estimate": id["estimates"]}
    elif operation.name == "requote":
        yield {"estimate": id["estimates"]}
        yield {"schedule": id["opening-schedules"]}
    elif operation.name == "change-quote":
        yield {"addenda": [{"name": "x", "acknowledged_on": "2027-01-05", "schedule": id["opening-schedules"]}]}
    elif operation.name == "make-change-order":
        yield {"title": "x", "quote": id["quotes"]}
        yield {"title": "x", "comparison": id["comparisons"]}
    elif operation.name == "revise-change-order":
        yield {"comparison": id["comparisons"]}
    elif operation.name == "draft-edition":
        yield {"from": id["editions"]}
    elif operation.name == "make-rate-book":
        yield {"name": "Branch", "layer": "branch", "base": id["rate-books"]}
    elif operation.name in ("make-project", "change-project"):
        yield {"name": "x", "rate_book": id["rate-books"]}
    elif operation.name == "make-access-key":
        yield {"replaces": id["access-keys"]}
    elif operation.name == "decide-schedule-matches":
        yield {"from": id["opening-schedules"], "pairs": [{"before": 0, "after": 0, "same": True}]}
    elif operation.name == "add-opening-schedule":  # in the content of a file
        yield {"openings": [line | {"note": id["projects"]}], "project": id["projects"]}
        yield [line | {"id": id["opening-schedules"]}]


def reach(mine: World, other: World, callers: dict[str, Api], found: list[str]) -> Iterator[tuple[str, Any]]:
    """(what, answer) of everything that callers of `mine` ask of `other`; `found` takes what is answered otherwise."""
    nothing = {name: unknown() for name in COLLECTIONS}
    for name, operation in described().items():
        collection = operation.path.split("/")[2] if "{id}" in operation.path else ""
        for who, api in callers.items():
            pairs = []
            if collection:
                id = other.draft if operation.name.startswith("put-") else other.ids[collection]
                fields = {"If_Match": other.tags[collection]} if operation.if_match else {}
                pairs.append([send(api, operation, id, **fields), send(api, operation, nothing[collection], **fields)])
            if name in QUERY_IDS:
                field, kind = QUERY_IDS[name]
                own = mine.ids.get(collection, "")
                pairs.append([send(api, operation, own, f"?{field}={ids[kind]}") for ids in (other.ids, nothing)])
            own_id = mine.ids.get(collection, "")
            asked = zip(bodies(operation, mine, other.ids), bodies(operation, mine, nothing), strict=True)
            for n, (foreign, none) in enumerate(asked):
                keys = (
                    [{"Idempotency_Key": f"{name}-{who}-{n}-{side}"} for side in "ab"]
                    if operation.idempotency
                    else [{}, {}]
                )
                sent = [send(api, operation, own_id, body=b, **k) for b, k in zip((foreign, none), keys, strict=True)]
                pairs.append(sent)
            for n, pair in enumerate(pairs):
                left, right = (without_ids(comparable(answer), other, nothing) for answer in pair)
                same = left[0] == right[0] if name in MERE_TEXT else left == right
                if not same or (left[0] < 400 and name not in MAY_SUCCEED):
                    found.append(f"{who} {name} {n}: {left} is not {right}")
                yield f"{who} {name} {n}", pair[0]
        yield from lists(mine, other, operation, callers)


def without_ids(answer: tuple[int, Any, Any], other: World, nothing: dict[str, str]) -> tuple[int, Any, Any]:
    """An answer with the ids that were sent taken out, so that two answers can be compared."""
    text = answer[1] if isinstance(answer[1], bytes) else json.dumps(answer[1]).encode()
    for ids in (other.ids, nothing):
        for id in ids.values():
            text = text.replace(id.encode(), b"(id)")
    return answer[0], text, answer[2]


def lists(mine: World, other: World, operation: Operation, callers: dict[str, Api]) -> Iterator[tuple[str, Any]]:
    """Own lists and things in every format, with another company's cursor and tags."""
    if operation.method != "GET":
        return
    id = mine.ids.get(operation.path.split("/")[2], "")
    ends = ("", ".csv", ".xlsx") if "csv" in operation.formats else ("",)
    for who, api in callers.items():
        for end in ends:
            path = path_of(operation, id)
            path, _, query = path.partition("?")
            yield f"{who} own {operation.name}{end}", api.get(f"{path}{end}?{query}" if query else path + end)
        cursor = other.cursors.get(operation.name)
        if cursor:
            yield f"{who} cursor {operation.name}", send(api, operation, id, f"?cursor={cursor}")
        tag = other.tags.get(operation.path.split("/")[2])
        if tag and "{id}" in operation.path:
            yield f"{who} tag {operation.name}", api.get(path_of(operation, id), If_None_Match=tag)


def cross(worlds: list[World], scope: AbstractContextManager[None], logs: Any, reached: int = 2) -> int:
    """How many answers were looked at, of `reached` other companies, the twin first.

    AssertionError for a marker, a prime, a change or a telling answer.
    """
    mine, *others = worlds
    weak = weak_callers(others[0])
    kept = rows_of(others)
    told: list[str] = []
    leaks: set[tuple[str, str]] = set()
    count = 0
    callers = {"key": mine.api, "session": mine.person}
    with scope:
        for other in others[:reached]:
            for what, answer in reach(mine, other, callers, told):
                count += 1
                told += [f"{what}: {answer.status_code}"] if answer.status_code >= 500 else []
                text = text_of(answer)
                leaks |= {(what, world.marker) for world in others if world.marker in text}
                leaks |= {(what, world.prime) for world in others[1:] if world.prime in text}
        for who, (api, status) in weak.items():
            for operation in OPERATIONS:
                if operation.scope:
                    answer = send(api, operation, others[0].ids.get(operation.path.split("/")[2], ""))
                    count += 1
                    if answer.status_code != status or any(w.marker in text_of(answer) for w in worlds):
                        told.append(f"{who} {operation.name}: {answer.status_code}")
    assert not told, "\n".join(line[:600] for line in told)
    assert not leaks, "\n".join(map(str, sorted(leaks)))
    changed = [name for name, rows in rows_of(others).items() if rows != kept[name]]
    assert changed == []
    written = logs.readouterr()
    assert not [world.marker for world in worlds if world.marker in written.err + written.out]
    return count
