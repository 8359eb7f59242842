"""Why an action did not happen, as exceptions that the edge translates; nothing here knows of HTTP.

Faults of a document are rates.core.problems.Refused; these are the other reasons.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field
from typing import Protocol


class Shown(Protocol):
    """Something that queries show: its tag changes whenever what is shown changes."""

    @property
    def tag(self) -> str: ...


class NotThere(Exception):
    """No such row in this company: an unknown id and another company's id look the same."""


@dataclass
class Conflict(Exception):
    """The state of things does not allow it; `code` is stable, `detail` a plain sentence."""

    code: str
    detail: str


@dataclass
class NotAllowed(Exception):
    """This person or key may not do it."""

    code: str
    detail: str


@dataclass
class Busy(Exception):
    """Too much of the kind is being done at this moment; a little later it may be done."""

    detail: str


@dataclass
class Stale(Exception):
    """The row has changed since the caller read it; carries what it is now."""

    current: Shown


@dataclass
class Expected:
    """The tags that a caller says the row has: any of them will do; None takes any state.

    `seen` is what the row was when it was checked, held until the change is stored: the audit's before.
    """

    tags: Collection[str] | None
    seen: Shown | None = field(default=None, compare=False)

    def check(self, current: Shown) -> None:
        """Stale unless the row is as the caller knows it."""
        self.seen = current
        if self.tags is not None and current.tag not in self.tags:
            raise Stale(current)

    def check_start(self, current: Shown) -> None:
        """As check, for tags whose last part tells only of use: that may have moved on."""
        self.seen = current
        start = current.tag.rpartition("-")[0]
        if self.tags is not None and not any(tag.rpartition("-")[0] == start for tag in self.tags):
            raise Stale(current)


ANY_STATE = Expected(None)
