"""Whether an exception says that the service can't do its work for now: a database away, a disk full."""

from __future__ import annotations

import errno
import sqlite3

from django.db import InterfaceError, OperationalError
from django.db.utils import Error

# https://www.sqlite.org/rescode.html: what another moment or another disk would mend
SQLITE = {
    sqlite3.SQLITE_BUSY,
    sqlite3.SQLITE_LOCKED,
    sqlite3.SQLITE_READONLY,
    sqlite3.SQLITE_IOERR,
    sqlite3.SQLITE_FULL,
    sqlite3.SQLITE_CANTOPEN,
}
# https://www.postgresql.org/docs/current/errcodes-appendix.html: connections, resources, an operator's intervention,
# the system's own errors, a transaction that gave way to another
CLASSES = ("08", "53", "57", "58", "40")
STATES = ("25006", "55P03")  # a server that only reads, as after a failover; a lock not had in time
SYSTEM = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EROFS, errno.EMFILE, errno.ENFILE, errno.ENOMEM}


def is_unavailable(fault: BaseException | None) -> bool:
    """Whether the same request may well succeed later, without anything in it having changed."""
    if isinstance(fault, OSError):
        return fault.errno in SYSTEM
    if not isinstance(fault, Error):
        return False
    cause = fault.__cause__
    if isinstance(cause, sqlite3.Error):
        return getattr(cause, "sqlite_errorcode", 0) & 0xFF in SQLITE
    state = getattr(cause, "sqlstate", None)
    if state is None:  # the driver's own: no connection, or none any more
        return isinstance(fault, OperationalError | InterfaceError)
    return str(state).startswith(CLASSES) or state in STATES


def is_without_tables(fault: BaseException) -> bool:
    """Whether a table or a column is missing that the migrations make."""
    cause = fault.__cause__
    if isinstance(cause, sqlite3.Error):
        return str(cause).startswith(("no such table", "no such column"))
    return getattr(cause, "sqlstate", None) in ("42P01", "42703")
