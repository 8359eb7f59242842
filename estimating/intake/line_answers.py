"""What an answer about an opening line can say, whatever was asked: leave it, set it aside, an alternate, its fields.

as_drawn | set_aside | set_aside: reason | alternate NAME | quantity=4, width=36 in, shape=round
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Any

from estimating.core.kind_reading import DIMENSIONS, OPTIONAL, OUTLINE_FIELDS
from estimating.core.schedule_reading import Reading, read_lines
from estimating.intake.cells import read_cell_size
from estimating.intake.columns import known_paths, read_count
from estimating.intake.draft import Draft

AS_DRAWN, SET_ASIDE, ALTERNATE = "as_drawn", "set_aside", "alternate"
OPEN = "set_aside: reason, alternate NAME, or fields such as quantity=4, width=36 in"
SIZE_OR_DIAMETER = "a size such as 36 in x 48 in, or a diameter such as 4 in dia"
DRAWN = ("shape", *OUTLINE_FIELDS)
_FIELD = re.compile(r"(?:^|[,;]\s*)([a-z_]+(?:\.[a-z_]+)?)\s*=\s*")
Change = Callable[[Draft], None]


def read_answer(answer: str, reason: str = "") -> dict[str, Any] | str:
    """The fields that an answer sets, or why it is none; `reason` stands for one that set_aside does not give."""
    plain = answer.strip()
    word, _, rest = plain.partition(":")
    if plain == AS_DRAWN:
        return {}
    if word.strip().lower() in (SET_ASIDE, "set aside"):
        return {"excluded": {"reason": (rest.strip() or reason or "set aside")[:300]}}
    name = plain[len(ALTERNATE) :].strip(" :") if plain.lower().startswith(ALTERNATE) else ""
    if plain.lower().startswith(ALTERNATE) and "=" not in plain:
        return {"alternate": name[:40] or "1"}
    return read_fields(plain)


def read_fields(text: str) -> dict[str, Any] | str:
    """quantity=4, width=36 in, sill.kind=none as the fields of a line, or why they are none."""
    parts = list(_FIELD.finditer(text))
    if not parts or parts[0].start() != 0:
        return f"{text[:60]!r} is none of the choices, nor {OPEN}"
    found: dict[str, Any] = {}
    for part, after in zip(parts, [*parts[1:], None], strict=True):
        value = text[part.end() : after.start() if after else len(text)].strip()
        name = part[1]
        path = known_paths().get(name)
        if path is None:
            return f"{name!r} is no field of an opening line"
        if name == "size":
            width, height = read_cell_size(value, "")
            if width.code or height.code:
                return f"{value[:40]!r} is no size: {SIZE_OR_DIAMETER} is expected"
            found |= {"width": width.text, "height": height.text}
        elif name == "points":
            found["points"] = [[side.strip() for side in point.split(",")] for point in value.split(";")]
        elif len(path) == 2:
            found.setdefault(path[0], {})[path[1]] = value
        elif name in ("external", "seal"):
            found[name] = value.lower() in ("true", "yes")
        else:
            found[name] = read_count(value) if name == "quantity" else value
    return found


def put_fields(draft: Draft, fields: Mapping[str, Any]) -> None:
    """Puts the fields of an answer into a line; another shape takes the dimensions of the old one away."""
    written = draft.values
    fields = shaped(written, fields)
    if "shape" in fields or "points" in fields:
        kept = {name for name in DRAWN if name in fields} | {"width", "height"}
        for name in DRAWN:
            if name not in kept:
                draft.values.pop(name, None)
    for name, value in fields.items():
        if name in written and written[name] != value:
            draft.written.setdefault(name, str(written[name])[:200])
        draft.values[name] = value
    if "excluded" in fields:
        draft.values.setdefault("quantity", 0)
    fit_dimensions(draft.values)


def shaped(values: Mapping[str, Any], fields: Mapping[str, Any]) -> Mapping[str, Any]:
    """The fields of an answer with the shape that they tell a line without one: a diameter alone is of something round.

    A pipe's width and height are those of the rectangle around it.
    """
    known = values.keys() | fields.keys()
    if {"shape", "points"} & known:
        return fields
    pipe = fields.get("kind", values.get("kind")) == "pipe"
    if "diameter" in fields and not {"width", "height"} & fields.keys():
        return {**fields, "shape": "pipe" if pipe else "round"}
    drawn = pipe and {"width", "height"} <= known and "diameter" not in known
    said = "kind" in fields or {"width", "height"} <= fields.keys()  # 7 in alone may be its diameter
    return {**fields, "shape": "rectangle"} if drawn and said else fields


def fit_dimensions(values: dict[str, Any]) -> None:
    """A round opening of width and height alike has its diameter; what a shape has no use for is taken away."""
    if values.get("kind") == "pipe" and values.get("shape") == "round":
        values["shape"] = "pipe"
    shape = values.get("shape")
    if shape == "round" and "diameter" not in values and values.get("width"):
        values["diameter"] = values["width"]
    if shape in DIMENSIONS and (shape not in ("round", "pipe") or "diameter" in values):
        for side in {"width", "height"}.difference(DIMENSIONS[shape], OPTIONAL.get(shape, ())):
            values.pop(side, None)
    if shape in ("half_round_top", "segmental_top") and "springline" in values:
        values.pop("height", None)


def why_not(values: Mapping[str, Any], fields: Mapping[str, Any]) -> str:
    """Why a line could not be read with the fields of an answer, blank where it can as far as they go."""
    draft = Draft(dict(values), 0, 0)
    put_fields(draft, fields)
    reading = Reading(None, False)
    list(read_lines(reading, [draft.values], ""))
    faults = [f for f in reading.faults if f.pointer.split("/")[2:3] and f.pointer.split("/")[2] in fields]
    return "; ".join(f"{fault.pointer.split('/')[2]}: {fault.detail}" for fault in faults[:3])
