"""Quotes found by their number or customer, the one that stands in another's place, and who drafted one."""

from __future__ import annotations

import datetime
import re
import uuid
from dataclasses import dataclass

from django.db.models import Q

from estimating.awards import accepted_names
from estimating.models import Quote as QuoteRow
from estimating.models import QuoteState
from estimating.queries.quotes import BIG, QuoteLine, show_line, today_of
from rates.queries.members import Member, member
from rates.refusals import NotThere

NUMBER = re.compile(r"(?:quote|no\.?|nr\.?|#)?\s*#?\s*([0-9]{1,9})", re.IGNORECASE)


@dataclass(frozen=True)
class AwardedWith:
    """An awarded quote with the alternates taken with it, which are not in the base of the estimate it stands on."""

    quote: uuid.UUID
    number: int | None
    estimate: uuid.UUID
    names: list[str]


def awarded_with(*, company: uuid.UUID, **of: uuid.UUID) -> list[AwardedWith]:
    """The awarded quotes with alternates; of: their `estimate` or their `project`."""
    rows = QuoteRow.objects.of(company).filter(state=QuoteState.AWARDED, accepted__isnull=False, **of).defer(*BIG)
    return [AwardedWith(one.pk, one.number, one.estimate_id, accepted_names(one)) for one in rows.order_by("number")]


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
    """The newest quotes whose number the words are, or whose customer's name holds them; at most so many.

    A number may come as people write it: 7, #7, quote 7.
    """
    number = NUMBER.fullmatch(words.strip())
    rows = QuoteRow.objects.of(company).defer(*BIG)
    of_number = Q(number=int(number[1])) if number else Q()
    found = rows.filter(of_number | Q(customer_name__icontains=words))
    today = today_of(company, now)
    return [show_line(row, today) for row in found.order_by("-id")[:most]]
