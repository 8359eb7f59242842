"""What pages are on paper: the figures and tables, with nothing that is there to be pressed."""

from __future__ import annotations

import unicodedata
from typing import Any

import pytest

from tests.browser.office import Office
from tests.browser.prepared import prepare
from tests.pdf_texts import text_of_pdf

ONLY_ON_SCREEN = (
    "Sign out", "Search", "Skip to the content", "Draft a quote of it", "Next lines", "Sign those ticked",
    "Progress on site",
)  # fmt: skip


@pytest.fixture(scope="module")
def found(office: Office) -> dict[str, str]:
    return prepare(office)


def on_paper(page: Any, address: str) -> str:
    """The text of a page as it is printed on A4."""
    page.goto(address)
    return plain(text_of_pdf(page.pdf(format="A4")))


def plain(text: str) -> str:
    """Letters without spaces and ligatures: a PDF knows lines, and draws ﬁ as one letter."""
    return "".join(unicodedata.normalize("NFKC", text).split())


def test_an_estimate_on_paper(office: Office, found: dict[str, str]) -> None:
    document = office.api.get(f"/v1/estimates/{found['estimate']}")[1]
    with office.person("estimator") as page:
        text = on_paper(page, f"/estimates/{found['estimate']}")
        assert f"{float(document['totals']['price']):,.2f}USD" in text
        for row in document["build_up"]:
            assert f"{float(row['amount']):,.2f}" in text, row
        for row in document["by_mark"]:
            assert plain(row["mark"]) in text and f"{float(row['price']):,.2f}" in text
        for caution in document["cautions"]:
            assert plain(caution) in text
        assert [words for words in ONLY_ON_SCREEN if plain(words) in text] == []


@pytest.mark.parametrize("part", ["materials", "hours", "openings", "cut-plan", "purchase-list", "cost-codes"])
def test_a_part_of_an_estimate_on_paper(office: Office, found: dict[str, str], part: str) -> None:
    with office.person("estimator") as page:
        text = on_paper(page, f"/estimates/{found['estimate']}/{part}")
        rows = page.locator("main tbody th").all_inner_texts()
        assert rows and all(plain(row) in text for row in rows)
        assert [words for words in ONLY_ON_SCREEN if plain(words) in text] == []


def test_assumptions_on_paper_are_there_though_they_stand_in_a_form(office: Office, found: dict[str, str]) -> None:
    with office.person("estimator") as page:
        text = on_paper(page, f"/estimates/{found['estimate']}/assumptions")
        sentences = page.locator("main tbody td.w").all_inner_texts()
        assert len(sentences) > 5 and all(plain(one) in text for one in sentences)
        assert [words for words in ONLY_ON_SCREEN if plain(words) in text] == []


def test_a_quote_on_paper(office: Office, found: dict[str, str]) -> None:
    quote = office.api.get(f"/v1/quotes/{found['issued']}")[1]
    with office.person("sales") as page:
        text = on_paper(page, f"/quotes/{found['issued']}")
        assert f"{float(quote['price']):,.2f}USD" in text and plain(quote["customer"]["name"]) in text
        for one in (*quote["inclusions"], *quote["exclusions"]):
            assert plain(one["text"]) in text
        assert [words for words in (*ONLY_ON_SCREEN, "Not awarded", "Quote anew") if plain(words) in text] == []


def test_nothing_on_paper_is_cut_off(office: Office, found: dict[str, str]) -> None:
    """The widest tables fit the width of A4, or what is beyond it would be lost."""
    with office.person("estimator") as page:
        page.emulate_media(media="print")
        page.set_viewport_size({"width": 680, "height": 960})  # A4 less its margins, at 96 to the inch
        wide = []
        for part in ("", "/materials", "/openings", "/cut-plan", "/purchase-list", "/cost-codes", "/assumptions"):
            page.goto(f"/estimates/{found['estimate']}{part}")
            if page.evaluate("document.documentElement.scrollWidth > innerWidth"):
                wide.append(part)
        assert wide == []
