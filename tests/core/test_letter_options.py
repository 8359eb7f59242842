"""Alternates and unit prices in the letter: by hand, as the award and change orders have them, and in UBL.

The job is that of test_alternates.py, whose figures are by hand; rates invented.
"""

from __future__ import annotations

import datetime
from typing import Any

from estimating.core.estimate import Estimate
from estimating.outputs.printed.html import write_html
from estimating.outputs.quotes.letter import Letter, Sender, Terms, write_letter
from estimating.outputs.quotes.letter_document import letter_document
from estimating.outputs.quotes.options import WHEN_ASKED
from estimating.outputs.quotes.prepared import Offer, line_prices
from estimating.outputs.quotes.ubl import write_ubl
from estimating.quoting import assemble
from rates.core.length_styles import LengthStyle
from tests.core.invented import opening
from tests.core.test_alternates import LINES, job

ASKED = [{"mark": "A", "quantity": 4, "valid_until": "2027-12-31"}, {"mark": "D", "quantity": 9}]


def letter_of(estimate: Estimate, **options: Any) -> Letter:
    """The letter of an estimate at its own price."""
    prices = line_prices(estimate)
    prepared = assemble(estimate, (Offer("estimate", sum(prices), prices),), [], LengthStyle())
    day = datetime.date(2027, 3, 15)
    texts: dict[str, Any] = {"inclusions": [], "exclusions": [], "clarifications": []}
    said = Terms({"name": "x"}, texts, [], "", day, "", "", "", "")
    sender = Sender("Office", [], False)
    return write_letter(sender, said, prepared, prices=prices, currency="USD", number=1, date=day, **options)


def test_alternates_stand_with_what_each_alone_does_to_the_price() -> None:
    """220.00, 250.00, −220.00, −100.00 by hand in test_alternates.py."""
    letter = letter_of(job(*LINES))
    assert [(x.name, x.what, x.openings, x.change) for x in letter.alternates] == [
        ("no D", "left out", 4, "−220.00"),
        ("1", "added", 2, "+220.00"),
        ("2", "added", 3, "+250.00"),
        ("small A", "in place of A", 6, "−100.00"),
        ("other A", "in place of A", 6, "−100.00"),
    ]
    page = write_html(letter_document(letter)).decode()
    assert "Each taken alone; several together have a price of their own, which is not the sum" in page
    assert "in place of A" in page and "+250.00" in page
    assert "Alternate 1, 2, added: +220.00" in write_ubl(letter).decode()


def test_unit_prices_stand_where_they_were_asked_for_with_their_range_and_days() -> None:
    """+4 of A: 40.00 each, −4: −55.00 each, by hand in test_alternates.py; of D only 4 are there to go."""
    letter = letter_of(job(*LINES, unit_prices=ASKED))
    first, second = letter.unit_prices
    assert (first.mark, first.openings, first.more, first.fewer) == ("A", 4, "40.00", "−55.00")
    assert (first.holds, second.holds) == ("2027-03-15 to 2027-12-31", "2027-03-15 on")
    assert second.fewer == "" and second.more
    assert "Unit price of A, up to 4, 2027-03-15 to 2027-12-31: more 40.00, fewer −55.00" in write_ubl(letter).decode()
    assert letter_of(job(*LINES)).unit_prices == ()


def test_a_quote_at_held_rates_offers_neither() -> None:
    letter = letter_of(job(*LINES, unit_prices=ASKED), own=False)
    assert (letter.alternates, letter.unit_prices) == ((), ())
    assert "Alternates" not in write_html(letter_document(letter)).decode()


def test_an_alternate_that_cannot_be_priced_says_when_asked_and_no_reason() -> None:
    parts = [{"work_date": "2027-03-15", "openings": ["A"]}, {"work_date": "2027-09-15", "openings": ["D"]}]
    lines = (opening("A", 6), opening("D", 4), opening("E", 2, alternate="1"))
    (told,) = letter_of(job(*lines, mobilisations=parts)).alternates
    assert told.change == WHEN_ASKED
