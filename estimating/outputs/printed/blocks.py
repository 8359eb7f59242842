"""A document as blocks in their reading order: headings, texts, lists, tables, pictures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field


@dataclass(frozen=True)
class Heading:
    """A heading below the title; level 1 or 2."""

    text: str
    level: int = 1


@dataclass(frozen=True)
class Text:
    """A paragraph."""

    text: str
    strong: bool = False


@dataclass(frozen=True)
class Bullets:
    """A list of short texts."""

    items: Sequence[str]


@dataclass(frozen=True)
class Facts:
    """Names with their values, such as date and number; a value may have lines."""

    rows: Sequence[tuple[str, str]]


@dataclass(frozen=True)
class Column:
    """A column of a table: its heading, how wide beside the others, whether its cells are figures."""

    title: str
    width: int = 1
    figures: bool = False


@dataclass(frozen=True)
class Table:
    """A table with headings that are repeated on each page; `last` is the row of its sum, empty without one."""

    caption: str
    columns: Sequence[Column]
    rows: Sequence[Sequence[str]]
    last: Sequence[str] = ()


@dataclass(frozen=True)
class Figure:
    """A vector picture with what it shows in words; the table behind it stands below."""

    svg: str
    words: str
    table: Table


@dataclass(frozen=True)
class NewPage:
    """What follows starts on a new page."""


Block = Heading | Text | Bullets | Facts | Table | Figure | NewPage


@dataclass(frozen=True)
class Document:
    """A document. head: lines above the title; foot and mark: on every page, the mark what no reader may miss.

    language: RFC 5646. date: ISO 8601, of the document's own properties. size: of the texts, in points; running:
    whether each page says which heading of the first level it belongs to, as for sheets that are handed out one by one.
    """

    title: str
    author: str
    date: str
    blocks: Sequence[Block]
    head: Sequence[str] = ()
    foot: str = ""
    mark: str = ""
    language: str = field(default="en")
    size: int = 10
    running: bool = False

    def texts(self) -> Iterator[str]:
        """Every text that it shows."""
        yield from (self.title, self.author, self.foot, self.mark, *self.head)
        for block in self.blocks:
            yield from texts_of(block)


def texts_of(block: Block) -> Iterator[str]:
    """Every text of a block."""
    if isinstance(block, Heading | Text):
        yield block.text
    elif isinstance(block, Bullets):
        yield from block.items
    elif isinstance(block, Facts):
        yield from (text for row in block.rows for text in row)
    elif isinstance(block, Table):
        yield block.caption
        yield from (column.title for column in block.columns)
        yield from (text for row in (*block.rows, block.last) for text in row)
    elif isinstance(block, Figure):
        yield block.words
        yield from texts_of(block.table)
