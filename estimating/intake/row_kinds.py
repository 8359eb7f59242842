"""What each row of a table is: an opening line, more of the line above, a stated total, a section heading, a note."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from estimating.intake.headings import is_value
from estimating.intake.kind_words import kind_of
from estimating.intake.multipliers import times_of
from estimating.intake.place_headings import place_of_heading, unexplained
from estimating.intake.places_words import read_places
from estimating.intake.row_labels import read_row_label
from estimating.intake.scope_words import ASKED, read_words
from estimating.intake.tables import Table
from rates.core.grid import GridRow

LINE, MORE, TOTALS, SECTION, NOTE, RULE = "line", "more", "totals", "section", "note", "rule"
TOTAL = re.compile(
    r"(?:(?:grand|sub|page|sheet|running|column|overall)[ -]?)?totals?\b|sum\b|summe\b|gesamt(?:summe|zahl)?\b|zwischensumme\b|übertrag\b"  # noqa: E501
    r"|somme\b|sous[- ]total\b|totaux\b|à reporter\b|suma\b|subtotal\b|totale?s?\b|(?:carried|brought|carry|b|c)\s*/?\s*f(?:w|wd|orward)?\b|to summary\b|count\s*:",  # noqa: E501
    re.IGNORECASE,
)
_TOTAL_NAME = re.compile(r"(?:qty|quantity|openings?|windows?|doors?|count)\s+totals?\b|total\s*$", re.IGNORECASE)
_NOTES = re.compile(
    r"(?:(?:general|window|door|schedule|opening)\s+)?(?:notes?|remarks?|legend|key|abbreviations|bemerkung(?:en)?|hinweise?|anmerkung(?:en)?"
    r"|legende|remarques?|légende|notas?|leyenda|observaciones)\b\s*[:.#0-9]*",
    re.IGNORECASE,
)
_NUMBERED = re.compile(r"(?:[0-9]{1,2}|[A-Za-z])[.)]\s+\S.*\s\S")
_MARK = re.compile(r"[^\s]{1,16}")
_LETTERS = re.compile(r"[A-Z]{1,2}")
_RULE = re.compile(r"[-=_·.+|:~–—\s]+")  # a line drawn with signs
_COUNTED = re.compile(
    r"[-–,(:]?\s*\b[0-9]{1,4}\s*(?:openings?|windows?|doors?|units|nos?\.?|ea\.?|pcs)\b\.?\)?", re.IGNORECASE
)
_SIGN = re.compile(r"\s*[*†‡#§+~]+\s*[=:]?\s*\w")  # a legend
SIZES = ("width", "height", "size", "diameter")


@dataclass(slots=True)
class Columns:
    """Where a table's carrying fields stand."""

    mark: int | None
    quantity: int | None
    sizes: tuple[int, ...]
    counts: tuple[int, ...]

    @classmethod
    def of(cls, table: Table) -> Columns:
        """Those of a table; a type column stands in for a missing mark column."""
        mark = table.column("mark")
        if mark is None:
            mark = table.column("type")
        sizes = tuple(c for c, heading in table.columns.items() if heading.field in SIZES)
        return cls(mark, table.column("quantity"), sizes, tuple(column for column, _ in table.counts()))

    def text(self, row: GridRow, column: int | None) -> str:
        """A cell's text, blank where there is no such column."""
        return row.cell(column) if column is not None else ""


def kind_of_row(row: GridRow, columns: Columns, in_notes: bool, told: frozenset[int] = frozenset()) -> str:
    """One of the kinds above; told: the columns of words, of which alone a row says more of the line above."""
    if all(_RULE.fullmatch(cell) for cell in row.cells if cell):
        return RULE
    mark = columns.text(row, columns.mark)
    counted = any(row.cell(c) for c in (columns.quantity, *columns.counts) if c is not None)
    sized = any(row.cell(c) and not is_total(row.cell(c)) for c in columns.sizes)
    if not sized and any(is_total(cell) for cell in row.cells if cell):
        return TOTALS
    if not sized and not counted and _SIGN.match(first(row)):
        return NOTE
    if (sized or counted) and row.filled == 1 and not mark and not is_value(first(row)):
        if heads_a_section(row, in_notes):
            return SECTION
        if len(first(row).split()) > 1:
            return NOTE
    if sized or counted:
        return NOTE if in_notes and row.filled <= 2 and not sized else LINE
    filled = {column for column, cell in enumerate(row.cells) if cell}
    if not mark:
        beside = filled and min(filled) > min((lead_of(columns), *told))
        if (
            filled
            and not in_notes
            and ((filled <= told and beside) or (min(filled) > lead_of(columns) and not is_place_or_kind(first(row))))
        ):
            return MORE
        return SECTION if heads_a_section(row, in_notes) else NOTE
    if row.filled <= 2 and heads_a_section(row, in_notes):
        return SECTION
    if row.filled == 1:
        like = _MARK.fullmatch(mark) and (any(c.isdigit() for c in mark) or _LETTERS.fullmatch(mark))
        return LINE if like and not in_notes else NOTE
    return NOTE if in_notes or _NOTES.match(mark) or len(mark) > 40 or _NUMBERED.fullmatch(mark) else LINE


def lead_of(columns: Columns) -> int:
    """The first column of a table that carries its lines."""
    carrying = [c for c in (columns.mark, columns.quantity, *columns.sizes, *columns.counts) if c is not None]
    return min(carrying, default=0)


def is_place_or_kind(text: str) -> bool:
    """Whether a text names a place or a kind of opening and nothing else."""
    plain = text.strip().rstrip(":")
    return place_of_heading(plain) is not None or (bool(kind_of(plain)) and len(plain.split()) <= 3)


@lru_cache(maxsize=20_000)
def is_total(cell: str) -> bool:
    """Whether a cell names a row of totals."""
    label = read_row_label(cell)
    if label.kind in ("total", "subtotal", "carried"):
        return label.sure or len(cell) < 40
    return bool(TOTAL.match(cell)) or (len(cell) < 40 and bool(_TOTAL_NAME.search(cell)))


def heads_a_section(row: GridRow, in_notes: bool) -> bool:
    """Whether a row of one or two cells stands over lines below: a place, a kind, words of scope, typical floors."""
    text = first(row)
    plain = text.strip().rstrip(":")
    if in_notes or row.filled > 2 or not plain or len(plain) > 60 or _NOTES.match(plain) or _NUMBERED.fullmatch(plain):
        return False
    if place_of_heading(plain) is not None or kind_of(plain):
        return True
    if times_of(plain) is not None or place_of_heading(_COUNTED.sub("", plain).strip(" -–:,()")) is not None:
        return True
    said = read_places(plain)
    if row.filled == 1 and said.places and not said.bare and plain.startswith(said.places[0].text):
        return True
    found = said.places or said.multipliers or read_words(plain).of(*ASKED)
    return bool(found) and not unexplained(plain) and not (_MARK.fullmatch(plain) and any(c.isdigit() for c in plain))


def first(row: GridRow) -> str:
    """The first filled cell."""
    return next((cell for cell in row.cells if cell), "")


def starts_notes(row: GridRow) -> bool:
    """Whether notes begin here: a lone cell NOTES, NOTE 1: …, a legend."""
    return row.filled <= 2 and bool(_NOTES.match(first(row)))
