"""Members of the company, and its audit."""

from __future__ import annotations

import re
from typing import Any

from api.rest.company import as_given
from api.rest.exchange import Answer, Call, listing
from api.rest.plain import plain
from rates.actions import people as actions
from rates.core.fields import Field, Reader, Record, choice, clean_text, shown, text
from rates.core.problems import Unreadable
from rates.queries import audit as audit_queries
from rates.queries import members as queries
from rates.roles import ROLES

EMAIL = re.compile(r"[^@\s,;<>\"]{1,64}@[^@\s,;<>\"]{1,189}")


def parse_email(raw: object) -> str:
    """An address of electronic mail, in small letters; whether it reaches anybody is not asked."""
    value = clean_text(raw, 254).lower()
    if not EMAIL.fullmatch(value):
        raise Unreadable("not_an_address", f"an e-mail address is expected, not {shown(raw)}")
    return value


email = Reader(parse_email, {"type": "string", "format": "email", "maxLength": 254})
role = choice(*ROLES)
NEW_MEMBER = Record(
    as_given,
    (
        Field("name", text(200), "the person's name", required=True),
        Field("email", email, "the address that the person signs in with", required=True),
        Field("role", role, "what the person may do", required=True),
    ),
)
CHANGE_MEMBER = Record(as_given, (Field("name", text(200), "the person's name"), Field("role", role, "the role")))


def members(call: Call) -> Answer:
    """GET /v1/members."""
    return listing(queries.members(company=call.company, wanted=call.wanted))


def show(call: Call) -> Answer:
    """GET /v1/members/{id}."""
    member = queries.member(company=call.company, id=call.id)
    return Answer(member, tag=member.tag)


def invite(call: Call) -> Answer:
    """POST /v1/members: the only answer that shows the invitation."""
    return invited(actions.invite(company=call.company, now=call.now, **call.body))


def renew(call: Call) -> Answer:
    """POST /v1/members/{id}/invitation: a new one, shown this once."""
    return invited(actions.renew(company=call.company, id=call.id, now=call.now))


def invited(made: actions.Invited) -> Answer:
    """A member with the invitation."""
    content: dict[str, Any] = plain(made.member) | {"invitation": made.invitation}
    return Answer(content, status=201, tag=made.member.tag, location=f"/v1/members/{made.member.id}", secret=True)


def change(call: Call) -> Answer:
    """PATCH /v1/members/{id}."""
    member = actions.change_member(company=call.company, id=call.id, changes=call.body, expected=call.expected)
    return Answer(member, tag=member.tag)


def remove(call: Call) -> Answer:
    """DELETE /v1/members/{id}."""
    actions.remove_member(company=call.company, id=call.id, expected=call.expected, now=call.now)
    return Answer(status=204)


def audit(call: Call) -> Answer:
    """GET /v1/audit."""
    names = ("member", "subject", "action", "since", "until")
    filter = audit_queries.Filter(**{name: call.query.get(name) for name in names})
    return listing(audit_queries.entries(company=call.company, wanted=call.wanted, filter=filter))
