"""Assumptions signed off, and sign-offs taken back: by a person, each by itself or several at once."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Sequence
from dataclasses import dataclass

from django.db import transaction

from estimating.actions.projects import lock_project
from estimating.models import Estimate, SignOff
from estimating.outputs.assumptions.item import ANSWER
from estimating.outputs.quotes.prepared import Assumed, assumed
from estimating.queries import sign_offs as shown
from estimating.queries.assumptions import found_assumptions
from estimating.queries.estimates import require_costed
from rates.core.problems import Problem, Refused

MOST_SIGNED = 2_000


@dataclass(frozen=True)
class Ready:
    """What is to be signed and taken back of a costed estimate, read against its assumptions."""

    row: Estimate
    items: Sequence[Assumed]
    sign: Sequence[Assumed]
    take_back: Sequence[Assumed]


def prepare(
    *, company: uuid.UUID, id: uuid.UUID, sign: Sequence[str], take_back: Sequence[str]
) -> Ready:  # fmt: skip
    """Sign-offs read against the estimate; NotThere, Conflict until costed, Refused for what it doesn't assume."""
    require_costed(company, id)
    row = Estimate.objects.of(company).get(pk=id)
    items = assumed(found_assumptions(company=company, row=row))
    by_key = {item.key: item for item in items}
    faults = []
    for name, keys in (("sign", sign), ("take_back", take_back)):
        for place, key in enumerate(keys):
            if key not in by_key:
                faults.append(Problem(f"/{name}/{place}", "not_found", "this estimate has no such assumption"))
            elif by_key[key].source == ANSWER:
                faults.append(Problem(f"/{name}/{place}", "answered", "this is an answer; change it on the schedule"))
            elif name == "take_back" and key in sign:
                faults.append(Problem(f"/{name}/{place}", "given_twice", "it is signed by the same request"))
    if faults:
        raise Refused(faults)
    signed, back = ([by_key[key] for key in dict.fromkeys(keys)] for keys in (sign, take_back))
    return Ready(row, items, signed, back)


@transaction.atomic
def write(*, company: uuid.UUID, member: uuid.UUID, ready: Ready, now: datetime.datetime) -> shown.SignOffs:
    """All assumptions of the estimate with their sign-offs; what is signed already stays as it is."""
    row = ready.row
    if row.project_id is not None:
        lock_project(company, row.project_id)
    signed = shown.standing(company=company, row=row)
    for item in ready.sign:
        if item.key not in signed:
            SignOff.objects.add(
                company=company,
                project_id=row.project_id,
                estimate_id=row.pk,
                key=item.key,
                field=item.field[:80],
                value=item.value[:400],
                signed_by_id=member,
                signed_at=now,
            )
    back = {item.key for item in ready.take_back}
    kept = SignOff.objects.of(company).filter(taken_back_at=None, key__in=back)
    kept = kept.filter(estimate_id=row.pk) if row.project_id is None else kept.filter(project_id=row.project_id)
    kept.update(taken_back_by_id=member, taken_back_at=now)
    return shown.show(company, row, ready.items)
