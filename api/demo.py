"""The invented demo company: rates, people, projects and estimates, loaded into a service that holds nothing yet."""

from __future__ import annotations

import datetime
import json
import os
import secrets
import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from django.db import transaction

from estimating.actions import projects
from estimating.actions.estimates import submit
from estimating.actions.preparation import prepare
from estimating.work.execute import execute
from rates.actions import accounts, books, companies, editions, people
from rates.core.jsontext import read_json
from rates.refusals import ANY_STATE
from rates.roles import Role, scopes_of
from rates.scope import changes_of, company

FOLDER = Path(__file__).resolve().parent.parent / "estimating" / "demo"
ESTIMATOR = ("read", "costs", "rates.read", "estimate", "answers", "matches", "quotes", "rates.draft")
APPROVER = ("read", "costs", "rates.read", "rates.approve")
ROLE_KEYS = {role: f"demo-{role.replace('_', '-')}.key" for role in Role}  # a member of each role, by all that it may
SIGN_IN = "demo-sign-in.txt"  # addresses and passwords of the demo's people
RATES = ("rates.json", "rates-next.json")
REQUESTS = ("clinic-a.json", "clinic-b.json", "hall-a.json", "hall-b.json")


@dataclass(frozen=True)
class Cast:
    """Who and what the demo company has."""

    company: uuid.UUID
    drafter: uuid.UUID
    approver: uuid.UUID
    rate_book: uuid.UUID


@dataclass(frozen=True)
class Loaded:
    """What was loaded."""

    company: uuid.UUID
    estimates: tuple[uuid.UUID, ...]


def load(*, keys: Path, now: datetime.datetime) -> Loaded:
    """The demo company, costed; its access keys are written into the folder `keys`, readable by the owner alone.

    All or nothing: a first start that is ended meanwhile leaves no company, and the next one loads it.
    """
    with transaction.atomic():
        id = companies.make_company(name="Demo company (invented)", currency="USD", now=now, invented=True)
        with company(id):
            cast = make_cast(id, keys, now)
            for name in RATES:
                approve(cast, read(name), now)
            requests = store_requests(cast, [read(name) for name in REQUESTS], now)
        made = tuple(cost(cast, request, datetime.datetime.now(datetime.UTC)) for request in requests)
    return Loaded(cast.company, made)


def read(name: str) -> Any:
    """A document of the demo."""
    return read_json((FOLDER / name).read_bytes())


def make_cast(company: uuid.UUID, keys: Path, now: datetime.datetime) -> Cast:
    """A rate book, and members with a key each: who drafts, who approves, and one of every role, who signs in too."""
    drafter = companies.make_member(company=company, name="Demo drafter (invented)", role=Role.RATE_KEEPER, now=now)
    approver = companies.make_member(company=company, name="Demo approver (invented)", now=now)
    for member, scopes, file in ((drafter, ESTIMATOR, "demo.key"), (approver, APPROVER, "demo-approver.key")):
        give_key(company, member, scopes, keys / file, now)
    passwords = []
    for role, file in ROLE_KEYS.items():
        email, password = f"{role.replace('_', '-')}@demo.example", secrets.token_urlsafe(12)
        member = make_person(company, role, email, password, now)
        give_key(company, member, sorted(scopes_of(role)), keys / file, now)
        passwords.append(f"{email}  {password}")
    write_secret(keys / SIGN_IN, "\n".join(passwords))
    book = books.make_book(company=company, name="Demo rates (invented)", note="Invented rates.", now=now)
    return Cast(company, drafter, approver, book.id)


def make_person(company: uuid.UUID, role: str, email: str, password: str, now: datetime.datetime) -> uuid.UUID:
    """A member who has accepted an invitation and signs in with the password."""
    name = f"Demo {role.replace('_', ' ')} (invented)"
    invited = people.invite(company=company, name=name, email=email, role=role, now=now)
    accounts.accept(invitation=invited.invitation, password=password, now=now)
    return invited.member.id


def give_key(company: uuid.UUID, member: uuid.UUID, scopes: Sequence[str], path: Path, now: datetime.datetime) -> None:
    """A key of a member, written into a file that it is named after."""
    made = companies.make_key(company=company, member=member, title=path.name, scopes=scopes, now=now)
    write_secret(path, made.secret)


def write_secret(path: Path, secret: str) -> None:
    """Writes an access key, or passwords, into a file that only its owner reads."""
    path.unlink(missing_ok=True)
    with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w") as file:
        file.write(secret + "\n")


def approve(cast: Cast, document: Any, now: datetime.datetime) -> None:
    """Drafts, submits and approves an edition of the demo rates."""
    whole = editions.draft_edition(
        company=cast.company, rate_book=cast.rate_book, member=cast.drafter, document=document, now=now
    )
    id = whole.edition.id
    editions.submit(company=cast.company, id=id, member=cast.drafter, expected=ANY_STATE, now=now)
    editions.approve(
        company=cast.company,
        id=id,
        member=cast.approver,
        reviewed=whole.edition.digest,
        expected=ANY_STATE,
        now=now,
    )


def store_requests(cast: Cast, documents: Sequence[dict[str, Any]], now: datetime.datetime) -> list[dict[str, Any]]:
    """Requests whose openings are stored as schedule revisions of their projects."""
    known: dict[str, uuid.UUID] = {}
    requests = []
    for document in documents:
        name = document["project"]
        if name not in known:
            known[name] = projects.make_project(company=cast.company, name=name, now=now).id
        openings = document["openings"]
        schedule = projects.add_schedule(
            company=cast.company,
            project=known[name],
            member=cast.drafter,
            openings=openings,
            source=json.dumps({"openings": openings}, ensure_ascii=False, indent=1).encode(),
            file_name="openings.json",
            media_type="application/json",
            now=now,
            drawing_issue=document["title"],
        )
        rest = {field: value for field, value in document.items() if field not in ("openings", "project")}
        requests.append(rest | {"schedule": str(schedule.id), "rate_book": str(cast.rate_book)})
    return requests


def cost(cast: Cast, request: dict[str, Any], now: datetime.datetime) -> uuid.UUID:
    """The id of a demo request's estimate, costed."""
    with changes_of(cast.company):
        ready = prepare(company=cast.company, request=request, units="imperial", now=now)
        submitted = submit(company=cast.company, member=cast.drafter, prepared=ready, at_once=True, now=now)
    assert submitted.claim is not None
    state = execute(submitted.claim, job=ready.job)
    if state != "costed":
        raise RuntimeError(f"a demo estimate is {state}")
    return submitted.id
