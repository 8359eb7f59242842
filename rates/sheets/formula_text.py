"""The one rule against formulas in CSV: text that a spreadsheet could compute stands behind an apostrophe."""

from __future__ import annotations

import re

STARTER = re.compile(r"'*[=+\-@\t\r\n]")
NUMBER = re.compile(r"-[0-9]+(\.[0-9]+)?", re.ASCII)  # starts like a formula and is none


def protect(text: str) -> str:
    """The text as a cell of a CSV; `expose` gives the text back, whatever it is."""
    return f"'{text}" if STARTER.match(text) and not NUMBER.fullmatch(text) else text


def expose(cell: str) -> str:
    """The text that a cell stands for: without the apostrophe that `protect` put before it."""
    return cell[1:] if cell.startswith("'") and STARTER.match(cell) else cell
