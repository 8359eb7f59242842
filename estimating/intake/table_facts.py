"""The facts of a table that its cells are read by: the unit of bare numbers, the comma, the basis of sizes.

A fact is asked once, by the table's headings; what the file itself says of it is not asked.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from estimating.core.schedule_lines import LENGTH_NAMES
from estimating.intake.asking import BLOCKS_COSTING, Asker
from estimating.intake.cell_sizes import DECIMAL, LEVELS, THOUSANDS, read_dimension, read_size
from estimating.intake.column_contents import cells_of, head_of
from estimating.intake.headings import Heading, unit_of
from estimating.intake.pipe_sizes import nominal_heading
from estimating.intake.row_curves import names_radius
from estimating.intake.row_sizes import Facts
from estimating.intake.tables import Table
from rates.core.grid import column_letters, column_number
from rates.core.problems import Unreadable
from rates.core.units import read_length

ASKED_UNITS = ("in", "ft", "mm", "cm", "m", "ft_in")
LENGTH_FIELDS = (*LENGTH_NAMES, *LEVELS, "size")
_UNIT = re.compile(r"([A-Z]{1,3})\s*=\s*([A-Za-z_ -]{1,20})", re.ASCII)
_UNITS = re.compile(r"(?:dim(?:ension)?s?\.? )?units?|uom|u/m|einheit|unité|unidad", re.IGNORECASE)
BASED = ("width", "height", "size")
_ROUGH = re.compile(r"\b(?:rough|R\.?\s?O\.?)(?![a-z])", re.IGNORECASE)
_SIZES_ARE = re.compile(r"\b(frame|unit|nominal|leaf|masonry|finished)\s+(?:sizes?|dimensions?)\b", re.IGNORECASE)
_HEIGHT_FIRST = re.compile(r"\bheight\s*(?:x|×|by|first|,? then width)|\bh\s*[x×]\s*w\b", re.IGNORECASE)
_POINT = re.compile(r"[0-9]\.[0-9]")
_POINT_THREE = re.compile(r"[0-9]\.[0-9]{3}(?![0-9,])")
_COMMA = re.compile(r"([0-9]+),([0-9]+)")


def where(table: Table) -> str:
    """The sheet's name as a sentence begins with it."""
    return f"Sheet {table.sheet.name!r}: " if table.sheet.name else ""


def settle_facts(table: Table, unit: str, asker: Asker) -> Facts:
    """The facts of a table that its cells are read by; unit: told for bare numbers where the file declares none."""
    facts = Facts(comma=settle_comma(table, asker))
    heads = [table.headings[c] for c, h in lengths_of(table) if h.field == "size" and c < len(table.headings)]
    facts.height_first = any(_HEIGHT_FIRST.search(text) for text in (*heads, *texts_of(table)))
    facts.units = settle_units(table, facts.comma, unit, asker)
    return facts


def lengths_of(table: Table) -> Iterable[tuple[int, Heading]]:
    """The columns of lengths and sizes."""
    return ((column, heading) for column, heading in table.columns.items() if heading.field in LENGTH_FIELDS)


def settle_comma(table: Table, asker: Asker) -> str:
    """What a comma in the sizes is: the decimal sign where any cell shows it, else asked once."""
    cells = [(row.number, c, row.cell(c)) for c, _ in lengths_of(table) for row in table.rows if "," in row.cell(c)]
    found = [(row, column, cell, match) for row, column, cell in cells for match in _COMMA.finditer(cell)]
    if not found:
        return ""
    sure = [match for *_, match in found if len(match[2]) != 3 or match[1].startswith("0") or len(match[1]) > 3]
    plain = len(sure) == len(found)  # one, two or more than three digits behind a comma are no thousands
    point = _POINT_THREE if plain else _POINT
    points = any(point.search(row.cell(c)) for c, _ in lengths_of(table) for row in table.rows)
    metres = all(
        (table.columns[column].unit or table.unit) == "m" for _, column, *_ in found
    )  # a thousand of them are none
    if (plain or len(sure) > 1 or metres) and not points:
        return DECIMAL
    first = found[0][2]
    sentence = (
        f"{where(table)}What is the comma of sizes such as {first[:20]!r}: the decimal sign, or a mark of thousands?"
    )
    answer = asker.ask(
        "decimal_comma", BLOCKS_COSTING, sentence, about=(table.fingerprint,), choices=(DECIMAL, THOUSANDS),
        cells=[table.sheet.place(row, column) for row, column, *_ in found],
    )  # fmt: skip
    return answer or ""


