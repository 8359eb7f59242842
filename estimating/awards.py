"""What is awarded: an issued quote at its price, with the alternates that the customer takes with it."""

from __future__ import annotations

import uuid
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any

from estimating.core.alternates import offered, with_accepted
from estimating.core.estimate import Estimate
from estimating.core.job import cost
from estimating.core.variants import Variant
from estimating.jobs import stored
from estimating.models import Quote
from estimating.outputs.documents.scalars import Money
from estimating.outputs.quotes.prepared import OWN_PRICES
from estimating.queries.quotes import rows_of
from rates.core.money import print_money
from rates.core.problems import Problem, Refused
from rates.refusals import NotThere

Accepted = Mapping[str, Any]


@dataclass(frozen=True)
class Taken:
    """What a quote comes to with alternates: their names, what they add together, the price with them."""

    names: list[str]
    adds: Money
    price: Money


def taken(*, company: uuid.UUID, id: uuid.UUID, names: Collection[str]) -> Taken | None:
    """What an award of a quote with these alternates would come to; None without any; NotThere, Refused."""
    accepted = accept(company=company, id=id, names=names)
    if accepted is None:
        return None
    row = rows_of(company).get(pk=id)
    sums = (accepted["adds_minor"], row.price_minor + accepted["adds_minor"])
    adds, price = (print_money(minor, row.currency) for minor in sums)
    return Taken(accepted["names"], adds, price)


def accepted_names(quote: Quote) -> list[str]:
    """The alternates taken with the award."""
    return list(quote.accepted["names"]) if quote.accepted else []


def with_alternates(quote: Quote, names: Collection[str]) -> tuple[Estimate, Variant]:
    """(the quoted estimate, the whole job with these alternates); KeyError for a name that its schedule lacks."""
    estimate = cost(stored(quote.estimate).job())
    return estimate, with_accepted(estimate, names)


def accept(*, company: uuid.UUID, id: uuid.UUID, names: Collection[str]) -> Accepted | None:
    """What these alternates together add to a quote's price, as it is kept with the award; NotThere, Refused.

    It is the whole job's price with them less that without. An issued quote never changes, so neither does this.
    """
    if not names:
        return None
    row = rows_of(company).filter(pk=id).first()
    if row is None:
        raise NotThere
    if row.basis not in OWN_PRICES:
        detail = "this quote stands on held rates, at which its alternates are not priced; re-quote it at today's"
        raise Refused([Problem("/alternates", "not_priced", detail)])
    try:
        estimate, variant = with_alternates(row, names)
    except KeyError as unknown:
        detail = f'the schedule of this quote has no alternate "{unknown.args[0]}"'
        raise Refused([Problem("/alternates", "unknown_alternate", detail)]) from None
    if variant.up is None:
        raise Refused([Problem("/alternates", "not_together", str(variant.reason))])
    known = [name for name in offered(estimate.request.schedule) if name in names]
    return {"names": known, "adds_minor": variant.up.price_minor - estimate.up.price_minor}
