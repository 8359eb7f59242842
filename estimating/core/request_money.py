"""Field tables of what a request says of money: subcontracts, allowances, unit prices that are wanted."""

from __future__ import annotations

from collections.abc import Sequence

from estimating.core.request import Actual, Allowance, Subcontract, UnitPriceAsked
from estimating.core.schedule import Schedule
from estimating.core.schedule_lines import mark_key
from rates.core.fields import Faults, Field, Record, boolean, date, decimal, text, whole
from rates.core.problems import Problem

SUBCONTRACT = Record(
    Subcontract,
    (
        Field("title", text(), "what it is", required=True),
        Field("amount", decimal(0, 10**9), "amount", required=True),
        Field("taxable", boolean(), "whether sales tax falls on it", default=True),
        Field("cost_code", text(40), "cost code"),
    ),
)
ACTUAL = Record(
    Actual,
    (
        Field("count", decimal(0, 10**6), "how many there were", required=True),
        Field("unit_price", decimal(0, 10**9), "price of one, that of the allowance if absent"),
    ),
    title="ActualAllowance",
)
ALLOWANCE = Record(
    Allowance,
    (
        Field("title", text(), "what it is for", required=True),
        Field("count", decimal(0, 10**6), "how many", required=True),
        Field("unit_price", decimal(0, 10**9), "price of one", required=True),
        Field("cost_code", text(40), "cost code"),
        Field("actual", ACTUAL, "what it came to; the difference is a line of its own"),
    ),
)


def check_order(asked: UnitPriceAsked, pointer: str, faults: Faults) -> None:
    """A unit price ends no earlier than it starts."""
    if asked.valid_from is not None and asked.valid_until is not None and asked.valid_until < asked.valid_from:
        faults.append(Problem(pointer + "/valid_until", "order", "this is before valid_from"))


UNIT_PRICE = Record(
    UnitPriceAsked,
    (
        Field("mark", text(80), "a mark of the base", required=True),
        Field("quantity", whole(1, 100_000), "for how many more or fewer it holds", default=1),
        Field("valid_from", date(), "the first day that it holds; the work date if absent"),
        Field("valid_until", date(), "the last day that it holds"),
    ),
    check_order,
    title="UnitPriceAsked",
)


def check_unit_prices(asked: Sequence[UnitPriceAsked | None], schedule: Schedule, faults: Faults) -> None:
    """A unit price is of a mark that stands in the base."""
    known = {line.mark_key for line in schedule.lines if line.priced} if asked else set()
    for i, of in enumerate(asked):
        if of is not None and mark_key(of.mark) not in known:
            detail = f'the base has no line of the mark "{of.mark}"'
            faults.append(Problem(f"/unit_prices/{i}/mark", "unknown_mark", detail))
