"""Answers as they are sent, told of the questions of one revision: which line, which key, which rule; what is wrong.

by question id (all its lines), by one line of a question, by rule; and answers taken back the same ways
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from estimating.intake.answer_rules import Rule
from estimating.intake.report import kept_of
from rates.core.problems import Problem


@dataclass(frozen=True)
class Saying:
    """An answer as sent: to a question, to one line of it, or by a rule; pointer: its place in the request."""

    answer: str
    question: str = ""
    line: int | None = None
    rule: Rule | None = None
    pointer: str = ""


@dataclass(frozen=True)
class TakeBack:
    """An answer taken back: of a question, of one line of it, or all that a rule gave."""

    question: str = ""
    line: int | None = None
    rule: str = ""
    pointer: str = ""


@dataclass
class Given:
    """What a request says, by the keys of its lines.

    answers: key -> answer; rules: given now; gone: keys of answers taken back; rules_gone: rules taken back; pointers:
    key or rule -> its place in the request; faults: all that is wrong so far.
    """

    answers: dict[str, str] = field(default_factory=dict)
    rules: list[Rule] = field(default_factory=list)
    gone: set[str] = field(default_factory=set)
    rules_gone: set[str] = field(default_factory=set)
    pointers: dict[str, str] = field(default_factory=dict)
    loose: set[str] = field(default_factory=set)  # rules that stand for answers to questions of an old report
    faults: list[Problem] = field(default_factory=list)


def read_given(report: Mapping[str, Any], sayings: Sequence[Saying], backs: Sequence[TakeBack]) -> Given:
    """The sayings told of a revision's questions, the ones about single lines over those about whole questions."""
    questions = {question["id"]: question for question in report["questions"]}
    given = Given()
    for saying in sayings:
        if saying.rule is not None:
            given.rules.append(saying.rule)
            given.pointers[saying.rule.id] = saying.pointer
    for lines in (False, True):
        said: dict[str, str] = {}
        for saying in sayings:
            if saying.rule is None and (saying.line is not None) is lines:
                take_saying(saying, questions, said, given)
        given.answers |= said
    if "kept" not in report:
        stand_for_groups(questions, given)
    for back in backs:
        take_back(back, questions, report, given)
    return given


def take_saying(saying: Saying, questions: Mapping[str, Any], said: dict[str, str], given: Given) -> None:
    """One answer to a question or to a line of it."""
    keys = keys_of(saying.question, saying.line, questions, saying.pointer, given)
    for key in keys:
        if said.get(key, saying.answer) != saying.answer:
            detail = "this line is answered twice in this request, each time otherwise"
            given.faults.append(Problem(saying.pointer, "given_twice", detail))
            return
        said[key] = saying.answer
        given.pointers[key] = saying.pointer


def keys_of(
    id: str, line: int | None, questions: Mapping[str, Any], pointer: str, given: Given
) -> Sequence[str]:  # fmt: skip
    """The keys of a question, or of one line of it; none, with the fault noted, where there is no such thing."""
    question = questions.get(id)
    if question is None:
        given.faults.append(Problem(pointer, "not_found", "this revision asks no such question"))
        return ()
    keys = question.get("keys") or [id]
    if line is None:
        return list(keys)
    if not question.get("keys"):
        given.faults.append(Problem(pointer, "not_by_line", "this question is about one thing: answer it as a whole"))
        return ()
    found = [key for index, key in zip(question["lines"], keys, strict=True) if index == line]
    if not found:
        given.faults.append(Problem(pointer, "not_found", f"this question is not about line {line}"))
    return found


def stand_for_groups(questions: Mapping[str, Any], given: Given) -> None:
    """Answers to questions of a report of old, which knew no lines: as rules for all the lines that ask the same."""
    for key, answer in list(given.answers.items()):
        rule = Rule(questions[key]["code"], answer)
        given.rules.append(rule)
        given.loose.add(rule.id)
        given.pointers[rule.id] = given.pointers[key]


def take_back(back: TakeBack, questions: Mapping[str, Any], report: Mapping[str, Any], given: Given) -> None:
    """One answer, or all of a rule, taken back."""
    kept = {key: answer.rule for key, answer in kept_of(report).items()}
    if back.rule:
        if back.rule not in {rule["id"] for rule in report.get("rules", ())}:
            given.faults.append(Problem(back.pointer, "not_found", "this revision keeps no such rule"))
        given.rules_gone.add(back.rule)
        given.gone |= {key for key, rule in kept.items() if rule == back.rule}
        return
    before = len(given.faults)
    keys = [key for key in keys_of(back.question, back.line, questions, back.pointer, given) if key in kept]
    if not keys and len(given.faults) == before:
        given.faults.append(Problem(back.pointer, "not_answered", "there is no answer to take back"))
    if any(key in given.answers for key in keys):
        given.faults.append(Problem(back.pointer, "given_twice", "this is answered in the same request"))
    given.gone.update(keys)
