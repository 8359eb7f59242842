"""A quote as an OASIS UBL 2.4 Quotation (XML), made of its letter alone: what a customer may read, and nothing else."""

from __future__ import annotations

import re
from collections.abc import Iterable
from xml.etree import ElementTree

from estimating.outputs.printed.amounts import plain_amount
from estimating.outputs.quotes.letter import Customer, Letter, LetterLine

QUOTATION = "urn:oasis:names:specification:ubl:schema:xsd:Quotation-2"
AGGREGATES = "urn:oasis:names:specification:ubl:schema:xsd:CommonAggregateComponents-2"
BASICS = "urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2"
VERSION = "2.4"
UNITS = {"C62": "one", "LS": "lump sum"}  # UN/ECE Recommendation 20: one opening, or what stands on no opening
_NO_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")  # XML 1.0, 2.2
for prefix, name in (("", QUOTATION), ("cac", AGGREGATES), ("cbc", BASICS)):
    ElementTree.register_namespace(prefix, name)

Element = ElementTree.Element


def write_ubl(letter: Letter) -> bytes:
    """The document of a numbered quote, UTF-8."""
    assert letter.number is not None
    root = Element(f"{{{QUOTATION}}}Quotation")
    basics(root, UBLVersionID=VERSION, ID=str(letter.number), IssueDate=letter.date)
    for note in notes(letter):
        basics(root, Note=note)
    basics(root, PricingCurrencyCode=letter.currency, LineCountNumeric=str(len(letter.lines)))
    basics(aggregate(root, "ValidityPeriod"), EndDate=letter.valid_until)
    if letter.customer.reference:
        basics(aggregate(root, "RequestForQuotationDocumentReference"), ID=letter.customer.reference)
    references(root, letter)
    party(aggregate(root, "SellerSupplierParty"), letter.company, letter.letterhead)
    buyer(aggregate(root, "BuyerCustomerParty"), letter.customer)
    if letter.terms:
        basics(aggregate(root, "TransactionConditions"), Description=letter.terms)
    total = aggregate(root, "QuotedMonetaryTotal")
    for name in ("LineExtensionAmount", "PayableAmount"):
        amount(total, name, letter.price, letter.currency)
    for place, line in enumerate(letter.lines, 1):
        quotation_line(root, str(place), line, letter.currency)
    written: bytes = ElementTree.tostring(root, encoding="UTF-8", xml_declaration=True)
    return written


def basics(parent: Element, **values: str) -> None:
    """Basic components of these names, in this order; none for what is blank."""
    for name, value in values.items():
        if text := _NO_XML.sub("\ufffd", value).strip():
            ElementTree.SubElement(parent, f"{{{BASICS}}}{name}").text = text


def aggregate(parent: Element, name: str) -> Element:
    """An aggregate component in its place."""
    return ElementTree.SubElement(parent, f"{{{AGGREGATES}}}{name}")


def amount(parent: Element, name: str, printed: str, currency: str) -> None:
    """An amount of money with its currency."""
    ElementTree.SubElement(parent, f"{{{BASICS}}}{name}", currencyID=currency).text = plain_amount(printed)


def quantity(parent: Element, name: str, count: int, unit: str) -> None:
    """A quantity with its unit."""
    ElementTree.SubElement(parent, f"{{{BASICS}}}{name}", unitCode=unit).text = str(count)


def notes(letter: Letter) -> Iterable[str]:
    """What the letter says in sentences, each with what it is."""
    if letter.invented:
        yield "Invented: a demonstration, not an offer"
    project = ", number ".join(part for part in (letter.project, letter.project_number) if part)
    if project:
        yield f"Project: {project}"
    if letter.replaces:
        yield f"Replaces {letter.replaces}"
    for counted in letter.not_priced:
        yield f"Not in the price: {counted.openings}, {counted.what}"
    for one in letter.alternates:
        yield f"Alternate {one.name}, {one.openings}, {one.what}: {one.change}"
    for of in letter.unit_prices:
        each = ", ".join(f"{word} {text}" for word, text in (("more", of.more), ("fewer", of.fewer)) if text)
        yield f"Unit price of {of.mark}, up to {of.openings}, {of.holds}: {each or 'when asked'}"
    said = {
        "Included": letter.inclusions,
        "Excluded": letter.exclusions,
        "Clarification": letter.clarifications,
        "Assumed": letter.assumptions,
        "Caution": letter.cautions,
    }
    for what, sentences in said.items():
        for sentence in sentences:
            yield f"{what}: {sentence}"


def references(root: Element, letter: Letter) -> None:
    """The drawing issue that was priced, and the addenda acknowledged."""
    if letter.drawing_issue:
        basics(aggregate(root, "AdditionalDocumentReference"), ID=letter.drawing_issue, DocumentType="drawing issue")
    for one in letter.addenda:
        told = f"acknowledged on {one.acknowledged_on}" + (f"; marks {', '.join(one.marks)}" if one.marks else "")
        basics(
            aggregate(root, "AdditionalDocumentReference"),
            ID=one.name,
            DocumentType="addendum",
            DocumentDescription=told,
        )


def party(parent: Element, name: str, address: Iterable[str]) -> Element:
    """A party by its name and the lines of its address."""
    found = aggregate(parent, "Party")
    basics(aggregate(found, "PartyName"), Name=name)
    lines = [line for line in address if line.strip()]
    postal = aggregate(found, "PostalAddress") if lines else found
    for line in lines:
        basics(aggregate(postal, "AddressLine"), Line=line)
    return found


def buyer(parent: Element, customer: Customer) -> None:
    """The customer."""
    found = party(parent, customer.name, customer.address)
    if customer.contact or customer.email:
        basics(aggregate(found, "Contact"), Name=customer.contact, ElectronicMail=customer.email)


def quotation_line(root: Element, id: str, line: LetterLine, currency: str) -> None:
    """One line. Its price is that of its whole quantity (BaseQuantity), so that no price of one is rounded."""
    count, unit = (line.quantity, "C62") if line.kind and line.quantity else (1, "LS")
    found = aggregate(root, "QuotationLine")
    basics(found, ID=id)
    quantity(found, "Quantity", count, unit)
    amount(found, "LineExtensionAmount", line.price, currency)
    item_line = aggregate(found, "LineItem")
    basics(item_line, ID=id)
    quantity(item_line, "Quantity", count, unit)
    amount(item_line, "LineExtensionAmount", line.price, currency)
    price = aggregate(item_line, "Price")
    amount(price, "PriceAmount", line.price, currency)
    quantity(price, "BaseQuantity", count, unit)
    item = aggregate(item_line, "Item")
    basics(item, Description=", ".join(part for part in (line.opening, line.size, line.place) if part), Name=line.mark)
