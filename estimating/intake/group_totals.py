"""Columns of totals beside counts by place that agree with the counts of their group on every line."""

from __future__ import annotations

from itertools import takewhile

from estimating.intake.count_words import read_count_text
from estimating.intake.row_labels import read_row_label
from estimating.intake.tables import Table


def totals_of_groups(table: Table) -> tuple[int, ...]:
    """The columns headed as totals whose cells are the sums of the counts between the last such column and them."""
    counted = {column for column, _ in table.counts()}
    headed = [c for c, head in enumerate(table.headings) if head and c not in table.columns and is_total_heading(head)]
    found: list[int] = []
    for column in headed:
        left = range(column - 1, -1, -1)
        group = [
            c
            for c in takewhile(lambda c: c not in headed and (c in counted or not table.headings[c]), left)
            if c in counted
        ]
        if group and all(agrees(row.cell(column), [row.cell(c) for c in group]) for row in table.rows):
            found.append(column)
    return tuple(found)


def is_total_heading(heading: str) -> bool:
    """Whether a heading, or its last word, names a total."""
    return any(read_row_label(text).kind in ("total", "subtotal") for text in (heading, *heading.split()[-1:]))


def agrees(total: str, counts: list[str]) -> bool:
    """Whether a total is the sum of counts; a blank one is of none, or stands for nothing."""
    numbers = [read_count_text(text).plain for text in counts if text]
    if not total:
        return True
    return None not in numbers and read_count_text(total).plain == sum(number or 0 for number in numbers)
