"""What is kept for a time is deleted when it is over: answers under a key, signs of life, sessions, wrong sign-ins.

Once an hour; a round takes so many rows of each kind and company, and where it was not enough the next sweep goes on.
"""

from __future__ import annotations

import datetime
import logging
from dataclasses import dataclass

from django.contrib.sessions.models import Session

from estimating.work import beats
from rates.actions import idempotency, passwords
from rates.deletion import delete_some
from rates.queries.companies import every_company
from rates.scope import changes_of

log = logging.getLogger(__name__)
EVERY = datetime.timedelta(hours=1)
BATCH = 1000  # rows


def delete_old(now: datetime.datetime, most: int) -> list[int]:
    """How many rows were deleted of each kind and company; `most` of one says that there may be more."""
    counts = [
        beats.forget_old(now=now, most=most),
        passwords.forget_old(now=now, most=most),
        delete_some(Session.objects.filter(expire_date__lt=now), most),
    ]
    for company in every_company():
        with changes_of(company):
            counts.append(idempotency.forget_old(company=company, now=now, most=most))
    return counts


@dataclass
class Cleaning:
    """When this worker cleans next."""

    due: datetime.datetime = datetime.datetime.min.replace(tzinfo=datetime.UTC)
    batch: int = BATCH

    def clean(self, now: datetime.datetime) -> None:
        """Deletes what is old, where it is time to."""
        if now < self.due:
            return
        counts = delete_old(now, self.batch)
        self.due = now if self.batch in counts else now + EVERY
        if any(counts):
            log.info("old rows deleted", extra={"rows": sum(counts)})


cleaning = Cleaning()
