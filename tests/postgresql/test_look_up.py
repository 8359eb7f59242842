"""The look-ups before most answers outlive a database server that went and came back."""

from __future__ import annotations

import psycopg
import pytest
from django.conf import settings
from django.db import DatabaseError, connection

from rates.look_up import first_row


def drop_connection() -> None:
    """Ends the connection of this thread from the server's side."""
    pid = first_row("SELECT pg_backend_pid()")
    assert pid is not None
    with psycopg.connect(dsn(), autocommit=True) as other:
        other.execute("SELECT pg_terminate_backend(%s)", [pid[0]])


def dsn() -> str:
    """The server and database of the tests."""
    wanted = connection.get_connection_params()
    return psycopg.conninfo.make_conninfo(
        **{name: wanted[name] for name in ("dbname", "user", "password", "host", "port") if wanted.get(name)}
    )


@pytest.mark.usefixtures("transactional_db")
def test_the_first_look_up_of_a_request_takes_a_new_connection_where_the_old_one_is_gone() -> None:
    assert settings.DATABASES["default"]["CONN_HEALTH_CHECKS"]
    assert first_row("SELECT %s::int + 1", 1) == (2,)
    drop_connection()
    connection.close_if_unusable_or_obsolete()  # as at the start of each request
    assert first_row("SELECT %s::int + 1", 2) == (3,)


@pytest.mark.usefixtures("transactional_db")
def test_errors_are_the_framework_s() -> None:
    with pytest.raises(DatabaseError):
        first_row("SELECT 1/0")
    assert first_row("SELECT 1 WHERE false") is None
