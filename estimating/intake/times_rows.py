"""What multiplies the columns of counts of a table: a row below the headings, or numbers in the headings themselves."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from estimating.intake.draft import Draft


@dataclass
class Times:
    """The multipliers of one table: NO. OF BLDGS | 3 | 2 | 1 below the headings, or UNIT A (x6) | UNIT B (x4).

    by: column -> its number; row, label: of the row below the headings, 0 and blank where the headings say it; heads:
    the headings; alone: lines of columns that count once, which no answer multiplies.
    """

    by: Mapping[int, int] = field(default_factory=dict)
    row: int = 0
    label: str = ""
    heads: Sequence[str] = ()
    alone: list[Draft] = field(default_factory=list)

    def head(self, column: int) -> str:
        """The heading of a column."""
        return self.heads[column] if column < len(self.heads) else ""

    @property
    def told(self) -> str:
        """What multiplies, once: the label with each heading and its number, or the headings that say theirs."""
        columns = sorted(self.by)
        if self.row:
            return f"{self.label!r}: " + ", ".join(f"{self.head(c)} {self.by[c]}" for c in columns)
        return ", ".join(repr(self.head(c)) for c in columns)


def of_headings(columns: Sequence[int], heads: Sequence[str], times_of: Callable[[str], int | None]) -> Times:
    """What headings of counts multiply by; times_of: the number that a heading says."""
    said = {c: times_of(heads[c]) for c in columns if c < len(heads)}
    return Times({c: number for c, number in said.items() if number is not None and number > 1}, heads=heads)
