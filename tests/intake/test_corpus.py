"""The corpus of schedules as offices draw them: what each file alone, and all together, have to hold."""

from __future__ import annotations

from collections import Counter

import pytest

from tests.corpus.schedule import TRAPS, Schedule, all_schedules
from tests.corpus.scores import LEAST_RIGHT, right_share, try_schedule
from tests.length import tries

SCHEDULES = all_schedules()
TRAPPED = all_schedules(TRAPS)[:: tries(3, 1)]


@pytest.mark.law
@pytest.mark.parametrize("schedule", [*SCHEDULES, *TRAPPED], ids=lambda schedule: schedule.name)
def test_nothing_is_misread_in_silence_and_answers_make_every_line_right(schedule: Schedule) -> None:
    assert try_schedule(schedule).faults() == []


def test_most_lines_of_messy_schedules_are_right_at_once() -> None:
    assert right_share([try_schedule(schedule, answer=False) for schedule in SCHEDULES]) >= LEAST_RIGHT


def test_the_corpus_is_as_wide_as_it_claims() -> None:
    plain = sum(schedule.plain for schedule in SCHEDULES)
    layouts = Counter(schedule.layout for schedule in SCHEDULES)
    assert len(SCHEDULES) >= 180
    assert len(SCHEDULES) * 25 <= plain * 100 <= len(SCHEDULES) * 30
    assert max(layouts.values()) <= 3
    assert all(schedule.truth for schedule in SCHEDULES)
