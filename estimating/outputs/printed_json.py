"""An estimate as JSON text: the whole document with what stands beside it, one list item a line, ASCII only."""

from __future__ import annotations

import json

from estimating.core.estimate import Estimate
from estimating.outputs.answer import answer, equipment, hours, materials
from estimating.outputs.takeoff_rows import openings, pieces


def whole_document(estimate: Estimate) -> dict[str, object]:
    """The estimate document and, beside it, its openings, materials, equipment, hours and pieces."""
    return answer(estimate) | {
        "openings": openings(estimate),
        "materials": materials(estimate),
        "equipment": equipment(estimate),
        "hours": hours(estimate),
        "pieces": pieces(estimate),
    }


def print_json(value: object, indent: str = "") -> str:
    """JSON that can be read, compared line by line and written to any terminal; the same value gives the same text."""
    inner = indent + " "
    if isinstance(value, dict) and any(isinstance(item, dict | list) for item in value.values()) and len(indent) < 2:
        rows = [f"{inner}{json.dumps(str(name))}: {print_json(item, inner)}" for name, item in value.items()]
        return "{\n" + ",\n".join(rows) + f"\n{indent}}}"
    if isinstance(value, list) and value:
        return "[\n" + ",\n".join(inner + json.dumps(item) for item in value) + f"\n{indent}]"
    return json.dumps(value)
