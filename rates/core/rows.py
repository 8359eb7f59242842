"""What the tables of an edition but production hold once read: exact values, units in names.

Money rates are Fractions of the currency's major unit; percentages are rates (12 % is 12/100);
lengths are nanometres, areas nm², volumes nm³, coverages nm² per nm³ (1/nm).
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields
from typing import Any, NamedTuple

from rates.core.fraction import Fraction
from rates.core.labour_rows import LabourRow as LabourRow

UNITS = ("_per_nm", "_nm", "_fahrenheit")  # that the name of an attribute ends in, where its field's does not


def by_fields(row: type[Any]) -> Callable[..., Any]:
    """What builds a row from values by the names of its fields, each an attribute's without its unit."""
    attributes = {field.name: field.name for field in fields(row)}
    attributes |= {name.removesuffix(unit): name for name in attributes for unit in UNITS if name.endswith(unit)}
    return lambda **values: row(**{attributes[name]: value for name, value in values.items()})


@dataclass(frozen=True)
class PackRow:
    """A pack as sold: its size in nm, nm³ or pieces (`dimension` length, volume, each) and its price."""

    label: str
    dimension: str
    size: Fraction
    price: Fraction


@dataclass(frozen=True)
class Waste:
    """kind "added": gross = net (1 + rate); kind "lost": gross = net / (1 − rate)."""

    kind: str
    rate: Fraction

    @property
    def percent(self) -> Fraction:
        """The rate as the table writes it."""
        return self.rate * 100


NO_WASTE = Waste("added", Fraction(0))


@dataclass(frozen=True)
class MaterialRow:
    """A material: its role in the work, how it is sold, what of it is wasted; None for fields of other roles.

    lead_days, shelf_life_days (calendar days), storage and priced_on are for the purchase list alone, the temperatures
    for calendar and crew sheets.
    """

    code: str
    title: str
    role: str
    packs: tuple[PackRow, ...]
    waste: Waste
    waste_by_temperature: tuple[tuple[str, Waste], ...]
    taxable: bool
    price_as: str
    wet_film_nm: tuple[Fraction, ...] | None
    solids_percent: Fraction | None
    coverage_per_nm: Fraction | None
    width_nm: Fraction | None
    apply: str | None
    edge_width_nm: Fraction | None
    substrates: tuple[str, ...] | None
    diameter_nm: Fraction | None
    per: str | None
    cost_code: str | None
    source: str | None
    note: str | None
    compatible_with: tuple[str, ...] | None = None
    lead_days: int | None = None
    shelf_life_days: int | None = None
    storage: str | None = None
    priced_on: datetime.date | None = None
    lowest_temperature_fahrenheit: Fraction | None = None
    highest_temperature_fahrenheit: Fraction | None = None

    def waste_at(self, temperature: str | None) -> Waste:
        """The waste that counts at this temperature: its own row replaces the plain one, never compounds."""
        return dict(self.waste_by_temperature).get(temperature or "", self.waste)


class RentalRow(NamedTuple):
    """The price of one rental period: a day, a week, a month. A tuple, as digests have always taken it."""

    period: str
    price: Fraction


@dataclass(frozen=True)
class EquipmentRow:
    """Rented equipment: for which access, price a day, week, month, delivery a unit, workers a unit serves.

    days_from "touch": the days that its lines are worked; "crew_days": their share of all days, set-up and idle too.
    """

    code: str
    title: str
    for_access: tuple[str, ...]
    rental: tuple[RentalRow, ...]
    delivery: Fraction
    per_workers: int | None
    cost_code: str | None
    source: str | None
    note: str | None
    days_from: str = "touch"
    owned: bool = False


@dataclass(frozen=True)
class TierRow:
    """A bond tier: `rate` of the part of the price up to `up_to` (major units, cumulative; None: no end)."""

    up_to: Fraction | None
    rate: Fraction

    @property
    def percent(self) -> Fraction:
        """The rate as the table writes it."""
        return self.rate * 100


@dataclass(frozen=True)
class OverheadRow:
    """A step from direct cost to price: a rate on exactly one base, an amount, or tiers."""

    code: str
    title: str
    step: str
    rate: Fraction | None
    amount: Fraction | None
    tiers: tuple[TierRow, ...] | None
    on: str | None
    kind: str | None
    cost_code: str | None
    source: str | None
    note: str | None

    @property
    def percent(self) -> Fraction:
        """The rate as the table writes it, 0 where it states none."""
        return (self.rate or Fraction(0)) * 100


Row = LabourRow | MaterialRow | EquipmentRow | OverheadRow


@dataclass(frozen=True)
class Supply:
    """Which edition of which layer supplied a table or a number."""

    edition: str
    number: int
    effective_from: str
    layer: str

    def described(self) -> Mapping[str, object]:
        """As answers print it."""
        return {
            "edition": self.edition,
            "number": self.number,
            "effective_from": self.effective_from,
            "layer": self.layer,
        }
