"""What came, went and changed among the openings, alike changes told together: the dearest first, the rest counted."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from estimating.compared.lines import Sides, facts, openings_of, size
from estimating.compared.values import Reader

MOST_MARKS = 3
MOST_TOLD = 5
# how the words of a change follow one mark, and several; "has" and "have" where none stands here
VERBS = {"place": ("", ""), "alternate": ("", ""), "renumbered": ("", ""), "excluded": ("is", "are")}


@dataclass
class Group:
    """Lines that changed alike: their marks, their openings before and after, what they move in minor units."""

    kind: str
    words: str
    marks: dict[str, None] = field(default_factory=dict)
    before: int = 0
    after: int = 0
    moved_minor: int = 0

    def sentence(self) -> str:
        """What became of them."""
        mark, count = next(iter(self.marks)), max(self.before, self.after)
        if self.kind == "quantity":
            return f"{openings_of(self.before, mark)} became {self.after:,}"
        if self.kind in ("added", "removed"):
            return f"{openings_of(count, mark)} {'was' if count == 1 else 'were'} {self.kind} ({self.words})"
        counts = f" ({openings_of(count)})" if len(self.marks) > 1 else ""
        verb = VERBS.get(self.kind, ("has", "have"))[len(self.marks) > 1]
        return f"{marks_said(tuple(self.marks))}{counts} {verb}{' ' if verb else ''}{self.words}"


def marks_said(marks: Sequence[str]) -> str:
    """The first marks, the others counted."""
    left = len(marks) - MOST_MARKS
    if left > 0:
        return f"{', '.join(marks[:MOST_MARKS])} and {left:,} more"
    return " and ".join([", ".join(marks[:-1]), marks[-1]]) if len(marks) > 1 else marks[0]


def groups(changed: Iterable[tuple[Sides, int]], reader: Reader) -> list[Group]:
    """Each change once, of the lines that share it; what a line moves stands with each of its changes."""
    found: dict[tuple[str, ...], Group] = {}

    def note(key: tuple[str, ...], words: str, sides: Sides, minor: int) -> None:
        group = found.setdefault(key, Group(key[0], words))
        group.marks[sides.line.mark] = None
        group.before += sides.old.quantity if sides.old is not None else 0
        group.after += sides.new.quantity if sides.new is not None else 0
        group.moved_minor += minor

    for sides, minor in changed:
        line = sides.line
        if sides.old is None or sides.new is None:
            kind = "added" if sides.old is None else "removed"
            words = size(line, sides.after if sides.old is None else sides.before, reader)
            note((kind, line.mark_key, words), words, sides, minor)
            continue
        for fact in facts(sides, reader):
            own = line.mark_key if fact.kind == "quantity" else fact.words
            note((fact.kind, own), fact.words, sides, minor)
    return sorted(found.values(), key=lambda group: -abs(group.moved_minor))


def told(parts: Sequence[str], most: int = MOST_TOLD) -> str:
    """The first parts of a sentence, the others counted."""
    left = len(parts) - most
    tail = [] if left <= 0 else [f"and {left:,} other {'change' if left == 1 else 'changes'}"]
    return "; ".join([*parts[:most], *tail])


def counts_said(before: int, after: int) -> str:
    """How many openings there are, and were."""
    return f"{openings_of(after)} as before" if before == after else f"{openings_of(after)} instead of {before:,}"


def customer_sentence(before: int, after: int, found: Sequence[Group], others: Sequence[str], most: int) -> str:
    """What the customer may be sent: openings and what is done at them, and no amount."""
    parts = [*(group.sentence() for group in found), *others]
    said = f": {told(parts, most)}" if parts else ""
    return f"The bid covers {counts_said(before, after)}{said}."
