"""The questions of a schedule as a file that a person fills in, and such a file read as answers: for the command.

questions > one entry each: sentence, choices, "answer": null, its lines with "answer": null each > filled in > answers
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from estimating.intake.answer_rules import Rule
from estimating.intake.draft import Draft
from estimating.intake.questions import TO_KNOW, Question
from estimating.intake.reading import Intake
from estimating.intake.rule_fields import RULE
from rates.core.fields import Faults, Field, ListOf, Reader, Record, clean_text, number_text, text

HOW = (
    "Put an answer beside each question: one of its choices, or what open_answer asks for; or beside single lines of"
    " it, which counts more. A rule answers every line that it fits, for instance"
    ' {"rule": {"code": "access_missing", "storey": "L2"}, "answer": "lift"}; it may name code, column, elevation,'
    " storey, height_from, height_to, mark_prefix. What stays null stays open."
)


def parse_answer(raw: object) -> str:
    """An answer: text, or a number typed without quotes."""
    return clean_text(raw if isinstance(raw, str) else number_text(raw), 400)


def take_anything(raw: object) -> None:
    """What stands there for people to read."""


answer = Reader(parse_answer, {})
told = Reader(take_anything, {})
LINE = Record(
    lambda **values: values,
    (
        *(Field(name, told, "") for name in ("line", "cell")),
        Field("answer", answer, ""),
        Field("key", text(80), "", required=True),
    ),
)
QUESTION = Record(
    lambda **values: values,
    (
        *(Field(name, told, "") for name in ("question", "code", "severity", "cells", "choices", "open_answer")),
        *(Field(name, told, "") for name in ("openings", "proposed")),
        Field("answer", answer, ""),
        Field("lines", ListOf(LINE, 0, 200_000), "", default=()),
        Field("id", text(80), "", required=True),
    ),
)
SAYING = Record(
    lambda **values: values, (Field("rule", RULE, "", required=True), Field("answer", answer, "", required=True))
)
FILE = Record(
    lambda **values: values,
    (
        Field("schedule", told, ""),
        Field("how", told, ""),
        Field("questions", ListOf(QUESTION, 0, 10_000), "", default=()),
        Field("rules", ListOf(SAYING, 0, 1_000), "", default=()),
    ),
)


@dataclass(frozen=True)
class FileAnswers:
    """The answers of a file: by key, and by rule; pointers: key or rule -> its place in the file."""

    answers: Mapping[str, str] = field(default_factory=dict)
    rules: tuple[Rule, ...] = ()
    pointers: Mapping[str, str] = field(default_factory=dict)
    written: tuple[Mapping[str, Any], ...] = ()  # the rules as they were written


def read_answers(value: object, faults: Faults) -> FileAnswers:
    """The answers of a filled in file; what can't be read is a fault."""
    found = FILE.read(value, "", faults)
    if found is None:
        return FileAnswers()
    answers: dict[str, str] = {}
    pointers: dict[str, str] = {}
    for place, question in enumerate(found["questions"]):
        at = f"/questions/{place}"
        keyed = [(line["key"], line["answer"], f"{at}/lines/{n}/answer") for n, line in enumerate(question["lines"])]
        for key, given, pointer in keyed or [(question["id"], None, "")]:
            if given is not None or question["answer"] is not None:
                answers[key] = question["answer"] if given is None else given
                pointers[key] = f"{at}/answer" if given is None else pointer
    rules = [Rule(answer=saying["answer"], **saying["rule"]) for saying in found["rules"]]
    pointers |= {rule.id: f"/rules/{place}" for place, rule in enumerate(rules)}
    written = value.get("rules") if isinstance(value, Mapping) else None
    return FileAnswers(answers, tuple(rules), pointers, tuple(written or ()))


def questions_file(name: str, intake: Intake | None, given: FileAnswers) -> dict[str, Any]:
    """The questions of a schedule as a file to fill in; those that are answered keep their answers."""
    asked = [question for question in intake.questions if question.severity != TO_KNOW] if intake else []
    entries = [question_entry(question, intake) for question in asked if question.choices or question.open_answer]
    return {"schedule": name, "how": HOW, "questions": entries, "rules": list(given.written)}


def question_entry(question: Question, intake: Intake | None) -> dict[str, Any]:
    """One question to fill in."""
    entry: dict[str, Any] = {
        "question": question.sentence,
        "code": question.code,
        "severity": question.severity,
        "cells": list(question.cells),
        "choices": list(question.choices),
        "open_answer": question.open_answer,
        "openings": question.openings,
        "answer": question.answer,
        "id": question.id,
    }
    if question.proposed is not None:
        entry["proposed"] = question.proposed
    if question.keys and intake is not None:
        entry["lines"] = [
            {"line": name_line(intake.drafts[index]), "cell": intake.place(index, None), "answer": None, "key": key}
            for index, key in zip(question.lines, question.keys, strict=True)
        ]
    return entry


def name_line(draft: Draft) -> str:
    """A line as a person knows it: mark, storey, elevation."""
    parts = (draft.values.get(name) for name in ("mark", "storey", "elevation"))
    return ", ".join(str(part) for part in parts if part)
