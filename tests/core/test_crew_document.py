"""Crew sheets as PDF: a zone from a page of its own that says so, whole marks, boxes to tick, large letters."""

from __future__ import annotations

import io
import re
from typing import Any

import pytest
from pypdf import PdfReader

from estimating.outputs.crew_document import boxes, crew_document, on_clock
from estimating.outputs.crew_sheets import crew_sheets
from estimating.outputs.printed.pdf import compile_pdf
from estimating.outputs.shown_pieces import show_lengths
from rates.core.length_styles import LengthStyle
from tests.core.invented import Document, costed, edition, opening, production, request
from tests.core.test_site_calendar import COATS

STYLE = LengthStyle()
MARK = "W-ABCDEFGHIJKLMNOPQRSTUVWXYZ-0123456789X"  # 40 characters
MONEY = re.compile(r"\$|USD|[0-9]\.[0-9]{2}\b")


def pages(document: Document) -> list[str]:
    """The texts of the pages."""
    estimate = costed(document, edition(production=production(coats=COATS)))
    found = [sheet | {"pieces": show_lengths(sheet["pieces"], "in", STYLE)} for sheet in crew_sheets(estimate, STYLE)]
    printed = crew_document(found, {"costed_at": "2027-01-04T00:00:00Z", "number": 3}, "Office", "Clinic")
    assert printed.size == 14
    content = compile_pdf(printed)
    return [page.extract_text() for page in PdfReader(io.BytesIO(content)).pages]


def joined(texts: list[str]) -> str:
    """Texts without the places where a line may end."""
    return "".join("".join(texts).split()).replace("\u200b", "")


def test_one_opening() -> None:
    found = pages(request(opening(MARK, elevation="North", storey="2")))
    text = " ".join(" ".join(found).split())
    for words in (
        "Zone 1: North, storey 2",
        "1 SILL, 2 JAMBS, 3 HEAD",
        "GO: all of these",
        "NO GO",
        "40 °F is from memory",
    ):
        assert words in text
    assert "Surface at the start" in text and "Cautions" in text and "then wait 30 min" in text
    assert MARK in joined(found) and len(found) <= 2
    assert "March 15, 2027" in text and "2027-03-15" not in text
    assert re.search(r"standard minutes of work; [0-9.]+ h for the crew, with set-up and waiting between coats", text)
    assert "Invented mesh" in text


@pytest.mark.parametrize("openings", [16, 400])
def test_every_zone_starts_a_page_and_every_page_says_its_zone(openings: int) -> None:
    """Marks of forty characters, Greek and Cyrillic among them; a zone for each eight openings or so."""
    per, words = openings // 8, ("Северный фасад", "Ελληνική")
    lines = [
        opening(f"{MARK[:37]}{i:03}", per, elevation=f"{words[i % 2]} {i % 4}", storey=str(i // 4 + 1))
        for i in range(8)
    ]
    found = pages(request(*lines))
    heads = [re.match(r"Zone \d+: [^\n]+", text) for text in found]
    assert all(heads)
    first_pages = [text for text in found if "1 SILL, 2 JAMBS, 3 HEAD" in text]
    assert len(first_pages) == 8 == len({head[0] for head in heads if head})
    for i in range(8):
        assert f"{MARK[:37]}{i:03}" in joined(found)
    assert joined(found).count("☐") >= (openings if per <= 40 else 8 * (per // 10 + per % 10))


def test_no_money_stands_on_a_sheet() -> None:
    text = " ".join(pages(request(opening("A", 7, elevation="North"), opening("B", 3, elevation="South"))))
    found: Any = [match for match in MONEY.findall(text) if "gal" not in match]
    assert all(re.search(rf"{re.escape(one)} gal", text) for one in found)


def test_boxes_are_one_for_each_opening_in_fives() -> None:
    assert boxes(7) == "☐☐☐☐☐ ☐☐"
    assert boxes(40).count("☐") == 40
    many = boxes(123)
    assert many == "each 10: ☐☐☐☐☐ ☐☐☐☐☐ ☐☐ each 1: ☐☐☐"


def test_the_clock_is_never_early() -> None:
    assert [on_clock(minutes) for minutes in ("0", "45", "45.1", "60", "125")] == [
        "0:00",
        "0:45",
        "0:46",
        "1:00",
        "2:05",
    ]


def test_nothing_to_do_is_said() -> None:
    (page,) = pages(request())
    assert "Nothing is to be done." in page
