"""Prices and wages of an edition against those before it: what moves past a limit in percent, and what went.

Packs are compared by what they hold, rentals by their period, whatever their places. A pack of a size that was not sold
before is held against what it would have cost at the lowest price a unit before: a pail priced as a gallon shows.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from rates.core.changes import differences
from rates.core.exact import print_quantity, print_scaled, read_decimal, round_half_up, with_commas
from rates.core.fraction import Fraction
from rates.core.layers import LIST_TABLES
from rates.core.money import minor_digits
from rates.core.price_formula import PRICES
from rates.core.production import PRODUCTION
from rates.core.units import read_pack_size

Row = Mapping[str, Any]
PERCENT_PLACES = 2


@dataclass(frozen=True)
class Priced:
    """One price of a row in major units: the path of its field, what it is compared by, and its words."""

    path: str
    of: str
    words: str
    amount: Fraction
    pack: str | None = None


@dataclass(frozen=True)
class PriceMove:
    """A price or wage before and after in major units; percent of the one before, None where that was 0."""

    table: str
    code: str
    field: str
    before: str
    after: str
    percent: str | None
    sentence: str


@dataclass(frozen=True)
class Gone:
    """A row that went, or (code None) a factor or a number of the production table."""

    table: str
    code: str | None
    field: str | None
    sentence: str


@dataclass(frozen=True)
class Moves:
    """What an edition changes past the limit, and what it no longer has."""

    prices: tuple[PriceMove, ...]
    gone: tuple[Gone, ...]


def prices_of(table: str, row: Row) -> Iterator[Priced]:
    """Every price that a row states."""
    for name, path in PRICES[table].items():
        if len(path) == 1:
            if row.get(name) is not None:
                yield Priced(name, name, name, read_decimal(str(row[name])))
            continue
        for place, entry in enumerate(row.get(path[0]) or ()):
            amount = read_decimal(str(entry[path[2]]))
            at = f"{path[0]}/{place}/{path[2]}"
            if path[0] == "packs":
                size = str(entry["size"]).strip()
                dimension, holds = read_pack_size(size)
                yield Priced(at, f"{dimension} {holds}", f"the pack of {size}", amount, size)
            else:
                period = str(entry["period"]).strip().lower()
                yield Priced(at, period, f"rental by the {period}", amount)


def pack_before(row: Row, size: str) -> Fraction | None:
    """What a pack of this size would have cost at a row's lowest price a unit; None where none is sold like it."""
    dimension, wanted = read_pack_size(size)
    rates = []
    for pack in row.get("packs") or ():
        other, holds = read_pack_size(str(pack["size"]).strip())
        if other == dimension:
            rates.append(read_decimal(str(pack["price"])) / holds)
    return min(rates) * wanted if rates else None


def moved(table: str, before: Row, after: Row, limit: Fraction, places: int) -> Iterator[PriceMove]:
    """The prices of a row that move past the limit, in the order of its fields; from nothing, any does."""
    was = {price.of: price.amount for price in prices_of(table, before)}
    for now in prices_of(table, after):
        old, is_new = was.get(now.of), now.of not in was
        if is_new and now.pack is not None:
            old = pack_before(before, now.pack)
        if old is not None and abs(now.amount - old) > limit * old:
            yield move(table, after, now, old, places, is_new)


def move(table: str, row: Row, now: Priced, old: Fraction, places: int, is_new: bool) -> PriceMove:
    """One price that moves, with its sentence."""
    before, after = print_price(old, places), print_price(now.amount, places)
    percent = print_quantity((now.amount - old) / old * 100, PERCENT_PLACES) if old else None
    way = f", {'down' if now.amount < old else 'up'} {percent.removeprefix('-')} %" if percent is not None else ""
    unit = " an hour" if table == "labour" else ""
    low, high = with_commas(before), with_commas(after)
    change = f"new at {high}{way} from {low} at the old price a unit" if is_new else f"{low} to {high}{unit}{way}"
    code = str(row["code"]).strip()
    return PriceMove(table, code, now.path, before, after, percent, f"{title(row)}: {now.words} {change}.")


def print_price(amount: Fraction, places: int) -> str:
    """An amount as written, with the places of its currency at least; what has no end is rounded to them."""
    minor = amount * 10**places
    text = print_quantity(amount, 12)
    exact = read_decimal(text, max_digits=40) == amount
    return print_scaled(round_half_up(minor), places) if minor.denominator == 1 or not exact else text


def title(row: Row) -> str:
    """A row as people know it."""
    return f"{str(row['title']).strip()} ({str(row['code']).strip()})"


def by_code(rows: Sequence[Row] | None) -> dict[str, Row]:
    """Rows by their code."""
    return {str(row["code"]).strip(): row for row in rows or ()}


def gone_from(before: Row, after: Row) -> Iterator[Gone]:
    """Rows that the later tables lack, then what the production table no longer states."""
    for table in LIST_TABLES:
        left = by_code(after.get(table))
        for code, row in by_code(before.get(table)).items():
            if code not in left:
                yield Gone(table, code, None, f"The {table} table no longer has {title(row)}.")
    for change in differences(PRODUCTION, before.get("production"), after.get("production")):
        if change.after is None:
            words = change.field.replace("_", " ").replace("/", ", ")
            sentence = f"The production table no longer has {words}, which was {change.before}."
            yield Gone("production", None, change.field, sentence)


def edition_moves(before: Mapping[str, Any], after: Mapping[str, Any], limit: Fraction) -> Moves:
    """What the later of two sound documents moves by more than the limit (1/10: 10 %), and what it no longer has.

    In another currency no price can be compared, so only what went is told.
    """
    tables = before["tables"], after["tables"]
    prices: list[PriceMove] = []
    if before["currency"] == after["currency"]:
        places = minor_digits(str(after["currency"]).strip())
        for table in PRICES:
            was = by_code(tables[0].get(table))
            for code, row in by_code(tables[1].get(table)).items():
                if code in was:
                    prices += moved(table, was[code], row, limit, places)
    return Moves(tuple(prices), tuple(gone_from(*tables)))
