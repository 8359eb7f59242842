"""What becomes of a file's openings before anything is costed: priced, set aside, an alternate, or not read yet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from estimating.core.schedule_lines import LINE_FIELDS
from estimating.core.schedule_reading import Reading, read_lines
from estimating.core.scope import Scope, scope_of
from rates.core.fields import Faults

ANY_UNIT = "in"  # any will do to count openings
QUANTITY = next(field.reader for field in LINE_FIELDS if field.name == "quantity")


@dataclass(frozen=True)
class FileScope:
    """The scope of the lines that can be read; lines that can't be, and their openings where a line tells them."""

    scope: Scope
    unread_lines: int
    unread_openings: int

    @property
    def in_file(self) -> int:
        """Every opening that the file tells."""
        return self.scope.in_file + self.unread_openings


def file_scope(rows: Sequence[Mapping[str, Any]], unit: str) -> FileScope:
    """The scope of opening lines as a schedule keeps them, bare lengths in `unit`."""
    read = read_lines(Reading(unit or ANY_UNIT, False), rows, "")
    known = {index for index, _ in read}
    unread = [row for index, row in enumerate(rows) if index not in known]
    nothing_kept: Faults = []
    counts = [QUANTITY.read(row.get("quantity"), "", nothing_kept) for row in unread]
    return FileScope(scope_of(line for _, line in read), len(unread), sum(count or 0 for count in counts))
