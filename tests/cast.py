"""A fixed cast for tests with a database: two companies, their people, their keys, an approved edition."""

from __future__ import annotations

import datetime
import gzip
import json
import uuid
from dataclasses import dataclass
from typing import Any

from django.db import connection
from django.test import Client

from api.database_rules import RULES
from rates.actions import accounts, books, companies, editions, people
from rates.refusals import ANY_STATE
from rates.roles import SCOPES
from tests.described import hold
from tests.worked_cases import read_case

NOW = datetime.datetime(2026, 11, 1, 12, tzinfo=datetime.UTC)
# For what has to lie ahead of the clock: a date that is written down is past one day
IN_A_MONTH = (datetime.datetime.now(datetime.UTC) + datetime.timedelta(days=30)).strftime("%Y-%m-%dT%H:%M:%SZ")


PASSWORD = "lintel over sill 7"


@dataclass(frozen=True)
class Office:
    """One company with a drafter, an approver and an approved edition."""

    company: uuid.UUID
    drafter: uuid.UUID
    approver: uuid.UUID
    key: str
    approver_key: str
    rate_book: uuid.UUID
    edition: uuid.UUID


def approve(company: uuid.UUID, book: uuid.UUID, drafter: uuid.UUID, approver: uuid.UUID, document: Any) -> uuid.UUID:
    """The id of a new approved edition."""
    whole = editions.draft_edition(company=company, rate_book=book, member=drafter, document=document, now=NOW)
    id = whole.edition.id
    editions.submit(company=company, id=id, member=drafter, expected=ANY_STATE, now=NOW)
    digest = whole.edition.digest
    editions.approve(company=company, id=id, member=approver, reviewed=digest, expected=ANY_STATE, now=NOW)
    return id


def make_office(name: str = "Office", document: Any = None) -> Office:
    """A company with all it needs to cost the golden request."""
    company = companies.make_company(name=name, currency="USD", now=NOW)
    drafter = companies.make_member(company=company, name="Drafter", now=NOW)
    approver = companies.make_member(company=company, name="Approver", now=NOW)
    every = sorted(SCOPES)
    key = companies.make_key(company=company, member=drafter, title="drafter", scopes=every, now=NOW)
    other = companies.make_key(company=company, member=approver, title="approver", scopes=every, now=NOW)
    book = books.make_book(company=company, name="Rates", now=NOW)
    edition = approve(company, book.id, drafter, approver, document or read_case("golden", "edition.json"))
    return Office(company, drafter, approver, key.secret, other.secret, book.id, edition)


def make_person(office: Office, role: str, email: str) -> Any:
    """A client with the session of a new member of that role, who has accepted the invitation."""
    invited = people.invite(company=office.company, name=role.title(), email=email, role=role, now=NOW)
    accounts.accept(invitation=invited.invitation, password=PASSWORD, now=NOW)
    client = Client(raise_request_exception=False)
    answer = Api(None, client).post("/v1/session", {"email": email, "password": PASSWORD})
    assert answer.status_code == 201, answer.content
    return Api(None, client)


class Api:
    """A client of the API with one access key."""

    def __init__(self, key: str | None, client: Client | None = None) -> None:
        self.client = client or Client(raise_request_exception=False)
        self.key = key

    def send(self, method: str, path: str, body: Any = None, **fields: str) -> Any:
        """The response to one request; fields are header fields, `_` for `-`."""
        headers = {name.replace("_", "-"): value for name, value in fields.items()}
        if self.key is not None:
            headers.setdefault("Authorization", f"Bearer {self.key}")
        content_type = headers.pop("Content-Type", "application/json")
        data = body if isinstance(body, bytes | str) else json.dumps(body) if body is not None else ""
        answer: Any = self.client.generic(
            method, path, data, content_type=content_type if data else "", headers=headers
        )
        if not answer.streaming:
            content = answer.content
            if answer.headers.get("Content-Encoding") == "gzip":
                content = gzip.decompress(content)
            hold(method, path, answer.status_code, answer.headers.get("Content-Type", ""), content)
        return answer

    def get(self, path: str, **fields: str) -> Any:
        return self.send("GET", path, **fields)

    def post(self, path: str, body: Any = None, **fields: str) -> Any:
        return self.send("POST", path, body, **fields)

    def estimate(self, request: Any, wait: int | None = 10, key: str | None = None) -> Any:
        """The response to a request for an estimate under a fresh Idempotency-Key."""
        fields = {"Prefer": f"wait={wait}"} if wait is not None else {}
        return self.post("/v1/estimates", request, Idempotency_Key=key or str(uuid.uuid4()), **fields)


def lift_rules() -> None:
    """Takes the database's own rules away, so that rows can be deleted after a test; the flush puts them back."""
    with connection.cursor() as cursor:
        for rule in RULES:
            on_table = f" ON {rule.table}" if connection.vendor == "postgresql" else ""
            cursor.execute(f"DROP TRIGGER IF EXISTS {rule.name}{on_table}")
