"""What stands below a heading held against what the heading may mean: so a two-way heading often answers itself."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from itertools import islice

from estimating.core.schedule_lines import LENGTH_NAMES
from estimating.intake.cell_sizes import LEVELS, read_dimension, read_size
from estimating.intake.cells import blank
from estimating.intake.count_words import read_count_text
from estimating.intake.folding import compose, fold
from estimating.intake.heading_words import counts_parts
from estimating.intake.headings import Heading
from estimating.intake.kind_words import kind_of, tells_kind
from estimating.intake.place_headings import counts_in, place_of_heading, says_several
from estimating.intake.places_words import read_places
from estimating.intake.row_kinds import is_total
from estimating.intake.scope_words import read_words
from estimating.intake.short_cells import are_lengths, is_status, letters_and_numbers, may_number
from estimating.intake.tables import Table
from estimating.intake.wall_words import is_construction, is_elevation

MOST_CELLS = 200
PLACED = ("elevation", "storey", "building")
LEAST_KINDS = 30  # percent of the cells of a column of kinds that must name one
ENOUGH = 80  # percent of the cells that must agree
_MARK = re.compile(r"(?=.*[0-9])[\w.#*-]{1,12}|[A-Z]{1,3}|(?:type|typ|tipo)\s+\w{1,4}", re.IGNORECASE)
_LEVEL = re.compile(r"[-+±]?[\d.,/'\"½¼¾ -]+(?:mm|cm|m|in\.?|ft\.?)?(?:\s*a\.?f\.?f\.?)?", re.IGNORECASE)  # of a sill
_WORD = re.compile(r"[a-z]+")
_WHERE = {
    word: field
    for field, words in {
        "building": "building buildings bldg bldgs wing wings towers areas stairs gebaude hauser batiments edificios",
        "storey": "level levels lvls floor floors flrs story stories storey storeys geschosse etages niveaux plantas",
        "elevation": "elevations elevs facades fassaden fachadas",
        "unit": "unit units apts apartments suites flats dwellings rooms wohnungen logements viviendas",
    }.items()
    for word in words.split()
}  # words of places, one of which an unused heading may hold beside others: BLDGS. APPLICABLE
OTHERS = Heading("unknown")
FREE = frozenset({"unknown", "note", "property", "source", "room"})  # what words of a kind may stand under
NEVER_ASKED = frozenset({
    "note", "type", "kind", "scope", "status", "property", "revision", "source", "room", "unit", "shape", "alternate",
    "building", "phase", "sides", "sill", "method", "access", "substrate", "count", "other_size", "part",
})  # fmt: skip


def cells_of(table: Table, column: int) -> list[str]:
    """The cells of a column that say something, of rows with several cells."""
    fit = (row for row in table.rows if row.filled >= 2 and not any(is_total(cell) for cell in row.cells if cell))
    return [cell for row in islice(fit, MOST_CELLS) if (cell := row.cell(column)) and not blank(cell)]


def is_length(cell: str) -> bool:
    """Whether a cell is a length, its unit declared or not."""
    said = read_dimension(cell, "width", "mm", "")
    return bool(said.found)


def is_size(cell: str) -> bool:
    """Whether a cell is a size of width and height, or a diameter."""
    said = read_size(cell, "mm", "")
    return bool(said.found or said.nominal) or read_size(cell, "ft_in", "").found != {}


TESTS: dict[str, Callable[[str], bool]] = {
    "mark": lambda cell: bool(_MARK.fullmatch(cell)),
    "quantity": lambda cell: (n := read_count_text(cell).plain) is not None and n < 1_000,
    **dict.fromkeys((*LENGTH_NAMES, *LEVELS), is_length),
    "size": is_size,
}


def bears_out(table: Table, column: int, field: str) -> bool:
    """Whether most cells of a column are what a field takes; "distinct": whether no two are alike."""
    cells = cells_of(table, column)
    if field == "distinct":
        return len(set(cells)) == len(cells)
    test = TESTS.get(field)
    if test is None or not cells:
        return True
    return share(cells, test) >= ENOUGH


def share(cells: Sequence[str], test: Callable[[str], bool]) -> int:
    """The percentage of cells that pass."""
    return 100 * sum(map(test, cells)) // len(cells) if cells else 0


def is_doubtful(table: Table, column: int, heading: Heading) -> bool:
    """Whether a heading is two-way and its cells bear out another meaning as well, or not the one taken."""
    if heading.field == "elevation" and is_no_elevation(heading, cells_of(table, column)):
        return True
    if heading.field == "quantity" and counts_parts(heading.title):
        return True
    if heading.field == "mark" and "unused" in heading.choices:
        return True  # another column that could hold marks stands before it, under words that are not understood
    if heading.field == "mark" and "quantity" in heading.choices and table.column("quantity") is None:
        if bears_out(table, column, "quantity") and not may_number(cells_of(table, column)):
            return True  # NUMBER over 4, 2, 3
        if any(says_mark(table, c) for c in range(column)):
            return True  # DOOR over 101, 102 before NUMBER over 2, 3
    if heading.sure or heading.field in NEVER_ASKED:
        return False
    if not bears_out(table, column, heading.field):
        return True
    if heading.field == "quantity" and "mark" in heading.choices and may_number(cells_of(table, column)):
        return True
    taken = {h.field for c, h in table.columns.items() if c != column}
    others = [name for name in heading.choices if name != heading.field and name in TESTS and name not in taken]
    return any(bears_out(table, column, name) for name in others)


def says_mark(table: Table, column: int) -> bool:
    """Whether a column of Door, Window or Opening that was taken for something else has marks below it."""
    choices = table.columns.get(column, OTHERS).choices
    named = choices[:1] == ("mark",) and bool({"type", "size"} & set(choices))
    return named and bears_out(table, column, "mark") and bears_out(table, column, "distinct")


def is_no_elevation(heading: Heading, cells: Sequence[str]) -> bool:
    """Whether cells taken for elevations may be walls: of their construction, or under Wall no known elevations."""
    walls = "substrate" in heading.choices and not all(map(is_elevation, cells))
    return walls or any(map(is_construction, cells))


def refine(table: Table) -> None:
    """Columns whose cells say better than the heading what they hold: places, kinds, marks under no heading."""
    put_marks_right(table)
    for column, heading in list(table.columns.items()):
        cells = cells_of(table, column)
        if heading.field == "sill_height" and not heading.sure and cells and not any(map(_LEVEL.fullmatch, cells)):
            table.columns[column] = replace(heading, field="sill", path=("sill",))
        elif heading.field == "head_height" and any(read_words(cell).of("shape") for cell in cells):
            table.columns[column] = replace(heading, field="shape", path=("shape",), sure=True)
        elif heading.field in ("storey", "elevation") and is_status(cells):
            del table.columns[column]
        elif heading.field in PLACED and "height_above_grade" not in heading.choices and are_lengths(cells):
            table.columns[column] = replace(heading, field="property", path=("property",))  # FRAME FACE over 2"
        elif heading.field == "kind" and cells and names_few_kinds(heading, cells):
            table.columns[column] = replace(heading, field="property", path=("property",))
        elif heading.field in ("room", "unit", "elevation", "storey") and not (
            heading.field != "room" and heading.sure
        ):
            name = next(
                (kind for kind in PLACED if cells and share(cells, partial(is_place, kind=kind)) >= ENOUGH), None
            )
            if name is not None and (name == heading.field or not is_held(table, name)):
                table.columns[column] = replace(heading, field=name, path=(name,))
    find_places(table)
    if table.column("kind") is None:
        find_kinds(table)
    mark = table.column("mark")
    if mark is not None and share(cells_of(table, mark), partial(names_kind, typed=is_typed(table, mark))) >= ENOUGH:
        table.columns[mark] = replace(table.columns[mark], field="kind", path=("kind",))
    elif mark is not None and not bears_out(table, mark, "mark") and is_no_mark(table, mark):
        del table.columns[mark]
    if table.column("mark") is None:
        others = [
            c
            for c in range(table.sheet.width)
            if (meant := table.columns.get(c, OTHERS)).field in ("type", "property", "unknown", "kind")
            or "mark" in meant.choices
        ]
        fit = [
            c
            for c in others
            if cells_of(table, c) and share(cells_of(table, c), lambda cell: bool(_MARK.fullmatch(cell))) >= ENOUGH
        ]
        distinct = [c for c in fit if bears_out(table, c, "distinct")]
        named = [c for c in distinct or fit if table.columns.get(c, OTHERS).field == "type"]
        letters = [c for c in distinct or fit if not share(cells_of(table, c), str.isdigit)]
        offered = [c for c in distinct or fit if is_offered(table, c)]
        for column in (offered or named or letters or distinct)[:1]:
            rivals = [c for c in distinct if c < column and table.columns.get(c, OTHERS).field == "unknown"]
            choices = ("mark", "unused") if rivals and column not in offered else ()
            table.columns[column] = Heading("mark", path=("mark",), sure=not choices, choices=choices)
    if table.column("mark") is None and table.column("type") is None:
        blank_heads = [c for c in range(table.sheet.width) if c not in table.columns and not head_of(table, c)]
        marks = [
            c
            for c in blank_heads
            if cells_of(table, c) and bears_out(table, c, "mark") and bears_out(table, c, "distinct")
        ]
        if marks:
            table.columns[marks[0]] = Heading("mark", path=("mark",))


def is_no_mark(table: Table, column: int) -> bool:
    """Whether cells that hardly are marks are lengths, or stand under TYPE, which says something else first."""
    return is_length(next(iter(cells_of(table, column)), "")) or is_typed(table, column)


def is_typed(table: Table, column: int) -> bool:
    """Whether a heading that was taken for the mark's says the type first."""
    return table.columns[column].choices[:1] == ("type",)


