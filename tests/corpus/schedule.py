"""A schedule described by hand: what its file holds, the opening lines that it means, and facts that settle it.

`schedules` holds files as offices draw them, `traps` those of somebody who tried to mislead the reader with every line.
Keys: `trap` (what misleads in it), `layout`, `plain`, one of `csv`, `paste` and `xlsx`, `truth` and `facts`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Any

import yaml

from tests.corpus.truth import Opening, read_truth

FOLDERS = SCHEDULES, TRAPS = (Path(__file__).parent / "schedules", Path(__file__).parent / "traps")
KEYS = {"trap", "layout", "plain", "csv", "paste", "xlsx", "encoding", "delimiter", "ending", "truth", "facts"}


@dataclass(frozen=True)
class Schedule:
    """One described file; `facts` are what a person with the drawings answers, by subject."""

    name: str
    trap: str
    layout: str
    plain: bool
    described: Mapping[str, Any]
    facts: Mapping[str, str] = field(default_factory=dict)

    @cached_property
    def truth(self) -> tuple[Opening, ...]:
        """The opening lines that the file means."""
        return read_truth(self.described["truth"])


def read_schedule(path: Path) -> Schedule:
    """A file of the corpus; ValueError where it has an unknown key or not one kind of content."""
    said = yaml.safe_load(path.read_text("utf-8"))
    unknown = set(said) - KEYS
    contents = [key for key in ("csv", "paste", "xlsx") if key in said]
    if unknown or len(contents) != 1:
        raise ValueError(f"{path.name}: unknown {sorted(unknown)}, contents {contents}")
    facts = {str(subject): str(fact) for subject, fact in said.get("facts", {}).items()}
    return Schedule(path.stem, said["trap"], said["layout"], said.get("plain", False), said, facts)


def all_schedules(folder: Path = SCHEDULES) -> list[Schedule]:
    """The files of one folder, in the order of their names."""
    return [read_schedule(path) for path in sorted(folder.glob("*.yaml"))]
