"""What words of scope, shape and count leave open about a line: the doubt that each finding is, with its choices."""

from __future__ import annotations

import re
from typing import Any

from estimating.intake.doubts import Doubt
from estimating.intake.draft import Draft
from estimating.intake.line_answers import AS_DRAWN, SET_ASIDE
from estimating.intake.row_shapes import doubt_of
from estimating.intake.scope_words import Finding

NUMBER_SET_ASIDE = "number_set_aside"
NUMBER_COUNTS = "number_counts"
OWN_CODES = {"alternate": "alternate_words", "interior": "interior_words", "fire_rated": "fire_rated"}
CHECKED = re.compile(
    r"\b(?:verify|confirm|vif|prüfen|vérifier|verificar|assum\w+|supposé\w*|supuest\w+|angenommen|approx\w*)",
    re.IGNORECASE,
)
_ALTERNATE = re.compile(r"\b(?:add|deduct|deductive|additive|alternate|alternative|alt)\b\.?", re.IGNORECASE)
OURS = re.compile(
    r"(?:(?:qty|quantity|count|no)\.?\s*\(?)?(?:new|base(?: bid)?|ours?|by us|phase (?:1|i|one)|ext\.?|exterior"
    r"|proposed|neu|neuf|nouveau|nuev[oa]s?)\b",
    re.IGNORECASE,
)  # headings of what is in the work
TOLD_TOPICS = frozenset({"revision", "unconfirmed"})
HARMLESS = frozenset({"not_applicable"})


def doubt_about(draft: Draft, finding: Finding, cell: str, text: str) -> Doubt | None:
    """The doubt that a finding is; None where it changes nothing."""
    topic = finding.topic
    if topic == "unconfirmed" and (CHECKED.search(finding.words) or finding.words.strip(" +-/") == text.strip(" +-/")):
        code = "to_verify" if CHECKED.search(finding.words) else "count_words"
        return Doubt(code, draft, cell, text, (), {AS_DRAWN: {}}, field="count")
    if topic in HARMLESS or topic in TOLD_TOPICS:
        return None
    if topic == "alternate":
        return alternate_doubt(draft, finding.name, cell, text)
    if finding.group == "shape":
        return doubt_of(draft, (topic,), cell, text)
    if finding.group == "delta":
        return Doubt("delta_words", draft, cell, text, (), {AS_DRAWN: {}, SET_ASIDE: set_aside(text)}, field="delta")
    if finding.group == "count":
        return Doubt("count_words", draft, cell, text, (), {AS_DRAWN: {}}, field="count")
    if topic == "hold" and CHECKED.search(finding.words):
        return Doubt("to_verify", draft, cell, text, (), {AS_DRAWN: {}, SET_ASIDE: set_aside(text)}, field="verify")
    code = OWN_CODES.get(topic, "scope_words")
    return Doubt(code, draft, cell, text, (), {SET_ASIDE: set_aside(text), AS_DRAWN: {}}, field="scope")


def number_out(draft: Draft, text: str, said: str, cell: str) -> Doubt | None:
    """The doubt of a number under words of scope, beside the line's own count, of which it may be a part."""
    count, number = draft.values.get("quantity"), int(text) if text.isdecimal() else 0
    if not isinstance(count, int) or not 0 < number <= count:
        return None
    if OURS.match(said):
        if number == count:
            return None
        options: dict[str, dict[str, Any]] = {
            NUMBER_COUNTS: {"quantity": number},
            AS_DRAWN: {},
            SET_ASIDE: set_aside(said),
        }
        return Doubt("scope_count", draft, cell, said, (), options, field="scope")
    less: dict[str, Any] = {"quantity": count - number} if number < count else set_aside(said)
    options = {NUMBER_SET_ASIDE: less, AS_DRAWN: {}, SET_ASIDE: set_aside(said)}
    return Doubt("scope_count", draft, cell, said, (), options, field="scope")


def set_aside(words: str) -> dict[str, Any]:
    """The field that sets a line aside for the reason that its own words give."""
    return {"excluded": {"reason": " ".join(words.split())[:300]}}


def alternate_doubt(draft: Draft, name: str, cell: str, text: str) -> Doubt:
    """A line that its words make an alternate: which one, set aside, or part of the base after all."""
    plain = " ".join(_ALTERNATE.sub(" ", name).split())
    named = {"alternate": (plain or "1")[:40].strip(" #:.-") or "1"}
    options: dict[str, dict[str, Any]] = {"alternate": named, AS_DRAWN: {}, SET_ASIDE: set_aside(text)}
    return Doubt("alternate_words", draft, cell, text, (), options, field="scope")
