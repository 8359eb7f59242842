"""The parts of an estimate that have addresses of their own."""

from __future__ import annotations

from typing import Annotated, NotRequired, TypedDict

from estimating.outputs.documents.estimate import EstimateEdition
from estimating.outputs.documents.scalars import (
    AlternateKind,
    Area,
    Hours,
    Length,
    Method,
    Minutes,
    Money,
    Named,
    Number,
    OpeningKind,
    Perimeter,
    Role,
    Shape,
    Source,
)


class PricedLine(TypedDict):
    """One line of the schedule with its figures; a line that is not priced has none, and says why."""

    line: Annotated[int, "from 1"]
    mark: str
    quantity: int
    elevation: str | None
    storey: str | None
    building: str | None
    kind: OpeningKind | None
    shape: Shape | None
    method: Method | None
    perimeter: Annotated[Perimeter | None, "of one"]
    treated_area: Annotated[Area | None, "of one"]
    base_minutes: Annotated[Minutes | None, "of one, before factors"]
    not_priced: Annotated[str | None, "why it is not priced"]
    touch_minutes: Annotated[Minutes, "of all, with every factor, set-up apart"]
    price: Money
    remarks: Annotated[list[str], "codes of the remarks that point here"]


class PackCount(TypedDict):
    """Packs of one size."""

    size: str
    count: int


class MaterialLine(TypedDict):
    """One material: what it takes and what is bought, in `unit`; amounts only for who may see costs."""

    code: str
    title: str
    role: Role
    net: Annotated[Number, "before waste"]
    gross: Annotated[Number, "with waste, before stock"]
    stock: Annotated[Number, "on hand, used first"]
    unit: str
    packs: list[PackCount]
    left_over: Number
    priced_as: NotRequired[Annotated[str, "bought or used"]]
    amount: NotRequired[Money]
    cost_code: str | None
    part: NotRequired[Annotated[str, "of a season split"]]


class RentalCount(TypedDict):
    """Rental periods of one length."""

    period: str
    count: int


class EquipmentLine(TypedDict):
    """One rented row; amounts only for who may see costs."""

    code: str
    title: str
    days: Annotated[Number, "days on site"]
    units: int
    rental: list[RentalCount]
    deliveries: int
    amount: NotRequired[Money]
    cost_code: str | None
    part: NotRequired[Annotated[str, "of a season split"]]


class PartHours(TypedDict):
    """Hours of one part of a season split."""

    part: str
    edition: EstimateEdition
    standard: Hours
    setup: Hours
    paid: Hours
    learning_factor: Number
    hour_rate: Annotated[Number, "money an hour, to six places"]


class HoursPart(TypedDict):
    """Standard and paid hours and what they are made of; factor and rate of the first part where they differ."""

    standard: Hours
    setup: Hours
    idle: Hours
    paid: Hours
    learning_factor: Number
    opening_equivalents: Number
    hour_rate: NotRequired[Annotated[Number, "money an hour, to six places; for who may see costs"]]
    touch_minutes: Annotated[dict[str, Minutes], "by mark"]
    parts: NotRequired[list[PartHours]]


class CutSize(TypedDict):
    """What is cut: of which material, how long, how wide."""

    material: str
    piece: str
    length: Length
    length_shown: Annotated[str, "in the company's length style, rounded up for cutting"]
    width: Length
    width_shown: str


class PieceOfMark(CutSize):
    """Pieces of one size for the openings of one mark, as a table lists them."""

    mark: str
    count: int


class Piece(CutSize):
    """Pieces of one size to cut."""

    count: int
    marks: Annotated[dict[str, int], "pieces by mark"]


class Pieces(TypedDict):
    """The cut pieces, longest first in each material."""

    count: int
    items: list[Piece]
    cautions: Annotated[list[str], "those of the estimate"]


class CostCodeLine(TypedDict):
    """The money of one cost code; all of them sum to the price."""

    code: str | None
    title: str | None
    labour: Money
    materials: Money
    equipment: Money
    other: Money
    amount: Annotated[Money, "the sum of the four"]


CostKind = Annotated[str, Named("CostKind", words=("labour", "materials", "equipment", "other"))]


class BudgetLine(TypedDict):
    """What an awarded quote is to cost of one kind under one cost code; all sum to the price quoted."""

    project: str | None
    project_number: str | None
    quote: Annotated[int, "its number"]
    cost_code: str | None
    title: str | None
    kind: CostKind
    amount: Money
    currency: str


class Variant(TypedDict):
    """The job done otherwise; null where it can't be had."""

    feasible: bool
    reason: Annotated[str | None, "why it can't be had"]
    hours: Hours | None
    materials: Money | None
    direct_cost: Money | None
    price: Money | None


class MethodLine(Variant):
    """Every line by one method."""

    method: Method


class AlternateLine(Variant):
    """One alternate accepted, or several together: a full price, which is seldom the sum of its parts."""

    alternate: str
    accepted: Annotated[list[str], "the alternates that are accepted"]
    kind: Annotated[AlternateKind | None, "null: there are several"]
    replaces: Annotated[list[str], "marks of the base that go out for a substitute"]
    openings: Annotated[int, "of the lines that say the alternate"]
    adds: Annotated[Money | None, "to the base price"]
    adds_alone: Annotated[Money | None, "what each of them adds alone, summed"]


class PerArea(TypedDict):
    """The price per opening against a price per wall area."""

    wall_area: Area
    price_per_area: Annotated[Number, "money, to six places"]
    stated_rate: Annotated[Number | None, "money per area, as the request states it"]
    stated_price: Money | None
    difference: Money | None
    fixed_price: Annotated[Number, "money that no opening moves, to six places"]
    price_each: Annotated[Number | None, "money that each opening adds, to six places"]
    break_even_openings: Number | None


class AssumptionLine(TypedDict):
    """A value that nobody entered."""

    field: str
    value: str
    source: Source
    openings: Annotated[int, "openings that it touches"]
    sentence: str
