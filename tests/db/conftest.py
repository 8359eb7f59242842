"""Fixtures of the tests with a database: an office that can cost the golden request."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.cast import Office, lift_rules, make_office


@pytest.fixture
def rules(transactional_db: None) -> Iterator[None]:
    """The database with its rules; they are lifted for the flush after the test."""
    yield
    lift_rules()


@pytest.fixture
def office(rules: None) -> Office:
    return make_office()
