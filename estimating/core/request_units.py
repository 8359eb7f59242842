"""Bare numbers of a request's own lengths, told in the length unit that the request declares."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

BARE = re.compile(r"-?[0-9]+(\.[0-9]+)?", re.ASCII)
# where a request holds lengths of its own; a list stands for each of its entries
LENGTHS: Mapping[str, Any] = {
    "treated_depth": None,
    "perimeter_seal": {"width": None, "depth": None, "weeps": {"length": None}},
    "sheathing_joints": {
        "walls": {"length": None, "height": None, "sheet_long": None, "sheet_high": None},
        "corners": None,
        "terminations": None,
        "deflection": None,
    },
}


def told(raw: object, unit: str, lengths: Mapping[str, Any] | None) -> object:
    """The value with the unit behind each bare number; anything else as it is, for its reader to judge."""
    if lengths is None:
        bare = isinstance(raw, str | int) and not isinstance(raw, bool) and BARE.fullmatch(str(raw).strip())
        return f"{raw} {unit}" if bare else raw
    if isinstance(raw, list | tuple):
        return [told(item, unit, lengths) for item in raw]
    if not isinstance(raw, Mapping):
        return raw
    return {name: told(item, unit, lengths[name]) if name in lengths else item for name, item in raw.items()}


def with_units(document: Mapping[str, object], unit: object, known: tuple[str, ...]) -> dict[str, object]:
    """The request with its own lengths in its `length_unit`, where that is one of the known units."""
    if not isinstance(unit, str) or unit not in known:
        return dict(document)
    return {name: told(item, unit, LENGTHS[name]) if name in LENGTHS else item for name, item in document.items()}
