"""What differs between the rates of two jobs: a phrase for each row of a table, each number of the production table."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from estimating.compared.phrases import name_of, phrase
from estimating.compared.requests import Change
from estimating.compared.values import Reader, label
from estimating.core.attribution import OF_CARD, CardsOfDay
from estimating.core.differences import ORDER, Difference, differences
from rates.core.card import Card
from rates.core.layers import LIST_TABLES

CAUSE_OF = {table: cause for cause, tables in OF_CARD.items() for table in tables}
FACTORS = ("access", "temperature", "congestion", "rework")  # groups of the production table, by name
MINUTES = ("shape", "sill")
ENTRIES = {"packs": "pack of", "rental": "rental by the", "burden": "burden for"}  # lists in a row, by their entries
OF_ROWS = {"kind": "profit as"}


def card_changes(cards: Iterable[CardsOfDay], reader: Reader) -> Iterator[Change]:
    """Every row, number and setting that differs between the rates of the same days, each told once."""
    told: set[str] = set()
    for _, before, after in cards:
        for name in (*CAUSE_OF, "cost_codes"):
            for words in table_phrases(before, after, name, reader):
                if words not in told:
                    told.add(words)
                    yield Change(CAUSE_OF.get(name), words, False)


def table_phrases(before: Card, after: Card, name: str, reader: Reader) -> Iterator[str]:
    """The changes of one table, or of one setting."""
    found = list(differences(getattr(before, name), getattr(after, name), (name,), name))
    if name not in LIST_TABLES:
        for one in found:
            yield phrase(one, name_in_production(one.path), reader)
        return
    by_row: dict[str, list[Difference]] = {}
    for one in found:
        by_row.setdefault(one.path[1], []).append(one)
    for code, changes in by_row.items():
        yield row_phrase(before, after, name, code, changes, reader)


def row_phrase(before: Card, after: Card, table: str, code: str, found: Sequence[Difference], reader: Reader) -> str:
    """A row of a list table: that it came or went, or each of its fields that differs."""
    if code == ORDER:
        return phrase(found[0], f"rows of {table}", reader)
    was, now = before.table_row(table, code), after.table_row(table, code)
    row = now or was
    assert row is not None
    alike = {r.code for card in (before, after) for r in getattr(card, table) if r.title == row.title}
    known = row.title if len(alike) < 2 else f"{row.title} ({code})"
    if was is None or now is None:
        return f"{known} is {'new in' if was is None else 'no longer in'} the {table} table"
    return f"{known}, {' and '.join(phrase(one, name_in_row(one.path[2:]), reader) for one in found)}"


def name_in_row(path: tuple[str, ...]) -> str:
    """What people call a field of a row."""
    if len(path) == 3 and path[0] in ENTRIES:
        return f"{ENTRIES[path[0]]} {path[1]}{'' if path[2] in ('price', 'rate') else f' {label(path[2])}'}"
    return OF_ROWS.get(path[0]) or name_of(path)


def name_in_production(path: tuple[str, ...]) -> str:
    """What people call a number of the production table, or a setting."""
    steps = [step for step in path if step not in (ORDER, "production")] or [path[0]]
    if len(steps) == 2 and steps[0] in FACTORS:
        return f"{steps[0]} factor for {steps[1].replace('_', ' ')}"
    if len(steps) == 2 and steps[0] in MINUTES:
        return f"{steps[0]} addition for {steps[1].replace('_', ' ')}"
    return name_of(tuple(steps))
