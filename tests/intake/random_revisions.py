"""Schedules that change from revision to revision, answered and edited on the way, and what each line must then say.

The model knows lines by their rows alone: what stood at which mark and place with which cells, and what was said of it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from random import Random
from typing import Any

from estimating.intake.answer_rules import Rule
from estimating.intake.edit_questions import Editing
from estimating.intake.edits import NewEdit
from estimating.intake.questions import Question
from estimating.intake.reading import Intake, Options, read_file
from estimating.intake.report import edits_of, kept_of, make_report, rules_of
from rates.documents import pack, unpack

HEAD = ("MARK", "QTY", "WIDTH", "HEIGHT", "LEVEL", "ELEVATION", "KIND", "ACCESS")
ACCESS = ("ground", "lift", "swing_stage")
SIDES = {"jambs_and_head": ["jambs", "head"], "all_sides": ["sill", "jambs", "head"]}
Row = tuple[str, ...]
Place = tuple[str, str, str]


def place_of(row: Row) -> Place:
    """Mark, level and elevation of a row."""
    return row[0], row[4], row[5]


def identity(row: Row) -> tuple[str, ...]:
    """What an answer belongs to: mark, place and size."""
    return (*place_of(row), row[2], row[3])


@dataclass
class Told:
    """An edit as the model knows it: its values, and the row that it was last put into."""

    values: dict[str, Any]
    row: Row


@dataclass
class Office:
    """One schedule through its revisions: the rows, the last report, and what was said."""

    chance: Random
    rows: list[Row] = field(default_factory=list)
    report: dict[str, Any] = field(default_factory=dict)
    answers: dict[tuple[str, tuple[str, ...]], str] = field(default_factory=dict)  # (code, identity) -> answer
    edits: dict[Place, Told] = field(default_factory=dict)
    rules: list[Rule] = field(default_factory=list)
    reading: int = 0

    def read(self, answers: dict[str, str], rules: tuple[Rule, ...] = (), edits: tuple[NewEdit, ...] = ()) -> Intake:
        """The rows read with what is kept and said; the report is then that of the new revision, as it is stored."""
        data = "\n".join(",".join(row) for row in (HEAD, *self.rows)).encode()
        kept = {} if not self.report else kept_of(self.report)
        file = str(hash(tuple(self.rows)))
        self.reading += 1
        editing = Editing(edits_of(self.report), edits, "member", f"reading {self.reading}", file)
        options = Options(answers, rules, kept, rules_of(self.report), editing)
        intake = read_file(data, options)
        assert intake.refused_answers == ()
        self.report = unpack(pack(make_report(intake, [], [*rules_of(self.report), *rules])))
        return intake

    def new_row(self) -> Row:
        """A row whose mark and place no other has; its access is mostly blank."""
        pick = self.chance.choice
        taken = {place_of(row) for row in self.rows}
        while True:
            number = self.chance.randrange(60)
            kind = "door" if number % 4 == 0 else "window"
            size = ("40 in", "86 in") if kind == "door" else (f"{24 + number} in", "60 in")
            place = (f"M{number}", pick(("L1", "L2", "L3")), pick(("North", "South")))
            if place not in taken:
                access = pick(("", "", "", "ground"))
                return (place[0], str(self.chance.randrange(1, 9)), *size, *place[1:], kind, access)

    def change(self) -> str:
        """One change of the file, by name."""
        rows, pick = self.rows, self.chance.choice
        kind = pick(("add", "remove", "count", "level", "size", "access", "order", "again"))
        at = self.chance.randrange(len(rows))
        row = rows[at]
        others = {place_of(other) for other in rows} - {place_of(row)}
        if kind == "add":
            rows.insert(at, self.new_row())
        elif kind == "remove" and len(rows) > 3:
            del rows[at]
        elif kind == "count":
            rows[at] = (row[0], str(int(row[1]) + 1), *row[2:])
        elif kind == "level":
            level = pick(("L1", "L2", "L3"))
            rows[at] = row if (row[0], level, row[5]) in others else (*row[:4], level, *row[5:])
        elif kind == "size":  # of the mark, wherever it stands: one mark has one size
            wider = f"{int(row[2].split()[0]) + 1} in"
            self.rows = [(*r[:2], wider, *r[3:]) if r[0] == row[0] else r for r in rows]
        elif kind == "access":
            rows[at] = (*row[:7], "" if row[7] else "ground")
        elif kind == "order":
            self.chance.shuffle(rows)
        return kind

    def say(self) -> None:
        """Answers all that is open, by group, by line or by rule, and edits a line now and then."""
        intake = self.read({}, (), tuple(self.some_edits()))
        given: dict[str, str] = {}
        rules: list[Rule] = []
        for question in intake.questions:
            if question.open and question.code in ("access_missing", "door_sides"):
                self.answer(question, given, rules)
        self.read(given, tuple(rules))
        self.rules += rules

    def answer(self, question: Question, given: dict[str, str], rules: list[Rule]) -> None:
        """One group answered in one of three ways, noted line by line."""
        pick = self.chance.choice
        choices = tuple(SIDES) if question.code == "door_sides" else ACCESS
        way = pick(("group", "lines", "rule"))
        told = {index: pick(choices) for index in question.lines} if way == "lines" else {}
        whole = pick(choices)
        if way == "rule" and question.code == "access_missing" and not rules:
            sides = {side: pick(ACCESS) for side in ("North", "South")}
            rules += [Rule("access_missing", access, elevation=side.lower()) for side, access in sides.items()]
            told = {index: sides[self.rows[index][5]] for index in question.lines}
        elif way == "lines":
            given |= {key: told[index] for key, index in zip(question.keys, question.lines, strict=True)}
        else:
            given[question.id] = whole
        for index in question.lines:
            self.answers[question.code, identity(self.rows[index])] = told.get(index, whole)

    def some_edits(self) -> list[NewEdit]:
        """Up to one new edit of a line that has none."""
        index = self.chance.randrange(len(self.rows))
        row = self.rows[index]
        if self.chance.random() < 0.5 or place_of(row) in self.edits:
            return []
        values: dict[str, Any] = self.chance.choice(
            ({"quantity": 100}, {"note": "seen"}, {"width": row[2], "sill": None})
        )
        self.edits[place_of(row)] = Told(dict(values), row)
        return [NewEdit("change", dict(values), "seen at the site", index, "/edits/0")]
