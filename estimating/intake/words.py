"""Cells that hold one of a field's words: exterior or interior, the way of access, the substrate."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from estimating.intake.cells import blank
from estimating.intake.vocabulary import FALSE_WORDS, TRUE_WORDS, UNKNOWN_WORDS, access_of, substrate_of
from rates.core.tables import ACCESS, SUBSTRATES

Words = tuple[Any, tuple[str, ...]]


def external_word(cell: str) -> Words:
    """True, False, or None for unknown; choices where the word means nothing here."""
    plain = cell.strip().lower()
    if plain in TRUE_WORDS or plain in FALSE_WORDS:
        return plain in TRUE_WORDS, ()
    return None, () if plain in UNKNOWN_WORDS else ("exterior", "interior", "unknown")


def access_word(cell: str) -> Words:
    """One of the ways of access, or those to choose from."""
    return (found, ()) if (found := access_of(cell)) else (None, () if blank(cell) else ACCESS)


def substrate_word(cell: str) -> Words:
    """One of the substrates, or those to choose from."""
    return (found, ()) if (found := substrate_of(cell)) else (None, () if blank(cell) else SUBSTRATES)


WORDS: dict[str, Callable[[str], Words]] = {
    "external": external_word,
    "access": access_word,
    "substrate": substrate_word,
}
