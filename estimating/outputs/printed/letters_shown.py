"""Which letters of a text no font of ours has, found by setting them; said before a document is made, never boxes."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from functools import lru_cache

from estimating.outputs.printed.blocks import Document, Text
from estimating.outputs.printed.pdf import compile_pdf
from rates.core.problems import Refused

PLAIN = frozenset(map(chr, range(32, 127)))


@lru_cache(maxsize=4096)
def can_show(letter: str) -> bool:
    """Whether a font of ours has the letter."""
    try:
        compile_pdf(Document("x", "x", "2000-01-01", (Text(letter),)))
    except Refused:
        return False
    return True


def not_shown(texts: Iterable[str]) -> str:
    """The letters among the texts that can't be shown, each once, in their order."""
    seen: dict[str, None] = {}
    for text in texts:
        seen.update(dict.fromkeys(text))
    letters = [letter for letter in seen if letter not in PLAIN and not letter.isspace()]
    if not letters or can_show_all("".join(letters)):
        return ""
    found = [letter for letter in letters if not unicodedata.combining(letter) and not can_show(letter)]
    return "".join(found or [letter for letter in letters if unicodedata.combining(letter)])


@lru_cache(maxsize=1024)
def can_show_all(letters: str) -> bool:
    """Whether all of them can be shown, asked at once."""
    return can_show(" ".join(letters))
