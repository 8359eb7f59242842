"""Schemas of what is answered: most from the dataclasses that queries give, the estimate's by hand."""

from __future__ import annotations

import dataclasses
import datetime
import types
import typing
import uuid
from typing import Any

from api.rest.plain import HIDDEN
from api.rest.schemas import rate_documents
from api.rest.schemas.bodies import LAYER_TABLES, OPENING_LINE, refine
from estimating.actions.stakes import AtStake
from estimating.intake.asking import SEVERITIES
from estimating.intake.revisions import LineChange
from estimating.queries import comparisons, estimates, feed, intake, matches, projects
from estimating.queries.impact import Impact
from rates.core.card import EDITION
from rates.queries import audit, books, companies, members

Json = dict[str, Any]
SIMPLE: dict[Any, Json] = {
    str: {"type": "string"},
    int: {"type": "integer"},
    bool: {"type": "boolean"},
    uuid.UUID: {"type": "string", "format": "uuid"},
    datetime.datetime: {"type": "string", "format": "date-time"},
    datetime.date: {"type": "string", "format": "date"},
}
TEXT: Json = {"type": "string"}
AMOUNT: Json = {"type": "string", "pattern": r"^-?[0-9]+(\.[0-9]+)?$"}
MAYBE_TEXT: Json = {"type": ["string", "null"]}
OBJECT: Json = {"type": "object"}
LISTED = ("openings", "materials", "equipment", "cost-codes", "methods", "alternates")
OBJECTS: Json = {"type": "array", "items": OBJECT}


def schema_of(kind: Any) -> Json:
    """The schema of an annotated type."""
    if kind in SIMPLE:
        return SIMPLE[kind]
    origin, arguments = typing.get_origin(kind), typing.get_args(kind)
    if origin in (types.UnionType, typing.Union):
        known = [schema_of(part) for part in arguments if part is not type(None)]
        return known[0] | {"type": [known[0]["type"], "null"]}
    if kind is Any:
        return {}
    if origin is dict:
        return {"type": "object", "additionalProperties": schema_of(arguments[1])}
    if origin is tuple:
        return {"type": "array", "items": schema_of(arguments[0])}
    return {}


def of_dataclass(kind: type) -> Json:
    """The schema of a dataclass as it is written."""
    hints = typing.get_type_hints(kind)
    names = [field.name for field in dataclasses.fields(kind) if field.name not in HIDDEN]
    return {"type": "object", "properties": {n: schema_of(hints[n]) for n in names}, "required": names}


def record(required: Json, **optional: Json) -> Json:
    """An object schema."""
    return {"type": "object", "properties": required | optional, "required": list(required)}


