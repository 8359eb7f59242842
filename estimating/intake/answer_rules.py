"""Answers by rule: one answer for every line that asks the same thing and fits, by column, place, height or mark.

A rule answers the lines that ask when it is given. To lines that come later it only proposes its answer.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

from estimating.core.schedule_lines import mark_key
from rates.core.fraction import Fraction
from rates.core.problems import Unreadable
from rates.core.units import read_length

CONDITIONS = ("column", "elevation", "storey", "height_from", "height_to", "mark_prefix")
_COLUMN = re.compile(r"(?:(.*)!)?([A-Z]{1,3})(?:[0-9]+)?", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Rule:
    """What a rule answers, and which lines it is about: a blank condition is none.

    code: of the questions answered. column: letters of a column, with its sheet where several have one (`Doors!C`).
    height_from, height_to: lengths that the line's height_above_grade is held against, from the one and below the
    other; a line that gives no height above grade fits neither. by, at: who gave it and when, as text.
    """

    code: str
    answer: str
    column: str = ""
    elevation: str = ""
    storey: str = ""
    height_from: str = ""
    height_to: str = ""
    mark_prefix: str = ""
    by: str = ""
    at: str = ""
    id: str = field(init=False)

    def __post_init__(self) -> None:
        told = "\x1f".join((self.code, self.answer, *(getattr(self, name) for name in CONDITIONS)))
        object.__setattr__(self, "id", f"rule-{hashlib.sha256(told.encode()).hexdigest()[:12]}")

    @property
    def conditions(self) -> dict[str, str]:
        """The conditions that are set."""
        return {name: value for name in CONDITIONS if (value := getattr(self, name))}

    def entry(self) -> dict[str, str]:
        """The rule as it is stored and shown."""
        return {
            "id": self.id,
            "code": self.code,
            **self.conditions,
            "answer": self.answer,
            "by": self.by,
            "at": self.at,
        }

    def fits(self, code: str, cell: str, values: Mapping[str, Any]) -> bool:
        """Whether a line with these values, in doubt at this cell, is one of those that the rule is about."""
        return (
            code == self.code
            and (not self.column or in_column(cell, self.column))
            and (not self.elevation or same(values.get("elevation"), self.elevation))
            and (not self.storey or same(values.get("storey"), self.storey))
            and (not self.mark_prefix or mark_key(str(values.get("mark", ""))).startswith(mark_key(self.mark_prefix)))
            and self.reaches(values.get("height_above_grade"))
        )

    def reaches(self, height: object) -> bool:
        """Whether a height above grade lies from `height_from` to below `height_to`."""
        if not self.height_from and not self.height_to:
            return True
        nm = length(str(height)) if height is not None else None
        low, high = length(self.height_from), length(self.height_to)
        return nm is not None and (low is None or low <= nm) and (high is None or nm < high)


def rule_of(entry: Mapping[str, str]) -> Rule:
    """A stored rule."""
    return Rule(**{name: value for name, value in entry.items() if name != "id"})


@lru_cache(maxsize=5_000)
def length(text: str) -> Fraction | None:
    """A length that says its unit; None for any other text."""
    try:
        return read_length(text).nm if text else None
    except Unreadable:
        return None


def same(said: object, wanted: str) -> bool:
    """Whether two names are the same but for case and spaces."""
    return " ".join(str(said or "").split()).casefold() == " ".join(wanted.split()).casefold()


def in_column(cell: str, column: str) -> bool:
    """Whether a cell such as Doors!C7 stands in a column such as C or Doors!C."""
    found, wanted = _COLUMN.fullmatch(cell), _COLUMN.fullmatch(column)
    if found is None or wanted is None:
        return False
    return found[2] == wanted[2] and (not wanted[1] or (found[1] or "").strip("'") == wanted[1].strip("'"))


def by_columns(rules: Sequence[Rule], code: str, cells: Sequence[str]) -> tuple[list[Rule], str, str] | None:
    """(rules, answer, why not) of rules by column, for a question about several columns at once; None where none fits.

    One answer for all where the rules agree, else one for each column: C=in, D=mm.
    """
    columns: dict[str, str] = {}
    for cell in cells:
        match = _COLUMN.fullmatch(cell)
        if match is not None:
            columns.setdefault(match[2], cell)
    fitting = [rule for rule in rules if rule.code == code and rule.column]
    found = {letters: rule for letters, cell in columns.items() for rule in fitting if in_column(cell, rule.column)}
    if len(columns) < 2 or not found:
        return None
    used = list(dict.fromkeys(found.values()))
    if len(found) < len(columns):
        return used, "", f"this question is about the columns {', '.join(columns)}: give a rule for each"
    answers = {rule.answer for rule in used}
    if len(answers) == 1:
        return used, used[0].answer, ""
    return used, ", ".join(f"{letters}={rule.answer}" for letters, rule in found.items()), ""
