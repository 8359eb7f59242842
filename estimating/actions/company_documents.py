"""One document of a company that is replaced whole: its row and its version."""

from __future__ import annotations

import uuid
from collections.abc import Callable
from typing import Any

from django.db import transaction

from estimating.models import Climates, QuoteTexts
from rates.models import Company
from rates.refusals import Expected


@transaction.atomic
def replace_document(
    model: type[Climates] | type[QuoteTexts],
    document: Any,
    *,
    company: uuid.UUID,
    expected: Expected,
    shown: Callable[[], Any],
) -> None:
    """Keeps the document in the place of the one before; Stale where what is `shown` is not what was expected."""
    Company.objects.select_for_update().get(pk=company)
    expected.check(shown())
    row = model.objects.of(company).first()
    if row is None:
        model.objects.add(company=company, document=document)
        return
    row.document, row.version = document, row.version + 1
    row.save(update_fields=["document", "version"])
