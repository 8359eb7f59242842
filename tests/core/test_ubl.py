"""Quotes as UBL 2.4 Quotations: valid by the standard's own schema in two validators, and by our rules on top.

The schemas are those of the OASIS standard (tests/data/ubl-2.4, with their notice); lxml and xmlschema validate each on
its own. Unit codes: UN/ECE Recommendation 20, C62 (one) and LS (lump sum).
"""

from __future__ import annotations

import datetime
import os
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import xmlschema
from lxml import etree

from estimating.outputs.printed.amounts import print_amount
from estimating.outputs.quotes.letter import Addendum, Counted, Customer, Letter, LetterLine
from estimating.outputs.quotes.options import LetterAlternate, LetterUnitPrice
from estimating.outputs.quotes.ubl import AGGREGATES, BASICS, write_ubl
from estimating.outputs.quotes.ubl_rules import broken_rules
from rates.core.currencies import MINOR_DIGITS
from rates.core.money import read_money
from tests.core.random_chance import Chance

SCHEMA = Path(__file__).parents[1] / "data" / "ubl-2.4" / "maindoc" / "UBL-Quotation-2.4.xsd"
QUOTES = int(os.environ.get("UBL_QUOTES", "150"))
NAMES = {"cac": AGGREGATES, "cbc": BASICS}
TEXTS = (
    "plain", "a & b < c > d", 'quoted "here"', "it's", "Bürgerhaus Nord", "Ελληνικά", "防水", "=1+1", "]]>",
    "<!-- x -->", "two\nlines", "tab\there", "control \x0b here", "\ufffe", "  spaced  ", "é½“”", "x" * 400, "&amp;",
)  # fmt: skip


@cache
def lxml_schema() -> Any:
    return etree.XMLSchema(etree.parse(str(SCHEMA)))


@cache
def second_schema() -> xmlschema.XMLSchema:
    return xmlschema.XMLSchema(str(SCHEMA))


def texts(chance: Chance, most: int) -> tuple[str, ...]:
    """Some sentences of any look."""
    return tuple(chance.pick(TEXTS) for _ in range(chance.whole(0, most)))


def random_letter(seed: int) -> tuple[Letter, list[int]]:
    """A letter with texts of any look, and its line prices in minor units."""
    chance = Chance(seed)
    currency = chance.pick(sorted(MINOR_DIGITS))
    prices = [chance.whole(-500, 10 ** chance.whole(1, 12)) for _ in range(chance.whole(1, 12))]
    lines = tuple(
        LetterLine(
            mark=chance.pick(TEXTS),
            place=chance.pick(("", "L1, north", "Level 2")),
            kind=chance.pick(("", "window", "door", "pipe")),
            size=chance.pick(("", "3'-0\" x 4'-0\"", "914 mm x 1219 mm")),
            quantity=chance.whole(0, 400),
            price=print_amount(price, currency),
        )
        for price in prices
    )
    date = datetime.date(2027, 1, 1) + datetime.timedelta(days=chance.whole(0, 4000))
    customer = Customer(
        chance.pick(TEXTS), chance.pick(("", *TEXTS)), texts(chance, 4), chance.pick(("", "a@b.example")),
        chance.pick(("", *TEXTS)),
    )  # fmt: skip
    letter = Letter(
        company=chance.pick(TEXTS),
        letterhead=texts(chance, 4),
        invented=chance.whole(0, 1) == 1,
        number=chance.whole(1, 10**6),
        date=date.isoformat(),
        customer=customer,
        project=chance.pick(("", *TEXTS)),
        project_number=chance.pick(("", "P-12")),
        drawing_issue=chance.pick(("", *TEXTS)),
        replaces=chance.pick(("", "quote 3 of 2027-01-01")),
        addenda=tuple(Addendum(f"Addendum {n}", date.isoformat(), texts(chance, 3)) for n in range(chance.whole(0, 3))),
        currency=currency,
        price=print_amount(sum(prices), currency),
        openings=sum(line.quantity for line in lines),
        lines=lines,
        not_priced=tuple(Counted(chance.pick(TEXTS), n) for n in range(chance.whole(0, 2))),
        inclusions=texts(chance, 5),
        exclusions=texts(chance, 5),
        clarifications=texts(chance, 5),
        assumptions=texts(chance, 5),
        terms=chance.pick(("", *TEXTS)),
        valid_until=(date + datetime.timedelta(days=chance.whole(0, 90))).isoformat(),
        cautions=texts(chance, 3),
        alternates=tuple(LetterAlternate(name, "added", 2, "+1.00") for name in texts(chance, 2)),
        unit_prices=tuple(LetterUnitPrice(mark, 3, "1.00", "", "2027-01-01 on") for mark in texts(chance, 2)),
    )
    return letter, prices


