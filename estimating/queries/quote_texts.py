"""The texts that a company keeps for its quotes."""

from __future__ import annotations

import uuid
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from estimating.models import QuoteTexts as TextsRow
from estimating.outputs.quotes.said import KeptText
from estimating.outputs.quotes.texts import NOTHING_KEPT


@dataclass(frozen=True)
class QuoteTexts:
    """Inclusions, exclusions, clarifications, terms, letterhead; `when` says what an estimate holds for a text."""

    inclusions: list[KeptText]
    exclusions: list[KeptText]
    clarifications: list[KeptText]
    terms: str
    letterhead: list[str]
    validity_days: int
    version: int

    @property
    def tag(self) -> str:
        return f"texts-{self.version}"

    @property
    def document(self) -> Mapping[str, Any]:
        """As it is kept."""
        return {name: getattr(self, name) for name in NOTHING_KEPT}


def show_texts(document: Mapping[str, Any], version: int) -> QuoteTexts:
    """A company's texts as shown."""
    return QuoteTexts(**(dict(NOTHING_KEPT) | dict(document)), version=version)


def quote_texts(*, company: uuid.UUID) -> QuoteTexts:
    """The company's texts; none are kept until somebody writes them."""
    row = TextsRow.objects.of(company).first()
    return show_texts(NOTHING_KEPT, 0) if row is None else show_texts(row.document, row.version)
