"""Answers to a revision's questions, given and taken back: its file read again, as a new revision or a look ahead."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from estimating.actions.intake import (
    CONFIRMED,
    Carried,
    Received,
    Sent,
    carried_of,
    find_revision,
    read_again,
    report_of,
    store,
    table_place,
)
from estimating.intake import outcomes, previews
from estimating.intake.given_answers import Given, Saying, TakeBack, read_given
from estimating.intake.report import Report, question_of
from estimating.intake.said import spell
from estimating.models import ScheduleRevision
from estimating.queries import projects as shown
from rates.core.length_styles import LengthStyle
from rates.core.problems import Problem, Refused
from rates.documents import unpack
from rates.queries.companies import length_style

MOST_ANSWERS = 5_000
TAKEN_BACK = "taken_back"


@dataclass(frozen=True)
class Outcome:
    """What a change of a revision did to its questions: which it settled, which are newly asked and because of what."""

    settled: tuple[outcomes.Settled, ...]
    asked: tuple[outcomes.NewlyAsked, ...]


@dataclass(frozen=True)
class Answered:
    """A revision read again with more answers, and what they did."""

    received: Received
    before: ScheduleRevision
    outcome: Outcome
    forgotten: frozenset[str]


@dataclass(frozen=True)
class Changed:
    """The new revision, and what the change did to the questions."""

    schedule: shown.Schedule
    outcome: Outcome


@dataclass(frozen=True)
class SizeShown:
    """A line's size in the company's length style."""

    line: int
    mark: str
    size: str


@dataclass(frozen=True)
class SizesShown:
    """The least and the greatest size of the lines that can be read."""

    smallest: SizeShown | None
    largest: SizeShown | None


@dataclass(frozen=True)
class Preview:
    """What answers would do, stored nowhere: lines and openings touched, their sizes, some of them, the questions."""

    preview: bool
    lines: int
    openings: int  # after it
    openings_before: int
    before: SizesShown
    after: SizesShown
    examples: tuple[dict[str, Any], ...]
    settled: tuple[outcomes.Settled, ...]
    asked: tuple[outcomes.NewlyAsked, ...]


def answer(
    *,
    company: uuid.UUID,
    id: uuid.UUID,
    member: uuid.UUID,
    sayings: Sequence[Saying],
    backs: Sequence[TakeBack],
    now: datetime.datetime,
) -> Answered:
    """The source of a revision read with its answers and these; NotThere, Refused with answers that do not fit."""
    before = find_revision(company, id)
    report = report_of(before)

    def read(some: Sequence[Saying]) -> tuple[Given, Received]:
        given = read_given(report, some, backs)
        if given.faults:
            raise Refused(given.faults)
        sent = Sent(given.answers, given.rules, (), str(member), now.isoformat())
        carried = left_over(report, given)
        return given, read_again(company=company, before=before, report=report, carried=carried, sent=sent)

    given, received = read(sayings)
    wrong = misfits(given, received)
    if wrong:
        raise Refused(wrong)
    groups = by_source(sayings, bool(backs))

    def read_with(count: int) -> outcomes.Entries | None:
        try:
            found: outcomes.Entries = read([one for _, group in groups[:count] for one in group])[1].report["questions"]
        except Refused:
            return None
        return found

    sources = [source for source, _ in groups]
    new = received.report["questions"]
    because = outcomes.causes(report["questions"], new, sources, before.line_count, read_with)
    outcome = outcome_of(report["questions"], new, because, length_style(company=company))
    return Answered(received, before, outcome, forgotten(report, given))


def left_over(report: Report, given: Given) -> Carried:
    """What a revision hands on without the answers that are taken back."""
    carried = carried_of(report)
    kept = {key: answer for key, answer in carried.kept.items() if key not in given.gone}
    return replace(carried, kept=kept, rules=[rule for rule in carried.rules if rule.id not in given.rules_gone])


def misfits(given: Given, received: Received) -> list[Problem]:
    """Answers that can't be taken, and rules that answer nothing."""
    refused = {
        (given.pointers[source], why) for source, why in received.intake.refused_answers if source in given.pointers
    }
    wrong = [Problem(pointer, "answer_does_not_fit", why) for pointer, why in sorted(refused)]
    detail = "no line or cell that this rule is about asks this, or each is answered already"
    return wrong + [
        Problem(given.pointers[rule.id], "touches_nothing", detail)
        for rule in given.rules
        if rule.id not in received.intake.touched and rule.id not in given.loose
    ]


def by_source(sayings: Sequence[Saying], taken_back: bool) -> list[tuple[str, list[Saying]]]:
    """The sayings by what they are told of, a question's or a rule's id, in their order; what is taken back first."""
    groups: dict[str, list[Saying]] = {TAKEN_BACK: []} if taken_back else {}
    for saying in sayings:
        groups.setdefault(saying.rule.id if saying.rule else saying.question, []).append(saying)
    return list(groups.items())


def outcome_of(
    before: outcomes.Entries, after: outcomes.Entries, because: Mapping[str, tuple[str, ...]], style: LengthStyle
) -> Outcome:
    """What happened to the questions, told in the company's length style."""

    def tell(entry: Mapping[str, Any]) -> str:
        return question_of(entry).read_in(style.show)[0]

    return Outcome(outcomes.settled(before, after, tell), outcomes.newly_asked(before, after, because, tell))


def forgotten(report: Report, given: Given) -> frozenset[str]:
    """The headings whose confirmation is taken back."""
    asked = {q["id"]: q["cells"][0] for q in report["questions"] if q["code"] == CONFIRMED and q["cells"]}
    places = {place for id, place in asked.items() if id in given.gone}
    return frozenset(table["fingerprint"] for table in report["tables"] if table_place(table) in places)


def store_answers(*, company: uuid.UUID, member: uuid.UUID, answered: Answered, now: datetime.datetime) -> Changed:
    """The new revision of answers; NotThere."""
    before = answered.before
    schedule = store(
        company=company,
        project=before.project_id,
        member=member,
        received=answered.received,
        media_type=before.media_type,
        now=now,
        drawing_issue=before.drawing_issue,
        answers_of=before.pk,
        forgotten=answered.forgotten,
    )
    return Changed(schedule, answered.outcome)


def preview(*, company: uuid.UUID, answered: Answered) -> Preview:
    """What answers would do."""
    before, received = answered.before, answered.received
    units = before.length_unit, received.intake.length_unit
    found = previews.touched(
        list(unpack(before.openings)), report_of(before), received.intake.lines, received.report, units
    )
    style = length_style(company=company)
    return Preview(
        True,
        found.lines,
        found.openings,
        found.openings_before,
        show_sizes(found.before, style),
        show_sizes(found.after, style),
        found.examples,
        answered.outcome.settled,
        answered.outcome.asked,
    )


def show_sizes(sizes: previews.Extremes, style: LengthStyle) -> SizesShown:
    """Sizes in the company's length style."""
    shown = [
        SizeShown(one.line, one.mark, spell(one.size, style.show)) if one else None
        for one in (sizes.smallest, sizes.largest)
    ]
    return SizesShown(*shown)