def amounts(document: bytes, currency: str) -> tuple[int, list[int]]:
    """The total and the line amounts as lxml re-reads them, minor units."""
    root = etree.fromstring(document)
    total = root.findtext("cac:QuotedMonetaryTotal/cbc:PayableAmount", namespaces=NAMES)
    lines = root.findall("cac:QuotationLine/cbc:LineExtensionAmount", namespaces=NAMES)
    return read_money(total, currency), [read_money(line.text, currency) for line in lines]


def test_generated_quotes_are_valid_by_two_validators_and_by_our_rules_and_keep_every_amount() -> None:
    """UBL_QUOTES=5000 is the long form."""
    for seed in range(QUOTES):
        letter, prices = random_letter(seed)
        document = write_ubl(letter)
        assert lxml_schema().validate(etree.fromstring(document)), (seed, lxml_schema().error_log)
        assert second_schema().is_valid(document.decode()), seed
        assert broken_rules(document) == [], seed
        assert amounts(document, letter.currency) == (sum(prices), prices), seed


def one() -> str:
    """A document of two lines."""
    lines = (LetterLine("W1", "L1", "window", "3 ft x 4 ft", 3, "10.00"), LetterLine("The job", "", "", "", 0, "2.50"))
    letter, _ = random_letter(1)
    values = {name: getattr(letter, name) for name in letter.__dataclass_fields__}
    values |= {"lines": lines, "currency": "USD", "price": "12.50", "number": 7, "date": "2027-01-02"}
    values |= {"valid_until": "2027-02-01"}
    return write_ubl(Letter(**values)).decode()


# each valid by the schema, and broken: what is replaced, by what, and the rule
BREAKS = (
    ("<cbc:ID>7</cbc:ID>", "", "number"),
    ("<cbc:EndDate>2027-02-01<", "<cbc:EndDate>2027-01-01<", "validity"),
    ('<cbc:PayableAmount currencyID="USD">', '<cbc:PayableAmount currencyID="EUR">', "currency"),
    ("<cbc:PricingCurrencyCode>USD</cbc:PricingCurrencyCode>", "", "currency"),
    ('<cbc:PayableAmount currencyID="USD">12.50<', '<cbc:PayableAmount currencyID="USD">12.49<', "line_sum"),
    ("<cbc:LineCountNumeric>2<", "<cbc:LineCountNumeric>3<", "line_count"),
    ('<cbc:Quantity unitCode="LS">', '<cbc:Quantity unitCode="XX9">', "unit"),
    ('<cbc:BaseQuantity unitCode="C62">3<', '<cbc:BaseQuantity unitCode="C62">1<', "price"),
    ("<cbc:ID>2</cbc:ID>", "<cbc:ID>3</cbc:ID>", "number"),
    ("<cbc:UBLVersionID>2.4<", "<cbc:UBLVersionID><", "blank"),
)


@pytest.mark.parametrize(("sound", "broken", "rule"), BREAKS)
def test_what_the_schema_takes_and_our_rules_refuse(sound: str, broken: str, rule: str) -> None:
    document = one()
    assert broken_rules(document.encode()) == [] and sound in document
    other = document.replace(sound, broken)
    assert lxml_schema().validate(etree.fromstring(other.encode()))
    assert rule in broken_rules(other.encode())


def test_the_line_s_price_is_that_of_its_whole_quantity_and_nothing_is_rounded() -> None:
    root = etree.fromstring(one().encode())
    line = root.find("cac:QuotationLine/cac:LineItem", NAMES)
    told = {name: line.findtext(f"cac:Price/cbc:{name}", namespaces=NAMES) for name in ("PriceAmount", "BaseQuantity")}
    assert told == {"PriceAmount": "10.00", "BaseQuantity": "3"}
    assert Decimal(line.findtext("cbc:LineExtensionAmount", namespaces=NAMES)) == Decimal("10.00")
