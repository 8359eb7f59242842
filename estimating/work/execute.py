"""Works on one claimed run from its snapshot and ends it: costed, refused, queued again or failed."""

from __future__ import annotations

import datetime
import logging
from collections.abc import Callable

from estimating.collector import collector_paused
from estimating.core.job import Job
from estimating.models import Run
from estimating.work import compare, cost
from estimating.work.heartbeat import ClaimLost, kept_alive
from estimating.work.queue import Claim, claim_next, end, give_back
from rates.core.problems import Refused
from rates.scope import changes_of

log = logging.getLogger(__name__)
KINDS = {"estimate": cost, "comparison": compare}
Ended = Callable[[], None]


def utc_now() -> datetime.datetime:
    """The clock of this process: an edge of the program."""
    return datetime.datetime.now(datetime.UTC)


def execute(claim: Claim, *, job: Job | None = None, ended: Ended | None = None) -> str:
    """The state that the run came to, or "lost" where its result was thrown away.

    `job` spares reading the request again where the caller has just read it. `ended` runs inside the transaction that
    stores the result, so that both are kept or neither.
    """
    subject = KINDS[claim.kind]
    try:
        with kept_alive(claim) as pulse, collector_paused():
            result = subject.compute(claim, pulse.report, job)
            with changes_of(claim.company):
                if not end(claim, "costed"):
                    return lost(claim)
                subject.store(claim, result, utc_now())
                if ended is not None:
                    ended()
            del result  # before the collector looks through all that is alive
    except Refused as refusal:
        return refuse(claim, refusal, ended)
    except ClaimLost:
        return lost(claim)
    except Exception as fault:
        log.exception("run failed", extra={"run": str(claim.run), "attempt": claim.attempt})
        return give_back(claim, type(fault).__name__)
    return "costed"


def refuse(claim: Claim, refusal: Refused, ended: Ended | None) -> str:
    """Ends the run as refused, with every reason."""
    with changes_of(claim.company):
        if not end(claim, "refused"):
            return lost(claim)
        KINDS[claim.kind].store_refusal(claim, refusal)
        if ended is not None:
            ended()
    return "refused"


def lost(claim: Claim) -> str:
    """Notes that a result came too late."""
    log.warning("result thrown away: the claim was lost", extra={"run": str(claim.run), "attempt": claim.attempt})
    return "lost"


def work_off(most: int | None = None) -> int:
    """How many runs were worked on until none waited, or `most`."""
    count = 0
    while most is None or count < most:
        claim = claim_next()
        if claim is None:
            break
        execute(claim)
        count += 1
    return count


def waiting() -> int:
    """How many runs wait to be claimed."""
    return Run.objects.filter(state="queued").count()