def names_kind(cell: str, typed: bool) -> bool:
    """Whether a cell under a heading of marks is a kind and no mark; typed: under TYPE, where WDW is a window."""
    return kind_of(cell) is not None and (not _MARK.fullmatch(cell) or (typed and len(cell) > 2))


def names_few_kinds(heading: Heading, cells: Sequence[str]) -> bool:
    """Whether a column of kinds names too few to be one; under a sure heading one kind is enough."""
    named = share(cells, lambda cell: kind_of(cell) is not None)
    return named == 0 if heading.sure else named < LEAST_KINDS


def put_marks_right(table: Table) -> None:
    """NO. that may be the mark as well, over cells that are no numbers, is the mark and never the count."""
    number = table.column("quantity")
    meant = table.columns[number] if number is not None else OTHERS
    cells = cells_of(table, number) if number is not None else []
    if number is None or meant.sure or "mark" not in meant.choices or not cells:
        return
    if any(map(str.isdecimal, cells)) or share(cells, TESTS["mark"]) < ENOUGH:
        return
    other = table.column("mark")
    table.columns[number] = replace(meant, field="mark", path=("mark",), sure=True)
    if other is not None and "quantity" in table.columns[other].choices and bears_out(table, other, "quantity"):
        table.columns[other] = replace(table.columns[other], field="quantity", path=("quantity",), sure=False)
        return  # WIN # | NUMBER
    if other is not None:
        table.columns[other] = Heading("note", path=("note",), title=head_of(table, other))
    for column, heading in table.columns.items():
        if "quantity" in heading.choices and column != number and bears_out(table, column, "quantity"):
            table.columns[column] = replace(heading, field="quantity", path=("quantity",), sure=True)
            return


