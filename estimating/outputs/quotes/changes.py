"""The letter of changes: which openings came, went and changed, and what each does to the price that the customer pays.

Made of two letters' lines and of sentences about drawings alone: nothing of rates or cost is at hand here.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from estimating.outputs.printed.amounts import print_amount, print_signed
from estimating.outputs.printed.blocks import Block, Bullets, Column, Document, Facts, Heading, Table, Text
from estimating.outputs.printed.days import date_said
from estimating.outputs.quotes.letter import Letter
from estimating.outputs.quotes.letter_document import mark_of
from estimating.outputs.quotes.prepared import Paired
from rates.core.texts import counted

CAME, WENT, CHANGED = "came", "went", "changed"
TITLES = {CAME: "Openings that came", WENT: "Openings that went", CHANGED: "Openings that changed"}


@dataclass(frozen=True)
class ChangeLine:
    """One opening line that differs. effect: on the price, as printed, with its sign."""

    what: str
    mark: str
    sentence: str
    effect: str


@dataclass(frozen=True)
class ChangesLetter:
    """All that a customer reads of what changed; the effects and that on unchanged openings sum to the change."""

    head: Letter
    before: str
    price_before: str
    price: str
    change: str
    lines: tuple[ChangeLine, ...]
    unchanged: int
    unchanged_effect: str

    def document(self) -> dict[str, Any]:
        """As JSON."""
        return asdict(self)


@dataclass(frozen=True)
class Priced:
    """The lines of both quotes as customers saw them: marks and prices in minor units."""

    old_marks: Sequence[str]
    old_prices: Sequence[int]
    new_marks: Sequence[str]
    new_prices: Sequence[int]

    def effect(self, pair: Paired) -> int:
        """What a pair does to the price."""
        new = self.new_prices[pair.after] if pair.after is not None else 0
        return new - (self.old_prices[pair.before] if pair.before is not None else 0)

    def mark(self, pair: Paired) -> str:
        """The mark of a pair, as it is now where it still is."""
        if pair.after is not None:
            return self.new_marks[pair.after]
        assert pair.before is not None
        return self.old_marks[pair.before]


def kind_of(pair: Paired) -> str:
    """Whether the opening came into the price, went out of it or changed."""
    return CAME if pair.before is None else WENT if pair.after is None else CHANGED


def write_changes(letter: Letter, pairs: Sequence[Paired], priced: Priced) -> ChangesLetter:
    """The letter of changes of a new quote against the one that it replaces."""
    told = [pair for pair in pairs if pair.sentence or pair.before is None or pair.after is None]
    still = [pair for pair in pairs if not pair.sentence and pair.before is not None and pair.after is not None]
    before, after = sum(priced.old_prices), sum(priced.new_prices)
    rest = sum(priced.effect(pair) for pair in still)
    assert rest + sum(priced.effect(pair) for pair in told) == after - before
    lines = tuple(
        ChangeLine(kind_of(pair), priced.mark(pair), pair.sentence, print_signed(priced.effect(pair), letter.currency))
        for pair in told
    )
    return ChangesLetter(
        head=letter,
        before=letter.replaces,
        price_before=print_amount(before, letter.currency),
        price=letter.price,
        change=print_signed(after - before, letter.currency),
        lines=lines,
        unchanged=len(still),
        unchanged_effect=print_signed(rest, letter.currency),
    )


def changes_document(changes: ChangesLetter) -> Document:
    """The document of a letter of changes."""
    letter = changes.head
    name = f"quote {letter.number}" if letter.number is not None else "the draft of a quote"
    return Document(
        title=f"What changed: {name} against {changes.before}",
        author=letter.company,
        date=letter.date,
        blocks=tuple(blocks_of(changes)),
        head=(letter.company, *letter.letterhead),
        foot=f"{letter.company}, {name}, {date_said(letter.date)}",
        mark=mark_of(letter),
    )


def blocks_of(changes: ChangesLetter) -> Iterator[Block]:
    """Its blocks in their order."""
    letter, currency = changes.head, changes.head.currency
    yield Facts(
        (
            ("To", letter.customer.name),
            ("Project", letter.project or "as quoted"),
            ("Drawing issue", letter.drawing_issue or "as quoted"),
            ("Price before", f"{currency} {changes.price_before}"),
            ("Price now", f"{currency} {changes.price}"),
            ("Change", f"{currency} {changes.change}"),
        )
    )
    for what, title in TITLES.items():
        lines = [line for line in changes.lines if line.what == what]
        if lines:
            yield Heading(title)
            yield table(f"{counted(len(lines), 'line')}, each with its effect on the price", lines, currency)
    if not changes.lines:
        yield Text("No opening came, went or changed.")
    yield Heading("All others, and the sum")
    yield Text(
        f"Lines drawn as before: {changes.unchanged:,}. Set-up, whole packs and equipment are of the whole job, so the "
        "part that such lines carry may move, and so may prices from one quote to the next."
    )
    rows = [(line.mark, TITLES[line.what], line.effect) for line in changes.lines]
    rows.append(("All others", "Openings drawn as before", changes.unchanged_effect))
    columns = (Column("Mark", 2), Column("What", 3), Column(f"Effect, {currency}", 1, True))
    yield Table("The effects sum to the change of the price", columns, rows, ("Change", "", changes.change))
    yield Heading("Cautions")
    yield Bullets(letter.cautions)


def table(caption: str, lines: Sequence[ChangeLine], currency: str) -> Table:
    """Lines with their sentences."""
    columns = (Column("Mark", 2), Column("What changed", 6), Column(f"Effect, {currency}", 1, True))
    return Table(caption, columns, [(line.mark, line.sentence, line.effect) for line in lines])
