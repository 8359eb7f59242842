"""The comparison document."""

from __future__ import annotations

from typing import Annotated, NotRequired, TypedDict

from estimating.core.attribution import CAUSES, PACKS_AND_ROUNDING
from estimating.outputs.documents.checks import ChangedCheck
from estimating.outputs.documents.estimate import RunProblem
from estimating.outputs.documents.scalars import Attribution, Day, Id, MatchState, Moment, Money, Named, RunState

Cause = Annotated[str, Named("Cause", "of a change in price", words=(*CAUSES, PACKS_AND_ROUNDING))]


class ComparedEstimates(TypedDict):
    """The two estimates."""

    before: Id
    after: Id


class DecidedMatch(TypedDict):
    """Two lines of which a person has said whether they are one."""

    line_before: Annotated[int, "from 1"]
    line_after: Annotated[int, "from 1"]
    state: MatchState
    decided_by: Id
    decided_at: Moment


class ComparedSide(TypedDict):
    """What one side comes to."""

    price: Money
    openings: int
    work_date: Day
    input_digest: str | None


class ChangeSaid(TypedDict):
    """One thing that changed, before and after."""

    sentence: str
    tells_costs: Annotated[bool, "shown only to who may see costs"]


class CauseLine(TypedDict):
    """One cause; all of them sum to the change."""

    cause: Cause
    amount: Money
    sentence: NotRequired[Annotated[str, "to be read out; for sales without what tells of costs"]]
    sentence_without_costs: NotRequired[str]
    changes: NotRequired[list[ChangeSaid]]


class LineOfSide(TypedDict):
    """A line as one side has it."""

    mark: str
    quantity: int


class ComparedLine(TypedDict):
    """One line's share of the cause `openings`; the last one is what lines do together with other causes."""

    line_before: NotRequired[Annotated[int | None, "from 1; null where it was added"]]
    line_after: NotRequired[Annotated[int | None, "from 1; null where it was removed"]]
    before: NotRequired[LineOfSide | None]
    after: NotRequired[LineOfSide | None]
    elevation: NotRequired[str | None]
    storey: NotRequired[str | None]
    classes: Annotated[list[str], "what changed"]
    sentence: NotRequired[Annotated[str, "what changed, before and after"]]
    amount: Money


class RateRow(TypedDict):
    """One rate row's own effect; the last one is what rows do together."""

    table: str | None
    code: str
    sentence: NotRequired[Annotated[str, "what changed, before and after"]]
    amount: Annotated[Money | None, "null where the row alone can't be costed"]


class Comparison(TypedDict):
    """The causes of the change in price between two estimates, each level to the cent; known once it is computed."""

    id: Id
    state: RunState
    estimates: ComparedEstimates
    attribution: Attribution
    order: list[Cause] | None
    smooth: Annotated[bool, "packs, minimum and rounding as a cause of their own"]
    matches: list[DecidedMatch]
    problems: list[RunProblem]
    reason: Annotated[str | None, "why the run failed"]
    created_at: Moment
    compared_at: Moment | None
    currency: NotRequired[Annotated[str, "ISO 4217"]]
    before: NotRequired[ComparedSide]
    after: NotRequired[ComparedSide]
    change: NotRequired[Money]
    causes: NotRequired[list[CauseLine]]
    also_changed: NotRequired[Annotated[list[ChangeSaid], "what moves no money by itself"]]
    customer_sentence: NotRequired[Annotated[str, "of the openings, with no amount in it"]]
    lines: NotRequired[list[ComparedLine]]
    rate_rows: NotRequired[Annotated[list[RateRow], "for who may see costs"]]
    checks: NotRequired[Annotated[list[ChangedCheck], "those that came, went or say something else"]]
    cautions: NotRequired[Annotated[list[str], "those of the later estimate"]]
