"""The documents of a quote as they are sent: bytes that are made once and kept."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass

from estimating.outputs.printed.blocks import Document
from estimating.outputs.printed.html import write_html
from estimating.outputs.printed.pdf import compile_pdf
from estimating.outputs.quotes.changes import ChangesLetter, changes_document
from estimating.outputs.quotes.letter import Letter
from estimating.outputs.quotes.letter_document import letter_document
from estimating.outputs.quotes.ubl import write_ubl
from estimating.outputs.quotes.ubl_rules import broken_rules

WRITERS = {"pdf": ("application/pdf", compile_pdf), "html": ("text/html; charset=utf-8", write_html)}


@dataclass(frozen=True)
class SentDocument:
    """One document: `name` as addresses call it, `file_name` as it is saved."""

    name: str
    file_name: str
    media_type: str
    content: bytes

    @property
    def digest(self) -> str:
        """SHA-256 in hexadecimal."""
        return hashlib.sha256(self.content).hexdigest()


def file_stem(letter: Letter, what: str) -> str:
    """The name of a file without its end: the number and what it is, nothing else."""
    return f"quote-{letter.number if letter.number is not None else 'draft'}-{what}"


def write_document(document: Document, what: str, format: str, stem: str) -> SentDocument:
    """A document in a format."""
    media_type, write = WRITERS[format]
    return SentDocument(f"{what}.{format}", f"{stem}.{format}", media_type, write(document))


def letter_file(letter: Letter, format: str) -> SentDocument:
    """The letter in a format."""
    return write_document(letter_document(letter), "letter", format, file_stem(letter, "letter"))


def changes_file(changes: ChangesLetter, format: str) -> SentDocument:
    """The letter of changes in a format."""
    return write_document(changes_document(changes), "changes", format, file_stem(changes.head, "changes"))


def ubl_file(letter: Letter) -> SentDocument:
    """The quotation for the customer's systems, of a quote that has its number."""
    content = write_ubl(letter)
    assert not (broken := broken_rules(content)), broken
    return SentDocument("ubl.xml", f"{file_stem(letter, 'ubl')}.xml", "application/xml", content)


def sent_documents(letter: Letter, changes: ChangesLetter | None) -> Iterator[SentDocument]:
    """All documents of a quote as it is issued."""
    for format in WRITERS:
        yield letter_file(letter, format)
        if changes is not None:
            yield changes_file(changes, format)
    yield ubl_file(letter)
