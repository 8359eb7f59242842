"""What people say of proposed matches, held against two revisions: every fault of it at once.

pairs as sent > lines that are there > each line once > a proposal of size and place > decided
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from estimating.intake.revisions import Lines, proposals
from rates.core.problems import Problem


@dataclass(frozen=True, slots=True)
class Saying:
    """A line of the earlier revision, one of the later, and whether they are the same opening line."""

    before: int
    after: int
    same: bool


def faults_of(pairs: Sequence[Saying], before: Lines | None, after: Lines) -> list[Problem]:
    """What is wrong with these pairs, with pointers under /pairs; without an earlier revision, what can be seen."""
    proposed = {(pair.before, pair.after) for pair in proposals(before, after)} if before is not None else None
    count = {"before": before.count if before is not None else None, "after": after.count}
    told: set[tuple[str, int]] = set()
    faults = []
    for place, pair in enumerate(pairs):
        at, known = f"/pairs/{place}", True
        for side, line in (("before", pair.before), ("after", pair.after)):
            lines = count[side]
            if lines is not None and line >= lines:
                known = False
                detail = f"this revision has no line {line}; its lines are numbered from 0 and it has {lines}"
                faults.append(Problem(f"{at}/{side}", "not_found", detail))
            elif (side, line) in told:
                faults.append(Problem(f"{at}/{side}", "given_twice", "this line stands in another pair already"))
            told.add((side, line))
        if known and proposed is not None and (pair.before, pair.after) not in proposed:
            detail = "size and place alone do not match these two lines: there is nothing to confirm or reject"
            faults.append(Problem(at, "not_a_proposal", detail))
    return faults
