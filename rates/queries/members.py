"""Members of a company, and the companies of a person, as they are shown."""

from __future__ import annotations

import datetime
import uuid
from dataclasses import dataclass

from rates import models
from rates.paging import Page, Wanted, page
from rates.refusals import NotThere


@dataclass(frozen=True)
class Member:
    """A person in a company."""

    id: uuid.UUID
    name: str
    email: str | None
    role: str
    invited_until: datetime.datetime | None
    joined_at: datetime.datetime | None
    removed_at: datetime.datetime | None
    created_at: datetime.datetime
    version: int

    @property
    def tag(self) -> str:
        return f"{self.id.hex}-{self.version}"


@dataclass(frozen=True)
class Place:
    """A company that a person may choose, and the role there."""

    company: uuid.UUID
    name: str
    role: str


def show_member(row: models.Member) -> Member:
    """A member's row as shown."""
    return Member(
        id=row.id,
        name=row.name or row.person.name,
        email=row.person.email,
        role=row.role,
        invited_until=row.invited_until if row.joined_at is None else None,
        joined_at=row.joined_at,
        removed_at=row.removed_at,
        created_at=row.created_at,
        version=row.version,
    )


def members(*, company: uuid.UUID, wanted: Wanted) -> Page[Member]:
    """The company's members, removed ones included."""
    rows = models.Member.objects.of(company).select_related("person")
    return page(rows, wanted, orderings={"created_at": "id", "name": "name"}, show=show_member)


def member(*, company: uuid.UUID, id: uuid.UUID) -> Member:
    """One member; NotThere."""
    row = models.Member.objects.of(company).select_related("person").filter(pk=id).first()
    if row is None:
        raise NotThere
    return show_member(row)


@dataclass(frozen=True)
class Person:
    """A person who may sign in; `password` is hashed."""

    id: uuid.UUID
    name: str
    email: str | None
    password: str


def find_person(*, id: uuid.UUID) -> Person | None:
    """The person of an id."""
    row = models.Person.objects.filter(pk=id).first()
    return Person(row.id, row.name, row.email, row.password) if row is not None else None


def places(*, person: uuid.UUID) -> list[Place]:
    """The companies that a person has joined."""
    rows = models.Member.anywhere.filter(person=person, removed_at=None, joined_at__isnull=False)
    return [Place(row.company_id, row.company.name, row.role) for row in rows.select_related("company").order_by("id")]
