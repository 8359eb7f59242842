"""Over 500 random changes of schedules, answered and edited: a new line asks, old ones keep, a changed one asks.

Answers are given by group, by line and by rule; the model of what must hold is tests/intake/random_revisions.py.
"""

from __future__ import annotations

from random import Random
from typing import Any

import pytest

from estimating.intake import line_identity
from estimating.intake.questions import Question
from estimating.intake.reading import Intake
from tests.intake.random_revisions import SIDES, Office, identity, place_of

SCHEDULES, CHANGES = 60, 9


def check(office: Office, intake: Intake) -> dict[str, int]:
    """What holds of each line after a change; how often each thing was seen."""
    seen = dict.fromkeys(("keeps", "asks", "edit kept", "edit asked", "edit without line"), 0)
    waiting: dict[str, dict[int, Question]] = {}
    for question in intake.questions:
        if question.open:
            waiting.setdefault(question.code, {}).update(dict.fromkeys(question.lines, question))
    edited = {entry["line"]: entry for entry in office.report["edits"]}
    for index, row in enumerate(office.rows):
        line = intake.lines[index]
        assert line["mark"] == row[0]
        told = office.edits.get(place_of(row))
        asked = told is not None and told.row != row
        assert (index in waiting.get("edit_of_changed_line", {})) == asked, row
        if told is not None:
            seen["edit asked" if asked else "edit kept"] += 1
            assert edited[index]["state"] == ("waiting" if asked else "applied")
        values: dict[str, Any] = {"quantity": int(row[1]), "width": row[2]}
        values |= told.values if told is not None and not asked else {}
        assert all(line.get(name) == value for name, value in values.items()), (row, line)
        if not row[7]:
            seen[says(office, waiting, "access_missing", index, line.get("access"))] += 1
        if row[6] == "door":
            sides = {str(parts): answer for answer, parts in SIDES.items()}.get(str(line.get("sides")))
            seen[says(office, waiting, "door_sides", index, sides)] += 1
    gone = set(office.edits) - {place_of(row) for row in office.rows}
    assert sum(entry["state"] == "without_line" for entry in office.report["edits"]) == len(gone)
    seen["edit without line"] += len(gone)
    return seen


def says(office: Office, waiting: dict[str, dict[int, Question]], code: str, index: int, value: str | None) -> str:
    """Whether a line keeps its answer or asks; AssertionError where it does neither, both, or keeps another."""
    row = office.rows[index]
    known = office.answers.get((code, identity(row)))
    question = waiting.get(code, {}).get(index)
    assert value == known, (row, value, known)
    assert (question is None) == (known is not None), row
    if question is not None and code == "access_missing":
        fitting = [rule.answer for rule in office.rules if rule.elevation == row[5].lower()]
        assert question.proposed == (fitting[-1] if fitting else None)
        assert question.proposed is None or question.choices[0] == question.proposed
    return "asks" if question is not None else "keeps"


def settle_edits(office: Office, intake: Intake) -> None:
    """Answers the questions about edits by keeping some and giving others up, and forgets what lines are gone."""
    given = {}
    for question in intake.questions:
        if question.open and question.code == "edit_of_changed_line":
            for key, index in zip(question.keys, question.lines, strict=True):
                row = office.rows[index]
                given[key] = office.chance.choice(question.choices)
                if given[key] == "keep_edit":
                    office.edits[place_of(row)].row = row
                else:
                    del office.edits[place_of(row)]
    if given:
        office.read(given)


def run(schedules: int, changes: int) -> dict[str, int]:
    """So many schedules through so many changes each."""
    total: dict[str, int] = {}
    for seed in range(schedules):
        office = Office(Random(seed))
        for _ in range(8):
            office.rows.append(office.new_row())
        office.say()
        for _ in range(changes):
            kind = office.change()
            total[kind] = total.get(kind, 0) + 1
            intake = office.read({})
            forget(office)
            for name, count in check(office, intake).items():
                total[name] = total.get(name, 0) + count
            settle_edits(office, intake)
            office.say()
    return total


def forget(office: Office) -> None:
    """Answers to lines that this revision has not, or no longer asks about, are gone with it."""
    asking = {("access_missing", identity(row)) for row in office.rows if not row[7]}
    asking |= {("door_sides", identity(row)) for row in office.rows if row[6] == "door"}
    office.answers = {key: answer for key, answer in office.answers.items() if key in asking}


def test_over_500_random_changes_each_line_keeps_what_was_said_of_it_or_asks() -> None:
    seen = run(SCHEDULES, CHANGES)
    assert SCHEDULES * CHANGES >= 500
    for name in ("keeps", "asks", "edit kept", "edit asked", "edit without line"):
        assert seen[name] >= 40, seen


@pytest.mark.parametrize("broken", ["size_as_written", "place_of_draft"])
def test_the_check_fails_where_an_answer_reaches_more_lines(broken: str, monkeypatch: pytest.MonkeyPatch) -> None:
    less: dict[str, Any] = {
        "size_as_written": lambda draft: "",
        "place_of_draft": lambda draft: (str(draft.values.get("mark")), "", ""),
    }
    monkeypatch.setattr(line_identity, broken, less[broken])
    with pytest.raises(AssertionError):
        run(20, CHANGES)
