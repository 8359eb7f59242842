"""What a UBL Quotation of ours keeps beyond its schema, which takes one without a number, or in two currencies.

currency, line_sum, line_count, number, unit, price, validity, blank.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from decimal import Decimal
from xml.etree import ElementTree

from estimating.outputs.quotes.ubl import AGGREGATES, BASICS, UNITS

NAMES = {"cac": AGGREGATES, "cbc": BASICS}
Element = ElementTree.Element


def broken_rules(document: bytes) -> list[str]:
    """The rules that a document breaks, by name, each once."""
    root = ElementTree.fromstring(document)
    return list(dict.fromkeys((*of_head(root), *of_amounts(root), *of_lines(root))))


def text(element: Element, path: str) -> str:
    """The text at a path; blank where nothing stands there."""
    return (element.findtext(path, namespaces=NAMES) or "").strip()


def of_head(root: Element) -> Iterator[str]:
    """A number, a day of issue that is not after the last day of validity, no element without content."""
    if not text(root, "cbc:ID"):
        yield "number"
    end = text(root, "cac:ValidityPeriod/cbc:EndDate")
    if not end or datetime.date.fromisoformat(end) < datetime.date.fromisoformat(text(root, "cbc:IssueDate")):
        yield "validity"
    if any(not len(element) and not (element.text or "").strip() for element in root.iter()):
        yield "blank"


def of_amounts(root: Element) -> Iterator[str]:
    """One currency throughout; the lines sum to the total, and that is what is to be paid."""
    currency = text(root, "cbc:PricingCurrencyCode")
    if not currency or {e.get("currencyID", currency) for e in root.iter()} != {currency}:
        yield "currency"
    lines = root.findall("cac:QuotationLine", NAMES)
    told = sum((Decimal(text(line, "cbc:LineExtensionAmount")) for line in lines), Decimal(0))
    total = root.find("cac:QuotedMonetaryTotal", NAMES)
    names = ("LineExtensionAmount", "PayableAmount")
    if total is None or any(Decimal(text(total, f"cbc:{name}") or "NaN") != told for name in names):
        yield "line_sum"
    if text(root, "cbc:LineCountNumeric") != str(len(lines)):
        yield "line_count"


def of_lines(root: Element) -> Iterator[str]:
    """Numbers from 1, known units; price × quantity ÷ base quantity is the amount, the same in line and item."""
    for place, line in enumerate(root.findall("cac:QuotationLine", NAMES), 1):
        if not text(line, "cbc:ID") == text(line, "cac:LineItem/cbc:ID") == str(place):
            yield "number"
        for quantity in (e for e in line.iter() if e.get("unitCode")):
            if quantity.get("unitCode") not in UNITS:
                yield "unit"
        item = "cac:LineItem/"
        amounts = {Decimal(text(line, f"{at}cbc:LineExtensionAmount")) for at in ("", item)}
        counts = {Decimal(text(line, f"{at}cbc:Quantity")) for at in ("", item)}
        price = Decimal(text(line, f"{item}cac:Price/cbc:PriceAmount"))
        base = Decimal(text(line, f"{item}cac:Price/cbc:BaseQuantity"))
        if len(amounts) != 1 or len(counts) != 1 or base <= 0 or price * counts.pop() != amounts.pop() * base:
            yield "price"
