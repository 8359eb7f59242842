"""Schemas of what is answered about people, keys, sessions and the audit."""

from __future__ import annotations

from typing import Annotated, Any, TypedDict

from api.rest.schemas.records import Json, called, of_dataclass, schema_of
from estimating.outputs.documents.scalars import Id, Named
from rates import roles
from rates.queries import audit, companies, members
from rates.roles import SCOPES

Right = Annotated[str, Named("Right", words=tuple(SCOPES))]
Role = Annotated[str, Named("Role", words=tuple(roles.Role.values))]


class SignedInPerson(TypedDict):
    """Who has signed in."""

    name: str | None
    email: str


class PlaceOfWork(TypedDict):
    """A company that the person may choose."""

    company: Id
    name: str
    role: Role
    known_as: Annotated[str, "the name by which it knows the person"]


class Session(TypedDict):
    """A session in a browser."""

    person: SignedInPerson | None
    company: Annotated[Id | None, "the company worked for"]
    companies: list[PlaceOfWork]
    role: Role | None
    scopes: list[Right]
    csrf_token: Annotated[str, "to be sent as X-CSRFToken with every change"]


def once(schema: Json, title: str, name: str, doc: str) -> Json:
    """A record with what is shown when it is made and never again."""
    properties = schema["properties"] | {name: {"type": "string", "description": doc}}
    return called(title, schema, properties=properties, required=[*schema["required"], name])


def saying(schema: Json, **properties: Json) -> Json:
    """A record with some of its fields told in full."""
    return schema | {"properties": schema["properties"] | properties}


ANYTHING: Any = {"description": "as the subject's own address answers it; null: there was nothing"}
KEY = saying(of_dataclass(companies.AccessKey), scopes=schema_of(list[Right]))
MEMBER = saying(of_dataclass(members.Member), role=schema_of(Role))
SCHEMAS: Json = {
    "Company": of_dataclass(companies.Company),
    "AccessKey": KEY,
    "NewAccessKey": once(KEY, "NewAccessKey", "access_key", "the secret, shown this once"),
    "Member": MEMBER,
    "NewMember": once(MEMBER, "NewMember", "invitation", "to be accepted within its time, shown this once"),
    "AuditEntry": saying(of_dataclass(audit.AuditEntry), before=ANYTHING, after=ANYTHING),
    "Session": schema_of(Session),
}
SCHEMAS["Company"]["required"].remove("margin_floor")  # not for who may not see costs
