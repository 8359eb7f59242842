"""A request for an estimate: what is assumed for every opening, the crew, and how the price is put together."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from estimating.core.kinds import Given
from estimating.core.open_questions import OpenQuestions
from estimating.core.request_calendar import SiteCalendar
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
    """One part of a season split: its date, what it does, which marks (None: all that no other part names).

    temperature: its own, None where it has the request's.
    """

    work_date: datetime.date
    scope: str
    marks: tuple[str, ...] | None
    title: str | None
    temperature: str | None = None


@dataclass(frozen=True)
class Seal:
    """A perimeter seal: joint width and depth, the weep gaps left in the sill's bead, how many beads."""

    width_nm: Fraction
    depth_nm: Fraction
    weep_count: int
    weep_length_nm: Fraction
    beads: int = 1


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
class Actual:
    """What an allowance came to: how many, and the price of one, None where it is that of the allowance."""

    count: Fraction
    unit_price: Fraction | None


@dataclass(frozen=True)
class Allowance:
    """A count at a unit price, not marked up; actual: what it came to, once that is known."""

    title: str
    count: Fraction
    unit_price: Fraction
    cost_code: str | None
    actual: Actual | None = None


@dataclass(frozen=True)
class UnitPriceAsked:
    """A unit price that is wanted of a mark: for how many more or fewer, from and until which day it is to hold."""

    mark: str
    quantity: int
    valid_from: datetime.date | None
    valid_until: datetime.date | None


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
    unit_prices: tuple[UnitPriceAsked, ...] = ()
    return_trips: int = 0
    quantities_from: str = "waste"
    calendar: SiteCalendar | None = None

    @property
    def method(self) -> str:
        """The method of every line that names none."""
        return self.given.method
