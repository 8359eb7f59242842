"""The money at stake in a revision's open questions, by the assumptions and rates of one of the company's estimates."""

from __future__ import annotations

import uuid
from collections.abc import Mapping
from dataclasses import dataclass

from estimating.actions.intake import find_revision, read_again, report_of
from estimating.core.job import cost_request
from estimating.intake.asking import Question
from estimating.intake.report import question_of
from estimating.intake.stakes import Lines, Stake, stakes
from estimating.jobs import for_core, stored
from estimating.models import Estimate
from rates.core.length_styles import LengthStyle
from rates.core.money import print_money
from rates.core.problems import Problem, Refused
from rates.queries.companies import length_style

MOST_LINES = 2_000  # each choice is read and costed anew


@dataclass(frozen=True)
class AtStake:
    """One open question: the price under each choice that can be priced, and the difference.

    choices_shown: those choices as the company's people read them.
    """

    question: str
    code: str
    sentence: str
    currency: str
    amount: str
    prices: dict[str, str]
    choices_shown: dict[str, str]


def money_at_stake(*, company: uuid.UUID, id: uuid.UUID, estimate: uuid.UUID) -> tuple[AtStake, ...]:
    """The questions of a revision that move the price, the greatest first; NotThere, Refused."""
    revision = find_revision(company, id)
    row = Estimate.objects.of(company).filter(pk=estimate, costed_at__isnull=False).first()
    if row is None:
        raise Refused([Problem("/query/estimate", "not_found", "there is no such costed estimate")])
    if revision.line_count > MOST_LINES:
        detail = f"money at stake is computed for up to {MOST_LINES:,} lines"
        raise Refused([Problem("", "too_many_lines", detail, "schedule")])
    report, told = report_of(revision), stored(row)

    def read_with(answers: Mapping[str, str]) -> Lines | None:
        received = read_again(company=company, before=revision, report=report, answers=answers)
        return received.intake.lines

    def price(lines: Lines) -> int | None:
        request = for_core(told.request, list(lines), revision.length_unit)
        try:
            return cost_request(request, told.editions).up.price_minor
        except Refused:
            return None

    asked = [question_of(question) for question in report["questions"]]
    found = stakes(asked, report["answers"], read_with, price)
    style = length_style(company=company)
    moving = [question for question in asked if question.id in found]
    moving.sort(key=lambda question: -found[question.id].swing)
    return tuple(show(question, found[question.id], row.currency, style) for question in moving)


def show(question: Question, stake: Stake, currency: str, style: LengthStyle) -> AtStake:
    """What is at stake in a question, lengths in the company's style."""
    sentence, labels = question.read_in(style.show)
    label = dict(zip(question.choices, labels, strict=False))
    prices = {choice: print_money(amount, currency) for choice, amount in stake.prices}
    return AtStake(
        question.id,
        question.code,
        sentence,
        currency,
        print_money(stake.swing, currency),
        prices,
        {choice: label.get(choice, choice) for choice in prices},
    )
