"""The text of a PDF document, its metadata included, for tests that look for what may not stand there."""

from __future__ import annotations

import io

from pypdf import PdfReader


def text_of_pdf(content: bytes) -> str:
    """The pages' texts, then the document's properties."""
    reader = PdfReader(io.BytesIO(content))
    pages = [page.extract_text() for page in reader.pages]
    properties = [f"{name}: {value}" for name, value in (reader.metadata or {}).items()]
    return "\n".join([*pages, *properties])
