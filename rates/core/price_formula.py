"""A change of prices by formula over chosen rows ("all mesh +4 %"): what it would do, and the table after it."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from rates.core.exact import print_scaled, read_decimal
from rates.core.fields import Faults, Field, ListOf, Reader, Record, choice, clean_text, decimal, text
from rates.core.fraction import Fraction
from rates.core.money import ROUNDINGS, minor_digits
from rates.core.problems import Problem, Unreadable
from rates.core.steps import ROW_STEPS
from rates.core.tables import ACCESS, ROLES

# table -> path of each price, "*" for every place of a list
PRICES: Mapping[str, Mapping[str, tuple[str, ...]]] = {
    "labour": {"wage": ("wage",), "fringe": ("fringe",)},
    "materials": {"price": ("packs", "*", "price")},
    "equipment": {"price": ("rental", "*", "price"), "delivery": ("delivery",)},
    "overheads": {"amount": ("amount",)},
}
_CHANGE = re.compile(r"([+-])\s*([0-9.]+)\s*(%?)|([x×=])\s*([0-9.]+)", re.ASCII)


@dataclass(frozen=True)
class Change:
    """value × factor + amount; `= 60` is factor 0."""

    factor: Fraction
    amount: Fraction

    def of(self, value: Fraction) -> Fraction:
        """The price after the change, not rounded."""
        return value * self.factor + self.amount


@dataclass(frozen=True)
class Formula:
    """Which rows (all criteria that are given must hold), which price of theirs, what happens to it."""

    table: str
    price: str
    change: Change
    codes: tuple[str, ...] | None
    role: str | None
    access: str | None
    step: str | None
    title_has: str | None
    round_to: Fraction | None


@dataclass(frozen=True)
class PriceChange:
    """One price before and after, as written."""

    code: str
    field: str
    before: str
    after: str


def parse_change(raw: object) -> Change:
    """ "+4 %", "-2.5 %", "+0.50", "-1", "x 1.04" or "= 60.00"."""
    written = clean_text(raw, 40)
    match = _CHANGE.fullmatch(written)
    if match is None:
        raise Unreadable("not_a_change", 'a change such as "+4 %", "-0.50", "x 1.04" or "= 60.00" is expected')
    sign, number, per_cent, way, other = match.groups()
    if way is not None:
        value = read_decimal(other)
        return Change(Fraction(0), value) if way == "=" else Change(value, Fraction(0))
    value = read_decimal(number) * (-1 if sign == "-" else 1)
    return Change(1 + value / 100, Fraction(0)) if per_cent else Change(Fraction(1), value)


def check_formula(formula: Formula, pointer: str, faults: Faults) -> None:
    """The price and the criteria must be ones that the table has."""
    known = PRICES[formula.table]
    if formula.price not in known:
        detail = f"a price of {formula.table} is one of {', '.join(known)}"
        faults.append(Problem(f"{pointer}/price", "unknown_choice", detail))
    for name, table in (("role", "materials"), ("access", "equipment"), ("step", "overheads")):
        if getattr(formula, name) is not None and formula.table != table:
            faults.append(Problem(f"{pointer}/{name}", "not_for_table", f"only rows of {table} have this"))


FORMULA = Record(
    Formula,
    (
        Field("table", choice(*PRICES), "the table", required=True),
        Field("price", choice("wage", "fringe", "price", "delivery", "amount"), "which price", required=True),
        Field(
            "change",
            Reader(parse_change, {"type": "string", "maxLength": 40}),
            '"+4 %", "-0.50", "x 1.04" or "= 60.00"',
            required=True,
        ),
        Field("codes", ListOf(text(60), 1), "rows with these codes"),
        Field("role", choice(*ROLES), "materials of this role"),
        Field("access", choice(*ACCESS), "equipment for this access"),
        Field("step", choice(*ROW_STEPS), "overheads of this step"),
        Field("title_has", text(200), "rows whose title holds these words, capitals or not"),
        Field(
            "round_to", decimal(0, 10**6, above=True), "prices become multiples of this; of the minor unit if absent"
        ),
    ),
    check_formula,
)


def chosen(row: Mapping[str, Any], formula: Formula) -> bool:
    """Whether the formula takes a row."""
    return (
        (formula.codes is None or row["code"] in formula.codes)
        and (formula.role is None or str(row.get("role")).lower() == formula.role)
        and (formula.step is None or str(row.get("step")).lower() == formula.step)
        and (formula.access is None or formula.access in [str(a).lower() for a in row.get("for_access") or ()])
        and (formula.title_has is None or formula.title_has.casefold() in str(row.get("title")).casefold())
    )


def apply_formula(
    rows: Sequence[Mapping[str, Any]], formula: Formula, currency: str, rounding: str
) -> tuple[list[dict[str, Any]], tuple[PriceChange, ...]]:
    """The table after the formula and each price that it changes; Refused problems are the caller's to raise.

    Prices are rounded once, to `round_to` or the currency's minor unit, by the edition's rounding. ValueError never:
    a price below 0 stays for the table's own check to refuse.
    """
    places = minor_digits(currency)
    step = formula.round_to or Fraction(1, 10**places)
    path = PRICES[formula.table][formula.price]
    found: list[PriceChange] = []
    after: list[dict[str, Any]] = []
    for row in rows:
        if not chosen(row, formula):
            after.append(dict(row))
            continue

        def price(written: object, at: str, code: str = str(row["code"])) -> str:
            exact = formula.change.of(read_decimal(str(written).strip()))
            value = ROUNDINGS[rounding](exact / step) * step
            text_after = print_price(value, places)
            if read_decimal(str(written).strip()) != value:
                found.append(PriceChange(code, at, str(written), text_after))
                return text_after
            return str(written)

        after.append(changed(row, path, "", price))
    return after, tuple(found)


def print_price(value: Fraction, places: int) -> str:
    """A price with the currency's places, more where it has more."""
    while (value * 10**places).denominator != 1:
        places += 1
    return print_scaled(int(value * 10**places), places)


def changed(value: Any, path: tuple[str, ...], at: str, price: Any) -> Any:
    """The value with what stands at the path put through `price`; what is absent stays so."""
    if not path:
        return price(value, at.removeprefix("/"))
    if path[0] == "*":
        return [changed(item, path[1:], f"{at}/{i}", price) for i, item in enumerate(value)]
    if value.get(path[0]) is None:
        return dict(value)
    return {**value, path[0]: changed(value[path[0]], path[1:], f"{at}/{path[0]}", price)}
