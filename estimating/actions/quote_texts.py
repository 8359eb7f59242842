"""The texts of quotes written; quotes that stand keep what they say."""

from __future__ import annotations

import uuid
from collections.abc import Mapping
from typing import Any

from estimating.actions.company_documents import replace_document
from estimating.models import QuoteTexts
from estimating.queries import quote_texts as shown
from rates.refusals import Expected


def put_texts(*, company: uuid.UUID, document: Mapping[str, Any], expected: Expected) -> shown.QuoteTexts:
    """The company's texts, whole, in the place of those before; Stale."""
    replace_document(
        QuoteTexts, dict(document), company=company, expected=expected, shown=lambda: shown.quote_texts(company=company)
    )
    return shown.quote_texts(company=company)
