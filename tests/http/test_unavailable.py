"""A database that is full, read-only or away: 503 with Retry-After, nothing kept, and the same key later."""

from __future__ import annotations

import random
import uuid
from collections.abc import Callable, Iterator
from typing import Any

import psycopg
import pytest
from django.db import OperationalError, connection
from django.db.utils import InterfaceError, InternalError, ProgrammingError

from api import health
from api.errors import RETRY_SECONDS
from api.unavailable import is_unavailable
from tests.cast import Api


def pragma(statement: str) -> Any:
    """What a setting of SQLite is."""
    with connection.cursor() as cursor:
        cursor.execute(f"PRAGMA {statement}")
        return (cursor.fetchone() or [None])[0]


@pytest.fixture
def full(rules: None) -> Iterator[Callable[[bool], None]]:
    """Fills the disk: the database may not grow by a page, until it may again."""

    def fill(wanted: bool) -> None:
        with connection.cursor() as cursor:
            cursor.execute("VACUUM")  # of the tests before, pages may be free
        pragma(f"max_page_count = {pragma('page_count') if wanted else 2**31}")

    yield fill
    fill(False)


@pytest.fixture
def read_only(rules: None) -> Iterator[Callable[[bool], None]]:
    """Lets the database be read alone, until it may be written again."""

    def lock(wanted: bool) -> None:
        pragma(f"query_only = {int(wanted)}")

    yield lock
    lock(False)


def large_schedule() -> bytes:
    """A schedule that does not fit into what is free in the database's pages."""
    chance = random.Random(3)
    lines = [f"W{n},1,{chance.randrange(20, 90)} in,{chance.randrange(20, 90)} in,ground" for n in range(3000)]
    return ("Mark,Qty,Width,Height,Access\n" + "\n".join(lines) + "\n").encode()


def is_told(answer: Any) -> bool:
    """Whether an answer says that another time may do."""
    document = answer.json()
    return (answer.status_code, document["type"], answer.headers["Retry-After"]) == (
        503, "/v1/docs#problem-unavailable", "5",
    )  # fmt: skip


def test_a_full_disk_keeps_nothing_and_leaves_the_key_free(api: Api, full: Callable[[bool], None]) -> None:
    project = api.post("/v1/projects", {"name": "Clinic"}).json()["id"]
    path, key = f"/v1/projects/{project}/opening-schedules", str(uuid.uuid4())
    fields = {"Content_Type": "text/csv", "Idempotency_Key": key}
    full(True)
    for _ in range(2):
        assert is_told(api.post(path, large_schedule(), **fields))
    assert api.get(path).json()["items"] == []
    full(False)
    made = api.post(path, large_schedule(), **fields)
    assert made.status_code == 201 and "Idempotent-Replayed" not in made.headers


def test_what_can_be_read_is_read_where_nothing_can_be_written(api: Api, read_only: Callable[[bool], None]) -> None:
    read_only(True)
    assert api.get("/v1/projects").status_code == 200  # the key was never used: its time of last use is not kept
    assert is_told(api.post("/v1/projects", {"name": "Clinic"}))
    assert is_told(api.post("/v1/session", {"email": "a@b.example", "password": "x" * 12}))


def test_readiness_tells_a_database_that_can_not_be_written(api: Api, read_only: Callable[[bool], None]) -> None:
    health.check_writing.cache_clear()
    assert api.get("/readyz").json()["checks"]["database"] == "ready"
    read_only(True)
    health.check_writing.cache_clear()
    told = api.get("/readyz")
    assert (told.status_code, told.json()["checks"]["database"]) == (503, "not_writable")
    assert told.headers["Retry-After"] == RETRY_SECONDS


def as_raised(kind: type[Exception], cause: Exception | None) -> Exception:
    """A fault as the framework raises it for the driver's."""
    fault = kind("of a test")
    fault.__cause__ = cause
    return fault


@pytest.mark.parametrize(
    ("fault", "told"),
    [
        (as_raised(OperationalError, psycopg.OperationalError()), True),  # no connection
        (as_raised(InterfaceError, psycopg.InterfaceError()), True),  # closed
        (as_raised(OperationalError, psycopg.errors.AdminShutdown()), True),
        (as_raised(OperationalError, psycopg.errors.DiskFull()), True),
        (as_raised(OperationalError, psycopg.errors.DeadlockDetected()), True),
        (as_raised(InternalError, psycopg.errors.ReadOnlySqlTransaction()), True),
        (as_raised(ProgrammingError, psycopg.errors.UndefinedTable()), False),
        (as_raised(InternalError, psycopg.errors.InFailedSqlTransaction()), False),
        (OSError(28, "No space left on device"), True),
        (OSError(2, "No such file or directory"), False),
        (ValueError("no"), False),
    ],
)
def test_what_time_alone_may_mend_is_told_from_a_fault(fault: Exception, told: bool) -> None:
    assert is_unavailable(fault) is told


def test_a_table_that_is_missing_is_a_fault_of_ours(rules: None) -> None:
    with pytest.raises(OperationalError) as raised, connection.cursor() as cursor:
        cursor.execute("SELECT * FROM no_such_table")
    assert not is_unavailable(raised.value)
