"""The company's feed: what came to be, numbered in the order of commits."""

from __future__ import annotations

import datetime
import uuid

from django.db.models import F

from estimating.models import Change
from rates.models import Company


def note_change(*, company: uuid.UUID, kind: str, subject: uuid.UUID, now: datetime.datetime) -> int:
    """The number of a new line of the feed.

    The company's row is held until the transaction ends, so numbers become visible in their order and a reader that
    has seen n never misses one below it.
    """
    Company.objects.filter(pk=company).update(last_change=F("last_change") + 1)
    number = Company.objects.values_list("last_change", flat=True).get(pk=company)
    Change.objects.add(company=company, number=number, kind=kind, subject=subject, at=now)
    return int(number)
