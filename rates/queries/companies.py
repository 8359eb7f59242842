"""Companies, members and access keys, as they are shown."""

from __future__ import annotations

import datetime
import uuid
from dataclasses import dataclass

from rates import models
from rates.core.length_styles import LengthStyle
from rates.paging import Page, Wanted, page
from rates.refusals import NotThere


@dataclass(frozen=True)
class Company:
    """One company."""

    id: uuid.UUID
    name: str
    currency: str
    unit_system: str
    rounding: str
    sales_tax_by: str
    cost_codes: dict[str, str]
    time_zone: str
    length_style: str
    length_denominator: int
    discount_limit: str | None
    estimator_discount_limit: str | None
    margin_floor: str | None
    rate_move_limit: str
    second_approval: bool
    invented: bool
    created_at: datetime.datetime
    version: int

    @property
    def tag(self) -> str:
        return f"{self.id.hex}-{self.version}"


@dataclass(frozen=True)
class AccessKey:
    """One access key, never its secret."""

    id: uuid.UUID
    title: str
    prefix: str
    scopes: tuple[str, ...]
    member: uuid.UUID
    expires_at: datetime.datetime | None
    revoked_at: datetime.datetime | None
    last_used_at: datetime.datetime | None
    created_at: datetime.datetime
    version: int

    @property
    def tag(self) -> str:
        used = f"{self.last_used_at.timestamp():.0f}" if self.last_used_at else ""
        return f"{self.id.hex}-{self.version}-{used}"


def show_company(row: models.Company) -> Company:
    """A company's row as shown."""
    return Company(
        id=row.id,
        name=row.name,
        currency=row.currency,
        unit_system=row.unit_system,
        rounding=row.rounding,
        sales_tax_by=row.sales_tax_by,
        cost_codes=row.cost_codes,
        time_zone=row.time_zone,
        length_style=row.length_style,
        length_denominator=row.length_denominator,
        discount_limit=row.discount_limit or None,
        estimator_discount_limit=row.estimator_discount_limit or None,
        margin_floor=row.margin_floor or None,
        rate_move_limit=row.rate_move_limit,
        second_approval=row.second_approval,
        invented=row.invented,
        created_at=row.created_at,
        version=row.version,
    )


def show_key(row: models.AccessKey) -> AccessKey:
    """A key's row as shown."""
    return AccessKey(
        id=row.id,
        title=row.title,
        prefix=row.prefix,
        scopes=tuple(row.scopes),
        member=row.member_id,
        expires_at=row.expires_at,
        revoked_at=row.revoked_at,
        last_used_at=row.last_used_at,
        created_at=row.created_at,
        version=row.version,
    )


def company(*, company: uuid.UUID) -> Company:
    """The company itself."""
    return show_company(models.Company.objects.get(pk=company))


def length_style(*, company: uuid.UUID) -> LengthStyle:
    """How the company's people read lengths."""
    settings = models.Company.objects.values_list("length_style", "length_denominator")
    return LengthStyle(*settings.get(pk=company))


def keys(*, company: uuid.UUID, wanted: Wanted) -> Page[AccessKey]:
    """The company's access keys, revoked ones included."""
    rows = models.AccessKey.objects.of(company)
    return page(rows, wanted, orderings={"created_at": "id", "title": "title"}, show=show_key)


def key(*, company: uuid.UUID, id: uuid.UUID) -> AccessKey:
    """One access key; NotThere."""
    row = models.AccessKey.objects.of(company).filter(pk=id).first()
    if row is None:
        raise NotThere
    return show_key(row)


def invented_company() -> uuid.UUID | None:
    """The demo company's id, where it exists."""
    return models.Company.objects.filter(invented=True).values_list("pk", flat=True).first()


def every_company() -> list[uuid.UUID]:
    """The ids of all companies, for duties that each has its turn in."""
    return list(models.Company.objects.order_by("pk").values_list("pk", flat=True))


def any_company() -> bool:
    """Whether the service holds any company at all."""
    return models.Company.objects.exists()
