"""What a quote says, as the API and the pages read it: field tables of a new one, of a change, of each of its steps."""

from __future__ import annotations

from typing import Any

from api.field_readers import as_given, id_text, note, parse_lines, percent_text
from estimating.outputs.quotes.texts import LISTS, MOST_TEXTS
from estimating.queries.quotes import BASES
from rates.core.fields import Faults, Field, ListOf, Reader, Record, choice, date, shown, text
from rates.core.problems import Problem, Unreadable


def in_order(**values: Any) -> dict[str, Any]:
    """The values, lists as lists."""
    return {name: list(value) if isinstance(value, tuple) else value for name, value in values.items()}


CUSTOMER = Record(
    in_order,
    (
        Field("name", text(200), "who is offered it", required=True),
        Field("contact", text(200, blank=True), "the person there", default=""),
        Field("address", ListOf(text(200), 0, 8), "lines of the address", default=()),
        Field("email", text(254, blank=True), "address for mail; nothing is sent by the service", default=""),
        Field("reference", text(200, blank=True), "what they call the request", default=""),
    ),
)


def check_entry(entry: dict[str, Any], pointer: str, faults: Faults) -> None:
    """A text comes from the company's lists or is written here."""
    if entry["code"] is None and entry["text"] is None:
        faults.append(Problem(pointer, "missing", "a code or a text is needed"))


ENTRY = Record(
    in_order,
    (Field("code", text(40), "of a text that the company keeps"), Field("text", text(1000), "in other words")),
    check=check_entry,
)
ADDENDUM = Record(
    in_order,
    (
        Field("name", text(100), "as it is called", required=True),
        Field("acknowledged_on", date(), "the day on which it was acknowledged", required=True),
        Field("schedule", id_text, "the schedule revision that it led to: the marks that it brought are named"),
        Field("marks", ListOf(text(80), 0, 2000), "marks that it brought or changed"),
    ),
)
terms = parse_lines(4000)
SAID = (
    Field("valid_until", date(), "the last day on which it binds; by the company's days if absent"),
    Field("terms", terms, "terms; the company's if absent"),
    Field("note", note, "a note for the office, in no letter"),
    Field("discount_percent", percent_text, "taken off the price, in percent"),
    *(
        Field(name, ListOf(ENTRY, 0, MOST_TEXTS), f"the {name}; picked by what the estimate holds if absent")
        for name in LISTS
    ),
    Field("addenda", ListOf(ADDENDUM, 0, 200), "addenda acknowledged"),
)
NEW_QUOTE = Record(
    as_given,
    (
        Field("estimate", id_text, "the costed estimate", required=True),
        Field("customer", CUSTOMER, "to whom", required=True),
        *SAID,
    ),
)


def check_requote(body: dict[str, Any], pointer: str, faults: Faults) -> None:
    """A schedule or an estimate of it, not both."""
    if "schedule" in body and "estimate" in body:
        faults.append(Problem(f"{pointer}/estimate", "schedule_or_estimate", "give one of the two"))


CHANGE_QUOTE = Record(
    as_given,
    (
        Field("customer", CUSTOMER, "to whom"),
        Field("basis", choice(*BASES), "which of its offers the price stands on"),
        Field("basis_reason", note, "why that one"),
        *SAID,
    ),
)
REASON = "why it may be offered; without one the approval is taken back"
APPROVAL = Record(as_given, (Field("reason", text(2000), REASON),))
AWARD = Record(
    as_given,
    (
        Field("reason", text(2000), "what the customer said", default=""),
        Field("alternates", ListOf(text(200), 0, 50), "alternates that are taken with it, by name", default=()),
    ),
)


def parse_amount(raw: object) -> str:
    """An amount of money as it was written."""
    if isinstance(raw, str):
        return raw.strip()
    raise Unreadable("not_text", f"an amount as text is expected, not {shown(raw)}")


CLOSE = Record(
    as_given,
    (
        Field("reason", text(2000), "why the customer did not take it", required=True),
        Field(
            "competing_price",
            Reader(parse_amount, {"type": "string", "pattern": r"^[0-9]{1,13}(\.[0-9]{1,4})?$"}),
            "the price that was taken, where it is known",
        ),
    ),
)


REQUOTE = Record(
    as_given,
    (
        Field("schedule", id_text, "the schedule revision to quote; the project's latest if absent"),
        Field("estimate", id_text, "instead: an estimate of it that is costed already"),
        Field("basis", choice(*BASES[1:]), "which of its offers the price stands on; today's if absent"),
        Field("basis_reason", note, "why that one"),
        Field("customer", CUSTOMER, "to whom; as before if absent"),
        *SAID,
    ),
    check=check_requote,
)
