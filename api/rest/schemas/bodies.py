"""Schemas of the big bodies, from the field tables that read them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from api import job_record_fields
from api.rest.edits import EDITS
from api.rest.schemas.lines import OPENING_LINE, as_changed
from api.rest.schemas.records import called
from api.rest.schemas.refining import refine
from estimating.actions.what_if import EVERY_LINE, LINES
from estimating.core.climate_tables import TABLE
from estimating.core.request_reading import REQUEST
from estimating.core.schedule import MOST_LINES
from estimating.intake.json_reading import DECLARED
from rates.core.card import EDITION

Json = dict[str, Any]
ROWS = {"labour": "LabourRow", "materials": "MaterialRow", "equipment": "EquipmentRow", "overheads": "OverheadRow"}
TABLES: Json = EDITION.by_name["tables"].reader.schema["properties"]
OPENINGS: Json = {"type": "array", "items": OPENING_LINE, "maxItems": MOST_LINES}


def row_of(table: str) -> Json:
    """A row of a table, or the production table, whole."""
    if table == "production":
        return called("Production", refine(TABLES[table]))
    return called(ROWS[table], refine(TABLES[table]["items"]))


def differing(schema: Mapping[str, Any]) -> Json:
    """An object of a layer: only the fields that differ, null for one that is taken away."""
    parts = {name: differing(part) if "properties" in part else part for name, part in schema["properties"].items()}
    needed = [name for name in ("code",) if name in parts]
    return dict(schema) | {"properties": parts, "required": needed, "before_name": "Layer"}


def layer_row_of(table: str) -> Json:
    """A row of a layer's table, or its production table."""
    told = "only what differs from the layer below; null takes a field away"
    if table == "production":
        return called("LayerProduction", refine(differing(TABLES[table])), about=told, within="Production")
    row = refine(differing(TABLES[table]["items"]))
    return called(f"Layer{ROWS[table]}", row, about=told, within=ROWS[table])


def table_of(table: str) -> Json:
    """A table of an edition, or of a layer."""
    forms = {"anyOf": [row_of(table), layer_row_of(table)]}
    return forms if table == "production" else {"type": "array", "items": forms, "maxItems": TABLES[table]["maxItems"]}


def tables_of(title: str, row: Any) -> Json:
    """All five tables."""
    rows = {name: row(name) for name in TABLES}
    properties = {
        name: part if name == "production" else {"type": "array", "items": part} for name, part in rows.items()
    }
    return {"title": title, "type": "object", "properties": properties, "additionalProperties": False}


WHOLE_TABLES = tables_of("WholeTables", row_of) | {"required": list(TABLES), "about": "the tables of an edition"}
LAYER_TABLES = tables_of("LayerTables", layer_row_of) | {"about": "the tables of a layer, with only what differs"}


def new_edition() -> Json:
    """A draft: an edition whole, a copy of one, or a layer."""
    whole = refine(EDITION.schema)
    head = {name: schema for name, schema in whole["properties"].items() if name != "tables"}
    copied = {"from": {"type": "string", "format": "uuid", "description": "the edition that is copied"}}
    own = {name: head[name] for name in ("effective_from", "note", "currency")}

    def form(title: str, about: str, properties: Json, *needed: str) -> Json:
        told = {"title": title, "about": about, "type": "object", "properties": properties, "within": "Edition"}
        return told | {"required": list(needed), "additionalProperties": False}

    return {
        "anyOf": [
            form("EditionDraft", "an edition whole", head | {"tables": WHOLE_TABLES}, *whole["required"]),
            form("EditionCopy", "a copy of an edition, with what is said anew", copied | head, "from"),
            form(
                "LayerDraft", "of a branch's or project's rate book", own | {"tables": LAYER_TABLES},
                "effective_from", "tables",
            ),
        ]
    }  # fmt: skip


def request_schema() -> Json:
    """The request for an estimate."""
    schema = refine(REQUEST.schema)
    schema["properties"] = dict(schema["properties"]) | {"openings": OPENINGS | {"description": "opening lines inline"}}
    return schema


def request_change() -> Json:
    """A merge patch of a request: any of its fields, null to take one away; beside them what holds for every line."""
    schema = refine({**REQUEST.schema, "required": []}) | {"within": "EstimateRequest"}
    lines = refine(EVERY_LINE.schema) | {"description": "values for every opening line, in place of its own"}
    more = {"openings": OPENINGS | {"description": "opening lines inline"}, LINES: lines}
    schema["properties"] = dict(schema["properties"]) | more
    return schema


def edits_schema() -> Json:
    """Edits of opening lines."""
    schema = refine(EDITS.schema)
    edit = schema["properties"]["edits"]["items"]
    for name in ("change", "add"):
        edit["properties"][name] = as_changed() | {"description": edit["properties"][name]["description"]}
    return schema


def schedule_file() -> Json:
    """A schedule as JSON: a list of lines, or an object with what is declared for them."""
    declared = refine(DECLARED.schema)["properties"]
    whole = {"type": "object", "properties": {"openings": OPENINGS} | declared, "required": ["openings"]}
    return {"oneOf": [OPENINGS, whole | {"title": "DeclaredSchedule"}]}


SCHEMAS: Json = {
    "EstimateRequest": request_schema(),
    "RequestChange": request_change(),
    "NewEdits": edits_schema(),
    "ScheduleFile": schedule_file(),
    "NewEdition": new_edition(),
    "OpeningLine": OPENING_LINE,
    "JobRecordRows": called(
        "JobRecordRows", refine(job_record_fields.ROWS.schema), about="job records, a row for each"
    ),
    "ClimatesLoaded": called("ClimatesLoaded", refine(TABLE.schema), about="the company's climates, whole"),
} | {f"Table:{name}": table_of(name) for name in TABLES}
