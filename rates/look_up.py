"""Look-ups that stand before most answers, put to the database driver itself.

Written out in SQL, because the ORM takes longer to make such a query than the database to answer it; and not by way of
the framework's cursors, which cost as much again. Errors are the framework's; transactions and company scopes hold.
"""

from __future__ import annotations

import uuid
from functools import cache
from typing import Any

from django.db import DEFAULT_DB_ALIAS, connections


def first_row(query: str, *values: Any) -> tuple[Any, ...] | None:
    """The first row of a query, None where there is none; a value stands in it as %s. DatabaseError."""
    database = connections[DEFAULT_DB_ALIAS]
    if database.vendor != "postgresql":
        query, values = question_marks(query), tuple(v.hex if type(v) is uuid.UUID else v for v in values)
    database.close_if_health_check_failed()  # as the framework's cursors do: the server may have gone and come back
    database.ensure_connection()
    with database.wrap_database_errors:
        row: tuple[Any, ...] | None = database.connection.execute(query, values).fetchone()
    return row


@cache
def question_marks(query: str) -> str:
    """A query of ours as SQLite takes it."""
    return query.replace("%s", "?")
