"""The law of cells: each cell that is not empty ends in exactly one place, and in one where it may.

A cell may end in a field of a line, a fact of the table, a question, or set aside with a reason. `broken` compares what
a reading says of its cells with what the maker of a sheet knows of them, and the lines with their rows.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from itertools import permutations
from typing import Any

from estimating.intake.questions import Question
from estimating.intake.reading import Intake
from tests.corpus.lines import length
from tests.corpus.source import place_of
from tests.intake.random_sheets import QUESTION, Cell, Line, RandomSheet

MOST_TOLD = 5
Ends = Mapping[tuple[int, int], list[Any]]


def broken(sheet: RandomSheet, intake: Intake) -> list[str]:
    """What breaks the law in the reading of a sheet; nothing where it holds. A cell's comment has an end of its own."""
    ends: dict[tuple[int, int], list[Any]] = defaultdict(list)
    for end in intake.ends:
        ends[end.row, end.column].append(end)
    pages = [end for place in [place for place in ends if place[0] == 0] for end in ends.pop(place)]
    cells = {(r, c): [cell] for r, row in enumerate(sheet.rows, 1) for c, cell in row.items()}
    found = ["the page's text has no end"] if intake.format == "xlsx" and sheet.page and not pages else []
    for place, comment in sheet.comments.items() if intake.format == "xlsx" else ():
        cells[place].append(comment)
    found += [*cells_broken(cells, ends), *questions_broken(ends, intake.questions)]
    return [*found, *lines_broken(sheet.lines, intake)][:MOST_TOLD]


def cells_broken(cells: Mapping[tuple[int, int], list[Cell]], ends: Ends) -> Iterator[str]:
    """Cells without an end, with two, with one where they may not end; ends of empty cells."""
    for place, parts in cells.items():
        own, said = ends.get(place, []), " with comment ".join(repr(part.text) for part in parts)
        if len(own) != len(parts):
            yield f"{place} {said} has {len(own)} ends"
        elif not any(all(map(may_end, order, parts)) for order in permutations(own)):
            told = ", ".join(f"{end.end} {end.name}" for end in own)
            yield f"{place} {said} ends in {told}, not in {', '.join(' or '.join(sorted(p.ends)) for p in parts)}"
    for place in ends.keys() - cells.keys():
        yield f"{place} is empty and ends in {ends[place][0].end}"


def may_end(end: Any, part: Cell) -> bool:
    """Whether a cell or comment may end so: in one of its ends, and with a name."""
    return end.end in part.ends and bool(end.name)


def questions_broken(ends: Ends, questions: Iterable[Question]) -> Iterator[str]:
    """Cells that end in a question that nobody asks."""
    codes = {question.code for question in questions}
    for place, own in ends.items():
        for end in own:
            if end.end == QUESTION and end.name not in codes:
                yield f"{place} ends in the question {end.name}, which is not asked"


def lines_broken(lines: Mapping[int, Line], intake: Intake) -> Iterator[str]:
    """Rows whose line is missing or says something else, and lines that no row says."""
    read: dict[int, list[dict[str, Any]]] = defaultdict(list)
    for index, line in enumerate(intake.lines):
        read[place_of(intake.place(index, None)).row].append(line)
    for row, said in lines.items():
        if not read[row]:
            yield f"row {row} is a line and none was read"
        for line in read[row]:
            yield from (f"row {row}: {name} is read as {line.get(name)!r}" for name in differs(said, line))
    yield from (f"row {row} is no line and one was read" for row in read.keys() - lines.keys() if read[row])


def differs(said: Line, line: Mapping[str, Any]) -> Iterator[str]:
    """The fields of a line that are not what its row says."""
    if line.get("mark") != said.mark:
        yield "mark"
    if said.quantity is not None and line.get("quantity") != said.quantity:
        yield "quantity"
    if said.elevation is not None and line.get("elevation") != said.elevation:
        yield "elevation"
    for name, text in (("width", said.width), ("height", said.height)):
        if line.get(name) is None or length(line[name]) != length(text):
            yield name
