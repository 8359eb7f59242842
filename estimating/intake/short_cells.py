"""Cells that are single letters or whole numbers: names in a row, numbers of rows and doors, codes of status."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from estimating.intake.cells import read_cell_length

MOST = 80  # percent of the cells that are one letter where a column holds codes


def may_number(cells: Sequence[str]) -> bool:
    """Whether whole numbers rise as those of rows or doors do, 1, 2, 3 or 101, 102, 201, and so may count nothing."""
    if len(cells) < 2 or not all(map(str.isdecimal, cells)):
        return False
    steps = [after - before for before, after in pairwise(map(int, cells))]
    running = all(step == 1 for step in steps) and (len(steps) > 1 or cells[0] == "1")
    return running or (all(step > 0 for step in steps) and int(cells[0]) >= 100)


def letters_and_numbers(cells: Sequence[str]) -> bool:
    """Whether some cells are letters alone and others numbers: a 2 among buildings A and B may be how many."""
    return any(map(is_letter, cells)) and any(map(str.isdecimal, cells))


def is_status(cells: Sequence[str]) -> bool:
    """Whether cells are single letters that are no elevations, as codes of status would be."""
    letters = {cell.strip(" .").lower() for cell in cells if is_letter(cell)}
    return (
        bool(cells)
        and 100 * sum(map(is_letter, cells)) // len(cells) >= MOST
        and not is_run(letters - set("nsewo"))
        and not letters <= set("gfbrmabcl")
    )


def is_run(letters: set[str]) -> bool:
    """Whether letters are names one after the other, A to D, of which one may be missing; or there are none."""
    return not letters or ("a" in letters and ord(max(letters)) - ord("a") <= len(letters))


def is_letter(cell: str) -> bool:
    """Whether a cell is one letter, as a code of status would be."""
    return len(cell.strip(" .")) == 1 and cell.strip(" .").isalpha()


def are_lengths(cells: Sequence[str]) -> bool:
    """Whether cells are lengths with their units, as no place is called."""
    return bool(cells) and all(not read_cell_length(cell, "").code for cell in cells)
