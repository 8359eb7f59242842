"""A request for an estimate: what is assumed for every opening, the crew, and how the price is put together."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from estimating.core.kinds import Given
from estimating.core.open_questions import OpenQuestions
from estimating.core.schedule import Schedule
from rates.core.fraction import Fraction


@dataclass(frozen=True)
class Member:
    """Workers of one labour row."""

    labour: str
    count: int


@dataclass(frozen=True)
class Crew:
    """Who does the work: done_before None is an experienced crew, else opening-equivalents done before."""

    members: tuple[Member, ...]
    done_before: Fraction | None
    crews: int
    hours_per_week: Fraction | None = None

    @property
    def workers(self) -> int:
        """How many people."""
        return sum(m.count for m in self.members)


@dataclass(frozen=True)
class Mobilisation:
    """One part of a season split: its date, what it does, which marks (None: all that no other part names)."""

    work_date: datetime.date
    scope: str
    marks: tuple[str, ...] | None
    title: str | None


@dataclass(frozen=True)
class Seal:
    """A perimeter seal: joint width and depth, and the weep gaps left in the sill's bead."""

    width_nm: Fraction
    depth_nm: Fraction
    weep_count: int
    weep_length_nm: Fraction


@dataclass(frozen=True)
class SheetWall:
    """A wall sheathed in sheets `sheet_long` along and `sheet_high` up."""

    length_nm: Fraction
    height_nm: Fraction
    sheet_long_nm: Fraction
    sheet_high_nm: Fraction


@dataclass(frozen=True)
class Joints:
    """Sheathing joints to be treated."""

    walls: tuple[SheetWall, ...]
    corners_nm: Fraction
    terminations_nm: Fraction
    deflection_nm: Fraction
    access: str | None


@dataclass(frozen=True)
class Subcontract:
    """A subcontract or service, in major units."""

    title: str
    amount: Fraction
    taxable: bool
    cost_code: str | None


@dataclass(frozen=True)
class Allowance:
    """A count at a unit price, not marked up."""

    title: str
    count: Fraction
    unit_price: Fraction
    cost_code: str | None


@dataclass(frozen=True)
class Request:
    """A whole request, read."""

    schedule: Schedule
    work_date: datetime.date
    units: str
    given: Given
    crew: Crew
    mobilisations: int
    parts: tuple[Mobilisation, ...]
    temperature: str | None
    congestion: str | None
    rework: str | None
    seal: Seal | None
    joints: Joints | None
    stock: tuple[tuple[str, tuple[str, Fraction]], ...]
    materials: tuple[tuple[str, str], ...]
    subcontracts: tuple[Subcontract, ...]
    allowances: tuple[Allowance, ...]
    allocate_by: str
    only_external: bool
    wall_area_nm2: Fraction | None
    stated_rate: Fraction | None
    empty_price: str
    no_primer_reason: str | None
    exemption_certificate: str | None
    questions: OpenQuestions = OpenQuestions()

    @property
    def method(self) -> str:
        """The method of every line that names none."""
        return self.given.method
