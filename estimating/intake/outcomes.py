"""What answers and edits did to the questions of a revision: which they settled, and which are newly asked."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from estimating.intake.questions import TO_KNOW

Entries = Sequence[Mapping[str, Any]]
Tell = Callable[[Mapping[str, Any]], str]
COUNTED = "more_questions"  # says how many are left out, and is none itself
MOST_STEPS = 8  # readings to tell which answer a new question comes from
MOST_LINES = 100_000  # read again for that in all


@dataclass(frozen=True)
class Settled:
    """A question that was open: of how many lines it is settled, of how many not; one where it is about no lines."""

    question: str
    code: str
    sentence: str
    settled: int
    left: int


@dataclass(frozen=True)
class NewlyAsked:
    """A question that was not asked before, or asks about more lines. because: what it comes from, as told."""

    question: str
    code: str
    severity: str
    sentence: str
    lines: int
    because: tuple[str, ...]


def open_keys(entries: Entries) -> dict[str, str]:
    """Key of what is open -> the id of its question."""
    return {
        key: entry["id"]
        for entry in entries
        if entry["answer"] is None and entry["severity"] != TO_KNOW and entry["code"] != COUNTED
        for key in entry.get("keys") or (entry["id"],)
    }


def settled(before: Entries, after: Entries, tell: Tell) -> tuple[Settled, ...]:
    """The questions that were open and are so no more, at least for some lines; tell: how one is worded."""
    was, now = open_keys(before), open_keys(after)
    found = []
    for entry in before:
        keys = [key for key in entry.get("keys") or (entry["id"],) if was.get(key) == entry["id"]]
        gone = [key for key in keys if key not in now]
        if gone:
            found.append(Settled(entry["id"], entry["code"], tell(entry), len(gone), len(keys) - len(gone)))
    return tuple(found)


def newly_asked(
    before: Entries, after: Entries, because: Mapping[str, tuple[str, ...]], tell: Tell
) -> tuple[NewlyAsked, ...]:
    """The questions that are newly open; because: key -> what it comes from; tell: how a question is worded."""
    was, now = open_keys(before), open_keys(after)
    found = []
    for entry in after:
        keys = [key for key in entry.get("keys") or (entry["id"],) if now.get(key) == entry["id"] and key not in was]
        if keys:
            sources = tuple(dict.fromkeys(source for key in keys for source in because.get(key, ())))
            told = (entry["id"], entry["code"], entry["severity"], tell(entry), len(keys))
            found.append(NewlyAsked(*told, sources))
    return tuple(found)


def causes(
    before: Entries, after: Entries, sources: Sequence[str], lines: int, read_with: Callable[[int], Entries | None]
) -> dict[str, tuple[str, ...]]:
    """Newly open key -> the source that it comes from: the first with which, after those before it, it is asked.

    read_with gives the questions under the first so many sources, None where that can't be read. Where that would take
    too many readings, all sources are named.
    """
    new = set(open_keys(after)) - set(open_keys(before))
    if len(sources) < 2 or len(sources) > MOST_STEPS or lines * len(sources) > MOST_LINES or not new:
        return dict.fromkeys(new, tuple(sources))
    found: dict[str, tuple[str, ...]] = {}
    for count in range(1, len(sources)):
        entries = read_with(count)
        asked = open_keys(entries) if entries is not None else {}
        found |= {key: (sources[count - 1],) for key in asked if key in new and key not in found}
    return found | {key: (sources[-1],) for key in new if key not in found}
