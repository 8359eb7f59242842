"""What each way to reach the work means by the editions in force: the time that it adds, and how high it reaches."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from rates.cards import approved_of, book_chain, layers_on
from rates.core.exact import print_quantity
from rates.core.fraction import Fraction
from rates.queries.choices import read_tables


@dataclass(frozen=True)
class AccessTerms:
    """percent: the time that it adds, blank for none; up_to: how high it reaches, as the edition has it, or blank."""

    percent: str
    up_to: str


def access_terms(
    *, company: uuid.UUID, rate_book: uuid.UUID, work_date: datetime.date, known_at: datetime.datetime
) -> dict[str, AccessTerms]:
    """Access -> its terms, of the layers in force in a book on a day, the nearer over the farther."""
    chain = book_chain(company, rate_book)
    factors: dict[str, Any] = {}
    limits: dict[str, Any] = {}
    for layer in layers_on(chain, approved_of(company, chain), work_date, known_at) if chain else ():
        production = read_tables(layer.document).get("production", {})
        factors |= mapping_of(production, "access")
        limits |= mapping_of(production, "access_limits")
    return {name: terms_of(factor, mapping_of(limits, name)) for name, factor in factors.items()}


def mapping_of(values: Any, name: str) -> Mapping[str, Any]:
    """What stands under a name, where it is a mapping."""
    found = values.get(name) if isinstance(values, Mapping) else None
    return found if isinstance(found, Mapping) else {}


def terms_of(factor: Any, limit: Mapping[str, Any]) -> AccessTerms:
    """The terms of one access."""
    more = (Fraction(str(factor)) - 1) * 100
    return AccessTerms(print_quantity(more) if more else "", str(limit.get("up_to", "")))
