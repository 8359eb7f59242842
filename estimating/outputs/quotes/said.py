"""What quotes say, as it is kept and answered: the customer, the texts, the addenda."""

from __future__ import annotations

from typing import Annotated, TypedDict

from estimating.outputs.documents.scalars import Id


class QuotedCustomer(TypedDict):
    """To whom a quote goes."""

    name: str
    contact: str
    address: list[str]
    email: str
    reference: str


class QuoteText(TypedDict):
    """A text of a quote; `code` where the company keeps it."""

    code: str | None
    text: str


class KeptText(TypedDict):
    """A text that the company keeps for its quotes."""

    code: str
    text: str
    when: Annotated[list[str], "what an estimate holds for it to be picked; empty: always"]


class AcknowledgedAddendum(TypedDict):
    """An addendum that a quote acknowledges."""

    name: str
    acknowledged_on: str
    schedule: Annotated[Id | None, "the schedule revision that it led to"]
    marks: Annotated[list[str], "marks that it brought or changed"]