def is_offered(table: Table, column: int) -> bool:
    """Whether a heading such as Opening, Item or Unit, taken for something else, may be the mark's as well."""
    heading = table.columns.get(column, OTHERS)
    return heading.field in ("note", "unit") and "mark" in heading.choices


def find_kinds(table: Table) -> None:
    """A column whose cells name a kind and little else is the kind, whatever its heading says.

    Not so a column of remarks in a list of windows or of doors: each of them is asked about, as what it contradicts.
    """
    for column in range(table.sheet.width):
        field = table.columns.get(column, OTHERS).field
        cells = cells_of(table, column) if field in FREE and not (field == "note" and table.kind) else []
        if cells and share(cells, tells_kind) >= ENOUGH:
            table.columns[column] = Heading("kind", path=("kind",))
            return


def find_places(table: Table) -> None:
    """A column that nothing uses, whose heading has a word of places and whose cells name several: BLDGS, STORIES."""
    for column in range(len(table.headings)):
        meant = table.columns.get(column, OTHERS)
        free = meant.field == "unknown" or (meant.field in (*FREE, "type") and not meant.sure)
        field = place_field(head_of(table, column)) if free else ""
        cells = cells_of(table, column) if field and table.column(field) is None else []
        several = any(says_several(cell, "building" if field == "unit" else field) for cell in cells)
        if several or (field == "building" and letters_and_numbers(cells)):
            table.columns[column] = Heading(field, path=(field,))


def place_field(heading: str) -> str:
    """The field of places that a heading has a word of; blank where it has none, or words of two."""
    said = {_WHERE[word] for word in _WORD.findall(fold(compose(heading))) if word in _WHERE}
    return said.pop() if len(said) == 1 else ""


def head_of(table: Table, column: int) -> str:
    """The heading of a column; blank where it has none."""
    return table.headings[column] if column < len(table.headings) else ""


def is_held(table: Table, field: str) -> bool:
    """Whether a column is a field's: not Wall, taken for the elevation, where its cells are constructions."""
    column = table.column(field)
    return column is not None and not is_no_elevation(table.columns[column], cells_of(table, column))


def is_place(cell: str, kind: str) -> bool:
    """Whether a cell names places of a kind and nothing else, or counts at each of several elevations."""
    said = read_places(cell)
    names = said.names(kind)
    return (
        bool(names)
        and len(names) == len(said.places)
        and not said.residue
        and not said.bare
        or (kind == "elevation" and bool(counts_in(cell)))
    )


def is_side(cell: str) -> bool:
    """Whether a cell names one elevation, storey or building and nothing else."""
    return place_of_heading(cell) is not None
