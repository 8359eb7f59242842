"""Edits put into the lines of a file: as they are where a line is unchanged, asked about where it changed.

kept edits > the line of the same identity, or one at the same place > put in, asked, or told to be without a line
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from estimating.intake.asking import BLOCKS_COSTING, Asker
from estimating.intake.draft import Draft
from estimating.intake.edits import (
    ADD,
    APPLIED,
    SET_ASIDE,
    WAITING,
    WITHOUT_LINE,
    Edit,
    Lines,
    NewEdit,
    add_line,
    added_draft,
    apply_new,
    print_of,
    put_in,
)
from estimating.intake.line_identity import PARTS, identity_of
from estimating.intake.questions import Asked
from rates.core.problems import Refused
from rates.core.texts import counted

KEEP, TAKE = "keep_edit", "take_file"
Place = Callable[[int, str | None], str]


@dataclass(frozen=True)
class Editing:
    """The edits of a reading: kept ones, new ones, who gives the new ones and when, the digest of the file."""

    kept: Sequence[Edit] = ()
    new: Sequence[NewEdit] = ()
    by: str = ""
    at: str = ""
    file: str = ""


class LineEditor:
    """Puts edits into the lines of one reading."""

    def __init__(self, drafts: list[Draft], place: Place, asker: Asker, file: str) -> None:
        self.drafts, self.place, self.asker, self.file = drafts, place, asker, file
        self.lines = Lines(drafts)
        self.prints: dict[int, str] = {}

    def edit(self, editing: Editing, unit: str) -> list[Edit]:
        """All edits as they are to be kept; Refused where a new one can't be read. Bare numbers are in `unit`."""
        added = self.add_again([edit for edit in editing.kept if edit.kind == ADD])
        others = [edit for edit in editing.kept if edit.kind != ADD]
        found = {edit.id: index for edit in others if (index := self.line_of(edit)) is not None}
        self.note_prints(found.values())
        answers = self.ask_changed(others, found)
        kept = [self.carry(edit, found.get(edit.id), answers) for edit in others]
        self.tell_lost([edit for edit in kept if edit is not None and edit.state == WITHOUT_LINE])
        self.note_prints(new.line for new in editing.new if new.line is not None and new.line < len(self.drafts))
        who = (editing.by, editing.at, editing.file, unit)
        made, problems = apply_new(editing.new, self.drafts, self.lines, self.prints, who)
        if problems:
            raise Refused(problems)
        return [*added, *(edit for edit in kept if edit is not None), *made]

    def note_prints(self, indexes: Iterable[int]) -> None:
        """Keeps what the file says of lines, before an edit is put in."""
        for index in indexes:
            self.prints.setdefault(index, print_of(self.drafts[index]))

    def line_of(self, edit: Edit) -> int | None:
        """The index of an edit's line: of the same identity, else at the same place."""
        found = self.lines.find(edit)
        return self.lines.near(edit) if found is None else found

    def unchanged(self, edit: Edit, index: int) -> bool:
        """Whether the file says of the line what it said when the edit was put in, or is the very file."""
        same = identity_of(self.drafts[index]) == edit.identity
        return same and ((edit.file == self.file and edit.state == APPLIED) or edit.print == self.prints[index])

    def add_again(self, edits: Sequence[Edit]) -> list[Edit]:
        """Lines that were added, added again; where the file has such a line now, only as an answer says."""
        drafts = {edit.id: added_draft(edit) for edit in edits}
        doubtful: dict[int, list[Edit]] = {}
        for edit in edits:
            if edit.file != self.file and self.lines.beside(drafts[edit.id]) > edit.nth:
                doubtful.setdefault(self.lines.first_beside(drafts[edit.id]), []).append(edit)
        answers = self.ask_edits(
            "added_line_in_file", "Lines that were added stand in this file now", doubtful, ("keep_both", TAKE)
        )
        kept = []
        for edit in edits:
            doubted = next((index for index, found in doubtful.items() if edit in found), None)
            answer = answers.get(doubted, "") if doubted is not None else "keep_both"
            if answer == TAKE:
                continue
            if not answer:
                kept.append(replace(edit, state=WAITING, line=-1))
                continue
            kept.append(add_line(replace(edit, state=APPLIED, file=self.file), self.drafts, self.lines))
        return kept

    def ask_changed(self, edits: Sequence[Edit], found: Mapping[str, int]) -> dict[int, str]:
        """Line -> answer, where a line changed since it was edited."""
        doubtful: dict[int, list[Edit]] = {}
        for edit in edits:
            if edit.id in found and not self.unchanged(edit, found[edit.id]):
                doubtful.setdefault(found[edit.id], []).append(edit)
        return self.ask_edits("edit_of_changed_line", "Edited lines changed in this file", doubtful, (KEEP, TAKE))

    def ask_edits(
        self, code: str, start: str, doubtful: Mapping[int, Sequence[Edit]], choices: Sequence[str]
    ) -> dict[int, str]:
        """Line -> answer of the one question about these edits."""
        asked = []
        for index, edits in doubtful.items():
            draft = self.drafts[index]
            about = PARTS.join((*(edit.id for edit in edits), identity_of(draft), print_of(draft)))
            asked.append(Asked(index, about, self.place(index, None), draft.values))

        def sentence(lines: Sequence[Asked]) -> str:
            return f"{start}: {told([e for line in lines for e in doubtful[line.index]])}. Keep the edit, or the file?"

        return self.asker.ask_lines(code, BLOCKS_COSTING, asked, sentence, choices=choices)

    def carry(self, edit: Edit, index: int | None, answers: Mapping[int, str]) -> Edit | None:
        """An edit put in, waiting, or without a line; None where an answer takes the file's line instead."""
        if index is None:
            return replace(edit, state=WITHOUT_LINE, line=-1)
        answer = answers.get(index)
        if answer is None and not self.unchanged(edit, index):
            return replace(edit, state=WAITING, line=index)
        if answer == TAKE and not self.unchanged(edit, index):
            return None
        identity, nth = self.lines.target(index)
        before = put_in(self.drafts[index], edit)
        now, stated = replace(edit, state=APPLIED, file=self.file, line=index, before=before), self.prints[index]
        return replace(now, identity=identity, nth=nth, print=stated)

    def tell_lost(self, edits: Sequence[Edit]) -> None:
        """Says which edits have no line in this file."""
        if edits:
            sentence = f"{counted(len(edits), 'edit')} of lines that this file has no more: {told(edits)}. Not put in."
            self.asker.tell("edit_without_line", sentence, about=sorted(edit.id for edit in edits))


def told(edits: Sequence[Edit], most: int = 6) -> str:
    """Edits as a sentence names them: the line, and what is done to it."""
    texts = [f"{name_of(edit)} {said(edit)}" for edit in edits]
    more = f" and {len(texts) - most:,} more" if len(texts) > most else ""
    return "; ".join(texts[:most]) + more


def name_of(edit: Edit) -> str:
    """An edit's line as a sentence names it."""
    if edit.kind == ADD:
        return str(edit.values.get("mark", ""))[:40]
    if edit.identity.startswith(f"added{PARTS}"):
        return "an added line"
    mark, *places = edit.identity.split(PARTS)[:3]
    where = ", ".join(place for place in places if place)
    return f"{mark} ({where})" if where else mark


def said(edit: Edit) -> str:
    """What an edit does."""
    if edit.kind == ADD:
        return "added"
    if edit.kind == SET_ASIDE:
        return f"set aside ({edit.reason[:60]})"
    return ", ".join(f"{name} {str(value)[:40]}" for name, value in edit.values.items())
