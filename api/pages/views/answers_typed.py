"""The answer to a question as it is typed: what is said, and of which lines."""

from __future__ import annotations

import json
from typing import Any

from api.pages.exchange import Visit
from api.pages.forms import Input
from estimating.intake.answer_rules import Rule
from estimating.intake.given_answers import Saying
from estimating.intake.rule_fields import RULE
from rates.core.problems import Problem, Refused

SET_ASIDE = "set aside"
WHOLE, ONE, BY_RULE = "whole", "one", "rule"
RULED = "every line that asks this and fits the conditions below, also in later revisions; you see first what it does"
TYPED = "typed"  # the choice that stands for the answer in one's own words
CONDITIONS = (
    Input("storey", "Only this storey"),
    Input("elevation", "Only this elevation"),
    Input("mark_prefix", "Only marks that begin with"),
    Input("height_from", "Only from this height above grade", hint="A length with its unit: 10 ft."),
    Input("height_to", "Only below this height above grade"),
    Input("column", "Only this column of the file", hint="Its letters: C, or Doors!C."),
)


def reaches(question: dict[str, Any]) -> tuple[tuple[str, str], ...]:
    """How far an answer may reach."""
    whole = (WHOLE, "all that this question is about")
    if len(question["lines"]) < 2:
        return (whole, (BY_RULE, RULED))
    return (
        whole,
        (ONE, "one line alone, chosen below"),
        (BY_RULE, RULED),
    )


def saying(visit: Visit, question: dict[str, Any]) -> Saying:
    """The answer as typed; Refused."""
    answer = visit.typed.get("answer", "")
    words = visit.typed.get("words", "").strip()[:400]
    if words.lower().startswith(SET_ASIDE):
        words = "set_aside" + words[len(SET_ASIDE) :]
    if answer == TYPED or (not answer and words):
        answer = words
    if not answer:
        field = "/words" if visit.typed.get("answer") == TYPED else "/answer"
        raise Refused([Problem(field, "missing", "choose an answer, or write one")])
    reach = reach_of(visit)
    if reach == BY_RULE and visit.typed.get("line"):
        detail = "you chose a line below, but a rule reaches more: say one line alone, or choose no single line"
        raise Refused([Problem("/reach", "line_and_more", detail)])
    if reach == BY_RULE:
        return Saying(answer, rule=rule_of(visit, question, answer), pointer="/answer")
    return Saying(answer, question["id"], line_typed(visit) if reach == ONE else None, pointer="/answer")


def reach_of(visit: Visit) -> str:
    """How far the answer typed reaches: a line that is chosen is meant alone where the choice above it was left."""
    reach = visit.typed.get("reach", WHOLE)
    return ONE if reach == WHOLE and visit.typed.get("line") else reach


def seen_of(visit: Visit) -> str:
    """All that decides what an answer does, as one text: a rule is stored as it was looked at, or looked at anew."""
    names = ("answer", "words", "reach", "line", *(one.name for one in CONDITIONS))
    return json.dumps([visit.typed.get(name, "").strip() for name in names])


def line_typed(visit: Visit) -> int:
    """The one line that is answered; Refused."""
    text = visit.typed.get("line", "")
    if not text.isascii() or not text.isdigit() or len(text) > 7:
        raise Refused([Problem("/reach", "missing", "choose the line in the table below")])
    return int(text)


def rule_of(visit: Visit, question: dict[str, Any], answer: str) -> Rule:
    """The rule as typed; Refused with each condition that can't be read."""
    raw = {one.name: visit.typed.get(one.name, "").strip() for one in CONDITIONS}
    faults: list[Problem] = []
    told = RULE.read({"code": question["code"]} | {k: v for k, v in raw.items() if v}, "", faults)
    if faults:
        raise Refused(faults)
    return Rule(answer=answer, **told, by=str(visit.caller.member), at=visit.now.isoformat())
