"""Edits: a person's changes of single lines, put in after the file is read, which itself stays as it was received.

An edit belongs to its line's identity. In the next file it is put in again where the line is unchanged, and asked about
where it changed; that question is in edit_questions.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from estimating.core.schedule_reading import Reading, read_lines
from estimating.intake.draft import Draft
from estimating.intake.line_identity import PARTS, digest, identity_of, place_of_draft
from rates.core.problems import Problem

CHANGE, SET_ASIDE, ADD = "change", "set_aside", "add"
KINDS = (CHANGE, SET_ASIDE, ADD)
APPLIED, WAITING, WITHOUT_LINE = "applied", "waiting", "without_line"
NO_TABLE = -1  # of a line that no file holds
Values = dict[str, Any]


@dataclass(frozen=True)
class Edit:
    """One edit as it is kept with a revision.

    kind: change (fields get `values`, None takes one away), set_aside (for `reason`) or add (a line of `values`).
    identity, nth: the line, and which of the lines of this identity; print: what the file says of it; file: digest of
    the file that it was last put into; before: the values that it replaced; state: applied, waiting for an answer, or
    without_line where the newest file has no such line. line: its index in this revision, -1 for none.
    """

    id: str
    kind: str
    values: Values
    reason: str
    by: str
    at: str
    identity: str = ""
    nth: int = 0
    print: str = ""
    file: str = ""
    before: Values = field(default_factory=dict)
    state: str = APPLIED
    line: int = -1


@dataclass(frozen=True)
class NewEdit:
    """An edit as it is sent: for a line of the revision, None for an added one; pointer: its place in the request."""

    kind: str
    values: Values
    reason: str
    line: int | None
    pointer: str


class Lines:
    """The lines of one reading by their identities, as they were before any edit."""

    def __init__(self, drafts: Sequence[Draft]) -> None:
        self.drafts = drafts
        self.by_identity: dict[str, list[int]] = {}
        self.by_place: dict[tuple[str, str, str], list[int]] = {}
        for index, draft in enumerate(drafts):
            self.note(index, draft)

    def note(self, index: int, draft: Draft) -> None:
        """Takes in a line."""
        self.by_identity.setdefault(identity_of(draft), []).append(index)
        self.by_place.setdefault(place_of_draft(draft), []).append(index)

    def find(self, edit: Edit) -> int | None:
        """The line of an edit, by its identity."""
        found = self.by_identity.get(edit.identity, ())
        return found[edit.nth] if edit.nth < len(found) else None

    def near(self, edit: Edit) -> int | None:
        """The line that stands where the line of an edit stood: the same mark, storey and elevation, another size."""
        mark, storey, elevation, *_ = [*edit.identity.split(PARTS), "", "", ""]
        found = self.by_place.get((mark, storey, elevation), ())
        return found[edit.nth] if edit.nth < len(found) else found[-1] if found else None

    def beside(self, draft: Draft) -> int:
        """How many lines of the file stand where a line stands, with the same mark."""
        return sum(1 for index in self.by_place.get(place_of_draft(draft), ()) if self.drafts[index].table != NO_TABLE)

    def first_beside(self, draft: Draft) -> int:
        """The first of them."""
        return next(i for i in self.by_place[place_of_draft(draft)] if self.drafts[i].table != NO_TABLE)

    def target(self, index: int) -> tuple[str, int]:
        """The identity of a line, and which of the lines of this identity it is."""
        identity = identity_of(self.drafts[index])
        return identity, self.by_identity[identity].index(index)


def print_of(draft: Draft) -> str:
    """A digest of what the file says of a line, as it is written."""
    said = {name: draft.written.get(name, value) for name, value in draft.values.items()}
    return digest([f"{name}={said[name]!r}" for name in sorted(said)])


def put_in(draft: Draft, edit: Edit) -> Values:
    """Puts an edit into a line; the values that it replaces, None for a field that was not there."""
    if edit.kind == SET_ASIDE:
        before = {"excluded": draft.values.get("excluded")}
        draft.values["excluded"] = {"reason": edit.reason}
        draft.edited.add("excluded")
        return before
    before = {name: draft.values.get(name) for name in edit.values}
    for name, value in edit.values.items():
        draft.edited.add(name)
        if value is None:
            draft.values.pop(name, None)
            continue
        if name in draft.values:
            draft.written.setdefault(name, str(draft.values[name]))
        draft.values[name] = str(value) if name == "mark" else value
    return before


def added_draft(edit: Edit) -> Draft:
    """The line that an edit adds."""
    draft = Draft(
        dict(edit.values), NO_TABLE, 0, places={"line": f"added by {edit.id}"}, identity=f"added{PARTS}{edit.id}"
    )
    draft.edited.update(edit.values)
    return draft


def make_edit(new: NewEdit, by: str, at: str, place: int) -> Edit:
    """The edit of a request, not yet put in."""
    id = f"edit-{digest([by, at, str(place), new.kind, str(new.line), repr(new.values)])[:12]}"
    return Edit(id, new.kind, new.values, new.reason, by, at)


def faults_of(values: Values, unit: str) -> list[Problem]:
    """What the core can't read of a line, with pointers in the line."""
    reading = Reading(unit or None, False)
    read_lines(reading, [values], "")
    return [replace(fault, pointer=fault.pointer.removeprefix("/0")) for fault in reading.faults]


