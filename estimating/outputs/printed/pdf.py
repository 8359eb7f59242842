"""A document as PDF/UA-1: tagged, titled, in reading order, with the fonts that come with the library and no others."""

from __future__ import annotations

import datetime
import json
from dataclasses import asdict
from functools import cache
from pathlib import Path
from typing import Any, Final

import typst

from estimating.outputs.printed.blocks import Block, Document
from rates.core.problems import Problem, Refused

TEMPLATE = Path(__file__).with_name("document.typ")
LONGEST_WORD = 14  # characters that fit into the narrowest column of texts
BREAK = "\u200b"  # where a line may end, seen by nobody
STANDARD: Final = "ua-1"  # ISO 14289-1


@cache
def fonts() -> typst.Fonts:
    """The fonts of the library alone, so that every machine makes the same bytes."""
    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=True)


def block_document(block: Block) -> dict[str, Any]:
    """A block as the template reads it."""
    told = {"block": type(block).__name__.lower()} | asdict(block)
    for table in (told, told.get("table", {})):
        if "rows" in table and "columns" in table:
            table["rows"] = [[loose(value) for value in row] for row in table["rows"]]
    return told


def loose(value: str) -> str:
    """The text of a cell; a word longer than its column may break anywhere."""
    if len(value) <= LONGEST_WORD:
        return value
    words = value.split(" ")
    return " ".join(word if len(word) <= LONGEST_WORD else BREAK.join(word) for word in words)


def compile_pdf(document: Document) -> bytes:
    """The bytes of a document; the same document gives the same. Refused for a letter that no font has."""
    told = {
        "title": document.title,
        "author": document.author,
        "date": document.date,
        "language": document.language,
        "head": list(document.head),
        "foot": document.foot,
        "mark": document.mark,
        "size": document.size,
        "running": document.running,
        "blocks": [block_document(block) for block in document.blocks],
    }
    moment = datetime.datetime.fromisoformat(document.date).replace(tzinfo=datetime.UTC)
    try:
        made = typst.compile(
            TEMPLATE.read_bytes(),
            format="pdf",
            font_paths=fonts(),
            sys_inputs={"document": json.dumps(told, ensure_ascii=False)},
            pdf_standards=STANDARD,
            timestamp=moment,
        )
    except typst.TypstError as why:
        if "could not be displayed" not in str(why):
            raise
        raise Refused([Problem("", "letters_not_shown", "it holds letters that no font here has")]) from None
    assert isinstance(made, bytes)
    return made
