"""A change priced by time and material: hours, invoices and rental at cost, marked up as the edition says.

Hours are paid hours at the hour rate of their labour row; materials what was paid for them, freight and sales tax with
it; equipment the least-cost rental of its row. Direct costs by percentage that no invoice holds, as small tools,
overhead, contingency, profit, bond and receipts tax follow by the edition's percentages and amounts for each paid hour.
What an edition charges once for a job (a minimum, rounding up, a fixed amount) is in the contract already. A bond in
tiers is that on the contract with the change, less that on it without: its tiers end at prices of the whole contract.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from estimating.core.build_lines import BuildLine
from estimating.core.build_up import contained_lines, stands_on, upper_lines
from estimating.core.conditions import Conditions
from estimating.core.direct import Job, row_line
from estimating.core.equipment import A_DAY
from estimating.core.figures.figure import Step
from estimating.core.figures.rules import rounded
from estimating.core.packs import least_cost_packs
from estimating.core.remainders import allocate
from estimating.core.request import Request
from estimating.core.till import Till
from estimating.core.wages import LabourRate
from rates.core.card import Card
from rates.core.fraction import Fraction
from rates.core.problems import Problem
from rates.core.rows import EquipmentRow, LabourRow, OverheadRow, TierRow
from rates.core.steps import DIRECT, MARK_UP, ORDER, PROFIT, STEPS

LABOUR, MATERIALS, EQUIPMENT = "labour", "materials", "equipment"
KEPT_AMOUNT = "paid_hours"  # what an amount of the overheads may be for each of, to count here


@dataclass(frozen=True)
class Hours:
    """Paid hours of a labour row."""

    code: str
    hours: Fraction


@dataclass(frozen=True)
class Invoice:
    """What was paid for a material, major units."""

    title: str
    cost: Fraction


@dataclass(frozen=True)
class Rental:
    """Whole days of an equipment row, for so many units, delivered so often."""

    code: str
    days: int
    units: int
    deliveries: int


@dataclass(frozen=True)
class Ticket:
    """What was done and used."""

    labour: Sequence[Hours] = ()
    materials: Sequence[Invoice] = ()
    equipment: Sequence[Rental] = ()


@dataclass(frozen=True)
class Cost:
    """One entry at cost in minor units. rate: of one hour, major units, exact; None for what is no hours."""

    step: str
    title: str
    quantity: Fraction
    unit: str
    rate: Fraction | None
    cost_minor: int


@dataclass(frozen=True)
class PricedTicket:
    """Entries at cost, each with its part of the price; the build-up from their sums to the price. Minor units.

    build_up: step, title and amount of each line; both sum to the price.
    """

    costs: tuple[Cost, ...]
    prices: tuple[int, ...]
    build_up: tuple[tuple[str, str, int], ...]
    price_minor: int


@dataclass(frozen=True)
class PaidHours:
    """What an amount for each paid hour is multiplied by."""

    paid: Fraction


@dataclass(eq=False, repr=False)
class TicketLine(BuildLine):
    """The entries of one step, each rounded, summed."""

    exact_sum: Fraction = Fraction(0)
    has_exact = False

    def amount_step(self) -> Step:
        return rounded, "Σ of the rounded entries", self.exact_sum, *self.till.places_and_way


def beyond(row: OverheadRow, contract: Fraction) -> OverheadRow:
    """A bond's row for what comes on top of a contract: tiers that the contract fills are left out, ends moved."""
    if row.tiers is None:
        return row
    left = [t for t in row.tiers if t.up_to is None or t.up_to > contract]
    return replace(row, tiers=tuple(TierRow(t.up_to and t.up_to - contract, t.rate) for t in left))


def marking_up(card: Card, contract: Fraction) -> Card:
    """The card with the overheads that a change carries."""
    rows = [row for row in card.overheads if row.rate is not None or row.tiers or row.on == KEPT_AMOUNT]
    return replace(card, overheads=tuple(beyond(row, contract) for row in rows))


