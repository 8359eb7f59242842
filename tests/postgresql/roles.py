"""The service's role for a while: what the tests' own role makes, it only sees through the policies."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from django.conf import settings
from django.db import connection
from django.db.backends.signals import connection_created


def take_role(connection: Any, **_: Any) -> None:
    """Makes a connection that of the service's role."""
    with connection.cursor() as cursor:
        cursor.execute(f"SET ROLE {settings.APPLICATION_ROLE}")


@contextmanager
def as_service() -> Iterator[None]:
    """Everything inside is done by the service's role, in other threads too."""
    connection_created.connect(take_role, dispatch_uid="service role")
    take_role(connection)
    try:
        yield
    finally:
        connection_created.disconnect(dispatch_uid="service role")
        with connection.cursor() as cursor:
            cursor.execute("RESET ROLE")
