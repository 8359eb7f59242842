"""Documents as PDF/UA-1 and HTML: tagged, titled, in order; data never read as markup; the same bytes again."""

from __future__ import annotations

import io
from html.parser import HTMLParser
from typing import Any

import pytest
from pypdf import PdfReader

from estimating.outputs.pictures.causes import causes_figure
from estimating.outputs.printed.blocks import Bullets, Column, Document, Facts, Figure, Heading, Table, Text
from estimating.outputs.printed.html import write_html
from estimating.outputs.printed.letters_shown import not_shown
from estimating.outputs.printed.pdf import compile_pdf
from tests.pdf_texts import text_of_pdf

HOSTILE = (
    "#panic()", "$ x^2 $", "*bold*", "_it_", "= Title", "@cite", "<label>", "\\u{41}", "// gone", "/* gone */",
    "#read(\"/etc/passwd\")", "`raw`", "</p><script>alert(1)</script>", "[#image(\"x\")]", "- item", "http://x.example",
)  # fmt: skip


def document(*blocks: object) -> Document:
    """A document of these blocks."""
    return Document("Quote 7: Clinic", "Office", "2027-03-15", blocks, ("Office", "12 Mill Road"), "foot", "")


def table(rows: list[tuple[str, ...]]) -> Table:
    columns = (Column("Mark", 3), Column("Price", 1, True))
    return Table("Lines", columns, rows, ("Total", "9.00"))


def test_it_is_tagged_titled_and_in_reading_order() -> None:
    content = compile_pdf(
        document(Facts((("Date", "today"),)), Heading("First"), Text("one"), table([("A", "9.00")]), Bullets(["two"]))
    )
    reader = PdfReader(io.BytesIO(content))
    root: Any = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] and "/StructTreeRoot" in root and root["/Lang"] == "en"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert reader.metadata is not None and reader.metadata.title == "Quote 7: Clinic"
    assert b"pdfuaid" in content or b"pdfuaid" in root["/Metadata"].get_object().get_data()
    text = text_of_pdf(content)
    places = [text.index(word) for word in ("Office", "Quote 7", "today", "First", "one", "Mark", "A", "Total", "two")]
    assert places[:5] == sorted(places[:5]) and places[5] < places[7] < places[8]


@pytest.mark.parametrize("text", HOSTILE)
def test_texts_are_never_read_as_markup(text: str) -> None:
    told = document(Heading(text), Text(text), Bullets([text]), Facts(((text, text),)), table([(text, "9.00")]))
    found = "".join(text_of_pdf(compile_pdf(told)).split()).replace("\u200b", "")
    assert found.count("".join(text.split())) >= 6

    class Reader(HTMLParser):
        texts: list[str] = []
        tags: set[str] = set()

        def handle_data(self, data: str) -> None:
            self.texts.append(data)

        def handle_starttag(self, tag: str, attrs: object) -> None:
            self.tags.add(tag)

    reader = Reader()
    reader.texts, reader.tags = [], set()
    reader.feed(write_html(told).decode())
    assert reader.texts.count(text) == 6 and not {"script", "img", "a", "link"} & reader.tags


def test_the_same_document_gives_the_same_bytes() -> None:
    told = document(table([("A", "9.00")]), causes_figure([("openings", 100), ("rates", -50)], "USD"))
    assert compile_pdf(told) == compile_pdf(told) and write_html(told) == write_html(told)
    assert isinstance(told.blocks[1], Figure)


def test_letters_that_no_font_has_are_named() -> None:
    assert not_shown(["Plain", "Žółć, Строй, Ελληνική, Nguyễn", "½ × 3'-0\" – “x” − €"]) == ""
    assert not_shown(["株式会社 North", "한국"]) == "株式会社한국"
    assert not_shown(["🙂"]) == "🙂"


def test_marks_of_forty_characters_stay_in_their_column() -> None:
    mark = "W-ABCDEFGHIJKLMNOPQRSTUVWXYZ-0123456789-X"[:40]
    reader = PdfReader(io.BytesIO(compile_pdf(document(table([(mark, "1,234,567.89")] * 30)))))
    assert len(reader.pages) <= 3
    text = text_of_pdf(compile_pdf(document(table([(mark, "9.00")]))))
    assert mark in "".join(text.split()).replace("\u200b", "")
