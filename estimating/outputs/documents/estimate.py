"""The estimate document."""

from __future__ import annotations

from typing import Annotated, NotRequired, TypedDict

from estimating.outputs.documents.checks import CheckLine
from estimating.outputs.documents.scalars import (
    Area,
    Day,
    Hours,
    Id,
    Layer,
    Moment,
    Money,
    Number,
    Percent,
    Perimeter,
    RunState,
    Severity,
    Step,
)


class Progress(TypedDict):
    """How far a run has come."""

    done: int
    total: int
    step: str


class EstimateSchedule(TypedDict):
    """The schedule revision that an estimate was costed from."""

    id: Id
    revision: int
    drawing_issue: str


class EstimateEdition(TypedDict):
    """An edition that priced an estimate."""

    id: Id
    number: int
    effective_from: Day


class EstimateLayer(TypedDict):
    """An edition of a nearer layer that supplied rates."""

    edition: Id
    number: int
    effective_from: Day
    layer: Layer


class Units(TypedDict):
    """The units of every quantity in the document, stated once."""

    length: Annotated[str, "of pieces: in or mm"]
    perimeter: Annotated[str, "of perimeters and rolls: ft or m"]
    area: Annotated[str, "ft2 or m2"]
    volume: Annotated[str, "gal or L"]


class Totals(TypedDict):
    """The sums of an estimate; costs and margins only for who may see costs."""

    openings: Annotated[int, "openings that are priced"]
    perimeter: Perimeter
    treated_area: Area
    hours: Annotated[Hours, "standard hours"]
    crew_days: Annotated[Number, "days of the crew"]
    direct_cost: NotRequired[Money]
    cost: NotRequired[Money]
    price: Annotated[Money, "the sum of the build-up, of the marks and of the cost codes"]
    price_per_opening: Annotated[Number | None, "money, to six places; null without an opening"]
    markup_percent: NotRequired[Annotated[Percent, "profit on cost"]]
    margin_percent: NotRequired[Annotated[Percent, "profit of cost and profit"]]


class BuildUpLine(TypedDict):
    """One line of the build-up; the amounts sum to the price."""

    step: Step
    title: str
    basis: Annotated[str | None, "what the amount is computed on, in words"]
    amount: Money
    cost_code: str | None


class MarkLine(TypedDict):
    """One mark with its share of the price; the prices sum to the price."""

    mark: Annotated[str | None, "the label as drawn; null for what belongs to no mark"]
    quantity: int
    hours: Hours
    price: Money
    unit_price: Annotated[Money | None, "price of one, rounded half up; null without a quantity"]
    residual: Annotated[Money, "what that rounding leaves over"]


class RemarkLine(TypedDict):
    """What a person should know of an estimate."""

    code: Annotated[str, "a stable word"]
    severity: Severity
    pointer: Annotated[str, "where it arose in the request (RFC 6901)"]
    detail: str


class SetAside(TypedDict):
    """Openings that are kept and not priced, for one reason."""

    reason: str
    openings: int


class AlternateOpenings(TypedDict):
    """Openings of one alternate."""

    name: str
    openings: int


class EstimateQuestions(TypedDict):
    """Questions of the schedule that are open, by severity."""

    blocks_issue: int
    to_know: int


class Scope(TypedDict):
    """Which openings of the file are priced."""

    in_file: Annotated[int, "openings; the sum of priced, set_aside and alternates"]
    priced: int
    set_aside: list[SetAside]
    alternates: list[AlternateOpenings]
    questions: EstimateQuestions


class RunProblem(TypedDict):
    """A fault for which a run was refused."""

    pointer: str
    code: str
    detail: str
    document: Annotated[str, "request, schedule or edition"]


class Estimate(TypedDict):
    """An estimate; what is not known before it is costed is null or empty."""

    scope: Scope | None
    id: Id
    state: RunState
    progress: Progress
    project: Id | None
    number: Annotated[int | None, "its number in the project"]
    schedule: EstimateSchedule | None
    edition: EstimateEdition
    editions: NotRequired[Annotated[list[EstimateEdition], "all that priced something, the work date's first"]]
    layers: list[EstimateLayer]
    work_date: Day
    known_at: Annotated[Moment, "rates as known at this time"]
    currency: Annotated[str, "ISO 4217"]
    units: Units | None
    totals: Totals | None
    build_up: Annotated[list[BuildUpLine], "empty for who may not see costs"]
    by_mark: list[MarkLine]
    remarks: list[RemarkLine]
    checks: NotRequired[Annotated[list[CheckLine], "what is unlikely; not of estimates from before checks were told"]]
    cautions: list[str]
    input_digest: Annotated[str | None, "same input, same engine: the same bytes"]
    engine_version: str | None
    problems: list[RunProblem]
    reason: Annotated[str | None, "why the run failed"]
    created_at: Moment
    costed_at: Moment | None
