"""Schemas of what is answered: from the types of the documents, and the dataclasses that queries give."""

from __future__ import annotations

from typing import Any

from api.rest.schemas import quote_documents, rate_documents, site_documents
from api.rest.schemas.lines import as_read
from api.rest.schemas.people_documents import SCHEMAS as PEOPLE
from api.rest.schemas.problem import PROBLEM
from api.rest.schemas.records import Json, called, of_dataclass, record, schema_of
from estimating.actions import answers
from estimating.actions.stakes import AtStake
from estimating.actions.what_if import WhatIf
from estimating.outputs.documents import (
    calendar,
    checks,
    comparison,
    crew,
    cutting,
    derivation,
    estimate,
    parts,
    prices,
    reading,
)
from estimating.queries import change_orders, comparisons, contracts, estimate_lists, feed, intake, matches, projects
from estimating.queries.history.entries import HistoryEntry, Kind
from estimating.queries.impact import Impact

LISTED = {
    "openings": parts.PricedLine,
    "materials": parts.MaterialLine,
    "equipment": parts.EquipmentLine,
    "cost-codes": parts.CostCodeLine,
    "methods": parts.MethodLine,
    "alternates": parts.AlternateLine,
    "assumptions": parts.AssumptionLine,
    "checks": checks.CheckLine,
    "breakouts": prices.BreakoutLine,
    "unit-prices": prices.UnitPriceLine,
    "purchase-list": cutting.PurchaseLine,
}
WHOLE = {
    "hours": parts.HoursPart,
    "pieces": parts.Pieces,
    "per-area": parts.PerArea,
    "cut-plan": cutting.CutPlan,
    "calendar": calendar.Calendar,
    "crew": crew.CrewSheets,
}


def joined(title: str, *schemas: Json) -> Json:
    """One object with the fields of several."""
    properties = {name: part for schema in schemas for name, part in schema["properties"].items()}
    return called(title, record(properties), about=schemas[0]["about"])


def page_of(items: Any) -> Json:
    """A page of a list."""
    return {"type": "object", "properties": {"items": {"type": "array", "items": items}, "next": NEXT},
            "required": ["items", "next"]}  # fmt: skip


def part_of(items: Any) -> Json:
    """A page of a list of an estimate, with its cautions; in a table they are the last column, or a sheet."""
    found = page_of(items)
    cautions = schema_of(list[str]) | {"description": "those of the estimate"}
    return found | {
        "properties": found["properties"] | {"cautions": cautions},
        "required": [*found["required"], "cautions"],
    }


NEXT: Json = {"type": ["string", "null"], "description": "`cursor` of the next page; null: there is none"}
SCHEDULE = schema_of(projects.Schedule)
SCHEDULE["properties"]["questions"] = schema_of(reading.OpenQuestions)
PREVIEW = schema_of(answers.Preview)
PREVIEW["properties"]["examples"] = schema_of(list[reading.ChangedLine])
FEED = page_of(called("Change", of_dataclass(feed.Change)))
FEED["properties"]["after"] = {"type": "string", "description": "`after` of the next pull"}
FEED["required"].append("after")
IMPACTS = page_of(schema_of(Impact))
IMPACTS["properties"] |= rate_documents.BESIDE_EDITION
IMPACTS["required"] += rate_documents.BESIDE_EDITION


def with_contracts(items: Any) -> Json:
    """A page of a list with what the contracts come to beside it."""
    found = page_of(schema_of(items))
    beside = {"contracts": schema_of(list[contracts.Contract])}
    return found | {"properties": found["properties"] | beside, "required": [*found["required"], *beside]}


HISTORY_ENTRY = schema_of(HistoryEntry)
HISTORY_ENTRY["properties"]["kind"] = {"type": "string", "enum": [str(kind) for kind in Kind]}

SCHEMAS: Json = {
    "Problem": PROBLEM,
    "Impacts": IMPACTS,
    "Project": schema_of(projects.Project),
    "Schedule": SCHEDULE,
    "ChangedSchedule": joined("ChangedSchedule", SCHEDULE, of_dataclass(answers.Outcome)),
    "AnswersPreview": PREVIEW,
    "ReadOpening": as_read(),
    "Question": schema_of(reading.Question),
    "ReadLine": schema_of(reading.ReadLine),
    "AtStake": schema_of(AtStake),
    "ReadingReport": schema_of(reading.ReadingReport),
    "ScheduleChanges": schema_of(intake.Revisions),
    "ScheduleMatches": schema_of(matches.Matches),
    "Estimate": schema_of(estimate.Estimate),
    "WhatIf": schema_of(WhatIf),
    "EstimateLine": schema_of(estimate_lists.EstimateLine),
    "Comparison": schema_of(comparison.Comparison),
    "ComparisonLine": schema_of(comparisons.ComparisonLine),
    "Derivation": schema_of(derivation.Derivation),
    "Feed": FEED,
    "Climates": schema_of(calendar.Climates),
    "HistoryEntry": HISTORY_ENTRY,
    "ChangeOrders": with_contracts(change_orders.ChangeOrderLine),
    "ContractLines": with_contracts(contracts.ContractLine),
}
SCHEMAS |= {f"Part:{name}": part_of(schema_of(kind)) for name, kind in LISTED.items()}
SCHEMAS |= {f"Part:{name}": schema_of(kind) for name, kind in WHOLE.items()}
SCHEMAS |= rate_documents.SCHEMAS | PEOPLE | quote_documents.SCHEMAS | site_documents.SCHEMAS
