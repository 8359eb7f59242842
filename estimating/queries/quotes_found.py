"""Quotes found by their number or customer, the one that stands in another's place, and who drafted one."""

from __future__ import annotations

import datetime
import uuid

from django.db.models import Q

from estimating.models import Quote as QuoteRow
from estimating.queries.quotes import BIG, QuoteLine, show_line, today_of
from rates.queries.members import Member, member
from rates.refusals import NotThere


def drafter(*, company: uuid.UUID, id: uuid.UUID) -> Member:
    """Who drafted a quote; NotThere."""
    found = QuoteRow.objects.of(company).filter(pk=id).values_list("made_by", flat=True).first()
    if found is None:
        raise NotThere
    return member(company=company, id=found)


def in_its_place(*, company: uuid.UUID, id: uuid.UUID, now: datetime.datetime) -> QuoteLine | None:
    """The newest quote, or draft of one, that replaces a quote; None without any."""
    row = QuoteRow.objects.of(company).filter(replaces=id).defer(*BIG).order_by("-id").first()
    return show_line(row, today_of(company, now)) if row is not None else None


def find_quotes(*, company: uuid.UUID, words: str, now: datetime.datetime, most: int) -> list[QuoteLine]:
    """The newest quotes whose number the words are, or whose customer's name holds them; at most so many."""
    digits = words if words.isascii() and words.isdigit() and len(words) < 10 else None
    rows = QuoteRow.objects.of(company).defer(*BIG)
    of_number = Q(number=int(digits)) if digits else Q()
    found = rows.filter(of_number | Q(customer_name__icontains=words))
    today = today_of(company, now)
    return [show_line(row, today) for row in found.order_by("-id")[:most]]
