"""How many openings each choice of a question would leave to price: the file read again under each of them."""

from __future__ import annotations

import uuid

from estimating.actions.intake import Sent, find_revision, read_again, report_of
from estimating.intake.file_scope import file_scope
from estimating.intake.questions import BLOCKS_COSTING
from estimating.intake.report import question_of
from rates.core.problems import Refused

MOST_LINES, MOST_CHOICES = 500, 5  # the page of a question waits for it


def openings_by_choice(*, company: uuid.UUID, id: uuid.UUID, question: str) -> dict[str, int]:
    """Choice -> openings to price, where the choices of an open question differ in them; else nothing. NotThere."""
    revision = find_revision(company, id)
    report = report_of(revision)
    asked = next((question_of(entry) for entry in report["questions"] if entry["id"] == question), None)
    if asked is None or not asked.open or asked.severity != BLOCKS_COSTING or not 1 < len(asked.choices):
        return {}
    if revision.line_count > MOST_LINES or len(asked.choices) > MOST_CHOICES:
        return {}
    found = {}
    for choice in asked.choices:
        sent = Sent(dict.fromkeys(asked.keys or (asked.id,), choice))
        try:
            intake = read_again(company=company, before=revision, report=report, sent=sent).intake
        except Refused:
            return {}
        scope = file_scope(intake.lines, intake.length_unit)
        found[choice] = scope.scope.priced + scope.unread_openings
    return found if len(set(found.values())) > 1 else {}
