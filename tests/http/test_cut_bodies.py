"""Bodies that don't arrive whole: for every operation that takes one, nothing is stored and the key stays free."""

from __future__ import annotations

import http.client
import json
import random
import socket
import uuid
from collections.abc import Iterator
from contextlib import closing
from typing import Any

import pytest
from django.apps import apps
from django.core.wsgi import get_wsgi_application
from django.http import HttpResponse

from api.rest.routes import OPERATIONS
from api.server.listener import Listener
from rates.tenancy import CompanyOwned, CompanyRows
from tests import live
from tests.cast import Office
from tests.described import operation_of
from tests.http import test_every_operation as day
from tests.http.recording import Noting

POINTS = 50


class Whole(HttpResponse):
    """An answer as the test client would give it."""

    def json(self) -> Any:
        return json.loads(self.content)


class Cutting(Noting):
    """A client that, before it sends a body, sends it cut short at so many points of it."""

    listener: Listener
    chance: random.Random
    cut: set[str | None] = set()  # names of operations

    def send(self, method: str, path: str, body: Any = None, **fields: str) -> Any:
        if body is None:
            return super().send(method, path, body, **fields)
        data = body if isinstance(body, str | bytes) else json.dumps(body)
        data = data.encode() if isinstance(data, str) else data
        if self.key is not None:
            fields.setdefault("Authorization", f"Bearer {self.key}")
        fields.setdefault("Content_Type", "application/json")
        before = every_row()
        self.send_cut(method, path, data, {name: v for name, v in fields.items() if name != "Idempotency_Key"})
        if method == "POST":
            fields.setdefault("Idempotency_Key", str(uuid.uuid4()))
            self.send_cut(method, path, data, fields)
        live.wait_quiet(self.listener)
        assert every_row() == before, (method, path)
        self.cut.add(operation_of(method, path))
        return self.send_whole(method, path, data, fields)

    def send_whole(self, method: str, path: str, data: bytes, fields: dict[str, str]) -> Any:
        """The answer to the whole request, which is the first to be done under its key."""
        if self.key is None:  # a session: its cookies are the test client's
            return super().send(method, path, data, **fields)
        with closing(http.client.HTTPConnection("localhost", int(self.listener.effective_port), timeout=60)) as sender:
            sender.request(method, path, data, {name.replace("_", "-"): value for name, value in fields.items()})
            told = sender.getresponse()
            answer = Whole(told.read(), status=told.status, headers=dict(told.getheaders()))
        assert answer.status_code < 400 and "Idempotent-Replayed" not in answer.headers, (method, path, answer.content)
        return answer

    def send_cut(self, method: str, path: str, data: bytes, fields: dict[str, str]) -> None:
        """Sends the request cut at each point: closed and half-closed, with its length and in chunks."""
        for _ in range(POINTS):
            half = len(data) // 2
            whole = live.write_request(method, path, data, **fields)
            if self.chance.random() < 0.3:
                whole = live.write_chunked(method, path, [data[:half], data[half:]], **fields)
            end = self.chance.randrange(whole.index(b"\r\n\r\n") + 4, len(whole))
            with live.connect(self.listener) as connection:
                connection.sendall(whole[:end])
            with live.connect(self.listener) as connection:
                connection.sendall(whole[:end])
                connection.shutdown(socket.SHUT_WR)
                assert live.read_problem(live.read_all(connection)) == (400, "malformed"), (method, path, end)


def every_row() -> list[tuple[str, list[Any]]]:
    """All that is stored, but for what reading alone moves on."""
    found = []
    for label in ("rates", "estimating", "sessions"):
        for model in apps.get_app_config(label).get_models():
            rows = CompanyRows(model).all() if issubclass(model, CompanyOwned) else model._default_manager.all()
            names = [field.attname for field in model._meta.fields if field.attname != "last_used_at"]
            found.append((model.__name__, [tuple(map(repr, row)) for row in rows.order_by("pk").values_list(*names)]))
    return found


@pytest.fixture
def listener(rules: None) -> Iterator[Listener]:
    with live.serving(get_wsgi_application()) as made:
        yield made


def test_nothing_is_stored_of_a_body_cut_short(
    office: Office, listener: Listener, monkeypatch: pytest.MonkeyPatch
) -> None:
    Cutting.listener, Cutting.chance = listener, random.Random(7)
    Cutting.cut.clear()
    monkeypatch.setattr(day, "Noting", Cutting)
    day.work_a_day(office)
    taking = {operation.name for operation in OPERATIONS if operation.body is not None or operation.media}
    assert taking and taking - Cutting.cut == set()
