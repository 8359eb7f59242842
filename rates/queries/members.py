"""Members of a company, and the companies of a person, as they are shown."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Collection, Iterable
from dataclasses import dataclass

from rates import models
from rates.identity import read_id
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
    """A company that a person may choose, the role there, and the name by which it knows the person."""

    company: uuid.UUID
    name: str
    role: str
    known_as: str


def show_member(row: models.Member) -> Member:
    """A member's row as shown."""
    return Member(
        id=row.id,
        name=row.name,
        email=row.email,
        role=row.role,
        invited_until=row.invited_until if row.invitation else None,
        joined_at=row.joined_at,
        removed_at=row.removed_at,
        created_at=row.created_at,
        version=row.version,
    )


def members(*, company: uuid.UUID, wanted: Wanted) -> Page[Member]:
    """The company's members, removed ones included."""
    rows = models.Member.objects.of(company)
    return page(rows, wanted, orderings={"created_at": "id", "name": "name"}, show=show_member)


def member(*, company: uuid.UUID, id: uuid.UUID) -> Member:
    """One member; NotThere."""
    row = models.Member.objects.of(company).filter(pk=id).first()
    if row is None:
        raise NotThere
    return show_member(row)


@dataclass(frozen=True)
class Person:
    """A person who may sign in; `password` is hashed."""

    id: uuid.UUID
    email: str
    password: str


def find_people(*, ids: Collection[uuid.UUID]) -> list[Person]:
    """The people of these ids."""
    rows = models.Person.objects.filter(pk__in=list(ids)).order_by("id")
    return [Person(row.id, row.email, row.password) for row in rows]


def places(*, people: Collection[uuid.UUID]) -> list[Place]:
    """The companies that a person has joined, or somebody who signed in as several at once."""
    rows = models.Member.anywhere.filter(person__in=list(people), removed_at=None, joined_at__isnull=False)
    found = rows.select_related("company").order_by("id")
    return [Place(row.company_id, row.company.name, row.role, row.name) for row in found]


def accounts(*, email: str) -> dict[uuid.UUID, list[Place]]:
    """The people who sign in by an address, each with the companies joined."""
    people = models.Person.objects.filter(email=email.strip().lower()).order_by("id")
    return {row.pk: places(people=[row.pk]) for row in people}


def member_names(*, company: uuid.UUID, ids: Iterable[str]) -> dict[str, str]:
    """The names of members by id, as text; of those that there are."""
    wanted = [id for text in ids if (id := read_id(text)) is not None]
    rows = models.Member.objects.of(company).filter(pk__in=wanted)
    return {str(row.id): row.name for row in rows}
