"""What is said of change orders: field tables of their terms, of what prices them, of each of their steps."""

from __future__ import annotations

import datetime
from typing import Any

from api.field_readers import as_given, id_text, note, parse_lines
from api.quote_fields import parse_amount
from estimating.change_words import BASES
from estimating.core.notice import COUNTED_IN
from rates.core.exact import read_decimal
from rates.core.fields import (
    Faults,
    Field,
    ListOf,
    Reader,
    Record,
    bound,
    choice,
    date,
    decimal,
    number_text,
    text,
    whole,
)
from rates.core.problems import Problem, Unreadable

MOST_ENTRIES = 200
MOST_DAYS = 366


def parse_day(raw: object) -> str:
    """A day as JSON keeps it."""
    day: datetime.date = date().parse(raw)
    return day.isoformat()


def as_written(reader: Reader) -> Reader:
    """Reader of the same numbers, kept as they are written."""

    def parse(raw: object) -> str:
        reader.parse(raw)
        return number_text(raw)

    return Reader(parse, reader.schema)


def parse_openings(raw: object) -> int:
    """How many openings come or go; none is no change."""
    value = read_decimal(number_text(raw))
    if value.denominator != 1 or not value:
        raise Unreadable("not_whole", "a whole number other than 0 is expected, below 0 where openings go")
    bound(abs(value), 1, 10**6, False)
    return int(value)


day = Reader(parse_day, {"type": "string", "format": "date"})
DIRECTIVE = (
    Field("by", text(200), "who gave it", required=True),
    Field("reference", text(200, blank=True), "the number or the letter by which they know it", default=""),
    Field("on", day, "the day of it", required=True),
)
NOTICE = Record(
    lambda known_on, days, counted, holidays, given_on, reference: {
        "known_on": known_on,
        "notice_days": days,
        "notice_counted": counted,
        "notice_holidays": [x.isoformat() for x in holidays],
        "notice_given_on": given_on,
        "notice_reference": reference,
    },
    (
        Field("known_on", date(), "the day on which the change became known; it is not counted itself", required=True),
        Field("days", whole(0, MOST_DAYS), "that the contract gives for notice", required=True),
        Field("counted", choice(*COUNTED_IN), "every day, or Monday to Friday without holidays", required=True),
        Field("holidays", ListOf(date(), 0, MOST_DAYS), "days off, which are no working days", default=()),
        Field("given_on", date(), "the day on which notice was given"),
        Field("reference", text(200, blank=True), "of the notice that was given", default=""),
    ),
)
UNIT = Record(
    lambda mark, openings: {"mark": mark, "openings": openings},
    (
        Field("mark", text(80), "the mark of the quoted schedule", required=True),
        Field(
            "openings",
            Reader(parse_openings, {"type": ["integer", "string"]}),
            "how many come; below 0: how many go",
            required=True,
        ),
    ),
)


def entry(**values: Any) -> dict[str, Any]:
    """An entry of a ticket as it is kept."""
    return values


def listed(**values: Any) -> dict[str, Any]:
    """The lists of a ticket as they are kept."""
    return {name: list(value) for name, value in values.items()}


def check_ticket(ticket: dict[str, Any], pointer: str, faults: Faults) -> None:
    """Something was done or used."""
    if not any(ticket.values()):
        faults.append(Problem(pointer, "missing", "an entry of labour, materials or equipment is needed"))


TICKET = Record(
    listed,
    (
        Field(
            "labour",
            ListOf(
                Record(
                    entry,
                    (
                        Field("labour", text(60), "the code of the labour row", required=True),
                        Field("hours", as_written(decimal(0, 100_000, above=True)), "paid hours", required=True),
                    ),
                ),
                0,
                MOST_ENTRIES,
            ),
            "hours by class of worker, at the rates of the contract's edition",
            default=(),
        ),
        Field(
            "materials",
            ListOf(
                Record(
                    entry,
                    (
                        Field("title", text(200), "what it is", required=True),
                        Field(
                            "cost", as_written(decimal()), "what was paid, freight and sales tax with it", required=True
                        ),
                    ),
                ),
                0,
                MOST_ENTRIES,
            ),
            "materials at cost",
            default=(),
        ),
        Field(
            "equipment",
            ListOf(
                Record(
                    entry,
                    (
                        Field("equipment", text(60), "the code of the equipment row", required=True),
                        Field("days", whole(1, 1000), "days that it is there", required=True),
                        Field("units", whole(1, 100), "how many of it", default=1),
                        Field("deliveries", whole(0, 100), "how often one is delivered", default=0),
                    ),
                ),
                0,
                MOST_ENTRIES,
            ),
            "rental of the least cost for the days",
            default=(),
        ),
    ),
    check=check_ticket,
)


def flat(**values: Any) -> dict[str, Any]:
    """The values that were given, the notice's beside the others."""
    given = as_given(**values)
    notice: dict[str, Any] = given.pop("notice", {})
    return given | notice


def check_basis(said: dict[str, Any], pointer: str, faults: Faults) -> None:
    """One way of pricing at most."""
    given = [name for name in BASES if name in said]
    for name in given[1:]:
        detail = f"a change order is priced in one way; {given[0]} is given too"
        faults.append(Problem(f"{pointer}/{name}", "one_of", detail))


TERMS = (
    Field("description", parse_lines(4000), "what is to be done, and why"),
    Field("directive", Record(entry, DIRECTIVE), "the customer's word to go ahead"),
    Field("notice", NOTICE, "when the customer has to be told by the contract, and when it was"),
    Field("work_date", date(), "the day of the work: the quoted estimate's if absent; needed for unit prices"),
    Field("comparison", id_text, "priced by the difference of two estimates, from the contract's on"),
    Field("unit_prices", ListOf(UNIT, 1, MOST_ENTRIES), "priced by the unit prices of the quoted estimate"),
    Field("time_and_material", TICKET, "priced by hours, materials and equipment; by who may see costs"),
)
NEW_CHANGE_ORDER = Record(
    flat,
    (
        Field("title", text(200), "what it is called", required=True),
        Field("quote", id_text, "the awarded quote that it changes; needed where the project has several"),
        *TERMS,
    ),
    check=check_basis,
)
REVISION = Record(flat, (Field("title", text(200), "what it is called"), *TERMS), check=check_basis)
DIRECT = Record(entry, DIRECTIVE)
AGREE = Record(
    as_given,
    (
        Field(
            "price",
            Reader(parse_amount, {"type": "string", "pattern": r"^-?[0-9]{1,13}(\.[0-9]{1,4})?$"}),
            "what was agreed, below 0 for a credit; as it is priced if absent",
        ),
        Field("reason", note, "what was agreed, and by which document", default=""),
    ),
)
WHY = Record(as_given, (Field("reason", text(2000), "why", required=True),))
