"""The rate card: an edition's document read once into exact rows, each with the layer that supplied it."""

from __future__ import annotations

import datetime
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Any

from rates.core.fields import Faults, Field, ListOf, MapOf, Reader, Record, choice, date, shown, text
from rates.core.fraction import Fraction
from rates.core.labour_table import LABOUR
from rates.core.layers import LAYERS, Key, merge, supplied
from rates.core.layers import EditionSource as EditionSource
from rates.core.money import ROUNDINGS, minor_digits
from rates.core.problems import Problem, Refused, Unreadable
from rates.core.production import PRODUCTION
from rates.core.production_rows import Production
from rates.core.rows import EquipmentRow, LabourRow, MaterialRow, OverheadRow, Row, Supply
from rates.core.steps import CONTAINED, STEP, STEPS
from rates.core.tables import EQUIPMENT, MATERIALS, OVERHEADS

SALES_TAX_BY = ("invoice", "item")
TABLES = ("labour", "materials", "equipment", "production", "overheads")


@dataclass(frozen=True)
class Card:
    """Every rate of one work date, read.

    `supply` names the company's edition behind each table; `finer_supply` the edition of a nearer layer behind a field.
    """

    effective_from: datetime.date
    currency: str
    rounding: str
    labour: tuple[LabourRow, ...]
    materials: tuple[MaterialRow, ...]
    equipment: tuple[EquipmentRow, ...]
    production: Production
    overheads: tuple[OverheadRow, ...]
    supply: Mapping[str, Supply]
    finer_supply: Mapping[Key, Supply] = field(default_factory=dict)
    sales_tax_by: str = "invoice"
    cost_codes: tuple[tuple[str, str], ...] = ()

    def supplied(self, table: str, code: str | None, path: str) -> Supply:
        """Which edition of which layer supplied a field of a row (code None: of the production table)."""
        return supplied(self.finer_supply, (table, code, path)) or self.supply[table]

    @property
    def layers(self) -> tuple[Supply, ...]:
        """The editions over the company's that supply anything, the farther layer first."""
        return tuple(sorted(set(self.finer_supply.values()), key=lambda s: (LAYERS.index(s.layer), s.number)))

    def taking(self, late: Card, tables: Sequence[str]) -> Card:
        """This card with some tables of another, and who supplied them."""
        supply = dict(self.supply) | {t: late.supply[t] for t in tables if t in late.supply}
        kept = {key: value for key, value in self.finer_supply.items() if key[0] not in tables}
        taken = {key: value for key, value in late.finer_supply.items() if key[0] in tables}
        content: dict[str, Any] = {t: getattr(late, t) for t in tables}
        return replace(self, supply=supply, finer_supply=kept | taken, **content)

    def table_row(self, table: str, code: str) -> Row | None:
        """The row of a list table by its code."""
        rows: tuple[Row, ...] = getattr(self, table)
        return next((row for row in rows if row.code == code), None)


def parse_currency(raw: object) -> str:
    """An ISO 4217 code."""
    if not isinstance(raw, str):
        raise Unreadable("not_text", f"a currency code is expected, not {shown(raw)}")
    minor_digits(raw.strip())
    return raw.strip()


def unique_codes(rows: Sequence[Row | None] | None, pointer: str, faults: Faults) -> None:
    """Codes are unique in their table, as far as its rows could be read."""
    seen: set[str] = set()
    for i, row in enumerate(rows or ()):
        if row is None:
            continue
        if row.code in seen:
            faults.append(Problem(f"{pointer}/{i}/code", "duplicate_code", f'the code "{row.code}" stands twice'))
        seen.add(row.code)


def check_tables(tables: dict[str, Any], pointer: str, faults: Faults) -> None:
    """What spans rows: unique codes, steps that stand once, profit and bond that leave something."""
    for name in ("labour", "materials", "equipment", "overheads"):
        unique_codes(tables[name], f"{pointer}/{name}", faults)
    read: tuple[OverheadRow | None, ...] = tables["overheads"] or ()
    rows = [row for row in read if row is not None]
    for step in [step.name for step in STEPS if step.once]:
        found = [i for i, row in enumerate(read) if row is not None and row.step == step]
        for i in found[1:]:
            faults.append(Problem(f"{pointer}/overheads/{i}/step", "duplicate_step", f"{step} may stand once"))
    off_the_price = Fraction(0)
    for row in rows:
        if STEP[row.step].stage == CONTAINED or row.kind == "margin":
            off_the_price += max(t.rate for t in row.tiers) if row.tiers else row.rate or 0
    if off_the_price >= 1:
        faults.append(
            Problem(
                f"{pointer}/overheads",
                "nothing_left",
                "margin, bond and receipts tax together must be less than 100 % of the price",
            )
        )


EDITION = Record(
    lambda **v: v,
    (
        Field("effective_from", date(), "first day of work that the edition prices", required=True),
        Field("note", text(2000, blank=True), "a note"),
        Field(
            "currency", Reader(parse_currency, {"type": "string", "pattern": "^[A-Z]{3}$"}), "ISO 4217", required=True
        ),
        Field("rounding", choice(*ROUNDINGS), "how money is rounded", default="half_up"),
        Field(
            "sales_tax_by",
            choice(*SALES_TAX_BY),
            "whether sales tax is rounded once or item by item",
            default="invoice",
        ),
        Field("cost_codes", MapOf(text(200)), "titles of cost codes", default=()),
        Field(
            "tables",
            Record(
                lambda **v: v,
                (
                    Field("labour", ListOf(LABOUR), "labour", required=True),
                    Field("materials", ListOf(MATERIALS), "materials", required=True),
                    Field("equipment", ListOf(EQUIPMENT), "equipment", required=True),
                    Field("production", PRODUCTION, "production", required=True),
                    Field("overheads", ListOf(OVERHEADS), "overheads", required=True),
                ),
                check_values=check_tables,
            ),
            "labour, materials, equipment, production, overheads",
            required=True,
        ),
    ),
)


@dataclass(frozen=True)
class Written:
    """An edition with its documents as text, by which a card that was read is found again."""

    source: EditionSource = field(compare=False)
    texts: tuple[str, ...]


def read_edition(source: EditionSource) -> Card:
    """The rate card of an edition on the layers below it; Refused with every fault, pointers in the merged document.

    The same documents are read once: an approved edition never changes, and every estimate asks for it.
    """
    told = [[layer.id, layer.number, layer.layer, layer.document] for layer in source.chain()]
    return read_once(Written(source, tuple(json.dumps(layer) for layer in told)))


@lru_cache(maxsize=64)
def read_once(written: Written) -> Card:
    """The card of these documents; Refused."""
    source = written.source
    faults: Faults = []
    document, finer = merge(source) if source.below is not None else (source.document, {})
    values = EDITION.read(document, "", faults)
    if values is None:
        raise Refused([f.within("", "edition") for f in faults])
    start = values["effective_from"]
    supply = source.chain()[0].supply()
    return Card(
        effective_from=start,
        currency=values["currency"],
        rounding=values["rounding"],
        sales_tax_by=values["sales_tax_by"],
        cost_codes=values["cost_codes"],
        supply=dict.fromkeys(TABLES, supply),
        finer_supply=finer,
        **values["tables"],
    )