PROBLEM = record(
    {
        "type": TEXT,
        "title": TEXT,
        "status": {"type": "integer"},
        "detail": TEXT,
        "instance": TEXT,
        "request_id": TEXT,
        "errors": {
            "type": "array",
            "items": record(
                {
                    "pointer": TEXT,
                    "line": {"type": ["integer", "null"]},
                    "column": {"type": ["integer", "null"]},
                    "code": TEXT,
                    "detail": TEXT,
                    "document": TEXT,
                },
                sheet=TEXT,
            ),
        },
    },
    current={"description": "what it is now, where If-Match was stale"},
)
ESTIMATE = record(
    {
        "id": SIMPLE[uuid.UUID],
        "state": {"type": "string", "enum": ["queued", "working", "costed", "refused", "failed", "cancelled"]},
        "progress": record({"done": {"type": "integer"}, "total": {"type": "integer"}, "step": TEXT}),
        "project": MAYBE_TEXT,
        "number": {"type": ["integer", "null"]},
        "schedule": {"type": ["object", "null"]},
        "edition": record({"id": TEXT, "number": {"type": "integer"}, "effective_from": TEXT}),
        "editions": OBJECTS,
        "layers": OBJECTS,
        "work_date": SIMPLE[datetime.date],
        "known_at": SIMPLE[datetime.datetime],
        "currency": TEXT,
        "units": {"type": ["object", "null"]},
        "totals": {"type": ["object", "null"]},
        "build_up": {
            "type": "array",
            "items": record({"step": TEXT, "title": TEXT, "amount": AMOUNT}, basis=MAYBE_TEXT, cost_code=MAYBE_TEXT),
        },
        "by_mark": {"type": "array", "items": record({"mark": TEXT, "quantity": {"type": "integer"}, "price": AMOUNT})},
        "remarks": OBJECTS,
        "cautions": {"type": "array"},
        "input_digest": MAYBE_TEXT,
        "engine_version": MAYBE_TEXT,
        "problems": OBJECTS,
        "reason": MAYBE_TEXT,
        "created_at": SIMPLE[datetime.datetime],
        "costed_at": MAYBE_TEXT,
    }
)
COMPARISON = record(
    {
        "id": SIMPLE[uuid.UUID],
        "state": ESTIMATE["properties"]["state"],
        "estimates": record({"before": TEXT, "after": TEXT}),
        "attribution": TEXT,
        "order": {"type": ["array", "null"]},
        "smooth": {"type": "boolean"},
        "matches": OBJECTS,
        "problems": OBJECTS,
        "reason": MAYBE_TEXT,
        "created_at": SIMPLE[datetime.datetime],
        "compared_at": MAYBE_TEXT,
    },
    before=OBJECT,
    after=OBJECT,
    change=AMOUNT,
    causes={"type": "array", "items": record({"cause": TEXT, "amount": AMOUNT})},
)
PIECES = record(
    {
        "count": {"type": "integer"},
        "items": {
            "type": "array",
            "items": record(
                {
                    "material": TEXT,
                    "piece": TEXT,
                    "length": AMOUNT,
                    "length_shown": TEXT | {"description": "in the company's length style, rounded up for cutting"},
                    "width": AMOUNT,
                    "width_shown": TEXT,
                    "count": {"type": "integer"},
                    "marks": {"type": "object", "additionalProperties": {"type": "integer"}},
                }
            ),
        },
    }
)
TEXTS: Json = {"type": "array", "items": TEXT}
QUESTION = record(
    {
        "id": TEXT,
        "code": TEXT,
        "severity": {"type": "string", "enum": list(SEVERITIES)},
        "sentence": TEXT,
        "choices": TEXTS,
        "choices_shown": TEXTS,
        "open_answer": TEXT,
        "cells": TEXTS,
        "lines": {"type": "array", "items": {"type": "integer"}},
        "answer": MAYBE_TEXT,
        "open": {"type": "boolean"},
    }
)
READ_LINE = record(
    {
        "line": {"type": "integer"},
        "mark": TEXT,
        "cell": TEXT,
        "fields": {
            "type": "object",
            "additionalProperties": record({"value": {}, "cell": TEXT}, written=TEXT, shown=TEXT),
        },
    }
)
LINE_CHANGES: Json = {"type": "array", "items": of_dataclass(LineChange)}
PROPOSAL = of_dataclass(matches.Proposal)
PROPOSAL["properties"] |= {"state": {"type": "string", "enum": list(matches.STATES)}}
PROPOSALS: Json = {"proposals": {"type": "array", "items": PROPOSAL}}
MEMBER = of_dataclass(members.Member)
SESSION = record(
    {
        "person": {"type": ["object", "null"]},
        "company": MAYBE_TEXT,
        "companies": OBJECTS,
        "role": MAYBE_TEXT,
        "scopes": {"type": "array", "items": TEXT},
        "csrf_token": TEXT,
    }
)
NEW_KEY = of_dataclass(companies.AccessKey)
EDITION_DOCUMENT = of_dataclass(books.Edition)
WHOLE_TABLES = refine(EDITION.schema)["properties"]["tables"]
SCHEMAS: Json = {
    "Problem": PROBLEM,
    "Company": of_dataclass(companies.Company),
    "AccessKey": NEW_KEY,
    "Member": MEMBER,
    "NewMember": MEMBER | {"properties": MEMBER["properties"] | {"invitation": TEXT}},
    "AuditEntry": of_dataclass(audit.AuditEntry),
    "Session": SESSION,
    "NewAccessKey": NEW_KEY | {"properties": NEW_KEY["properties"] | {"access_key": TEXT}},
    "RateBook": of_dataclass(books.RateBook),
    "Edition": EDITION_DOCUMENT,
    "WholeEdition": EDITION_DOCUMENT
    | {"properties": EDITION_DOCUMENT["properties"] | {"tables": {"anyOf": [WHOLE_TABLES, LAYER_TABLES]}}},
    "Step": of_dataclass(books.Step),
    "Impact": of_dataclass(Impact),
    "Project": of_dataclass(projects.Project),
    "Schedule": of_dataclass(projects.Schedule),
    "Opening": OPENING_LINE,
    "Question": QUESTION,
    "ReadLine": READ_LINE,
    "AtStake": of_dataclass(AtStake),
    "ReadingReport": record({"format": TEXT, "notes": OBJECTS, "tables": OBJECTS, "apart": OBJECTS, "clouds": TEXTS}),
    "ScheduleChanges": of_dataclass(intake.Revisions)
    | {"properties": of_dataclass(intake.Revisions)["properties"] | {"lines": LINE_CHANGES} | PROPOSALS},
    "ScheduleMatches": of_dataclass(matches.Matches)
    | {"properties": of_dataclass(matches.Matches)["properties"] | PROPOSALS},
    "Estimate": ESTIMATE,
    "EstimateLine": of_dataclass(estimates.EstimateLine),
    "Comparison": COMPARISON,
    "ComparisonLine": of_dataclass(comparisons.ComparisonLine),
    "Derivation": OBJECT,
    "Feed": record({"items": {"type": "array", "items": of_dataclass(feed.Change)}, "next": MAYBE_TEXT, "after": TEXT}),
} | {
    f"Part.{name}": (record({"items": OBJECTS, "next": MAYBE_TEXT}) if name in LISTED else OBJECT)
    for name in estimates.PARTS
}
SCHEMAS |= {"Part.pieces": PIECES}
SCHEMAS |= rate_documents.SCHEMAS
