"""What the five tables of an edition hold once read: exact values, units in names.

Money rates are Fractions of the currency's major unit; percentages are rates (12 % is 12/100);
lengths are nanometres, areas nm², volumes nm³, coverages nm² per nm³ (1/nm).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

from rates.core.fraction import Fraction
from rates.core.labour_rows import LabourRow as LabourRow
from rates.core.labour_rows import OvertimeRow
from rates.core.units import LENGTH_NM

Named = tuple[tuple[str, Fraction], ...]


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
    """A material: its role in the work, how it is sold, what of it is wasted; None for fields of other roles."""

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

    def waste_at(self, temperature: str | None) -> Waste:
        """The waste that counts at this temperature: its own row replaces the plain one, never compounds."""
        return dict(self.waste_by_temperature).get(temperature or "", self.waste)


class RentalRow(NamedTuple):
    """The price of one rental period: a day, a week, a month. A tuple, as digests have always taken it."""

    period: str
    price: Fraction


@dataclass(frozen=True)
class EquipmentRow:
    """Rented equipment: for which access, price a day, week, month, delivery a unit, workers a unit serves."""

    code: str
    title: str
    for_access: tuple[str, ...]
    rental: tuple[RentalRow, ...]
    delivery: Fraction
    per_workers: int | None
    cost_code: str | None
    source: str | None
    note: str | None


@dataclass(frozen=True)
class PerLength:
    """Minutes for each `unit` ("ft", "m", "in", "mm") of length."""

    minutes: Fraction
    unit: str

    def for_length(self, length_nm: Fraction) -> Fraction:
        """Minutes for a length in nm."""
        return self.minutes * length_nm / LENGTH_NM[self.unit]


@dataclass(frozen=True)
class OpeningMinutes:
    """Base minutes of one opening: max(minimum, fixed + per × perimeter)."""

    minimum: Fraction
    fixed: Fraction
    per: PerLength


@dataclass(frozen=True)
class SetupHours:
    """Worker-hours of the whole crew: each mobilisation, each elevation, each storey change."""

    mobilisation: Fraction
    elevation: Fraction
    storey_change: Fraction


@dataclass(frozen=True)
class LearningRow:
    """model none, exponential (first, tau) or unit_curve / cumulative_average (first, slope)."""

    model: str
    first: Fraction | None
    tau: Fraction | None
    slope: Fraction | None

    @property
    def slope_percent(self) -> Fraction | None:
        """The slope as the table writes it."""
        return None if self.slope is None else self.slope * 100


@dataclass(frozen=True)
class DepthOver:
    """Minutes added for each inch or millimetre of treated depth past `from_nm`."""

    from_nm: Fraction
    per: PerLength


@dataclass(frozen=True)
class HeightRow:
    """A factor for openings strictly higher above grade than `over_nm`."""

    over_nm: Fraction
    factor: Fraction


@dataclass(frozen=True)
class PairRow:
    """A factor on worker-hours where two or more work together, for openings of `from_width_nm` and wider."""

    factor: Fraction
    from_width_nm: Fraction | None


@dataclass(frozen=True)
class CoatsRow:
    """Minutes between coats, hours to dry; the first coat's share of base minutes where idle time is charged."""

    interval_minutes: Fraction
    dry_hours: Fraction
    first_coat_share: Fraction | None
    charge_idle: bool


@dataclass(frozen=True)
class JointRow:
    """A sheathing joint: width treated, and minutes for its length."""

    width_nm: Fraction
    per: PerLength | None


@dataclass(frozen=True)
class Geometry:
    """How pieces are cut: laps, turns, diagonals and factors, lengths in nm."""

    face_lap_nm: Fraction
    turn_sill_nm: Fraction
    turn_head_nm: Fraction
    sill_turn_up_nm: Fraction
    diagonal_width_nm: Fraction
    diagonal_length_nm: Fraction
    arch_factor: Fraction
    collar_factor: Fraction
    collar_lap_nm: Fraction
    mesh_lap_nm: Fraction
    tape_lap_nm: Fraction
    tape_sill_turn_up_nm: Fraction
    tape_corner_length_nm: Fraction
    lap_on_pipe_nm: Fraction


@dataclass(frozen=True)
class Production:
    """The production table: minutes, factors, set-up, learning, working time and piece geometry."""

    opening_minutes: OpeningMinutes
    penetration_minutes: OpeningMinutes | None
    access: Named
    shape: Named
    sill: Named
    depth_over: DepthOver | None
    height: tuple[HeightRow, ...]
    temperature: Named
    congestion: Named
    rework: Named
    setup_hours: SetupHours
    learning: LearningRow
    pair: PairRow | None
    coats: CoatsRow | None
    extra_strip_minutes: Fraction
    seal_per: PerLength | None
    sheathing_joint: JointRow | None
    hours_per_day: Fraction
    days_per_week: Fraction
    days_per_month: Fraction
    geometry: Geometry
    overtime: OvertimeRow | None = None

    def entry(self, group: str, key: str) -> Fraction:
        """A named value of a group: a factor (1 where there is none), or minutes added for a shape or sill (0)."""
        values: Named = getattr(self, group)
        for name, value in values:
            if name == key:
                return value
        return Fraction(0 if group in ("shape", "sill") else 1)


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
