"""For whom everything is done: the scope of one company, around all that one request or one run reads and writes."""

from __future__ import annotations

import uuid
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext

from django.db import connection, transaction

SETTING = "sillwright.company"  # of the database session, read by its policies
WITHOUT_COMPANY = {
    "rates.Company": "is the company itself",
    "rates.Person": "a person may belong to several companies",
    "rates.SignInFailures": "counted before anybody is known",
    "rates.Member": "a person's companies are looked up before one is chosen",
    "rates.AccessKey": "looked up by prefix before the company is known",
    "estimating.Run": "the queue: ids, states and leases, never content",
    "estimating.WorkerBeat": "signs of life of the workers",
}


class CompanyMissing(RuntimeError):
    """A read or write of company-owned rows that names no company: a fault of the program, never of a client."""


@contextmanager
def company(id: uuid.UUID) -> Iterator[uuid.UUID]:
    """Stands around all that is read and written for one company, inside a transaction.

    On PostgreSQL it tells the database whose rows may be seen until the transaction ends or this scope does:
    row-level security is the second layer. Outside a transaction it raises, for there the setting would be gone with
    the next statement and every read silently empty. SQLite has the first layer alone.
    """
    require_company(id)
    if connection.vendor != "postgresql":
        yield id
        return
    if not connection.in_atomic_block:
        raise CompanyMissing("the rows of a company are reached inside a transaction")
    before = set_company(str(id))
    yield id
    if not connection.needs_rollback:  # an undone transaction takes the setting back by itself
        set_company(before)


def require_company(id: uuid.UUID) -> None:
    """CompanyMissing for anything but an id."""
    if not isinstance(id, uuid.UUID):
        raise CompanyMissing("a company's id is expected")


def set_company(id: str) -> str:
    """What the database's setting was before; "" stands for none."""
    with connection.cursor() as cursor:
        cursor.execute(f"SELECT current_setting('{SETTING}', true), set_config('{SETTING}', %s, true)", [id])
        return cursor.fetchone()[0] or ""


@contextmanager
def changes_of(id: uuid.UUID) -> Iterator[uuid.UUID]:
    """A transaction for one company."""
    with transaction.atomic(), company(id):
        yield id


def reads_of(id: uuid.UUID) -> AbstractContextManager[uuid.UUID]:
    """Reads for one company: a short transaction on PostgreSQL, none on SQLite, where it would take the write lock."""
    if connection.vendor == "postgresql":
        return changes_of(id)
    require_company(id)
    return nullcontext(id)
