"""What was read of a schedule as a company's people see it: lengths beside the values, questions in their own style.

The style is that of the day on which it is looked at; what is stored, ids, and the answers that are taken stay.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from estimating.core.schedule_lines import LENGTH_NAMES
from estimating.intake.questions import MOST_CELLS
from estimating.intake.report import APART, question_entry, question_of
from rates.core.fields import number_text
from rates.core.length_styles import LengthStyle
from rates.core.problems import Unreadable
from rates.core.units import read_length

POINTS = "points"
Shown = dict[str, Any]


def show_question(question: Mapping[str, Any], style: LengthStyle) -> Shown:
    """A stored question with its sentence in the style; `choices` are what answers it, `choices_shown` its labels."""
    asked = question_of(question)
    sentence, choices = asked.read_in(style.show)
    told = {"sentence": sentence, "choices_shown": choices, "open": asked.open, "lines": asked.lines[:MOST_CELLS]}
    entry = question_entry(asked) | told
    return {name: list(x) if isinstance(x, tuple) else x for name, x in entry.items() if name not in APART}


def show_line(line: Mapping[str, Any], unit: str, style: LengthStyle) -> Shown:
    """A line that was read, `shown` beside each of its lengths; bare numbers are in `unit` (blank: none told)."""
    fields = {}
    for name, field in line["fields"].items():
        text = show_value(name, field["value"], unit or None, style)
        fields[name] = field if text is None else field | {"shown": text}
    return {**line, "fields": fields}


def show_value(name: str, value: object, unit: str | None, style: LengthStyle) -> str | None:
    """A length, or the corners of an outline, in the style; None for other fields and what can't be read."""
    try:
        if name in LENGTH_NAMES:
            return show_length(value, unit, style)
        if name == POINTS and isinstance(value, list):
            corners = [", ".join(show_length(way, unit, style) for way in point) for point in value]
            return " ".join(f"({corner})" for corner in corners)
    except (Unreadable, TypeError):  # a line left out of the price may hold anything
        pass
    return None


def show_length(value: object, unit: str | None, style: LengthStyle) -> str:
    """A length as a line holds it in the style; Unreadable."""
    return style.show(read_length(number_text(value), unit=unit).nm)
