"""From what a change order is priced by to its lines and price: a comparison, unit prices, or time and material."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from estimating.change_words import COMPARISON, UNIT_PRICES
from estimating.core.contract import Counted, standing
from estimating.core.job import Job, card_on, cost, no_edition, read_cards
from estimating.core.quoted_units import Asked, price_by_units
from estimating.core.schedule_lines import mark_key
from estimating.core.time_and_material import Cost, Hours, Invoice, Rental, Ticket, price_ticket
from estimating.jobs import stored
from estimating.models import ChangeOrder, Comparison, Quote
from estimating.outputs.quotes.prepared import OWN_PRICES, read_prepared
from estimating.states import ChangeOrderState, RunState
from rates.cards import stored_sources
from rates.core.card import Card
from rates.core.exact import print_quantity, read_decimal
from rates.core.fields import Faults
from rates.core.money import read_money
from rates.core.problems import Problem, Refused
from rates.core.rows import Supply
from rates.documents import unpack

Line = dict[str, Any]


@dataclass(frozen=True)
class Around:
    """What else stands on the contract: its value now, the ranges of unit prices used, what is compared already."""

    contract_minor: int
    taken: Mapping[tuple[str, bool], int]
    compared: Mapping[uuid.UUID, int]  # later estimates of comparisons -> number of the change order


@dataclass(frozen=True)
class Pricing:
    """Lines that sum to the price; build_up and edition of time and material. Money in minor units."""

    price_minor: int
    lines: Sequence[Line]
    build_up: Sequence[Mapping[str, Any]] = ()
    edition: Mapping[str, Any] | None = None
    comparison: uuid.UUID | None = None
    around: Around | None = field(default=None, compare=False)

    def document(self) -> dict[str, Any]:
        """As it is kept."""
        return {"lines": list(self.lines), "build_up": list(self.build_up), "edition": self.edition}


def around(quote: Quote, apart: uuid.UUID | None = None) -> Around:
    """What stands on a contract beside one of its change orders."""
    rows = list(
        ChangeOrder.objects.of(quote.company_id)
        .filter(quote=quote)
        .exclude(pk__in=[apart] if apart else [])
        .exclude(state=ChangeOrderState.WITHDRAWN)
        .select_related("comparison")
        .defer("pricing", "comparison__document")
        .order_by("number")
    )
    taken: dict[tuple[str, bool], int] = {}
    for entry in (entry for row in rows if row.basis == UNIT_PRICES for entry in row.asked):
        key = (mark_key(entry["mark"]), entry["openings"] > 0)
        taken[key] = taken.get(key, 0) + abs(entry["openings"])
    compared = {row.comparison.after_id: row.number for row in rows if row.comparison is not None}
    counted = (Counted(row.state, row.price_minor) for row in rows)
    return Around(standing(quote.awarded_minor, counted).contract_minor, taken, compared)


def price(quote: Quote, basis: str, asked: Any, day: datetime.date | None, found: Around) -> Pricing:
    """The change priced; Refused with every fault."""
    if basis == COMPARISON:
        return by_comparison(quote, uuid.UUID(str(asked)), found)
    return (by_unit_prices if basis == UNIT_PRICES else by_ticket)(quote, asked, day, found)


def line(title: str, quantity: str, unit: str, price_minor: int, **more: Any) -> Line:
    """One line as it is kept."""
    return {"title": title, "quantity": quantity, "unit": unit, "price_minor": price_minor} | more


def by_comparison(quote: Quote, id: uuid.UUID, found: Around) -> Pricing:
    """The difference of two prices by its causes. The earlier is the contract's, or one that a change order led to.

    What was given away on the contract is not given away on its changes.
    """
    rows = Comparison.objects.of(quote.company_id).select_related("run", "before", "after")
    row = rows.defer("before__request", "after__request").filter(pk=id).first()
    if row is None:
        raise refuse(COMPARISON, "not_found", "there is no such comparison")
    if row.run.state != RunState.COSTED:
        raise refuse(COMPARISON, "not_computed", f"this comparison is {row.run.state}, not computed")
    if row.before_id != quote.estimate_id and row.before_id not in found.compared:
        detail = f"it starts from an estimate that is neither that of quote {quote.number} nor of a change order to it"
        raise refuse(COMPARISON, "not_the_contract", detail)
    if row.after_id in found.compared:
        detail = f"change order {found.compared[row.after_id]} takes the difference to this estimate in already"
        raise refuse(COMPARISON, "compared_already", detail)
    assert row.document is not None
    document = unpack(row.document)
    if document["currency"] != quote.currency:
        detail = f"it is in {document['currency']}, the contract in {quote.currency}"
        raise refuse(COMPARISON, "other_currency", detail)
    amounts = [(cause["cause"], read_money(cause["amount"], quote.currency)) for cause in document["causes"]]
    lines = [line(name.replace("_", " ").capitalize(), "1", "lump_sum", amount) for name, amount in amounts if amount]
    return Pricing(read_money(document["change"], quote.currency), lines, comparison=row.pk, around=found)


def refuse(name: str, code: str, detail: str) -> Refused:
    """One fault of what a change order is priced by."""
    return Refused([Problem(f"/{name}", code, detail)])


def job_of(quote: Quote) -> Job:
    """What the quoted estimate was costed from."""
    return stored(quote.estimate).job()


def by_unit_prices(quote: Quote, asked: Any, day: datetime.date | None, found: Around) -> Pricing:
    """Openings at the unit prices of the quoted estimate."""
    if quote.basis not in OWN_PRICES:
        detail = f"quote {quote.number} stands on held rates, so the unit prices of its estimate were not offered"
        raise refuse(UNIT_PRICES, "not_quoted", detail)
    if day is None:
        raise Refused([Problem("/work_date", "missing", "unit prices hold for days of work; give the day of this one")])
    estimate = cost(job_of(quote))
    wanted = [Asked(entry["mark"], entry["openings"]) for entry in asked]
    priced, faults = price_by_units(estimate, wanted, day, found.taken)
    if faults:
        raise Refused(faults)
    lines = [
        line(x.mark, str(x.openings), "openings", x.amount_minor, mark=x.mark, unit_minor=abs(x.unit_minor))
        for x in priced
    ]
    return Pricing(sum(x.amount_minor for x in priced), lines, around=found)


def by_ticket(quote: Quote, asked: Any, day: datetime.date | None, found: Around) -> Pricing:
    """Time and material by the editions that the contract stands on, the one in force on the day of the work."""
    faults: Faults = []
    offer = read_prepared(unpack(quote.prepared)).offer(quote.basis)
    assert offer is not None
    cards = read_cards(stored_sources(company=quote.company_id, kept=offer.editions), faults)
    job, on = job_of(quote), day or quote.estimate.work_date
    card = card_on(cards, on)
    if card is None:
        raise Refused([*faults, no_edition("/work_date", on, cards)])
    priced, wrong = price_ticket(card, job.plan.request, read_ticket(asked), found.contract_minor)
    if priced is None:
        raise Refused(wrong)
    lines = [ticket_line(cost, minor) for cost, minor in zip(priced.costs, priced.prices, strict=True)]
    built = [{"step": step, "title": title, "amount_minor": minor} for step, title, minor in priced.build_up]
    return Pricing(priced.price_minor, lines, built, edition_of(card), around=found)


def edition_of(card: Card) -> Mapping[str, Any]:
    """The edition whose rates are frozen, as it is kept."""
    supply: Supply = card.supply["labour"]
    return {"id": supply.edition, "number": supply.number, "effective_from": supply.effective_from}


def ticket_line(cost: Cost, minor: int) -> Line:
    """An entry with its cost and its part of the price."""
    rate = None if cost.rate is None else print_quantity(cost.rate)
    told = {"cost_minor": cost.cost_minor, "rate": rate}
    return line(cost.title, print_quantity(cost.quantity), cost.unit, minor, **told)


def read_ticket(asked: Mapping[str, Any]) -> Ticket:
    """What was done and used, from how it is kept."""
    return Ticket(
        [Hours(x["labour"], read_decimal(x["hours"])) for x in asked.get("labour", ())],
        [Invoice(x["title"], read_decimal(x["cost"])) for x in asked.get("materials", ())],
        [Rental(x["equipment"], x["days"], x["units"], x["deliveries"]) for x in asked.get("equipment", ())],
    )
