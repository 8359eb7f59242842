"""Fixtures of the tests over HTTP: an office and a client with its key."""

from __future__ import annotations

from collections.abc import Iterator
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
def fresh_windows() -> None:
    """No test counts the requests of another: they share an address."""
    auth._windows.clear()


@pytest.fixture(autouse=True)
def quick_hashes(settings: Any) -> None:
    """Passwords hashed the quick way: the slow way is the framework's to test."""
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
