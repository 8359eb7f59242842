"""What the tests send, as examples: one request and its answer for each operation, the same in every run.

Ids are told in the order in which they turn up; times, tags and what is shown once are told alike.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from api.rest.examples import STORED
from api.rest.routes import OPERATIONS
from tests.cast import Api
from tests.described import operation_of

ID = re.compile(r"(?<![0-9a-f])[0-9a-f]{8}(-?)(?:[0-9a-f]{4}\1){3}[0-9a-f]{12}(?![0-9a-f])")
TIME = re.compile(r"20[0-9]{2}-[0-9]{2}-[0-9]{2}T[0-9:.]+(?:Z|\+00:00)")
A_TIME, A_TAG, A_KEY = "2026-11-02T09:00:00Z", '"the-etag-that-was-read"', "a-key-of-your-own"
ONCE = {
    "access_key": "shown-once",
    "invitation": "shown-once",
    "site_address": "shown-once",
    "csrf_token": "of-this-session",
    "prefix": "shown",
}
ONCE |= {"valid_until": "2026-12-31"}  # of a quote: so many days after the one on which it is drafted
ONCE |= dict.fromkeys(("next", "after", "cursor"), "a-cursor")
DOCUMENT = {"name", "digest"}  # of a quote: it says the day of its issue, so its digest is another every day
PLAIN = {"Prefer", "Content-Type", "If-Match", "Idempotency-Key", "X-CSRFToken"}  # header fields that are told


@dataclass(frozen=True)
class Sent:
    """One request that was answered with less than 400. who: the variable with the key, "" for a browser."""

    operation: str
    who: str
    method: str
    path: str
    fields: dict[str, str]
    body: Any
    status: int
    answer: Any
    tag: str


class Noting(Api):
    """A client that notes what was answered with less than 400, and lets nothing else pass."""

    sent: list[Sent] = []

    def __init__(self, key: str | None, who: str = "KEY", client: Any = None) -> None:
        super().__init__(key, client)
        self.who = who if key is not None else ""

    def send(self, method: str, path: str, body: Any = None, **fields: str) -> Any:
        answer = super().send(method, path, body, **fields)
        assert answer.status_code < 400, (method, path, answer.content[:500])
        told = {name.replace("_", "-"): value for name, value in fields.items()}
        name, is_json = operation_of(method, path), answer.headers.get("Content-Type") == "application/json"
        if name is not None:
            content = answer.json() if is_json else None
            tag = answer.headers.get("ETag", "")
            self.sent.append(Sent(name, self.who, method, path, told, body, answer.status_code, content, tag))
        return answer

    def tag(self, path: str) -> str:
        """The ETag of what stands there now."""
        return str(self.get(path).headers["ETag"])

    def make(self, path: str, body: Any = None, **fields: str) -> str:
        """The id of what a POST makes."""
        return str(self.post(path, body, **fields).json()["id"])


class Steady:
    """Tells ids, times and secrets the same in every run."""

    def __init__(self) -> None:
        self.ids: dict[str, int] = {}

    def text(self, written: str) -> str:
        """A text with its ids and times told alike."""

        def told(match: re.Match[str]) -> str:
            digits = match[0].replace("-", "")
            place = self.ids.setdefault(digits, len(self.ids) + 1)
            whole = f"0190a000-0000-7000-8000-{place:012x}"
            return whole if match[1] else whole.replace("-", "")

        return TIME.sub(A_TIME, ID.sub(told, written))

    def value(self, value: Any, name: str = "") -> Any:
        """A JSON value, what stands in it under the names of secrets and cursors told alike."""
        if isinstance(value, dict):
            if set(value) == DOCUMENT:
                return value | {"digest": hashlib.sha256(value["name"].encode()).hexdigest()}
            return {self.text(key): self.value(part, key) for key, part in value.items()}
        if isinstance(value, list):
            return [self.value(part) for part in value]
        if isinstance(value, str):
            estimate = name == "after" and ID.fullmatch(value)  # of a comparison; of a list it is a cursor
            return self.text(value) if estimate else ONCE.get(name) or self.text(value)
        return value


def examples(sent: Iterable[Sent], shells: dict[str, str]) -> dict[str, Any]:
    """By operation: the request that was sent first, its answer, and the lines that send it from a shell."""
    steady = Steady()
    found: dict[str, Any] = {}
    for one in sent:
        if one.operation in found:
            continue
        place, _, query = one.path.partition("?")
        fields = {name: value for name, value in one.fields.items() if name in PLAIN}
        fields |= {name: told for name, told in (("If-Match", A_TAG), ("Idempotency-Key", A_KEY)) if name in fields}
        request = {"path": steady.value(places(one.operation, place)), "query": steady.value(parts(query))}
        request |= {"fields": fields | ({"X-CSRFToken": ONCE["csrf_token"]} if "X-CSRFToken" in fields else {})}
        body = {"body": steady.value(one.body)} if one.body is not None else {}
        answer = {"answer": steady.value(one.answer)} if one.answer is not None else {}
        shell = {"shell": shells[one.operation]} if one.operation in shells else {}
        found[one.operation] = request | body | {"status": one.status} | answer | shell
    return dict(sorted(found.items()))


@cache
def patterns() -> dict[str, re.Pattern[str]]:
    """What the address of each operation looks like, its places named."""
    return {one.name: re.compile(re.sub(r"\{(\w+)\}", r"(?P<\1>.+)", one.path)) for one in OPERATIONS}


def places(operation: str, path: str) -> dict[str, str]:
    """What stands in the places of an address."""
    match = patterns()[operation].match(path)
    return dict(match.groupdict()) if match else {}


def parts(query: str) -> dict[str, str]:
    """A query as names and values."""
    return dict(part.split("=", 1) for part in query.split("&") if part)


def stored() -> dict[str, Any]:
    """The examples as they are committed."""
    found: dict[str, Any] = json.loads(STORED.read_text()) if STORED.exists() else {}
    return found


def store(found: dict[str, Any], file: Path = STORED) -> None:
    """Writes the examples as they are committed."""
    file.write_text(json.dumps(found, indent=1, ensure_ascii=False) + "\n")
