"""Schemas of what is answered: most from the dataclasses that queries give, the estimate's by hand."""

from __future__ import annotations

import datetime
import uuid

from api.rest.schemas import rate_documents
from api.rest.schemas.bodies import LAYER_TABLES, OPENING_LINE, refine
from api.rest.schemas.records import SIMPLE, Json, of_dataclass, record
from estimating.actions import answers
from estimating.actions.stakes import AtStake
from estimating.intake import outcomes
from estimating.intake.asking import SEVERITIES
from estimating.intake.revisions import LineChange
from estimating.outputs.assumptions.item import SOURCES
from estimating.queries import comparisons, estimates, feed, intake, matches, projects
from estimating.queries.impact import Impact
from rates.core.card import EDITION
from rates.queries import audit, books, companies, members

TEXT: Json = {"type": "string"}
AMOUNT: Json = {"type": "string", "pattern": r"^-?[0-9]+(\.[0-9]+)?$"}
MAYBE_TEXT: Json = {"type": ["string", "null"]}
OBJECT: Json = {"type": "object"}
LISTED = ("openings", "materials", "equipment", "cost-codes", "methods", "alternates", "assumptions")
OBJECTS: Json = {"type": "array", "items": OBJECT}


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
NUMBER: Json = {"type": "integer"}


def scope_schema(*severities: str) -> Json:
    """Which openings of a file are priced, and how many questions are open by severity."""
    return record(
        {
            "in_file": NUMBER | {"description": "openings; the sum of priced, set_aside and alternates"},
            "priced": NUMBER,
            "set_aside": {"type": "array", "items": record({"reason": TEXT, "openings": NUMBER})},
            "alternates": {"type": "array", "items": record({"name": TEXT, "openings": NUMBER})},
            "questions": record(dict.fromkeys(severities, NUMBER)),
        }
    )


SCOPE = scope_schema("blocks_issue", "to_know")
FILE_SCOPE = scope_schema(*SEVERITIES)
FILE_SCOPE["properties"] |= {
    "in_file": NUMBER | {"description": "openings; the sum of priced, set_aside, alternates and unread"},
    "unread": record({"lines": NUMBER, "openings": NUMBER}),
}
ESTIMATE = record(
    {
        "scope": SCOPE | {"type": ["object", "null"]},
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
ASSUMPTIONS: Json = {
    "type": "array",
    "items": record(
        {
            "field": TEXT,
            "value": TEXT,
            "source": {"type": "string", "enum": list(SOURCES)},
            "openings": NUMBER,
            "sentence": TEXT,
        }
    ),
}
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
    },
    proposed=MAYBE_TEXT | {"description": "what an earlier rule proposes; it is the first choice"},
    rule=TEXT | {"description": "id of the rule that answered"},
    openings={"type": ["integer", "null"], "description": "how many its lines count"},
    answered_by=TEXT,
    answered_at=TEXT,
)
OUTCOME = {
    "settled": {"type": "array", "items": of_dataclass(outcomes.Settled)},
    "asked": {"type": "array", "items": of_dataclass(outcomes.NewlyAsked)},
}
SIZES = record({"smallest": {"type": ["object", "null"]}, "largest": {"type": ["object", "null"]}})
PREVIEW = of_dataclass(answers.Preview)
PREVIEW["properties"] |= OUTCOME | {"before": SIZES, "after": SIZES, "examples": OBJECTS}
SCHEDULE = of_dataclass(projects.Schedule)
CHANGED = record(SCHEDULE["properties"] | OUTCOME)
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
    "Schedule": SCHEDULE,
    "ChangedSchedule": CHANGED,
    "AnswersPreview": PREVIEW,
    "Opening": OPENING_LINE,
    "Question": QUESTION,
    "ReadLine": READ_LINE,
    "AtStake": of_dataclass(AtStake),
    "ReadingReport": record(
        {
            "scope": FILE_SCOPE,
            "format": TEXT,
            "notes": OBJECTS,
            "tables": OBJECTS,
            "apart": OBJECTS,
            "clouds": TEXTS,
            "rules": OBJECTS,
            "edits": OBJECTS,
        }
    ),
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
SCHEMAS |= {"Part.pieces": PIECES, "Part.assumptions": record({"items": ASSUMPTIONS, "next": MAYBE_TEXT})}
SCHEMAS |= rate_documents.SCHEMAS
