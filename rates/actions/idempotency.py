"""Idempotency records: the first answer to a POST with a key, kept and given again.

A record is opened in the transaction of the change it stands for. Its unique constraint lets one of two simultaneous
senders through; the other's transaction is undone as a whole. An answer that shows a secret is never kept.
"""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Mapping
from dataclasses import dataclass

from django.db import IntegrityError, transaction

from rates import models
from rates.deletion import delete_some
from rates.documents import compress, decompress

KEPT_FOR = datetime.timedelta(hours=48)


class KeyTaken(Exception):
    """Another request with this key came first."""


@dataclass(frozen=True)
class Record:
    """What is kept of the first answer; status is None while the first is in flight."""

    id: uuid.UUID
    fingerprint: str
    subject: uuid.UUID | None
    secret: bool
    status: int | None
    headers: Mapping[str, str]
    body: bytes
    created_at: datetime.datetime


def find(*, company: uuid.UUID, owner: uuid.UUID, key: str) -> Record | None:
    """The record of this key, if any."""
    row = models.IdempotencyRecord.objects.of(company).filter(owner=owner, key=key).first()
    if row is None:
        return None
    body = decompress(row.body) if row.body is not None else b""
    return Record(row.id, row.fingerprint, row.subject, row.secret, row.status, row.headers, body, row.created_at)


def open_record(
    *, company: uuid.UUID, owner: uuid.UUID, key: str, fingerprint: str, now: datetime.datetime
) -> uuid.UUID:
    """The id of a new record, its answer still to come; KeyTaken. To be called inside the change's transaction."""
    try:
        with transaction.atomic():
            row = models.IdempotencyRecord.objects.add(
                company=company, owner=owner, key=key, fingerprint=fingerprint, created_at=now
            )
    except IntegrityError:
        raise KeyTaken from None
    return row.pk


def await_run(*, company: uuid.UUID, id: uuid.UUID, subject: uuid.UUID) -> None:
    """Notes the run that the answer waits for: should this process die, the run still tells what became of it."""
    models.IdempotencyRecord.objects.of(company).filter(pk=id).update(subject=subject)


def close_record(
    *, company: uuid.UUID, id: uuid.UUID, status: int, headers: Mapping[str, str], body: bytes, secret: bool = False
) -> None:
    """Keeps the first answer; of one with a secret only that there was one."""
    kept = None if secret else compress(body)
    models.IdempotencyRecord.objects.of(company).filter(pk=id, status=None).update(
        status=status, headers=dict(headers), body=kept, secret=secret
    )


def forget_old(*, company: uuid.UUID, now: datetime.datetime, most: int) -> int:
    """How many records past their time were deleted, `most` at most."""
    return delete_some(models.IdempotencyRecord.objects.of(company).filter(created_at__lt=now - KEPT_FOR), most)
