"""The texts of quotes that a company keeps: inclusions, exclusions, clarifications, each picked by what it is about."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import Any

from estimating.outputs.quotes.facts import KNOWN, OF_OPENINGS, WHOLE
from rates.core.fields import Faults, Field, ListOf, Reader, Record, text, whole
from rates.core.problems import Problem, Unreadable
from rates.core.texts import shown

LISTS = ("inclusions", "exclusions", "clarifications")
MOST_TEXTS = 200
VALIDITY_DAYS = 30  # common practice, no source
Document = Mapping[str, Any]


def parse_fact(raw: object) -> str:
    """A word for what an estimate holds."""
    word = raw.strip().lower() if isinstance(raw, str) else ""
    what, _, value = word.partition(":")
    if word in WHOLE or (what in OF_OPENINGS and value and value in KNOWN.get(what, (value,))):
        return word
    examples = f"{', '.join(WHOLE)}, or one of {', '.join(OF_OPENINGS)} with its value, such as method:tape"
    raise Unreadable("unknown_choice", f"{examples} is expected, not {shown(raw)}")


fact = Reader(parse_fact, {"type": "string", "maxLength": 80})


def check_codes(document: Mapping[str, Any], pointer: str, faults: Faults) -> None:
    """A code stands once in the document: quotes name texts by it."""
    seen: set[str] = set()
    for name in LISTS:
        for place, entry in enumerate(document[name]):
            if entry["code"] in seen:
                faults.append(Problem(f"{pointer}/{name}/{place}/code", "given_twice", "a code stands once"))
            seen.add(entry["code"])


KEPT_TEXT = Record(
    lambda code, text, when: {"code": code, "text": text, "when": list(when)},
    (
        Field("code", text(40), "by which quotes name it", required=True),
        Field("text", text(1000), "as customers read it", required=True),
        Field("when", ListOf(fact, 0, 20), "what an estimate holds for it to be picked; empty: always", default=()),
    ),
)
TEXTS = Record(
    lambda **values: {name: list(value) if isinstance(value, tuple) else value for name, value in values.items()},
    (
        *(Field(name, ListOf(KEPT_TEXT, 0, MOST_TEXTS), f"the {name}", default=()) for name in LISTS),
        Field("terms", text(4000, blank=True), "terms of new quotes", default=""),
        Field("letterhead", ListOf(text(200), 0, 8), "lines below the company's name: address, licence", default=()),
        Field("validity_days", whole(1, 366), "for how long new quotes are valid", default=VALIDITY_DAYS),
    ),
    check=check_codes,
)
NOTHING_KEPT: Document = {name: [] for name in (*LISTS, "letterhead")} | {"terms": "", "validity_days": VALIDITY_DAYS}


def picked(document: Document, facts: Collection[str]) -> dict[str, list[dict[str, str]]]:
    """The texts that an estimate with these facts calls for, by list."""
    return {
        name: [
            {"code": entry["code"], "text": entry["text"]}
            for entry in document[name]
            if not entry["when"] or any(word in facts for word in entry["when"])
        ]
        for name in LISTS
    }


def carried(
    document: Document, before: Mapping[str, Sequence[Mapping[str, Any]]], old: Collection[str], new: Collection[str]
) -> dict[str, list[dict[str, Any]]]:
    """The texts of a quote on another drawing: as chosen before, less what is no longer called for, and what newly is.

    old, new: the facts of both estimates.
    """
    was, now = picked(document, old), picked(document, new)
    found = {}
    for name in LISTS:
        called_before, called_now = ({entry["code"] for entry in texts[name]} for texts in (was, now))
        kept = [dict(x) for x in before[name] if x["code"] not in called_before - called_now]
        known = {entry["code"] for entry in kept} | called_before
        found[name] = kept + [dict(entry) for entry in now[name] if entry["code"] not in known]
    return found


def chosen(
    document: Document, wanted: Sequence[Mapping[str, Any]], pointer: str, faults: Faults
) -> list[dict[str, str | None]]:
    """Texts as a person chose them: by code from the company's lists, or in words of its own."""
    kept = {entry["code"]: entry["text"] for name in LISTS for entry in document[name]}
    found: list[dict[str, str | None]] = []
    for place, entry in enumerate(wanted):
        code, own = entry["code"], entry["text"]
        if code is not None and own is None and code not in kept:
            faults.append(Problem(f"{pointer}/{place}/code", "not_found", "the company keeps no text of this code"))
        else:
            found.append({"code": code, "text": own if own is not None else kept[code]})
    return found
