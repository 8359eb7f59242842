"""Fixtures of the tests over HTTP: an office and a client with its key."""

from __future__ import annotations

import pytest

from tests.cast import Api, Office, make_office


@pytest.fixture
def office(transactional_db: None) -> Office:
    return make_office()


@pytest.fixture
def api(office: Office) -> Api:
    return Api(office.key)
