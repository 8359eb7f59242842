"""What is at stake in a revision's open questions: money by one of the company's estimates, else openings touched."""

from __future__ import annotations

import uuid
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from estimating.actions.intake import Sent, find_revision, read_again, report_of
from estimating.core.job import cost_request
from estimating.intake.asking import SEVERITIES
from estimating.intake.questions import Question
from estimating.intake.report import Report, is_open, question_of
from estimating.intake.stakes import Lines, Stake, stakes
from estimating.jobs import for_core, stored
from estimating.models import Estimate, ScheduleRevision
from estimating.outputs.documents.scalars import Money
from rates.core.length_styles import LengthStyle
from rates.core.money import print_money
from rates.core.problems import Problem, Refused
from rates.core.texts import counted
from rates.queries.companies import length_style

MOST_LINES = 2_000  # each choice is read and costed anew


@dataclass(frozen=True)
class AtStake:
    """One open question: the openings it touches, the price under each choice that can be priced, and the difference.

    Without an estimate there is no currency and no amount yet, and no prices. stake: what is at stake as a sentence;
    choices_shown: the priced choices as the company's people read them.
    """

    question: str
    code: str
    severity: str
    sentence: str
    openings: int
    currency: str | None
    amount: Money | None
    prices: dict[str, Money]
    choices_shown: dict[str, str]
    stake: str


def at_stake(*, company: uuid.UUID, id: uuid.UUID, estimate: uuid.UUID | None) -> tuple[AtStake, ...]:
    """The open questions of a revision, what moves the price most first; NotThere, Refused.

    Without an estimate to price them by: all that are open, what touches most openings first.
    """
    revision = find_revision(company, id)
    report, style = report_of(revision), length_style(company=company)
    if estimate is None:
        return by_openings(report, style)
    asked = [question_of(question) for question in report["questions"]]
    row = Estimate.objects.of(company).filter(pk=estimate, costed_at__isnull=False).first()
    if row is None:
        raise Refused([Problem("/query/estimate", "not_found", "there is no such costed estimate")])
    if revision.line_count > MOST_LINES:
        detail = f"money at stake is computed for up to {MOST_LINES:,} lines"
        raise Refused([Problem("", "too_many_lines", detail, "schedule")])
    found = priced(company, revision, report, asked, row)
    moving = [question for question in asked if question.id in found]
    moving.sort(key=lambda question: -found[question.id].swing)
    return tuple(show(question, found[question.id], row.currency, style) for question in moving)


def by_openings(report: Mapping[str, Any], style: LengthStyle) -> tuple[AtStake, ...]:
    """The open questions of a report without a price, what touches most openings first."""
    waiting = [question_of(question) for question in report["questions"] if is_open(question)]
    waiting.sort(key=lambda question: (-(question.openings or 0), SEVERITIES.index(question.severity)))
    return tuple(show_unpriced(question, style) for question in waiting)


def priced(
    company: uuid.UUID, revision: ScheduleRevision, report: Report, asked: list[Question], row: Estimate
) -> dict[str, Stake]:
    """Question -> the prices of its choices, by the assumptions and rates of an estimate."""
    told = stored(row)

    def read_with(answers: Mapping[str, str]) -> Lines | None:
        received = read_again(company=company, before=revision, report=report, sent=Sent(answers))
        return received.intake.lines

    def price(lines: Lines) -> int | None:
        request = for_core(told.request, list(lines), revision.length_unit)
        try:
            return cost_request(request, told.editions).up.price_minor
        except Refused:
            return None

    return stakes(asked, read_with, price)


def show_unpriced(question: Question, style: LengthStyle) -> AtStake:
    """A question of which only the openings are known yet."""
    count = question.openings or 0
    told = (question.id, question.code, question.severity, question.read_in(style.show)[0], count)
    return AtStake(*told, None, None, {}, {}, f"no price yet; {counted(count, 'opening')} touched")


def show(question: Question, stake: Stake, currency: str, style: LengthStyle) -> AtStake:
    """What is at stake in a question, lengths in the company's style."""
    sentence, labels = question.read_in(style.show)
    label = dict(zip(question.choices, labels, strict=False))
    prices = {choice: print_money(amount, currency) for choice, amount in stake.prices}
    amount, count = print_money(stake.swing, currency), question.openings or 0
    return AtStake(
        question.id,
        question.code,
        question.severity,
        sentence,
        count,
        currency,
        amount,
        prices,
        {choice: label.get(choice, choice) for choice in prices},
        f"{amount} {currency}; {counted(count, 'opening')} touched",
    )
