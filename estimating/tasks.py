"""What Celery does here: one task that says "poll now". Nothing is lost with a message; the run rows know all."""

from __future__ import annotations

import logging

from celery import shared_task
from django.conf import settings
from kombu.exceptions import OperationalError

from estimating.work.beats import hear
from estimating.work.execute import work_off

log = logging.getLogger(__name__)


@shared_task(name="estimating.poll_now", ignore_result=True, acks_late=False)
def poll_now() -> int:
    """How many runs were worked on until none waited."""
    hear()
    return work_off()


def ask_for_work() -> None:
    """Tells the workers to poll now where there is a broker; a broker that is away costs nothing but the hint."""
    if not settings.REDIS_URL:
        return
    try:
        poll_now.apply_async(retry=False, ignore_result=True)
    except (OperationalError, OSError) as away:
        log.warning("no message sent, workers will find the run by polling", extra={"reason": type(away).__name__})
