"""The fields of a rule as a person or a program writes them, the same in a request and in a file of answers."""

from __future__ import annotations

from rates.core.fields import Field, Reader, Record, clean_text, text
from rates.core.problems import Unreadable
from rates.core.units import read_length


def parse_height(raw: object) -> str:
    """A length as it is written, with its unit."""
    value = clean_text(raw, 60)
    if read_length(value).nm < 0:
        raise Unreadable("too_small", "must not be negative")
    return value


height = Reader(parse_height, {"type": "string", "maxLength": 60})
RULE = Record(
    lambda **values: {name: value for name, value in values.items() if value},
    (
        Field("code", text(80), "which questions it answers", required=True),
        Field("column", text(120), "letters of the column in doubt, C or Doors!C"),
        Field("elevation", text(200), "lines of this elevation"),
        Field("storey", text(200), "lines of this storey"),
        Field("height_from", height, "lines whose height_above_grade is this or more"),
        Field("height_to", height, "lines whose height_above_grade is less than this"),
        Field("mark_prefix", text(80), "lines whose mark begins so"),
    ),
)
