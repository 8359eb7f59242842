"""The company and its access keys."""

from __future__ import annotations

from typing import Any

from api.rest.exchange import Answer, Call, listing
from api.rest.pieces import moment
from api.rest.plain import plain
from rates.actions import companies as actions
from rates.actions.companies import SCOPES
from rates.core.card import SALES_TAX_BY, parse_currency
from rates.core.currencies import MINOR_DIGITS
from rates.core.fields import Faults, Field, ListOf, MapOf, Reader, Record, choice, text
from rates.core.money import ROUNDINGS
from rates.core.problems import Problem
from rates.queries import companies as queries

UNIT_SYSTEMS = ("imperial", "metric")
currency = Reader(parse_currency, {"type": "string", "enum": sorted(MINOR_DIGITS)})


def as_given(**values: Any) -> dict[str, Any]:
    """The values that were given."""
    return {name: value for name, value in values.items() if value is not None}


class CostCodes(MapOf):
    """Reader of titles by cost code, as it is stored."""

    def __init__(self) -> None:
        super().__init__(text(200))

    def read(self, raw: object, pointer: str, faults: Faults) -> Any:
        """Titles by code; faults noted."""
        found = super().read(raw, pointer, faults)
        return None if found is None else dict(found)


CHANGE = Record(
    as_given,
    (
        Field("name", text(200), "the company's name"),
        Field("currency", currency, "ISO 4217 code of new rate books"),
        Field("unit_system", choice(*UNIT_SYSTEMS), "units of new estimates"),
        Field("rounding", choice(*ROUNDINGS), "rounding of new editions that state none"),
        Field("sales_tax_by", choice(*SALES_TAX_BY), "sales tax once or item by item in new editions that state none"),
        Field("cost_codes", CostCodes(), "titles of cost codes in new editions that state none"),
    ),
)


def check_scopes(key: dict[str, Any], pointer: str, faults: Faults) -> None:
    """A scope stands once."""
    if len(set(key["scopes"])) != len(key["scopes"]):
        faults.append(Problem(pointer + "/scopes", "given_twice", "a scope stands once"))


NEW_KEY = Record(
    as_given,
    (
        Field("title", text(200), "what the key is for", required=True),
        Field("scopes", ListOf(choice(*SCOPES), 1, len(SCOPES)), "what it may do", required=True),
        Field("expires_at", moment, "when it ends by itself"),
    ),
    check_scopes,
)


def show(call: Call) -> Answer:
    """GET /v1/company."""
    company = queries.company(company=call.company)
    return Answer(company, tag=company.tag)


def change(call: Call) -> Answer:
    """PATCH /v1/company."""
    company = actions.change_company(company=call.company, changes=call.body, expected=call.expected, now=call.now)
    return Answer(company, tag=company.tag)


def keys(call: Call) -> Answer:
    """GET /v1/access-keys."""
    return listing(queries.keys(company=call.company, wanted=call.wanted))


def make_key(call: Call) -> Answer:
    """POST /v1/access-keys: the only answer that shows the secret. A key gives no more than its maker may do."""
    made = actions.give_key(
        company=call.company,
        member=call.caller.member,
        title=call.body["title"],
        scopes=call.body["scopes"],
        within=call.caller.scopes,
        now=call.now,
        expires_at=call.body.get("expires_at"),
    )
    content = plain(made.key) | {"access_key": made.secret}
    return Answer(content, status=201, tag=made.key.tag, location=f"/v1/access-keys/{made.key.id}", secret=True)


def show_key(call: Call) -> Answer:
    """GET /v1/access-keys/{id}."""
    key = queries.key(company=call.company, id=call.id)
    return Answer(key, tag=key.tag)


def revoke_key(call: Call) -> Answer:
    """DELETE /v1/access-keys/{id}."""
    actions.revoke_key(company=call.company, id=call.id, expected=call.expected, now=call.now)
    return Answer(status=204)
