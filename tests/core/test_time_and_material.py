"""Which direct costs of an edition stand on time and material; http/test_change_orders.py has the price by hand."""

from __future__ import annotations

from fractions import Fraction

from estimating.core.time_and_material import Hours, Invoice, Ticket, price_ticket
from rates.core.steps import DIRECT, STEPS
from tests.core.invented import costed, edition, opening, percent, request

# freight and sales tax are on the invoice of a material (common practice, no source)
INVOICED = {"freight", "sales_tax"}


def test_direct_costs_by_percentage_follow_unless_the_invoice_holds_them() -> None:
    """10 hours at 60.00 are 600.00: 10 % is 60.00."""
    by_percentage = [step.name for step in STEPS if step.stage == DIRECT and "percent" in step.takes]
    rows = [percent(step, "10", "labour") for step in reversed(by_percentage)]
    estimate = costed(request(opening()), edition(overheads=rows))
    ticket = Ticket([Hours("worker", Fraction(10))], [Invoice("Sealant", Fraction(120))])
    priced, _ = price_ticket(estimate.card, estimate.request, ticket, 0)
    assert priced is not None
    added = [(step, amount) for step, _, amount in priced.build_up[3:]]
    assert added == [(step, 6000) for step in by_percentage if step not in INVOICED]
