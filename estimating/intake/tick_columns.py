"""Columns of a table whose cells are no words about the openings: ticks, and initials of those who wrote its lines."""

from __future__ import annotations

from estimating.intake.scope_columns import IN, holds_initials, read_tick, tick_means
from estimating.intake.tables import Table


def ticked_columns(table: Table) -> frozenset[int]:
    """Columns of ticks that put a line into the work: a blank among them is one that was not ticked."""
    ticked = [c for c, heading in enumerate(table.headings) if heading and tick_means(heading) == IN]
    return frozenset(c for c in ticked if any(read_tick(row.cell(c))[0] == "yes" for row in table.rows))


def initialled_columns(table: Table) -> frozenset[int]:
    """Columns of the initials of those who wrote the lines."""
    named = [c for c, heading in enumerate(table.headings) if heading and len(heading) < 10]
    return frozenset(c for c in named if holds_initials(table.headings[c], (row.cell(c) for row in table.rows)))
