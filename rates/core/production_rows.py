"""What the production table of an edition holds once read: minutes, factors, set-up, learning, working time, geometry.

Lengths are nanometres; minutes and worker-hours are standard.
"""

from __future__ import annotations

from dataclasses import dataclass
from operator import attrgetter

from rates.core.fraction import Fraction
from rates.core.labour_rows import OvertimeRow
from rates.core.units import LENGTH_NM

Named = tuple[tuple[str, Fraction], ...]
ADDED = ("shape", "sill", "setup_hours/zone")  # groups whose values are added; those of all others multiply


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
    """Base minutes of one opening: max(minimum, fixed + per × perimeter).

    below_perimeter_nm: of a penetration, the outline from which on an opening that is no pipe takes opening minutes.
    """

    minimum: Fraction
    fixed: Fraction
    per: PerLength
    below_perimeter_nm: Fraction | None = None


@dataclass(frozen=True)
class SetupHours:
    """Worker-hours of the whole crew: each mobilisation, elevation, storey change; each zone by access."""

    mobilisation: Fraction
    elevation: Fraction
    storey_change: Fraction
    zone: Named = ()


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
    access_limits: Named = ()
    storey_height_nm: Fraction = 10 * LENGTH_NM["ft"]

    def entry(self, group: str, key: str) -> Fraction:
        """A named value of a group: a factor (1 where there is none), or minutes or hours added (0)."""
        values: Named = attrgetter(group.replace("/", "."))(self)
        for name, value in values:
            if name == key:
                return value
        return Fraction(0 if group in ADDED else 1)
