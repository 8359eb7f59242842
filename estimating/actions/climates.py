"""The climates of a company written, whole; calendars that stand keep what they have."""

from __future__ import annotations

import uuid
from collections.abc import Sequence
from typing import Any

from estimating.actions.company_documents import replace_document
from estimating.models import Climates
from estimating.queries import climates as shown
from rates.refusals import Expected


def put_climates(*, company: uuid.UUID, rows: Sequence[dict[str, Any]], expected: Expected) -> shown.Climates:
    """The company's table, in the place of the one before; Stale."""
    replace_document(
        Climates, list(rows), company=company, expected=expected, shown=lambda: shown.climates(company=company)
    )
    return shown.climates(company=company)
