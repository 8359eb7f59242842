"""Plain text for a terminal of 80 columns: wrapped paragraphs, and tables whose cells wrap within their columns."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import zip_longest
from textwrap import wrap

WIDTH = 80
GAP = "  "
NARROWEST = 12
NO_BREAK = "\u00a0"


def group_thousands(amount: str) -> str:
    """1234567.50 as 1,234,567.50; digits and sign otherwise as they are."""
    whole, point, rest = amount.partition(".")
    return f"{int(whole):,}{point}{rest}" if whole.lstrip("-").isdigit() and whole != "-0" else amount


def unbroken(text: str) -> str:
    """The text with spaces at which a table cell is not wrapped."""
    return text.replace(" ", NO_BREAK)


def paragraph(text: str, indent: str = "", hanging: str | None = None, width: int = WIDTH) -> list[str]:
    """The text wrapped, `hanging` before every line but the first."""
    after = indent if hanging is None else hanging
    return wrap(text, width, initial_indent=indent, subsequent_indent=after, break_on_hyphens=False) or [
        indent.rstrip()
    ]


def column_widths(rows: Sequence[Sequence[str]], flexible: Sequence[int]) -> list[int]:
    """The width of each column: what it needs, the widest flexible ones narrowed until the table fits."""
    widths = [max(len(cell) for cell in column) for column in zip(*rows, strict=True)]
    while sum(widths) + len(GAP) * len(widths) > WIDTH:
        widest = max(flexible, key=lambda i: widths[i])
        if widths[widest] <= NARROWEST:
            break
        widths[widest] -= 1
    return widths


def table(
    headings: Sequence[str], rows: Sequence[Sequence[str]], aligned: str, flexible: Sequence[int] = (0,)
) -> list[str]:
    """Lines of a table, indented by two: `aligned` has l or r for each column; cells of flexible columns may wrap."""
    widths = column_widths([headings, *rows], flexible)
    lines = []
    for row in [headings, *rows]:
        wrapped = [wrap(cell, width) if cell else [""] for cell, width in zip(row, widths, strict=True)]
        for parts in zip_longest(*wrapped, fillvalue=""):
            cells = [
                part.rjust(width) if side == "r" else part.ljust(width)
                for part, width, side in zip(parts, widths, aligned, strict=True)
            ]
            lines.append((GAP + GAP.join(cells)).replace(NO_BREAK, " ").rstrip())
    return [lines[0], GAP + "-" * (sum(widths) + len(GAP) * (len(widths) - 1)), *lines[1:]]
