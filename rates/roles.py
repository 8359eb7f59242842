"""Who may do and see what: scopes, and the scopes of each role.

A session has its member's role; a key what both its scopes and its member's role give.
"""

from __future__ import annotations

from django.db.models import TextChoices

SCOPES = {
    "read": "see projects, schedules, estimates, comparisons and which editions there are; prices, no costs",
    "costs": "see costs, wages, burden and margins: build-ups, cost codes, derivations, amounts of materials",
    "rates.read": "see the tables of editions, wages included",
    "estimate": "make projects, schedules, estimates and comparisons, and cancel runs",
    "answers": "answer questions on a schedule, edit its lines, sign off assumptions, and take each back",
    "matches": "confirm or reject proposed matches between two revisions of a schedule",
    "quotes": "draft, issue and re-quote quotes, tell how they ended, and keep change orders",
    "quotes.approve": "approve a quote beyond what other roles may offer, and keep the texts of quotes",
    "rates.draft": "make rate books, draft and submit editions",
    "rates.approve": "approve, send back and withdraw editions",
    "audit": "see who changed what",
    "company": "change the company, its members and access keys",
}


class Role(TextChoices):
    """Of a member of a company: what somebody does in an office."""

    VIEWER = "viewer", "viewer"
    SALES = "sales", "sales"
    ESTIMATOR = "estimator", "estimator"
    RATE_KEEPER = "rate_keeper", "rate keeper"
    PRINCIPAL = "principal", "principal"


_ESTIMATOR = frozenset({"read", "costs", "rates.read", "estimate", "answers", "matches", "quotes"})
SCOPES_OF = {
    Role.VIEWER: frozenset({"read"}),
    Role.SALES: frozenset({"read", "estimate", "quotes"}),
    Role.ESTIMATOR: _ESTIMATOR,
    Role.RATE_KEEPER: _ESTIMATOR | {"rates.draft", "rates.approve", "audit"},
    Role.PRINCIPAL: frozenset(SCOPES),
}


def scopes_of(role: str) -> frozenset[str]:
    """What a member of that role may do; nothing for a word that is no role."""
    return SCOPES_OF[Role(role)] if role in Role.values else frozenset()


def roles_with(scope: str) -> str:
    """The roles that have a scope, as a sentence names them."""
    names = [str(role.label) for role, scopes in SCOPES_OF.items() if scope in scopes]
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)
