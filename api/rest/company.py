"""The company and its access keys."""

from __future__ import annotations

import datetime
from typing import Any

from api.access_key_fields import NEW_KEY as NEW_KEY
from api.field_readers import as_given as as_given
from api.field_readers import percent_as_written, percent_text, time_zone
from api.plain import plain
from api.rest.exchange import Answer, Call, listing
from rates.actions import companies as actions
from rates.core.card import SALES_TAX_BY, parse_currency
from rates.core.currencies import MINOR_DIGITS
from rates.core.fields import (
    Faults,
    Field,
    MapOf,
    Reader,
    Record,
    boolean,
    choice,
    shown,
    text,
    whole,
)
from rates.core.length_styles import DENOMINATORS, STYLES
from rates.core.money import ROUNDINGS
from rates.core.problems import Unreadable
from rates.core.texts import is_text
from rates.queries import companies as queries

UNIT_SYSTEMS = ("imperial", "metric")
currency = Reader(parse_currency, {"type": "string", "enum": sorted(MINOR_DIGITS)})


class CostCodes(MapOf):
    """Reader of titles by cost code, as it is stored."""

    def __init__(self) -> None:
        super().__init__(text(200))

    def read(self, raw: object, pointer: str, faults: Faults) -> Any:
        """Titles by code; faults noted."""
        found = super().read(raw, pointer, faults)
        return None if found is None else dict(found)


def parse_denominator(raw: object) -> int:
    """8 or 16."""
    value = None if is_text(raw) or isinstance(raw, bool) else whole().parse(raw)
    if value in DENOMINATORS:
        return int(value)
    raise Unreadable("unknown_choice", f"8 or 16 is expected, not {shown(raw)}")


denominator = Reader(parse_denominator, {"type": "integer", "enum": list(DENOMINATORS)})
CHANGE = Record(
    as_given,
    (
        Field("name", text(200), "the company's name"),
        Field("currency", currency, "ISO 4217 code of new rate books"),
        Field("unit_system", choice(*UNIT_SYSTEMS), "units of new estimates"),
        Field("rounding", choice(*ROUNDINGS), "rounding of new editions that state none"),
        Field("sales_tax_by", choice(*SALES_TAX_BY), "sales tax once or item by item in new editions that state none"),
        Field("cost_codes", CostCodes(), "titles of cost codes in new editions that state none"),
        Field("time_zone", time_zone, "time zone of the office, by its name in the IANA database"),
        Field("length_style", choice(*STYLES), "how people read lengths; another unit system leaves it as it is"),
        Field("length_denominator", denominator, "feet_inches and inches are shown to 1/n in"),
        Field("discount_limit", percent_text, "the most that sales may give away, in percent; unset: nothing"),
        Field(
            "estimator_discount_limit",
            percent_text,
            "the most that estimators and rate keepers may give away, in percent; unset: down to the floor",
        ),
        Field("margin_floor", percent_text, "the least margin without the principal, in percent"),
        Field(
            "rate_move_limit",
            percent_as_written(1000),
            "a price or wage that moves further against the edition before is told, in percent; 10 to start with, "
            "which is a judgement",
        ),
        Field("second_approval", boolean(), "whether a second person has to approve an edition"),
    ),
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
    company, member, within, now = call.company, call.caller.member, call.caller.scopes, call.now
    ends = call.body.get("expires_at")
    if "replaces" in call.body:
        overlap = datetime.timedelta(hours=call.body["overlap_hours"])
        made = actions.rotate_key(
            company=company, member=member, within=within, id=call.body["replaces"], overlap=overlap, expires_at=ends,
            now=now,
        )  # fmt: skip
    else:
        made = actions.give_key(
            company=company, member=member, within=within, title=call.body["title"], scopes=call.body["scopes"],
            expires_at=ends, now=now,
        )  # fmt: skip
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
