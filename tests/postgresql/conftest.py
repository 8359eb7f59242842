"""Tests that only PostgreSQL can answer; collected where DATABASE_URL names one (tests/test_on_postgresql.py does)."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from django.conf import settings
from django.db import connection

from api.isolation import apply_isolation
from api.management.commands.prepare_database import make_role
from tests.cast import Office, lift_rules, make_office
from tests.postgresql.roles import as_service
from tests.service import TEST_PASSWORD

POSTGRESQL = "postgresql" in settings.DATABASES["default"]["ENGINE"]
collect_ignore_glob = [] if POSTGRESQL else ["test_*.py"]


@pytest.fixture(scope="session")
def django_db_setup(django_db_setup: None, django_db_blocker: pytest.FixtureRequest) -> None:
    """The test database with the service's and the backup's role; whoever named them drops them."""
    with django_db_blocker.unblock():  # type: ignore[attr-defined]
        make_role(settings.APPLICATION_ROLE, "NOBYPASSRLS", TEST_PASSWORD)
        make_role(settings.DUMP_ROLE, "BYPASSRLS", TEST_PASSWORD)
        apply_isolation(connection)


@pytest.fixture
def rules(transactional_db: None) -> Iterator[None]:
    """The database with its rules; they are lifted for the flush after the test."""
    yield
    lift_rules()


@pytest.fixture
def offices(rules: None) -> tuple[Office, Office]:
    """Two companies with the same names."""
    return make_office("Twin"), make_office("Twin")


@pytest.fixture
def service(offices: tuple[Office, Office]) -> Iterator[tuple[Office, Office]]:
    """The two companies, seen by the service's role."""
    with as_service():
        yield offices
