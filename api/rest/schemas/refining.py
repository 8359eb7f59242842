"""A field table's schema told in full."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

Json = dict[str, Any]
# what texts may hold: no control characters, nothing that turns the direction of text
PLAIN_TEXT = "^[^\\u0000-\\u001f\\u007f-\\u009f\\u061c\\u200e\\u200f\\u202a-\\u202e\\u2066-\\u2069]*$"


def refine(schema: Mapping[str, Any], *, optional: bool = False) -> Json:
    """A field table's schema told in full: what may be left out may be null, and which characters a text may hold."""
    found = dict(schema)
    for name in ("items", "additionalProperties"):
        if isinstance(found.get(name), Mapping):
            found[name] = refine(found[name])
    if "oneOf" in found:
        found["oneOf"] = [refine(part) for part in found["oneOf"]] + ([{"type": "null"}] if optional else [])
        return found
    if "properties" in found:
        needed = set(found.get("required", ()))
        found["properties"] = {
            name: refine(part, optional=name not in needed) for name, part in found["properties"].items()
        }
    if found.get("type") == "string" and not {"pattern", "enum", "format"} & set(found):
        found["pattern"] = PLAIN_TEXT
    if optional and "type" in found:
        kinds = found["type"] if isinstance(found["type"], list) else [found["type"]]
        found["type"] = [*kinds, "null"]
        if "enum" in found:
            found["enum"] = [*found["enum"], None]
    return found
