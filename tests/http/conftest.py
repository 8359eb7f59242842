"""Fixtures of the tests over HTTP: an office and a client with its key."""

from __future__ import annotations

import time
from collections.abc import Iterator
from types import SimpleNamespace
from typing import Any

import pytest

from api import auth
from tests.cast import Api, Office, lift_rules, make_office


@pytest.fixture
def rules(transactional_db: None) -> Iterator[None]:
    """The database with its rules; they are lifted for the flush after the test."""
    yield
    lift_rules()


@pytest.fixture
def office(rules: None) -> Office:
    return make_office()


@pytest.fixture
def api(office: Office) -> Api:
    return Api(office.key)


@pytest.fixture(autouse=True)
def fresh_windows(monkeypatch: pytest.MonkeyPatch) -> None:
    """No test counts the requests of another, for they share an address; and no window ends while one counts."""
    auth._windows.clear()
    moment = time.time()
    monkeypatch.setattr(auth, "time", SimpleNamespace(time=lambda: moment, monotonic=time.monotonic))


@pytest.fixture(autouse=True)
def quick_hashes(settings: Any) -> None:
    """Passwords hashed the quick way: the slow way is the framework's to test."""
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
