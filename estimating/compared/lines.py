"""What changed between two matched schedule lines, in one sentence: counts, sizes, factors, places."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from estimating.compared.phrases import name_of, phrase
from estimating.compared.values import Reader, value_text
from estimating.core.comparison import Match
from estimating.core.differences import Difference, differences
from estimating.core.schedule import Schedule
from estimating.core.schedule_lines import Line
from rates.core.texts import counted

# fields of a line that are told in words of their own, or say nothing to people (the key of its mark, its kind's index)
OWN_WORDS = frozenset(
    {
        "mark", "mark_key", "quantity", "elevation", "storey", "building", "phase", "kind", "reason", "alternate",
        "offer", "id",
    }
)  # fmt: skip
BASE_BID = "the base bid"


@dataclass(frozen=True)
class Fact:
    """One thing that changed about a line: the class of change, and the words that follow the mark."""

    kind: str
    words: str


@dataclass(frozen=True)
class Sides:
    """A match with its lines and their schedules; None: the line was added or removed."""

    match: Match
    old: Line | None
    new: Line | None
    before: Schedule
    after: Schedule

    @property
    def line(self) -> Line:
        """The later line, or the earlier one where there is no later."""
        found = self.new or self.old
        assert found is not None
        return found


def sides_of(match: Match, before: Schedule, after: Schedule) -> Sides:
    """The lines of a match."""
    old = None if match.before is None else before.lines[match.before]
    new = None if match.after is None else after.lines[match.after]
    return Sides(match, old, new, before, after)


def openings_of(count: int, mark: str = "") -> str:
    """ "4 openings of W2"."""
    return f"{counted(count, 'opening')} of {mark}" if mark else counted(count, "opening")


def size(line: Line, schedule: Schedule, reader: Reader) -> str:
    """The size of a line's openings."""
    if line.kind is None:
        return "size unknown"
    return value_text("shape", schedule.kinds[line.kind].shape, reader)


def kind_differences(sides: Sides) -> list[Difference]:
    """What differs between the kinds of both lines, the size first; a kind that is unknown differs as a whole."""
    assert sides.old is not None and sides.new is not None
    a, b = sides.old.kind, sides.new.kind
    kinds = None if a is None else sides.before.kinds[a], None if b is None else sides.after.kinds[b]
    if None in kinds:
        shapes = [None if kind is None else kind.shape for kind in kinds]
        return list(differences(shapes[0], shapes[1], ("shape",), "shape"))
    return sorted(differences(*kinds), key=lambda found: found.attribute != "shape")


def facts(sides: Sides, reader: Reader) -> Iterator[Fact]:
    """Everything that changed about a line that stands in both schedules."""
    old, new = sides.old, sides.new
    assert old is not None and new is not None
    if old.mark_key != new.mark_key:
        yield Fact("renumbered", f"was {old.mark}")
    if old.quantity != new.quantity:
        yield Fact("quantity", f"{openings_of(old.quantity)} became {new.quantity:,}")
    for found in kind_differences(sides):
        is_size = found.attribute == "shape"
        yield Fact("size" if is_size else "factors", phrase(found, "size" if is_size else name_of(found.path), reader))
    yield from line_facts(old, new, reader)


def line_facts(old: Line, new: Line, reader: Reader) -> Iterator[Fact]:
    """What changed beside count, mark and kind: place, alternate, what is set aside, where it was read."""
    if old.place != new.place:
        yield Fact("place", f"moved from {place(old) or 'no place'} to {place(new) or 'no place'}")
    if (old.alternate, old.offer) != (new.alternate, new.offer):
        yield Fact("alternate", f"moved from {standing(old)} to {standing(new)}")
    if old.reason != new.reason:
        before = f"; before: {old.reason}" if old.reason else ""
        now = f"set aside ({new.reason}{before})" if new.reason else f"priced again (set aside before: {old.reason})"
        yield Fact("excluded", now)
    for name in Line._fields:
        if name not in OWN_WORDS:
            for found in differences(getattr(old, name), getattr(new, name), (name,), name):
                yield Fact(name, phrase(found, name_of(found.path), reader))


def standing(line: Line) -> str:
    """Whether a line stands in the base bid, and which alternate it belongs to."""
    if line.offer is None:
        return f"alternate {line.alternate}" if line.alternate is not None else BASE_BID
    if line.alternate is None:
        return f"{BASE_BID} (out with alternate {line.offer.name})"
    return f"alternate {line.offer.name} (in place of {', '.join(line.offer.replaces)})"


def place(line: Line) -> str:
    """Where a line's openings are."""
    named = (line.storey, line.elevation, line.building, line.phase and f"phase {line.phase}")
    return ", ".join(part for part in named if part)


def where(line: Line) -> str:
    """The storey and elevation behind a mark."""
    found = ", ".join(part for part in (line.storey, line.elevation) if part)
    return f" ({found})" if found else ""


def line_sentence(sides: Sides, reader: Reader) -> str:
    """The change of one line in one sentence."""
    line = sides.line
    known = f"{line.mark}{where(line)}"
    if sides.old is None:
        return f"{known} was added: {openings_of(line.quantity)}, {size(line, sides.after, reader)}."
    if sides.new is None:
        return f"{known} was removed: {openings_of(line.quantity)}, {size(line, sides.before, reader)}."
    found = list(facts(sides, reader))
    if [fact.kind for fact in found] == ["quantity"]:
        return f"{openings_of(sides.old.quantity, known)} became {sides.new.quantity:,}."
    if not found:
        return f"{known} is as it was."
    return f"{known}: {'; '.join(fact.words for fact in found)}."
