"""No cost, wage, hour rate or margin stands in any letter: its text, its page, its properties, its name.

Each letter is of an office of its own whose wages, prices, percentages and rents occur nowhere else. LETTERS=500 is the
long form. The bid summary, made of the same estimate, shows that the figures would be found.
"""

from __future__ import annotations

import datetime
import os
import random
from collections.abc import Iterator
from typing import Any

from estimating.core.estimate import Estimate
from estimating.core.job import cost_request
from estimating.core.margins import discounted
from estimating.outputs.answer import answer, equipment, hours, materials
from estimating.outputs.bid_summary import summary_document
from estimating.outputs.printed.html import write_html
from estimating.outputs.quotes.changes import Priced, write_changes
from estimating.outputs.quotes.files import sent_documents
from estimating.outputs.quotes.letter import Letter, Sender, Terms, write_letter
from estimating.outputs.quotes.prepared import Offer, Paired, Prepared, line_prices, shared_out
from estimating.quoting import assemble
from rates.core.card import EditionSource
from rates.core.fraction import Fraction
from rates.core.length_styles import LengthStyle
from tests.pdf_texts import text_of_pdf
from tests.worked_cases import read_case

LETTERS = int(os.environ.get("LETTERS", "12"))
DAY = datetime.date(2027, 3, 15)


def amount(chance: random.Random, low: int, high: int) -> str:
    """An amount with cents that are no round ones."""
    return f"{chance.randint(low, high)}.{chance.choice('123456789')}{chance.choice('1346789')}"


def dear_edition(chance: random.Random) -> tuple[Any, set[str]]:
    """An edition of figures of its own, and these figures."""
    document = read_case("golden", "edition.json")
    tables, dear = document["tables"], set()

    def put(row: Any, field: str, low: int, high: int) -> None:
        row[field] = amount(chance, low, high)
        dear.add(row[field])

    put(tables["labour"][0], "wage", 30, 90)
    put(tables["labour"][0], "fringe", 5, 29)
    put(tables["labour"][0]["burden"][0], "percent", 21, 39)
    for row in tables["materials"]:
        for pack in row["packs"]:
            put(pack, "price", 41, 399)
    put(tables["equipment"][0]["rental"][0], "price", 150, 400)
    for row in tables["overheads"]:
        if row["step"] in ("overhead", "profit"):
            put(row, "percent", 8, 19)
    return document, dear


def figures_of(estimate: Estimate, dear: set[str]) -> set[str]:
    """Every figure of cost of an estimate, but those that are prices too."""
    told: Any = answer(estimate)
    found = {line["amount"] for line in told["build_up"]} | {told["totals"][name] for name in ("direct_cost", "cost")}
    found |= {told["totals"]["markup_percent"], str(hours(estimate)["hour_rate"])}
    found |= {str(row["amount"]) for row in (*materials(estimate), *equipment(estimate))}
    return {text for text in found if len(text) > 4} | dear


def letter_of(prepared: Prepared, prices: list[int], number: int) -> Letter:
    """A letter with every list filled."""
    texts = {
        name: [{"code": name, "text": f"One of the {name}."}] for name in ("inclusions", "exclusions", "clarifications")
    }
    said = Terms(
        customer={"name": "Northfield Builders", "address": ["1 Mill Road"]},
        texts=texts,
        addenda=[{"name": "Addendum 1", "acknowledged_on": "2027-03-01", "marks": ["A"]}],
        terms="Thirty days net.",
        valid_until=DAY,
        project="Clinic",
        project_number="N-7",
        drawing_issue="Issue 2",
        replaces="quote 1 of 2027-03-01",
    )
    sender = Sender("Office", ["12 Mill Road"], False)
    return write_letter(sender, said, prepared, prices=prices, currency="USD", number=number, date=DAY)


def documents(chance: random.Random, number: int) -> Iterator[tuple[str, str, set[str]]]:
    """(name, text, figures of cost) of every document of one quote, and of the office's own summary."""
    edition, dear = dear_edition(chance)
    request = read_case("golden", "request.json")
    for line in request["openings"]:
        line["quantity"] = chance.randint(1, 40)
    request["openings"].append(request["openings"][0] | {"mark": "X", "alternate": {"name": "1", "kind": "add"}})
    request["unit_prices"] = [{"mark": "A", "quantity": 3}]
    estimate = cost_request(request, [EditionSource("e", 1, "company", edition)])
    full = estimate.up.price_minor
    offer = Offer("estimate", full, line_prices(estimate))
    prepared = assemble(estimate, (offer,), [], LengthStyle())
    price = discounted(full, Fraction(chance.randint(0, 3)))
    prices = shared_out(price, offer.lines)
    letter = letter_of(prepared, prices, number)
    marks = [line.mark for line in prepared.lines]
    old = [chance.randint(100, 10**6) for _ in prices[1:]]
    pairs = [Paired(None, 0, f"{marks[0]} was added."), *(Paired(i, i + 1, "") for i in range(len(old)))]
    changes = write_changes(letter, pairs, Priced(marks[1:], old, marks, prices))
    assert letter.alternates and letter.unit_prices
    shown = {letter.price, *(line.price for line in letter.lines), *(x.more for x in letter.unit_prices)}
    hidden = figures_of(estimate, dear) - {price.replace(",", "") for price in shown}
    for sent in sent_documents(letter, changes):
        text = text_of_pdf(sent.content) if sent.name.endswith("pdf") else sent.content.decode()
        yield sent.name, f"{sent.file_name}\n{text}", hidden
    told: Any = answer(estimate) | {"number": 1, "schedule": None, "costed_at": "2027-03-15T12:00:00Z"}
    yield "summary", write_html(summary_document(told, "Office", "Clinic", False)).decode(), hidden


def holds(text: str, figure: str) -> bool:
    """Whether a figure stands in a text as a number of its own, its thousands parted or not."""
    written = {figure, f"{float(figure):,.2f}" if figure.count(".") == 1 else figure}
    padded = "".join(c if c.isdigit() or c in ".,-" else " " for c in text)
    return any(f" {one} " in f" {padded} " for one in written)


def test_no_figure_of_cost_stands_in_any_letter() -> None:
    chance = random.Random(500)
    leaks, seen = [], 0
    for number in range(1, LETTERS + 1):
        for name, text, hidden in documents(chance, number):
            found = {figure for figure in hidden if holds(text, figure)}
            if name == "summary":
                assert len(hidden) > 15
                seen += len(found)
            elif found:
                leaks.append((number, name, found))
    assert leaks == []
    assert seen > 8 * LETTERS, "the summary shows costs, so they would be found"
