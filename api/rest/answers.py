"""Answers to a schedule's questions: by question, by line, by rule; taken back; or only what they would do."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Any

from api.plain import plain
from api.rest.exchange import Answer, Call
from estimating.actions import answers as actions
from estimating.core.schedule import MOST_LINES
from estimating.intake.answer_rules import Rule
from estimating.intake.given_answers import Saying, TakeBack
from estimating.intake.rule_fields import RULE
from rates.core.fields import Faults, Field, ListOf, MapOf, Record, boolean, text, whole
from rates.core.problems import Problem, escape

line = whole(0, MOST_LINES)


def check_one_of_both(given: dict[str, Any], pointer: str, faults: Faults) -> None:
    """An answer, given or taken back, is to a question or by a rule; a line belongs to a question."""
    if (given["question"] is None) is (given["rule"] is None):
        faults.append(Problem(pointer, "question_or_rule", "give a question or a rule, and not both"))
    elif given["line"] is not None and given["question"] is None:
        faults.append(
            Problem(f"{pointer}/line", "question_or_rule", "a line is named with the question it is asked in")
        )


SAYING = Record(
    lambda **values: values,
    (
        Field("question", text(80), "id of the question: answered for all its lines, or for one of them"),
        Field("line", line, "the one line of the question, as its `lines` name it"),
        Field("rule", RULE, "instead of a question: which lines are answered"),
        Field("answer", text(400), "one of the choices, or what the open answer asks for", required=True),
    ),
    check=check_one_of_both,
)


BACK = Record(
    lambda **values: values,
    (
        Field("question", text(80), "id of the question whose answers are taken back"),
        Field("line", line, "the one line of the question"),
        Field("rule", text(80), "instead of a question: id of the rule, all of whose answers are taken back"),
    ),
    check=check_one_of_both,
)
BY_ID = MapOf(text(400), high=actions.MOST_ANSWERS)
LISTED = ListOf(SAYING, 0, actions.MOST_ANSWERS)


@dataclass(frozen=True)
class Answers:
    """Reader of answers: an object of answers by question id, or a list of answers; gives Sayings."""

    @property
    def schema(self) -> Mapping[str, Any]:
        return {"oneOf": [BY_ID.schema, LISTED.schema]}

    def read(self, raw: object, pointer: str, faults: Faults) -> Any:
        """The sayings, each with its place, or None with the faults noted."""
        if isinstance(raw, Mapping):
            found = BY_ID.read(raw, pointer, faults)
            return found and [Saying(answer, id, pointer=pointer + escape(id)) for id, answer in found]
        listed = LISTED.read(raw, pointer, faults)
        return listed and [(values, f"{pointer}/{place}") for place, values in enumerate(listed)]


ANSWERS = Record(
    lambda **values: values,
    (
        Field("answers", Answers(), "answers by question id, or a list: by question, by line, by rule", default=()),
        Field("take_back", ListOf(BACK, 0, actions.MOST_ANSWERS), "answers that hold no more", default=()),
        Field("preview", boolean(), "only show what the answers would do", default=False),
    ),
)


def answer(call: Call) -> Answer | Callable[[], Answer]:
    """POST /v1/opening-schedules/{id}/answers: the same file read again with the answers, as a new revision."""
    answered = actions.answer(
        company=call.company,
        id=call.id,
        member=call.caller.member,
        sayings=[saying_of(given, call) for given in call.body["answers"] or ()],
        backs=[
            TakeBack(back["question"] or "", back["line"], back["rule"] or "", f"/take_back/{place}")
            for place, back in enumerate(call.body["take_back"])
        ],
        now=call.now,
    )
    if call.body["preview"]:
        return Answer(actions.preview(company=call.company, answered=answered), stored=False)
    return partial(store, call, answered)


def store(call: Call, answered: actions.Answered) -> Answer:
    """The new revision of what was answered or edited."""
    changed = actions.store_answers(company=call.company, member=call.caller.member, answered=answered, now=call.now)
    return show_changed(changed)


def saying_of(given: Saying | tuple[dict[str, Any], str], call: Call) -> Saying:
    """An answer as it was sent, its rule with who gives it."""
    if isinstance(given, Saying):
        return given
    values, pointer = given
    rule = values["rule"]
    if rule is None:
        return Saying(values["answer"], values["question"], values["line"], None, pointer)
    told = Rule(answer=values["answer"], **rule, by=str(call.caller.member), at=call.now.isoformat())
    return Saying(values["answer"], rule=told, pointer=pointer)


def show_changed(changed: actions.Changed) -> Answer:
    """The new revision, with what was settled and what is newly asked."""
    schedule = changed.schedule
    content = plain(schedule) | plain(changed.outcome)
    return Answer(content, status=201, tag=schedule.tag, location=f"/v1/opening-schedules/{schedule.id}")
