"""What is wrong with a document, as values: collected, never thrown across a stage."""

from __future__ import annotations

from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class Problem:
    """One fault of one document.

    pointer: RFC 6901 JSON Pointer of the value at fault, in `document` (request, schedule or edition).
    code: a stable snake_case word; detail: a plain sentence; line and column count from 1 in the file as received,
    and in a workbook are those of `sheet`; count: how many faults it stands for, one but for those of `more_faults`.
    """

    pointer: str
    code: str
    detail: str
    document: str = "request"
    line: int | None = None
    column: int | None = None
    sheet: str | None = None
    count: int = 1

    def within(self, prefix: str, document: str | None = None) -> Problem:
        """The same fault seen from a document that holds this one at `prefix`."""
        return replace(self, pointer=prefix + self.pointer, document=document or self.document)


MOST_FAULTS = 1000  # of one document, that are named; the others are counted


def more_faults(pointer: str, count: int) -> Problem:
    """So many faults at and below `pointer` that are not named one by one."""
    return Problem(pointer, "more_faults", f"and {count:,} more faults or above", count=count)


class Refused(Exception):
    """A document that can't be used; carries every fault found."""

    def __init__(self, problems: tuple[Problem, ...] | list[Problem]) -> None:
        super().__init__("; ".join(f"{p.pointer or '/'}: {p.detail}" for p in problems[:3]))
        self.problems: tuple[Problem, ...] = tuple(problems)


class Unreadable(ValueError):
    """One value that can't be read: `code` and a plain sentence; the caller knows where it stands."""

    def __init__(self, code: str, detail: str) -> None:
        super().__init__(detail)
        self.code = code
        self.detail = detail


def escape(token: str | int) -> str:
    """A name or index as one JSON Pointer step (RFC 6901 section 3)."""
    return "/" + str(token).replace("~", "~0").replace("/", "~1")
