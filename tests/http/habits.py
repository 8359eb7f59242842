"""What a row of the table of habits is, and how it is tried: one request to an office, and what the answer shows."""

from __future__ import annotations

import gzip
import json
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from django.test import Client

from tests.cast import Api, Office
from tests.db.making import golden_request
from tests.worked_cases import read_case

Shows = Mapping[str, Any]
PLACE = re.compile(r"\{(\w+)\}")


@dataclass(frozen=True)
class Habit:
    """One request as an integrator sends it, and what happens. X-For names what there is to be, and means nothing.

    path: ids in braces are made for it. fields: header fields, `_` for `-`; a value "@…" is the ETag of that address.
    shows: a JSON Pointer into the answer, or a header field, with its value, None where it is absent, or a test of it.
    then: addresses that are read afterwards, each with what it shows.
    """

    says: str
    method: str
    path: str
    status: int
    shows: Shows = field(default_factory=dict)
    body: Any = None
    fields: Mapping[str, str] = field(default_factory=dict)
    then: Mapping[str, Shows] = field(default_factory=dict)
    by: str = "key"  # or "session", or "nobody"


def gz(body: Any) -> bytes:
    """A JSON body as gzip; bytes as they are."""
    return gzip.compress(body if isinstance(body, bytes) else json.dumps(body).encode())


class Desk:
    """An office with the things that rows name, each made when a row first names it."""

    def __init__(self, office: Office) -> None:
        self.office = office
        self.api = Api(office.key, Client(raise_request_exception=False, enforce_csrf_checks=True))

    def made(self, path: str, body: Any) -> str:
        """The id of what a POST makes."""
        answer = self.api.post(path, body)
        assert answer.status_code == 201, answer.content
        return str(answer.json()["id"])

    @cached_property
    def project(self) -> str:
        return self.made("/v1/projects", {"name": "Clinic", "number": "26-014", "note": "west wing"})

    @cached_property
    def tower(self) -> str:
        return self.made("/v1/projects", {"name": "Müller tower 100 %", "number": "26-020"})

    @cached_property
    def archived(self) -> str:
        id = self.made("/v1/projects", {"name": "Old mill", "number": "25-003"})
        tag = self.api.get(f"/v1/projects/{id}").headers["ETag"]
        answer = self.api.send("PATCH", f"/v1/projects/{id}", {"state": "archived"}, If_Match=tag)
        assert answer.status_code == 200, answer.content
        return id

    @cached_property
    def draft(self) -> str:
        return self.made(f"/v1/rate-books/{self.office.rate_book}/editions", read_case("golden", "edition.json"))

    @cached_property
    def submitted(self) -> str:
        path = f"/v1/editions/{self.draft}"
        assert self.api.post(f"{path}/submit", If_Match=self.api.get(path).headers["ETag"]).status_code == 200
        return self.draft

    @cached_property
    def estimate(self) -> str:
        return str(self.api.estimate(golden_request(self.office)).json()["id"])

    @cached_property
    def bid(self) -> str:
        return str(self.api.estimate(golden_request(self.office, project=self.project)).json()["id"])

    @cached_property
    def schedule(self) -> str:
        return self.made(
            f"/v1/projects/{self.project}/opening-schedules", read_case("golden", "request.json")["openings"]
        )

    @property
    def book(self) -> str:
        return str(self.office.rate_book)

    @property
    def edition(self) -> str:
        return str(self.office.edition)

    def fill(self, text: str) -> str:
        """The text with ids for what stands in braces."""
        return PLACE.sub(lambda match: getattr(self, match[1]), text)

    def header(self, value: str) -> str:
        """A header field's value; "@…" is an ETag that is read first."""
        return str(self.api.get(self.fill(value[1:])).headers["ETag"]) if value.startswith("@") else self.fill(value)

    def send(self, client: Api, habit: Habit) -> Any:
        """The answer to a habit's request."""
        path = self.fill(habit.path)
        body = json.loads(self.fill(json.dumps(habit.body))) if isinstance(habit.body, dict | list) else habit.body
        return client.send(habit.method, path, body, **{name: self.header(v) for name, v in habit.fields.items()})


def pointed(answer: Any, name: str) -> Any:
    """What stands in an answer at a JSON Pointer or in a header field; None for nothing."""
    if not name.startswith("/"):
        return answer.headers.get(name)
    content = answer.content
    value = json.loads(gzip.decompress(content) if answer.headers.get("Content-Encoding") == "gzip" else content)
    for step in name.split("/")[1:] if name != "/" else ():
        if step == "#":
            return len(value)
        value = value[int(step)] if isinstance(value, list) else value.get(step)
    return value


def check(answer: Any, shows: Shows, desk: Desk) -> None:
    """Fails where the answer shows something else."""
    for name, expected in shows.items():
        found = pointed(answer, name)
        if isinstance(expected, Callable):
            assert expected(found), (name, found)
        else:
            wanted = desk.fill(expected) if isinstance(expected, str) else expected
            assert found == wanted, (name, found, answer.content[:400])
