"""Open questions of a schedule as its estimate tells them: the first ones as remarks, the others counted by code."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any

from estimating.core.open_questions import OpenQuestion, OpenQuestions
from estimating.intake.questions import TO_KNOW, Question
from estimating.intake.report import question_of
from rates.core.texts import counted

MOST_TOLD = 100  # one by one, of either severity
MOST_CODES = 12
OF_ALL_LINES = "/openings"


def open_questions(questions: Sequence[Question]) -> OpenQuestions:
    """Those that want an answer and those that are only to be known; one that blocks costing lets nothing be costed."""
    wanted = [question for question in questions if question.open]
    known = [question for question in questions if question.severity == TO_KNOW]
    told = (*tell("question", "question", wanted), *tell("to_know", "remark", known))
    return OpenQuestions(len(wanted), len(known), told)


def open_in(report: Mapping[str, Any]) -> OpenQuestions:
    """The open questions of a stored report."""
    return open_questions([question_of(entry) for entry in report["questions"]])


def tell(severity: str, noun: str, questions: Sequence[Question]) -> list[OpenQuestion]:
    """The first questions one by one; one more says how many there are besides, and of which codes."""
    found = [
        OpenQuestion(question.code, severity, pointer_of(question), question.sentence)
        for question in questions[:MOST_TOLD]
    ]
    rest = Counter([question.code for question in questions[MOST_TOLD:]])
    if rest:
        codes = ", ".join(f"{count:,} {code}" for code, count in rest.most_common(MOST_CODES))
        other = f" and {len(rest) - MOST_CODES} other codes" if len(rest) > MOST_CODES else ""
        detail = f"{counted(rest.total(), f'more {noun}')} on the schedule: {codes}{other}"
        found.append(OpenQuestion("more_questions", severity, OF_ALL_LINES, detail))
    return found


def pointer_of(question: Question) -> str:
    """The first line that a question is about, else all of them."""
    return f"{OF_ALL_LINES}/{question.lines[0]}" if question.lines else OF_ALL_LINES
