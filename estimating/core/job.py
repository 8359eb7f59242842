"""From documents to a plan: the request and the editions read, the edition of each date chosen, all faults at once."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from estimating.core.digest import input_digest
from estimating.core.estimate import Estimate, Plan, Progress, estimate
from estimating.core.open_questions import OpenQuestions
from estimating.core.readiness import PartPlan, Ready, Settled, prepare, settle_kinds
from estimating.core.request import Mobilisation, Request
from estimating.core.request_reading import read_request as read_document
from estimating.core.schedule_lines import mark_key
from rates.core.card import Card, EditionSource, read_edition
from rates.core.fields import Faults
from rates.core.problems import Problem, Refused

NONE_OPEN = OpenQuestions()


@dataclass(frozen=True)
class Job:
    """A request that can be costed, and the digest of all that decides its estimate."""

    plan: Plan
    cards: tuple[Card, ...]
    input_digest: str


def read_cards(editions: Sequence[EditionSource], faults: Faults) -> tuple[Card, ...]:
    """The editions read; faults noted."""
    cards = []
    for source in editions:
        try:
            cards.append(read_edition(source))
        except Refused as refused:
            faults.extend(refused.problems)
    return tuple(cards)


def card_on(cards: Sequence[Card], day: datetime.date) -> Card | None:
    """The card of the latest start not after the day, ties to the later in the list."""
    return max((c for c in reversed(cards) if c.effective_from <= day), key=lambda c: c.effective_from, default=None)


def no_edition(pointer: str, day: datetime.date, cards: Sequence[Card]) -> Problem:
    """That no edition is in force on a day."""
    first = min((c.effective_from for c in cards), default=None)
    known = f"; the first starts on {first}" if first else ""
    return Problem(pointer, "no_edition_in_force", f"no rate edition is in force on {day}{known}")


def part_lines(request: Request, parts: Sequence[Mobilisation], faults: Faults) -> list[tuple[int, ...]]:
    """The schedule lines of each part; a mark in no part, in two, or unknown is a fault."""
    owner: dict[str, int] = {}
    rest = [i for i, part in enumerate(parts) if part.marks is None and part.scope != "joints"]
    for later in rest[1:]:
        detail = "only one part may take the openings that no other part names"
        faults.append(Problem(f"/mobilisations/{later}/openings", "one_of", detail))
    known = {line.mark_key for line in request.schedule.lines}
    for i, part in enumerate(parts):
        for j, mark in enumerate(part.marks or ()):
            at = f"/mobilisations/{i}/openings/{j}"
            key = mark_key(mark)
            if key not in known:
                faults.append(Problem(at, "unknown_mark", f'the schedule has no mark "{mark}"'))
            if owner.setdefault(key, i) != i:
                faults.append(Problem(at, "mark_twice", f'the mark "{mark}" is in another part already'))
    lines: list[list[int]] = [[] for _ in parts]
    for i, line in enumerate(request.schedule.lines):
        place = owner.get(line.mark_key, rest[0] if rest else None)
        if place is not None:
            lines[place].append(i)
        elif line.priced:
            faults.append(Problem(f"/openings/{i}/mark", "mark_in_no_part", f'no part does the mark "{line.mark}"'))
    return [tuple(found) for found in lines]


CardOn = Callable[[datetime.date], Card | None]


def plan_parts(request: Request, cards: Sequence[Card], on: CardOn, faults: Faults) -> list[PartPlan]:
    """One part, or one for each mobilisation of a season split, each under the card of its date."""
    if not request.parts:
        card = on(request.work_date)
        every = tuple(range(len(request.schedule.lines)))
        return [PartPlan(card, every, request.mobilisations, True, None)] if card is not None else []
    plans = []
    joints_given = False
    for i, (part, lines) in enumerate(zip(request.parts, part_lines(request, request.parts, faults), strict=True)):
        card = on(part.work_date)
        if card is None:
            faults.append(no_edition(f"/mobilisations/{i}/work_date", part.work_date, cards))
            continue
        joints = part.scope != "openings" and not joints_given
        joints_given = joints_given or joints
        title, several = part.title or f"{part.work_date}", len(request.parts) > 1
        plans.append(PartPlan(card, lines, 1, joints, title, part.work_date, i, several))
    return plans


def check_currencies(cards: Sequence[Card], faults: Faults) -> None:
    """One estimate has one currency."""
    if len({card.currency for card in cards}) > 1:
        detail = f"the editions have several currencies: {', '.join(sorted({c.currency for c in cards}))}"
        faults.append(Problem("/currency", "mixed_currencies", detail, "edition"))


def make_plan(
    request: Request,
    cards: Sequence[Card],
    faults: Faults,
    on: CardOn | None = None,
    settled: Settled = settle_kinds,
) -> Plan | None:
    """The plan of a request under the cards in force, or None with every fault that can be decided.

    on: the card of a day, where it is not simply the one in force among `cards`. settled: as settle_kinds.
    """
    before = len(faults)
    on = on or (lambda day: card_on(cards, day))
    main = on(request.work_date)
    if main is None:
        faults.append(no_edition("/work_date", request.work_date, cards))
    plans = plan_parts(request, cards, on, faults)
    used = ([main] if main is not None else []) + [plan.card for plan in plans]
    check_currencies(used, faults)
    ready: list[tuple[PartPlan, Ready]] = []
    for plan in plans:
        done = prepare(request, plan, faults, settled)
        if done is not None:
            ready.append((plan, done))
    if request.joints is not None and any(line.mark_key == "JOINTS" for line in request.schedule.lines):
        faults.append(Problem("/sheathing_joints", "mark_taken", 'the schedule has a mark "joints" of its own'))
    if len(faults) > before or main is None:
        faults[before:] = list(dict.fromkeys(faults[before:]))
        return None
    return Plan(request, main, tuple(ready))


def read_request(
    document: Mapping[str, object], editions: Sequence[EditionSource], questions: OpenQuestions = NONE_OPEN
) -> Job:
    """The job of a request document under the editions given; Refused with every fault of both.

    `questions` are those that its schedule leaves open.

    The edition of a date is the latest effective_from not after it.
    """
    faults: Faults = []
    cards = read_cards(editions, faults)
    request, wrong = read_document(document)
    faults.extend(wrong)
    if request is None or len(cards) < len(editions):
        raise Refused(faults)
    request = replace(request, questions=questions)
    plan = make_plan(request, cards, faults)
    if plan is None:
        raise Refused(faults)
    used = tuple({id(card): card for card in (plan.card, *(part.card for part, _ in plan.parts))}.values())
    return Job(plan, cards, input_digest(request, used))


def cost(job: Job, progress: Progress | None = None) -> Estimate:
    """The costed estimate of a job; Refused for what only costing finds."""
    return replace(estimate(job.plan, progress), input_digest=job.input_digest)


def cost_request(
    document: Mapping[str, object], editions: Sequence[EditionSource], progress: Progress | None = None
) -> Estimate:
    """The costed estimate of a request document; Refused with every fault."""
    return cost(read_request(document, editions), progress)
