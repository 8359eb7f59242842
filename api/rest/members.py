"""Members of the company, and its audit."""

from __future__ import annotations

from typing import Any

from api.plain import plain
from api.rest.exchange import Answer, Call, listing
from rates.actions import people as actions
from rates.queries import audit as audit_queries
from rates.queries import members as queries


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
