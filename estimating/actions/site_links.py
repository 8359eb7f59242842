"""Links for crews given out and revoked."""

from __future__ import annotations

import datetime
import secrets
import uuid
from dataclasses import dataclass

from django.db import transaction

from estimating.actions.job_records import require_estimate
from estimating.models import SiteLink as Row
from estimating.queries import site_links as shown
from rates.actions.companies import digest_secret
from rates.core.problems import Problem, Refused
from rates.refusals import Expected, NotThere


@dataclass(frozen=True)
class NewSiteLink:
    """A link, and its address on this service, which is shown this once."""

    link: shown.SiteLink
    site_address: str


LONGEST = datetime.timedelta(days=366)


@transaction.atomic
def give(
    *,
    company: uuid.UUID,
    member: uuid.UUID,
    estimate: uuid.UUID,
    title: str,
    expires_at: datetime.datetime,
    now: datetime.datetime,
) -> NewSiteLink:
    """A new link, its address shown this once; Conflict until costed, Refused for a time past or far away."""
    require_estimate(company, estimate)
    if not now < expires_at <= now + LONGEST:
        raise Refused([Problem("/expires_at", "out_of_bounds", "a link ends after now, and within a year")])
    secret = secrets.token_bytes(shown.SECRET_BYTES)
    row = Row.objects.add(
        company=company,
        estimate_id=estimate,
        title=title,
        digest=digest_secret(secret.hex()),
        expires_at=expires_at,
        made_by_id=member,
        created_at=now,
    )
    return NewSiteLink(shown.show_link(row), f"/on-site/{shown.token_of(company, row.pk, secret)}")


@transaction.atomic
def revoke(*, company: uuid.UUID, id: uuid.UUID, expected: Expected, now: datetime.datetime) -> shown.SiteLink:
    """The link, which lets nobody in from the next request on; NotThere, Stale."""
    row = Row.objects.of(company).select_for_update().filter(pk=id).first()
    if row is None:
        raise NotThere
    expected.check(shown.show_link(row))
    row.revoked_at = row.revoked_at or now
    row.save()
    return shown.show_link(row)
