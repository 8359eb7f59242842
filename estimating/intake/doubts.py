"""What a person must say of single lines: doubts are noted while rows are read, then asked together by their cause.

row > Doubt (code, line, cell, what is written) > one question for each cause > the answer put into each line
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from estimating.intake.asking import BLOCKS_COSTING, Asker
from estimating.intake.draft import Draft
from estimating.intake.line_answers import OPEN, SET_ASIDE, put_fields, read_answer, why_not
from estimating.intake.line_identity import identity_of
from estimating.intake.questions import Asked
from estimating.intake.times_rows import Times
from rates.core.texts import counted, quoted

SCOPE = "scope_words"
VALUES = frozenset({
    "quantity_unknown", "quantity_unreadable", "size_unknown", "size_unreadable", "size_basis_of_line", "kind_beside",
    "kind_unknown", "shape_words", "size_in_words", "access_unknown", "substrate_unknown", "sill_unknown",
    "method_unknown",
})  # fmt: skip
MOST_NAMED = 6  # lines that a sentence names
Put = Callable[[Draft, str, "Doubt"], str]  # puts an answer in; why it can't be taken, blank where it can


@dataclass(slots=True)
class Doubt:
    """One thing that one line leaves open. about: what lines of one cause share; written: the words in doubt.

    more: other words of the line that ask the same.
    options: choice -> the fields of the line that it sets, in the order in which they are offered; parts: what the cell
    names one by one; other: the line that a change belongs to; times: what multiplies the counts of its table.
    """

    code: str
    draft: Draft
    cell: str
    written: str
    about: tuple[str, ...] = ()
    options: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    detail: str = ""
    field: str = ""
    parts: tuple[str, ...] = ()
    other: Draft | None = None
    times: Times | None = None
    more: tuple[str, ...] = ()

    @property
    def choices(self) -> tuple[str, ...]:
        """What can be chosen."""
        return tuple(self.options)


@dataclass(frozen=True, slots=True)
class Cause:
    """How doubts of one code are asked: how much they block, the question, the choices, what else can be answered."""

    ask: str
    severity: str = BLOCKS_COSTING
    choices: tuple[str, ...] = ()
    open_answer: str = OPEN
    put: Put | None = None
    tell: Callable[[Sequence[Doubt]], str] | None = None  # the whole question, where lines are not to be named in it


@dataclass
class Doubts:
    """Collects doubts in the order in which they are found."""

    found: list[Doubt] = field(default_factory=list)

    def note(self, doubt: Doubt) -> None:
        """One more."""
        self.found.append(doubt)


def settle_doubts(doubts: Sequence[Doubt], drafts: Sequence[Draft], causes: Mapping[str, Cause], asker: Asker) -> None:
    """Asks about the doubts cause by cause and puts in what was answered."""
    index = {id(draft): place for place, draft in enumerate(drafts)}
    groups: dict[tuple[str, ...], list[Doubt]] = {}
    out: set[int] = set()  # lines that an answer sets aside: what they lack is not asked
    fields: dict[tuple[str | int, ...], str] = {}  # what the first doubt of a question is about, by line
    for doubt in doubts:
        for draft in [doubt.draft] if id(doubt.draft) in index else doubt.draft.places_of:
            if id(draft) in index:
                own = doubt if draft is doubt.draft else replace(doubt, draft=draft)
                asked = (doubt.code, *doubt.about)
                if fields.setdefault((*asked, index[id(draft)]), doubt.field) != doubt.field:
                    asked = (*asked, doubt.field)  # the same doubt about another field of the line
                groups.setdefault(asked, []).append(own)
    for (code, *about), group in sorted(groups.items(), key=lambda pair: pair[0][0] != SCOPE):
        left = [doubt for doubt in group if not (code in VALUES and id(doubt.draft) in out)]
        before = {id(doubt.draft) for doubt in group if "excluded" in doubt.draft.values}
        if left:
            ask_group(code, about, left, index, causes[code], asker)
        if code == SCOPE:
            out |= {id(doubt.draft) for doubt in group if "excluded" in doubt.draft.values} - before


def gathered(group: Sequence[Doubt], index: Mapping[int, int]) -> dict[int, Doubt]:
    """One doubt for each line, all its words in it: what is answered about the first would pass over the others."""
    found: dict[int, Doubt] = {}
    for doubt in group:
        line = index[id(doubt.draft)]
        first = found.setdefault(line, doubt)
        if doubt.written not in (first.written, *first.more):
            found[line] = with_words(first, (*first.more, doubt.written))
    return found


def with_words(doubt: Doubt, more: tuple[str, ...]) -> Doubt:
    """The doubt with more words of its line: set aside for its words, a line is so for all of them."""
    found = replace(doubt, more=more)
    reason = doubt.options.get(SET_ASIDE, {}).get("excluded", {}).get("reason")
    if reason != reason_of(doubt):
        return found
    return replace(found, options={**doubt.options, SET_ASIDE: {"excluded": {"reason": reason_of(found)}}})


def reason_of(doubt: Doubt) -> str:
    """The words of a doubt as the reason that sets its line aside."""
    return "; ".join(" ".join(words.split()) for words in (doubt.written, *doubt.more))[:300]


def ask_group(
    code: str, about: Sequence[str], group: Sequence[Doubt], index: Mapping[int, int], cause: Cause, asker: Asker
) -> None:
    """One question about the lines of a cause."""
    by_line = gathered(group, index)
    lines = [
        Asked(place, "\x1f".join((identity_of(d.draft), d.field, d.written, *d.more)), d.cell, d.draft.values)
        for place, d in by_line.items()
    ]
    several = [by_line[line.index].choices for line in lines]
    own = tuple(choice for choice in several[0] if all(choice in choices for choices in several))
    put = cause.put or put_any

    def check(answer: str, line: Asked) -> str:
        doubt = by_line[line.index]
        return put(copy_of(doubt.draft), answer, tried(doubt)).replace(OPEN, cause.open_answer)

    answers = asker.ask_lines(
        code, cause.severity, lines, lambda told: worded(cause, [by_line[line.index] for line in told], own),
        choices=(*own, *(c for c in cause.choices if c not in own)), open_answer=cause.open_answer,
        about=about, check=check,
    )  # fmt: skip
    for place, doubt in by_line.items():
        doubt.draft.asked.add(doubt.field or code)
        if place in answers:
            put(doubt.draft, answers[place], doubt)


def copy_of(draft: Draft) -> Draft:
    """A line to try an answer on."""
    return Draft(dict(draft.values), draft.table, draft.row, dict(draft.written))


def tried(doubt: Doubt) -> Doubt:
    """The doubt with lines that an answer can be tried on."""
    return replace(doubt, other=copy_of(doubt.other)) if doubt.other is not None else doubt


def worded(cause: Cause, doubts: Sequence[Doubt], shared: Sequence[str]) -> str:
    """The question of a cause about some lines."""
    return cause.tell(doubts) if cause.tell else sentence(cause.ask, doubts, shared)


def sentence(ask: str, doubts: Sequence[Doubt], shared: Sequence[str]) -> str:
    """The lines with what is written of each and what it alone could be, then what is asked."""
    alike: dict[tuple[str, tuple[str, ...], str], list[Doubt]] = {}  # a note that names several lines is quoted once
    for doubt in doubts:
        alike.setdefault((doubt.cell, (doubt.written, *doubt.more), tail(doubt, shared)), []).append(doubt)
    named, left = [], 0
    for place, ((_, said, end), some) in enumerate(alike.items()):
        marks = list(dict.fromkeys(mark_of(doubt) for doubt in some))[: MOST_NAMED if place < MOST_NAMED else 0]
        told = [doubt for doubt in some if mark_of(doubt) in marks]
        left += sum(doubt.draft.lines for doubt in some) - sum(doubt.draft.lines for doubt in told)
        if told:
            named.append(f"{name_of(told)} {' and '.join(quoted(words[:60]) for words in said)}{end}")
    more = f" and {counted(left, 'more line')}" if left else ""
    return f"{'; '.join(named)}{more}. {ask}"


def tail(doubt: Doubt, shared: Sequence[str]) -> str:
    """What is wrong with one line's words, and what they alone could be."""
    own = " or ".join(choice for choice in doubt.choices if choice not in shared)
    said = ": ".join(part for part in (doubt.detail, own) if part)
    return f" ({said})" if said else ""


def name_of(doubts: Sequence[Doubt]) -> str:
    """The lines that one cell makes doubtful, as a person finds them."""
    marks = dict.fromkeys(map(mark_of, doubts))
    named = ", ".join(mark for mark in marks if mark)
    return f"{named} ({doubts[0].cell})" if named else doubts[0].cell


def mark_of(doubt: Doubt) -> str:
    """The mark of a doubt's line."""
    return str(doubt.draft.values.get("mark", ""))


def put_any(draft: Draft, answer: str, doubt: Doubt) -> str:
    """Leaves the line, sets it aside, makes it an alternate, or sets its fields."""
    fields = dict(doubt.options[answer]) if answer in doubt.options else read_answer(answer, doubt.written)
    if isinstance(fields, str):
        return fields
    why = why_not(draft.values, fields)
    if not why:
        put_fields(draft, fields)
    return why
