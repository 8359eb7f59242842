"""The workbook of a costed estimate."""

from __future__ import annotations

import uuid

from estimating.collector import collector_paused
from estimating.outputs.quotes.files import SentDocument
from estimating.outputs.workbook.workbook import workbook
from estimating.queries.estimates import costed_again
from estimating.queries.printed import printed
from rates.core.texts import counted
from rates.refusals import Conflict
from rates.sheets.workbook_writing import write_workbook

MEDIA = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
MOST_LINES = 10_000  # some two seconds and 100 MB on a slow core


def workbook_file(*, company: uuid.UUID, id: uuid.UUID) -> SentDocument:
    """The workbook with its costs; NotThere, Conflict until costed, and for more lines than somebody waits for."""
    found = printed(company=company, id=id)
    estimate = found.estimate
    edition, schedule = estimate["edition"], estimate["schedule"] or {}
    facts = {
        "Company": found.company,
        "Project": found.project,
        "Estimate": str(estimate["number"] or ""),
        "Schedule": f"revision {schedule['revision']}" if schedule else "",
        "Drawing issue": str(schedule.get("drawing_issue") or ""),
        "Work date": estimate["work_date"],
        "Rates": f"edition {edition['number']}, in force from {edition['effective_from']}",
        "Invented": "the rates are invented" if found.invented else "",
        "Costed at": str(estimate["costed_at"]),
        "Digest": str(estimate["input_digest"]),
    }
    with collector_paused():
        costed = costed_again(company, id)
        if len(costed.request.schedule.lines) > MOST_LINES:
            detail = f"a workbook is made of up to {counted(MOST_LINES, 'line')}; each list stands as CSV and XLSX"
            raise Conflict("workbook_too_long", detail)
        content = write_workbook(workbook(costed, facts, estimate["cautions"]))
    return SentDocument("workbook.xlsx", f"{found.stem('estimate')}.xlsx", MEDIA, content)
