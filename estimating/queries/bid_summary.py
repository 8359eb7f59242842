"""The bid summary of a costed estimate as a document."""

from __future__ import annotations

import uuid

from estimating.outputs.bid_summary import summary_document
from estimating.outputs.quotes.files import SentDocument
from estimating.queries.pictures import estimate_pictures
from estimating.queries.printed import printed


def bid_summary(*, company: uuid.UUID, id: uuid.UUID, format: str) -> SentDocument:
    """The summary as a file; NotThere, Conflict until costed, or where no font has a letter of it."""
    found = printed(company=company, id=id)
    pictures = estimate_pictures(company=company, id=id, document=found.estimate)
    document = summary_document(found.estimate, found.company, found.project, found.invented, pictures)
    return found.file(document, "summary", format, "bid-summary")