def hour_cost(card: Card, request: Request, of: Hours, at: str, faults: list[Problem]) -> Cost | None:
    """Hours at the hour rate of their row."""
    row = card.table_row(LABOUR, of.code)
    if not isinstance(row, LabourRow):
        faults.append(Problem(f"{at}/labour", "not_found", f'the edition has no labour row "{of.code}"'))
        return None
    rate = LabourRate(Conditions(card, request), row).rate
    return Cost(LABOUR, row.title, of.hours, "hours", rate, Till.of(card).minor(of.hours * rate))


def rental_cost(card: Card, of: Rental, at: str, faults: list[Problem]) -> Cost | None:
    """Rental of the least cost for the days, and deliveries."""
    row = card.table_row(EQUIPMENT, of.code)
    if not isinstance(row, EquipmentRow):
        faults.append(Problem(f"{at}/equipment", "not_found", f'the edition has no equipment row "{of.code}"'))
        return None
    days = {"day": Fraction(A_DAY), "week": card.production.days_per_week, "month": card.production.days_per_month}
    periods = [(days[rental.period], rental.price) for rental in row.rental]
    rental = least_cost_packs(Fraction(of.days), *periods) if periods else Fraction(0)
    cost = rental * of.units + row.delivery * of.deliveries
    return Cost(EQUIPMENT, row.title, Fraction(of.days * of.units), "days", None, Till.of(card).minor(cost))


def at_cost(card: Card, request: Request, ticket: Ticket, faults: list[Problem]) -> list[Cost]:
    """Every entry at cost; faults noted."""
    start = "/time_and_material"
    found = [hour_cost(card, request, x, f"{start}/labour/{i}", faults) for i, x in enumerate(ticket.labour)]
    one, till = Fraction(1), Till.of(card)
    found += [Cost(MATERIALS, x.title, one, "lump_sum", None, till.minor(x.cost)) for x in ticket.materials]
    found += [rental_cost(card, x, f"{start}/equipment/{i}", faults) for i, x in enumerate(ticket.equipment)]
    return [cost for cost in found if cost is not None]


def built_up(card: Card, request: Request, ticket: Ticket, costs: Sequence[Cost]) -> list[BuildLine]:
    """The lines from the sums at cost to the price."""
    till = Till.of(card)
    job = Job(request, card, till, several=False, empty=False, smooth=False)
    lines: list[BuildLine] = []
    for step in (LABOUR, MATERIALS, EQUIPMENT):
        summed = till.major(sum(cost.cost_minor for cost in costs if cost.step == step))
        lines.append(TicketLine(**job.common(None), step=step, title=step.title(), cost_code=None, exact_sum=summed))
    hours = PaidHours(sum((of.hours for of in ticket.labour), Fraction(0)))
    added = [step.name for step in STEPS if step.stage == DIRECT and not step.invoiced]
    for row in sorted(card.overheads, key=lambda row: ORDER.index(row.step)):
        if row.step in added and row.rate is not None:
            on = str(row.on)  # every percentage states its base
            of = stands_on("materials" if on == "taxable_materials" else on, lines)
            lines.append(row_line(job, row, None, of, hours))
    upper_lines(job, lines, hours, MARK_UP)
    upper_lines(job, lines, hours, PROFIT)
    contained_lines(job, lines)
    return lines


def price_ticket(
    card: Card, request: Request, ticket: Ticket, contract_minor: int
) -> tuple[PricedTicket | None, list[Problem]]:
    """(the ticket priced on top of a contract of so many minor units, every fault of it)."""
    faults: list[Problem] = []
    costs = at_cost(card, request, ticket, faults)
    if faults:
        return None, faults
    marked = marking_up(card, Till.of(card).major(max(contract_minor, 0)))
    lines = built_up(marked, request, ticket, costs)
    told = tuple((line.step, line.title, line.amount_minor) for line in lines)
    price = sum(amount for _, _, amount in told)
    prices = tuple(allocate(price, [cost.cost_minor for cost in costs]))
    return PricedTicket(tuple(costs), prices, told, price), []
