"""What every printed document of a costed estimate starts from, and the document as a file."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from typing import Any

import orjson

from estimating import snapshots
from estimating.models import Project
from estimating.outputs.printed.blocks import Document
from estimating.outputs.printed.letters_shown import not_shown
from estimating.outputs.quotes.files import SentDocument, write_document
from estimating.queries.estimates import require_costed
from rates.models import Company
from rates.refusals import Conflict


@dataclass(frozen=True)
class Printed:
    """A costed estimate's document, the names of its company and project, and whether its rates are invented."""

    estimate: dict[str, Any]
    company: str
    project: str
    invented: bool

    def file(self, document: Document, what: str, format: str, stem: str) -> SentDocument:
        """A document of the estimate as a file; Conflict where no font has a letter of it."""
        missing = not_shown(document.texts())
        if missing:
            raise Conflict("letters_not_shown", f"no font here has {' '.join(missing)}")
        return write_document(document, what, format, self.stem(stem))

    def stem(self, what: str) -> str:
        """The name of a file of the estimate without its end."""
        return f"{what}-{self.estimate['number']}" if self.estimate["number"] else what


def printed(*, company: uuid.UUID, id: uuid.UUID) -> Printed:
    """The estimate to print of; NotThere, Conflict until costed."""
    require_costed(company, id)
    body = snapshots.read_summary(company=company, estimate=id)
    assert body is not None
    estimate = orjson.loads(body)
    settings = Company.objects.get(pk=company)
    project = Project.objects.of(company).filter(pk=estimate["project"]).first() if estimate["project"] else None
    return Printed(estimate, settings.name, project.name if project else "", settings.invented)