def settle_units(table: Table, comma: str, told: str, asker: Asker) -> dict[int, str]:
    """Column -> unit of its bare numbers: by its heading, by the sheet's declaration, as told, or as answered."""
    declared = table.unit or unit_in_column(table) or told
    units = {column: unit for column, heading in lengths_of(table) if (unit := heading.unit or declared)}
    shared = {units[c] for c, h in lengths_of(table) if c in units and h.field in ("width", "height", "size")}
    loose: dict[int, list[int]] = {}
    for column, heading in lengths_of(table):
        if (
            column in units
            or heading.part
            or nominal_heading(table.headings[column])
            or names_radius(table.headings[column])
        ):
            continue
        rows = [
            row.number for row in table.rows if row.cell(column) and undeclared(row.cell(column), heading.field, comma)
        ]
        if rows and len(shared) == 1 and heading.field in ("width", "height"):
            units[column] = next(iter(shared))  # the other side of the same opening says it
        elif rows:
            loose[column] = rows
    if loose:
        units |= ask_unit(table, loose, asker)
    return units


def unit_in_column(table: Table) -> str:
    """The unit that every cell of a column of units names, UOM over in; blank where they differ or name none."""
    heads = [c for c, head in enumerate(table.headings) if _UNITS.fullmatch(head.strip())]
    named = {unit_of(cell.lower().strip(" .")) for c in heads for cell in cells_of(table, c)}
    return named.pop() if len(named) == 1 else ""


def ask_unit(table: Table, loose: dict[int, list[int]], asker: Asker) -> dict[int, str]:
    """The unit of the columns that declare none: one for all, or one for each."""
    rows = {row.number: row for row in table.rows}
    named = ", ".join(
        f"{column_letters(c)} {head_of(table, c)[:30]!r} ({rows[numbers[0]].cell(c)[:20]!r})"
        for c, numbers in loose.items()
    )
    what = "the column" if len(loose) == 1 else "the columns"
    answer = asker.ask(
        "unit_unknown", BLOCKS_COSTING, f"{where(table)}In which unit are the bare numbers of {what} {named}?",
        about=(table.fingerprint, *map(str, loose)), choices=ASKED_UNITS,
        open_answer="units by column such as C=in, D=mm",
        cells=[table.sheet.place(number, c) for c, numbers in loose.items() for number in numbers],
    )  # fmt: skip
    if not answer:
        return {}
    if said := unit_said(answer):
        return dict.fromkeys(loose, said)
    found = {}
    for part in answer.split(","):
        match = _UNIT.fullmatch(part.strip())
        if match is None or not unit_said(match[2]):
            asker.refuse(
                "unit_unknown", (), f"{part.strip()[:40]!r} is no unit, nor a column and its unit such as C=in"
            )
            return {}
        found[column_number(match[1])] = unit_said(match[2])
    example = ", ".join(f"{column_letters(c)}={found.get(c, 'in')}" for c in loose)
    if missing := [column_letters(c) for c in loose if c not in found]:
        asker.refuse("unit_unknown", (), f"the unit of {', '.join(missing)} is expected as well, such as {example}")
    return found


def unit_said(answer: str) -> str:
    """The unit that an answer names, inches or mm; blank where it names none."""
    plain = " ".join(answer.lower().split()).strip(".")
    return plain if plain in ASKED_UNITS else unit_of(plain)


def undeclared(cell: str, field: str, comma: str) -> bool:
    """Whether a cell can't be read for want of a declared unit or shorthand."""
    return (read_size(cell, "", comma) if field == "size" else read_dimension(cell, field, "", comma)).unit_missing


def settle_basis(table: Table, asker: Asker) -> str:
    """What is to be added to width and height that are not rough sizes: blank for nothing."""
    bases = {heading.basis for _, heading in lengths_of(table) if heading.basis} - {"rough"}
    if not bases and not any(heading.basis for _, heading in lengths_of(table)):
        bases = {match[1].lower() for text in texts_of(table) if (match := _SIZES_ARE.search(text))}
    if not bases:
        return ""
    basis = sorted(bases)[0]
    cells = [table.sheet.place(table.heading_row, c) for c, h in table.columns.items() if h.basis == basis]
    answer = asker.ask(
        "size_basis", BLOCKS_COSTING,
        f"{where(table)}The sizes are {basis} sizes; the rough opening is treated. What is to be added to them?",
        about=(table.fingerprint, basis), choices=("nothing",),
        open_answer="a length such as 1/2 in, or one for each: 1/2 in x 3/4 in",
        cells=cells,
    )  # fmt: skip
    if not answer or answer == "nothing":
        return ""
    try:
        for part in answer.split(" x "):
            read_length(part)
    except Unreadable as why:
        asker.refuse("size_basis", (), why.detail)
        return ""
    return answer


def leaves_basis_open(table: Table) -> bool:
    """Whether a table has widths, heights or sizes and says nowhere of what; they are taken as the rough opening's."""
    sized = [heading for _, heading in lengths_of(table) if heading.field in BASED]
    said = any(heading.basis for heading in sized)
    return bool(sized) and not said and not any(_SIZES_ARE.search(t) or _ROUGH.search(t) for t in texts_of(table))


def texts_of(table: Table) -> list[str]:
    """What is said of a table outside of its lines: titles, the sheet's name, what its pages carry, rows of words."""
    texts = [text for _, text in table.titles] + [table.sheet.name, *table.sheet.pages]
    return texts + [cell for row in table.rows if row.filled <= 2 for cell in row.cells if cell]
