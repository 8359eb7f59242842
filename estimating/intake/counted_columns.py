"""Columns of whole numbers whose headings are not understood: which may count openings, which multiply a count."""

from __future__ import annotations

import re
from itertools import combinations

from estimating.intake.cell_sizes import LEVELS
from estimating.intake.column_contents import ENOUGH, MOST_CELLS, OTHERS, PLACED, cells_of, head_of, is_side, share
from estimating.intake.headings import COUNT, OTHER
from estimating.intake.places_words import read_places
from estimating.intake.size_words import read_size_text
from estimating.intake.tables import Table

_OF_COUNT = re.compile(
    r"\b(?:qty|qnty|quantity|counts?|anzahl|menge|stück|stk|qté|quantité|nombre|cantidad)\b", re.IGNORECASE
)
HARMLESS = re.compile(
    r"\b(?:area|weight|wt|cost|price|u-?\s?(?:value|factor)|shgc|stc|hrs?|hours?|line|row|item|set|group|hardware|hdwr?|key ?note|sheet|detail|room|date|rev|"  # noqa: E501
    r"lbs?|kg|sq|sf|\\$|fläche|gewicht|preis|surface|poids|prix|peso|precio|área|superficie|glass|glazing|thk|thickness|rating|year|phone|id|code|ral|"  # noqa: E501
    r"shim(?: space| gap)?|"
    r"no\\.? ?of ?(?:lites|panes|panels)|lites?|panes?|mullions?|wind|psf|dp|pg|floor area|volume|perimeter)\b|[$€£%]",
    re.IGNORECASE,
)  # headings whose numbers count no openings
LENGTHS = frozenset({"width", "height", "diameter", *LEVELS, "sill", "depth", "treated_depth", "springline", "rise"})
_NAMED = re.compile(r"\b(?:[A-Z]|[0-9]{1,3}[A-Z]?)\s*$")  # the name of one place behind a word: Zone B
_PLURAL = re.compile(
    r"(?:(?:no|nr|number|#|qty)\.?\s*(?:of\s+)?)?(?:floors|levels|storeys|stories|buildings|bldgs|units|houses|homes|flats|dwellings|apartments|apts|towers|plots|elevations|rooms|bays)",
    re.IGNORECASE,
)  # numbers under these are names of places, or how many there are


def looks_counted(table: Table, column: int) -> bool:
    """Whether a column's cells are whole numbers of a likely count, or lengths and sizes with units."""
    cells = below_places(table, column)
    head = head_of(table, column)
    if not cells or (HARMLESS.search(head) and not _OF_COUNT.search(head)):
        return False
    if cells == [str(n) for n in range(1, len(cells) + 1)] and len(cells) > 2:
        return False  # the numbers of the rows
    counts = share(cells, lambda cell: cell.isascii() and cell.isdigit() and int(cell) < 500)
    sizes = share(cells, lambda cell: bool(read_size_text(cell).dimensions) and not is_number(cell))
    return counts >= ENOUGH or sizes >= ENOUGH


def holds_lengths(table: Table, column: int) -> bool:
    """Whether most cells of a column are lengths with a unit."""
    return (
        share(cells_of(table, column), lambda cell: bool(read_size_text(cell).dimensions) and not is_number(cell))
        >= ENOUGH
    )


def is_number(cell: str) -> bool:
    """Whether a cell is a number and nothing else."""
    return cell.replace(".", "").isdigit()


def below_places(table: Table, column: int) -> list[str]:
    """The cells of a column less names of places, as a row of headings holds them that was not taken for one."""
    return [cell for cell in cells_of(table, column) if any(map(str.isdigit, cell)) or not is_side(cell)]


def numbers_alone(table: Table, column: int) -> bool:
    """Whether the cells of a column without a heading are numbers, and not those of the rows."""
    cells = below_places(table, column)
    whole = [int(cell) for cell in cells if cell.isascii() and cell.isdigit()]
    running = len(whole) > 1 and whole == list(range(whole[0], whole[0] + len(whole)))
    return bool(whole) and len(whole) * 100 >= ENOUGH * len(cells) and not running


def factors_of(table: Table) -> tuple[int, ...]:
    """Two columns whose numbers multiplied are the count on every line: the file has done it already."""
    quantity = table.column("quantity")
    if quantity is None:
        return ()
    numbers: dict[int, dict[int, int]] = {}
    for row in table.rows[:MOST_CELLS]:
        for column, cell in enumerate(row.cells):
            if cell.isascii() and cell.isdigit() and len(cell) < 7:
                numbers.setdefault(column, {})[row.number] = int(cell)
    counts = numbers.pop(quantity, {})
    free = [
        c
        for c in numbers
        if table.columns.get(c, OTHERS).field in ("unknown", "storey", "property", "unit", "building", "phase")
    ]
    for first, second in combinations(free, 2):
        shared = [row for row in counts if row in numbers[first] and row in numbers[second]]
        if len(shared) > 1 and all(counts[row] == numbers[first][row] * numbers[second][row] for row in shared):
            return first, second
    return ()


def counts_at_place(table: Table) -> list[int]:
    """Columns of places whose own headings name one, ZONE B or TOWER 2, over whole numbers: these may be counts there.

    Beside counts by place, so may whole numbers under INTERIOR or ALTERNATE.
    """
    counted = table.counts()
    beside = {name for _, heading in counted for name, text in zip(PLACED, heading.path, strict=False) if text}
    beside |= {"phase", "unit"} if "building" in beside else set()
    found = []
    for column, heading in table.columns.items():
        if heading.field in ("external", "scope", "status", "alternate") and (counted or heading.field == "external"):
            more = any(cell.isdecimal() and int(cell) > 1 for cell in cells_of(table, column))  # 0 and 1 are no and yes
            if looks_counted(table, column) and (counted or more):
                found.append(column)
            continue
        if "quantity" in heading.choices and heading.field not in (
            "quantity",
            "mark",
            "alternate",
            "scope",
            "status",
            COUNT,
        ):
            if looks_counted(table, column):
                found.append(column)  # a count that another column was taken for: WINDOWS PER UNIT beside # OF UNITS
            continue
        settled = heading.field in LENGTHS or heading.field in (OTHER, "size")
        if not settled and LENGTHS & set(heading.choices) and holds_lengths(table, column):
            found.append(column)  # a size that another column was taken for: HT @ JAMB beside HT @ CENTER
            continue
        if heading.field not in (*PLACED, "phase", "room", "unit"):
            continue
        head = head_of(table, column)
        own = read_places(head).names("building" if heading.field == "phase" else heading.field)
        named = bool(own or _NAMED.search(head) or _PLURAL.fullmatch(head.strip())) or heading.field in beside
        if named and looks_counted(table, column):
            found.append(column)
    return found
