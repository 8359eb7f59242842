"""Parts of a change order as answers print them."""

from __future__ import annotations

from typing import Annotated, NotRequired, TypedDict

from estimating.change_words import BASES, NOTICE_STATES, REVISED, UNITS
from estimating.core.notice import COUNTED_IN
from estimating.outputs.documents.scalars import Day, Id, Moment, Money, Named, Number, Step
from estimating.states import ChangeOrderState

State = Annotated[str, Named("ChangeOrderState", words=tuple(ChangeOrderState.values))]
Basis = Annotated[str, Named("ChangeOrderBasis", words=BASES)]
LineUnit = Annotated[str, Named("ChangeOrderUnit", words=UNITS)]
NoticeState = Annotated[str, Named("NoticeState", words=NOTICE_STATES)]


class Directive(TypedDict):
    """The customer's word to go ahead."""

    by: Annotated[str, "who gave it"]
    reference: Annotated[str, "the number or the letter by which they know it"]
    on: Day


class Notice(TypedDict):
    """When the customer has to be told of a change, and when it was."""

    known_on: Annotated[Day, "when the change became known; this day is not counted"]
    days: Annotated[int, "that the contract gives"]
    counted: Annotated[str, Named("NoticeDays", words=COUNTED_IN)]
    holidays: Annotated[list[Day], "days off, which are no working days"]
    given_on: Day | None
    reference: Annotated[str, "of the notice that was given"]


class ChangeLine(TypedDict):
    """A line of a change order; the lines sum to its price."""

    title: str
    mark: Annotated[str | None, "of openings at a unit price"]
    quantity: Annotated[Number, "below 0 where openings go"]
    unit: LineUnit
    unit_price: Annotated[Money | None, "of one opening, as it was quoted"]
    price: Money
    cost: NotRequired[Annotated[Money | None, "of time and material; for who may see costs"]]
    rate: NotRequired[Annotated[Number | None, "cost of an hour; for who may see costs"]]


class TicketStep(TypedDict):
    """A line from the cost of time and material to the price; they sum to the price as it was priced."""

    step: Step
    title: str
    amount: Money


class FrozenEdition(TypedDict):
    """The edition whose rates priced it."""

    id: Id
    number: int
    effective_from: Day


class TakenStep(TypedDict):
    """What was done with a change order."""

    step: Annotated[str, Named("ChangeOrderStep", words=(*ChangeOrderState.values, REVISED))]
    at: Moment
    by: Id
    by_name: str
    said: str
    price: Money | None
