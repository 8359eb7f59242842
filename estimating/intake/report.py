"""The reading report of a revision as it is stored and shown: questions, notes, tables, and each line's cells.

Stored as plain JSON beside the lines, so that it stays what it was when the revision was made.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import fields
from typing import Any

from estimating.intake.answer_rules import Rule, rule_of
from estimating.intake.asking import SEVERITIES
from estimating.intake.edits import NO_TABLE, Edit, edit_entry, edit_of
from estimating.intake.headings import Heading
from estimating.intake.questions import TO_KNOW, Kept, Question
from estimating.intake.reading import Intake
from estimating.intake.tables import Known
from rates.core.grid import column_number, place_of

Report = dict[str, Any]
FIELDS = tuple(field.name for field in fields(Question))
APART = ("said", "choices_said", "keys")
BOTH = {"width": "size", "height": "size"}


def make_report(intake: Intake, clouds: list[str], rules: Sequence[Rule] = ()) -> Report:
    """The report of an intake, with the marks that its drawing issue clouds, and the rules that answers gave."""
    return {
        "format": intake.format,
        "questions": [question_entry(question) for question in intake.questions],
        "kept": pack_kept(intake.kept),
        "rules": [rule.entry() for rule in rules],
        "edits": [edit_entry(edit) for edit in intake.edits],
        "notes": [{"cell": place, "text": text} for place, text in intake.notes],
        "tables": list(intake.tables),
        "without_basis": list(intake.without_basis),
        "apart": list(intake.apart),
        "clouds": clouds,
        "lines": [line_entry(intake, index) for index in range(len(intake.drafts))],
    }


def pack_kept(kept: Mapping[str, Kept]) -> list[list[Any]]:
    """The answers that are kept, as they are stored: each answer, its rule, by whom and when, and all its keys."""
    found: dict[Kept, list[str]] = {}
    for key, answer in kept.items():
        found.setdefault(answer, []).append(key)
    return [[*answer, keys] for answer, keys in found.items()]


def kept_of(report: Mapping[str, Any]) -> dict[str, Kept]:
    """The answers that a report keeps, by key; of a report of old, by question id."""
    if "kept" not in report:
        return {id: Kept(answer) for id, answer in report.get("answers", {}).items()}
    return {key: Kept(*answer) for *answer, keys in report["kept"] for key in keys}


def rules_of(report: Mapping[str, Any]) -> list[Rule]:
    """The rules that a report keeps, the oldest first."""
    return [rule_of(entry) for entry in report.get("rules", ())]


def edits_of(report: Mapping[str, Any]) -> list[Edit]:
    """The edits that a report keeps, in the order in which they were made."""
    return [edit_of(entry) for entry in report.get("edits", ())]


def question_entry(question: Question) -> Report:
    """What is kept of a question; its lengths and its keys apart only where it has any."""
    entry = {name: getattr(question, name) for name in FIELDS}
    return {name: value for name, value in entry.items() if name not in APART or value}


def question_of(entry: Mapping[str, Any]) -> Question:
    """A kept question, lists as the tuples that they were."""
    fields: dict[str, Any] = {name: tuple(value) if isinstance(value, list) else value for name, value in entry.items()}
    return Question(**fields)


def line_entry(intake: Intake, index: int) -> list[Any]:
    """What is kept of one line: its table and row, or its place, and the fields that are not as written."""
    draft = intake.drafts[index]
    where: list[Any] = [draft.table, draft.row] if intake.tables else [intake.place(index, None)]
    extra = {name: place for name, place in draft.places.items() if place}
    return [*where, draft.written, extra] if draft.written or extra else where


def is_open(question: Mapping[str, Any]) -> bool:
    """Whether a stored question still wants an answer."""
    return question["answer"] is None and question["severity"] != TO_KNOW


def count_open(report: Mapping[str, Any]) -> dict[str, int]:
    """How many questions are open by severity, and how many things there are to know."""
    counts = dict.fromkeys(SEVERITIES, 0)
    for question in report["questions"]:
        if question["answer"] is None or question["severity"] == TO_KNOW:
            counts[question["severity"]] += 1
    return counts


def read_line(report: Mapping[str, Any], index: int, values: Mapping[str, Any]) -> dict[str, Any]:
    """What was read for one line: its place, and of each field the value, the cell, and how it was written."""
    entry: list[Any] = report["lines"][index] if index < len(report["lines"]) else [f"/openings/{index}"]
    rest = entry[2:] if report["tables"] else entry[1:]
    written, places = rest or [{}, {}]
    fields = {}
    for name, value in values.items():
        shown = {"value": value, "cell": places.get(name) or cell_of(report, entry, name)}
        if name in written:
            shown["written"] = written[name]
        fields[name] = shown
    return {"line": index, "mark": values.get("mark", ""), "cell": cell_of(report, entry, None), "fields": fields}


def cell_of(report: Mapping[str, Any], entry: list[Any], name: str | None) -> str:
    """The cell of a field by the table that the line stands in."""
    if entry[0] == NO_TABLE:
        return str(entry[3]["line"])
    if not report["tables"]:
        place = str(entry[0])
        return f"{place}/{name}" if name and place.startswith("/") else place
    table = report["tables"][entry[0]]
    letters = {field_of(column["field"]): column["column"] for column in table["columns"]}
    column = letters.get(name or "") or letters.get(BOTH.get(name or "", ""))
    return place_of(table["sheet"], entry[1], column_number(column) if column else None)


def field_of(shown: str) -> str:
    """A field without the unit that its column declares."""
    for unit in ("_ft_in", "_mm", "_cm", "_m", "_in", "_ft"):
        if shown.endswith(unit):
            return shown.removesuffix(unit)
    return shown


def pack_columns(columns: Mapping[int, Heading]) -> dict[str, list[Any]]:
    """Confirmed columns as they are stored."""
    return {str(c): [h.field, h.unit, h.basis, list(h.path)] for c, h in columns.items()}


def unpack_columns(stored: Mapping[str, Mapping[str, list[Any]]]) -> Known:
    """Confirmed columns by fingerprint."""
    return {
        fingerprint: {int(c): Heading(f, unit, basis, tuple(path)) for c, (f, unit, basis, path) in columns.items()}
        for fingerprint, columns in stored.items()
    }
