"""The letter laid out: what of it stands where."""

from __future__ import annotations

from collections.abc import Iterator

from estimating.outputs.printed.blocks import Block, Bullets, Column, Document, Facts, Heading, Table, Text
from estimating.outputs.printed.days import date_said
from estimating.outputs.quotes.letter import Letter
from rates.core.texts import counted

INVENTED = "Invented demonstration: not an offer."
DRAFT = "Draft: not an offer until it is issued."
OFFER = "We offer to treat the rough openings listed below, as they are drawn, for the price stated."


def letter_document(letter: Letter) -> Document:
    """The document of a letter."""
    name = f"Quote {letter.number}" if letter.number is not None else "Quote, draft"
    return Document(
        title=f"{name}: {letter.project}" if letter.project else name,
        author=letter.company,
        date=letter.date,
        blocks=tuple(blocks_of(letter)),
        head=(letter.company, *letter.letterhead),
        foot=f"{letter.company}, {name}, {date_said(letter.date)}",
        mark=mark_of(letter),
    )


def mark_of(letter: Letter) -> str:
    """What no reader may miss."""
    marks = [INVENTED] if letter.invented else []
    return " ".join([*marks, DRAFT] if letter.number is None else marks)


def blocks_of(letter: Letter) -> Iterator[Block]:
    """Its blocks in their order."""
    yield Facts(tuple((name, value) for name, value in facts(letter) if value))
    yield Text(OFFER)
    yield Text(f"Price: {letter.currency} {letter.price}", strong=True)
    if letter.replaces:
        yield Text(f"This quote takes the place of {letter.replaces}.")
    yield Heading("Openings in the price")
    if any(line.sides for line in letter.lines):
        yield Text("All sides of an opening are treated unless some are named.")
    yield lines_table(letter)
    if letter.not_priced:
        yield Heading("Openings not in the price")
        yield Bullets([f"{counted(entry.openings, 'opening')}, {entry.what}" for entry in letter.not_priced])
    if letter.alternates:
        yield Heading("Alternates")
        yield alternates_table(letter)
    if letter.unit_prices:
        yield Heading("Unit prices")
        yield unit_prices_table(letter)
    for title, texts in lists(letter):
        if texts:
            yield Heading(title)
            yield Bullets(texts)
    if letter.terms:
        yield Heading("Terms")
        yield from (Text(part) for part in letter.terms.splitlines() if part.strip())
    yield Heading("Cautions")
    yield Bullets(letter.cautions)


def facts(letter: Letter) -> Iterator[tuple[str, str]]:
    """Names and values at the head."""
    customer = letter.customer
    yield "To", "\n".join(part for part in (customer.name, customer.contact, *customer.address, customer.email) if part)
    yield "Your reference", customer.reference
    yield "Project", ", number ".join(part for part in (letter.project, letter.project_number) if part)
    yield "Drawing issue", letter.drawing_issue
    yield "Date", date_said(letter.date)
    yield "Valid until", date_said(letter.valid_until)


def lines_table(letter: Letter) -> Table:
    """Every line with its part of the price."""
    columns = (
        Column("Mark", 4),
        Column("Place", 4),
        Column("Opening", 3),
        Column("Size", 4),
        Column("Count", 1, True),
        Column(f"Price, {letter.currency}", 1, True),
    )
    rows = [(x.mark, x.place, x.opening, x.size, str(x.quantity), x.price) for x in letter.lines]
    caption = f"{counted(letter.openings, 'opening')}; the lines sum to the price"
    return Table(caption, columns, rows, ("Total", "", "", "", "", letter.price))


def alternates_table(letter: Letter) -> Table:
    """What each alternate alone does to the price."""
    columns = (
        Column("Alternate", 4),
        Column("Openings", 4),
        Column(f"Change of the price, {letter.currency}", 2, True),
    )
    rows = [(x.name, f"{counted(x.openings, 'opening')}: {x.what}", x.change) for x in letter.alternates]
    return Table("Each taken alone; several together have a price of their own, which is not the sum", columns, rows)


def unit_prices_table(letter: Letter) -> Table:
    """The price of each opening more or fewer of a mark."""
    columns = (
        Column("Mark", 4),
        Column("Openings, up to", 2, True),
        Column(f"Each more, {letter.currency}", 2, True),
        Column(f"Each fewer, {letter.currency}", 2, True),
        Column("For work", 4),
    )
    rows = [(x.mark, str(x.openings), x.more, x.fewer, x.holds) for x in letter.unit_prices]
    return Table("For openings that come to a mark or go from it, within the count and the days", columns, rows)


def lists(letter: Letter) -> Iterator[tuple[str, tuple[str, ...]]]:
    """The lists of texts with their headings."""
    yield "Included", letter.inclusions
    yield "Not included", letter.exclusions
    yield "Clarifications", letter.clarifications
    yield "Addenda acknowledged", tuple(addendum_words(letter))
    yield "What we assumed", letter.assumptions


def addendum_words(letter: Letter) -> Iterator[str]:
    """Each addendum with its date and the lines that it brought."""
    for addendum in letter.addenda:
        brought = f"; it brought or changed {', '.join(addendum.marks)}" if addendum.marks else ""
        yield f"{addendum.name}, acknowledged on {date_said(addendum.acknowledged_on)}{brought}"
