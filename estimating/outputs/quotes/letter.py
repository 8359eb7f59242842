"""The letter of a quote: the one list of what a customer may read. What is no field here is in no letter.

PDF, HTML and every later form are made from `Letter` alone, so that no cost, wage, hour rate or margin can appear.
"""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from estimating.core.checks.wording import listed
from estimating.outputs.printed.amounts import print_amount
from estimating.outputs.quotes.letter_assumptions import told_assumptions
from estimating.outputs.quotes.options import (
    LetterAlternate,
    LetterUnitPrice,
    letter_alternates,
    letter_unit_prices,
)
from estimating.outputs.quotes.prepared import Prepared, PricedLine

MOST_MARKS = 12  # named of those that are not in the price


@dataclass(frozen=True)
class Customer:
    """To whom it goes."""

    name: str
    contact: str
    address: tuple[str, ...]
    email: str
    reference: str


@dataclass(frozen=True)
class LetterLine:
    """One line of the offer; lines sum to the price.

    place: storey and elevation; price as printed; sides: those treated where not all are, such as `jambs and head`.
    """

    mark: str
    place: str
    kind: str
    size: str
    quantity: int
    price: str
    sides: str = ""

    @property
    def opening(self) -> str:
        """What it is, and which of its sides where not all are treated."""
        return f"{self.kind}, {self.sides} only" if self.sides else self.kind


@dataclass(frozen=True)
class Addendum:
    """An addendum acknowledged, and the marks that it brought or changed."""

    name: str
    acknowledged_on: str
    marks: tuple[str, ...]


@dataclass(frozen=True)
class Counted:
    """Openings that are not in the price: how many, and why or under which alternate."""

    what: str
    openings: int


@dataclass(frozen=True)
class Letter:
    """All that a customer reads. number None: a draft, which says so; dates as ISO 8601, amounts as printed."""

    company: str
    letterhead: tuple[str, ...]
    invented: bool
    number: int | None
    date: str
    customer: Customer
    project: str
    project_number: str
    drawing_issue: str
    replaces: str
    addenda: tuple[Addendum, ...]
    currency: str
    price: str
    openings: int
    lines: tuple[LetterLine, ...]
    not_priced: tuple[Counted, ...]
    inclusions: tuple[str, ...]
    exclusions: tuple[str, ...]
    clarifications: tuple[str, ...]
    assumptions: tuple[str, ...]
    terms: str
    valid_until: str
    cautions: tuple[str, ...]
    alternates: tuple[LetterAlternate, ...] = ()
    unit_prices: tuple[LetterUnitPrice, ...] = ()

    def document(self) -> dict[str, Any]:
        """As JSON."""
        return asdict(self)


@dataclass(frozen=True)
class Sender:
    """Whose letter it is."""

    company: str
    letterhead: Sequence[str]
    invented: bool


@dataclass(frozen=True)
class Terms:
    """What a quote says beside its lines, as the quote keeps it."""

    customer: Mapping[str, Any]
    texts: Mapping[str, Sequence[Mapping[str, Any]]]
    addenda: Sequence[Mapping[str, Any]]
    terms: str
    valid_until: datetime.date
    project: str
    project_number: str
    drawing_issue: str
    replaces: str


def write_letter(
    sender: Sender,
    said: Terms,
    prepared: Prepared,
    *,
    prices: Sequence[int],
    currency: str,
    number: int | None,
    date: datetime.date,
    own: bool = True,
) -> Letter:
    """The letter; `prices` are those of the prepared lines in minor units, and sum to the price.

    own: whether it stands on the estimate's own rates, at which alternates and unit prices are priced.
    """
    texts = {name: tuple(entry["text"] for entry in entries) for name, entries in said.texts.items()}
    lines = zip(prepared.lines, prices, strict=True)
    return Letter(
        company=sender.company,
        letterhead=tuple(sender.letterhead),
        invented=sender.invented,
        number=number,
        date=date.isoformat(),
        customer=read_customer(said.customer),
        project=said.project,
        project_number=said.project_number,
        drawing_issue=said.drawing_issue,
        replaces=said.replaces,
        addenda=tuple(Addendum(a["name"], a["acknowledged_on"], tuple(a["marks"])) for a in said.addenda),
        currency=currency,
        price=print_amount(sum(prices), currency),
        openings=prepared.openings,
        lines=tuple(letter_line(line, minor, currency) for line, minor in lines),
        not_priced=not_priced(prepared),
        inclusions=texts["inclusions"],
        exclusions=texts["exclusions"],
        clarifications=texts["clarifications"],
        assumptions=told_assumptions(prepared.assumptions, prepared.openings),
        terms=said.terms,
        valid_until=said.valid_until.isoformat(),
        cautions=tuple(prepared.cautions),
        alternates=tuple(letter_alternates(prepared.options, currency)) if own else (),
        unit_prices=tuple(letter_unit_prices(prepared.unit_prices, currency)) if own else (),
    )


def read_customer(raw: Mapping[str, Any]) -> Customer:
    """The customer of a quote."""
    texts = {name: str(raw.get(name) or "") for name in ("name", "contact", "email", "reference")}
    return Customer(**texts, address=tuple(raw.get("address") or ()))


def letter_line(line: PricedLine, minor: int, currency: str) -> LetterLine:
    """One line as customers read it."""
    place = ", ".join(part for part in (line.storey, line.elevation) if part)
    kind = "" if line.line is None else line.kind
    return LetterLine(line.mark, place, kind, line.size, line.quantity, print_amount(minor, currency), line.sides)


def not_priced(prepared: Prepared) -> tuple[Counted, ...]:
    """The openings of the file that are not in the price, with their marks."""
    named = [(str(entry["reason"]), entry) for entry in prepared.set_aside]
    named += [(f"alternate {entry['name']}", entry) for entry in prepared.alternates]
    return tuple(Counted(with_marks(what, entry.get("marks", ())), int(entry["openings"])) for what, entry in named)


def with_marks(what: str, marks: Sequence[str]) -> str:
    """`what` with the first marks; quotes of before kept none."""
    rest = [f"{len(marks) - MOST_MARKS:,} more"] if len(marks) > MOST_MARKS else []
    return f"{listed([*marks[:MOST_MARKS], *rest])}: {what}" if marks else what
