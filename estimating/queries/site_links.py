"""Links to the zones of an estimate as they are shown, and who comes by one."""

from __future__ import annotations

import base64
import binascii
import datetime
import secrets
import uuid
from dataclasses import dataclass

from estimating.models import SiteLink as Row
from rates.actions.companies import digest_secret
from rates.actions.sign_in import Caller
from rates.paging import Page, Wanted, page
from rates.refusals import NotThere
from rates.roles import Role
from rates.scope import reads_of

SECRET_BYTES = 24
LENGTH = 16 + 16 + SECRET_BYTES  # of a token: company, link, secret


@dataclass(frozen=True)
class SiteLink:
    """A link for a crew; its address was shown once, when it was made."""

    id: uuid.UUID
    estimate: uuid.UUID
    title: str
    expires_at: datetime.datetime
    revoked_at: datetime.datetime | None
    made_by: uuid.UUID
    created_at: datetime.datetime

    @property
    def tag(self) -> str:
        """Moves where it is revoked."""
        return f"{self.id.hex}-{'revoked' if self.revoked_at else 'stands'}"

    def holds_at(self, now: datetime.datetime) -> bool:
        """Whether it lets anybody in at that time."""
        return self.revoked_at is None and self.expires_at > now


@dataclass(frozen=True)
class Visitor:
    """Who comes by a link: as a caller who may do nothing else, and the estimate that it is about."""

    caller: Caller
    estimate: uuid.UUID


def show_link(row: Row) -> SiteLink:
    """A stored link."""
    return SiteLink(row.pk, row.estimate_id, row.title, row.expires_at, row.revoked_at, row.made_by_id, row.created_at)


def site_links(*, company: uuid.UUID, wanted: Wanted, estimate: uuid.UUID | None = None) -> Page[SiteLink]:
    """The company's links, those that hold no more included."""
    rows = Row.objects.of(company)
    if estimate is not None:
        rows = rows.filter(estimate_id=estimate)
    return page(rows, wanted, orderings={"created_at": "id", "expires_at": "expires_at"}, show=show_link)


def site_link(*, company: uuid.UUID, id: uuid.UUID) -> SiteLink:
    """One link; NotThere."""
    row = Row.objects.of(company).filter(pk=id).first()
    if row is None:
        raise NotThere
    return show_link(row)


def token_of(company: uuid.UUID, link: uuid.UUID, secret: bytes) -> str:
    """The last part of a link's address."""
    return base64.urlsafe_b64encode(company.bytes + link.bytes + secret).decode().rstrip("=")


def visitor(*, token: str, now: datetime.datetime) -> Visitor:
    """Who comes by a token; NotThere for one that does not hold, whatever the reason.

    A link ends with the membership of whoever gave it.
    """
    try:
        told = base64.b64decode(token + "=" * (-len(token) % 4), altchars=b"-_", validate=True)
    except (binascii.Error, ValueError):
        raise NotThere from None
    if len(told) != LENGTH:
        raise NotThere
    company, id, secret = uuid.UUID(bytes=told[:16]), uuid.UUID(bytes=told[16:32]), told[32:]
    if token != token_of(company, id, secret):  # bits of its last letter that no byte has
        raise NotThere
    with reads_of(company):
        row = Row.objects.of(company).select_related("company", "made_by").filter(pk=id).first()
    kept = row.digest if row is not None else ""
    if not secrets.compare_digest(kept, digest_secret(secret.hex())) or row is None:
        raise NotThere
    if not show_link(row).holds_at(now) or row.made_by.removed_at is not None:
        raise NotThere
    settings = row.company
    caller = Caller(
        company=company,
        company_name=settings.name,
        unit_system=settings.unit_system,
        currency=settings.currency,
        time_zone=settings.time_zone,
        member=row.made_by_id,
        name=row.title,
        role=Role.VIEWER,
        key=row.pk,
        scopes=frozenset(),
    )
    return Visitor(caller, row.estimate_id)