def apply_new(
    news: Sequence[NewEdit],
    drafts: list[Draft],
    lines: Lines,
    prints: Mapping[int, str],
    who: tuple[str, str, str, str],
) -> tuple[list[Edit], list[Problem]]:
    """Edits of a request put in, or what is wrong with them; who: member, time, the file's digest, unit of numbers."""
    by, at, file, unit = who
    made: list[Edit] = []
    problems: list[Problem] = []
    for place, new in enumerate(news):
        edit = replace(make_edit(new, by, at, place), file=file)
        if new.line is None:
            found = faults_of(new.values, unit)
            problems += [fault.within(f"{new.pointer}/add") for fault in found]
            made += [] if found else [add_line(edit, drafts, lines)]
        elif new.line >= len(drafts):
            detail = f"this revision has no line {new.line}; its lines are numbered from 0 and it has {len(drafts)}"
            problems.append(Problem(f"{new.pointer}/line", "not_found", detail))
        else:
            identity, nth = lines.target(new.line)
            found, before = change_line(edit, drafts[new.line], unit)
            problems += [fault.within(f"{new.pointer}/change") for fault in found]
            stated = prints.get(new.line, "")
            made.append(replace(edit, identity=identity, nth=nth, print=stated, before=before, line=new.line))
    return made, problems


def add_line(edit: Edit, drafts: list[Draft], lines: Lines) -> Edit:
    """A line added after all others; the edit with its place."""
    draft = added_draft(edit)
    beside = lines.beside(draft)
    drafts.append(draft)
    lines.note(len(drafts) - 1, draft)
    return replace(edit, identity=identity_of(draft), nth=beside, line=len(drafts) - 1)


def change_line(edit: Edit, draft: Draft, unit: str) -> tuple[list[Problem], Values]:
    """An edit put into a line: what of it can't be read, and the values that it replaced."""
    old = {(fault.pointer, fault.code) for fault in faults_of(draft.values, unit)}
    before = put_in(draft, edit)
    faults = faults_of(draft.values, unit)
    return [f for f in faults if (f.pointer, f.code) not in old or named(f) in edit.values], before


def named(fault: Problem) -> str:
    """The field that a fault is in."""
    return fault.pointer.split("/")[1] if "/" in fault.pointer else ""


def edit_entry(edit: Edit) -> Values:
    """An edit as it is stored."""
    return {name: getattr(edit, name) for name in edit.__dataclass_fields__}


def edit_of(entry: Mapping[str, Any]) -> Edit:
    """A stored edit."""
    return Edit(**entry)
