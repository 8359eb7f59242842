"""Words that stand outside of the lines: titles, sheet names, sections, notes, legends, comments, page headers.

over lines (a section, a title that says nothing else)  > doubts of those lines
a note that names marks, a sign or a comment on a line  > doubts of the lines that it names
any other words of scope, shape or count                > one question for the file before its price is issued
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from estimating.core.schedule_lines import mark_key
from estimating.intake.asking import BLOCKS_COSTING, BLOCKS_ISSUE, Asker
from estimating.intake.doubts import Doubt, Doubts, put_any
from estimating.intake.draft import Draft
from estimating.intake.kind_words import is_kind_alone
from estimating.intake.line_answers import AS_DRAWN
from estimating.intake.marks import SIGNS
from estimating.intake.multipliers import one_of_type, times_of
from estimating.intake.named_lines import lines_named, lines_told, marked
from estimating.intake.note_words import changes_lines, is_multiplier, multiplies, says_something, states_total
from estimating.intake.place_headings import place_of_heading, unexplained
from estimating.intake.places_words import read_places
from estimating.intake.row_shapes import settle_words
from estimating.intake.row_words import Hearing
from estimating.intake.scope_words import ASKED, read_words
from estimating.intake.size_remarks import size_in_note, value_in_note
from estimating.intake.word_doubts import doubt_about

MOST_SAID = 12  # notes that the question of a file lists
MULTIPLY, AS_LISTED, NO_LINE = "multiply", "as_listed", "no_line"
_IN_BRACKETS = re.compile(r"\(\s*\d{1,3}\s*\)\s*$")
_FIRST_PHASE = re.compile(r"phase\s*(?:1|i|one|a)", re.IGNORECASE)
_SIGNED = re.compile(r"^\s*(?:([^\w\s\"'(\[#>-]|[¹²³⁴⁵⁶⁷⁸⁹]+)\s*|\(?([0-9]{1,2})[.)]\s+)(\w.*)$")
_MEANS = re.compile(r"^\s*(\S{1,12})\s*(?:=|–|\s-\s|:)\s*(\S.*)$")
_LEGEND = re.compile(rf"^\s*([{re.escape(SIGNS)}]+|\([A-Z]\))\s*[=:.)–-]?\s*(\S.*)$")


@dataclass
class Outside:
    """Texts outside of the lines, with their places; `over`: those that stand over lines, with these."""

    notes: list[tuple[str, str]] = field(default_factory=list)  # place, text
    over: list[tuple[str, str, list[Draft]]] = field(default_factory=list)
    legends: dict[int, dict[str, tuple[str, str]]] = field(default_factory=dict)  # table -> code -> meaning, place


def over_lines(text: str) -> bool:
    """Whether a text over lines says nothing but what is of scope, shape, count or place."""
    heard = read_words(text)
    said = read_places(text)
    return (bool(heard.of(*ASKED)) or is_multiplier(said)) and not unexplained(text)


def heads_lines(text: str) -> bool:
    """Whether a title or the name of a sheet says something of all lines below it, other words beside it or not."""
    return over_lines(text) or times_of(text) is not None or one_of_type(text)


def doubt_over(text: str, place: str, drafts: Sequence[Draft], doubts: Doubts) -> str | None:
    """Notes the doubts of all lines that a text stands over; the code of one, blank for a fact, None for nothing."""
    heard, said = read_words(text), read_places(text)
    if _FIRST_PHASE.fullmatch(text.strip(" :")):
        return ""
    found: str | None = None
    storeys = said.names("storey")
    times = times_of(text)
    each = any(part.how == "per" and part.per == "floor" for part in said.multipliers)
    for draft in drafts:
        if len(storeys) > 1 and draft.values.get("storey", "") in ("", text):
            put_list(draft, storeys, place, text, None if each else doubts)
            found = "" if each else "typical_storeys"
        elif times is not None and counts_below(text, times, drafts):
            found = ""
        elif times is not None:
            doubts.note(
                Doubt("multiplier", draft, place, text, (text,), {MULTIPLY: {}, AS_LISTED: {}}, str(times), "times")
            )
            found = "multiplier"
        elif one_of_type(text):
            doubts.note(Doubt("quantity_per", draft, place, text, (text,), field="times"))
            found = "quantity_per"
        for name in ("building", "elevation"):
            parts = said.names(name)
            if len(parts) > 1 and draft.values.get(name, "") in ("", text):
                options: dict[str, dict[str, object]] = {"on_each": {}, "on_all": {}}
                doubts.note(Doubt("several_places", draft, place, text, (text,), options, "", name, parts))
                found = "several_places"
        for finding in () if place_of_heading(text) is not None else heard.of("scope", "shape", "delta"):
            doubt = doubt_about(draft, finding, place, text)
            if doubt is not None:
                doubts.note(doubt)
                found = doubt.code
    return found


def counts_below(text: str, number: int, drafts: Sequence[Draft]) -> bool:
    """Whether the number behind a kind or an elevation is how many stand below it: WINDOWS (24)."""
    bare = _IN_BRACKETS.sub("", text).strip()
    named = bare != text.strip() and (is_kind_alone(bare) or read_places(bare).names("elevation"))
    return bool(named) and number == sum(n for one in drafts if isinstance(n := one.values.get("quantity"), int))


def put_list(draft: Draft, storeys: tuple[str, ...], place: str, text: str, doubts: Doubts | None) -> None:
    """A line that stands under a list of storeys: on each where the text says so, else on each or on all together."""
    if draft.storeys:
        return
    draft.storeys = storeys
    draft.written.setdefault("storey", text)
    if doubts is not None:
        doubts.note(Doubt("typical_storeys", draft, place, text, (text,), {}, "", "storey"))


def put_multiplied(draft: Draft, answer: str, doubt: Doubt) -> str:
    """Multiplies the count of a line, or leaves it."""
    if answer == AS_LISTED:
        return ""
    if answer == MULTIPLY:
        count = draft.values.get("quantity")
        if isinstance(count, int):
            draft.written.setdefault("quantity", f"{count} x {doubt.detail}")
            draft.values["quantity"] = count * int(doubt.detail)
        return ""
    if answer.strip().isdigit():
        draft.values["quantity"] = int(answer)
        return ""
    return put_any(draft, answer, doubt)


def hear_notes(
    outside: Outside, drafts: Sequence[Draft], hearing: Sequence[Hearing], doubts: Doubts, asker: Asker
) -> dict[str, str]:
    """Place -> code of the question, for the notes that words of scope, shape or count stand in."""
    by_mark = marked(drafts)
    ends: dict[str, str] = {}
    left: list[tuple[str, str]] = []
    signed = {
        sign: text for _, text in outside.notes if (match := _LEGEND.match(text)) for sign, text in [match.groups()]
    }
    explain_signs(signed, hearing, doubts)
    for place, text in outside.notes:
        findings = read_words(text).of(*ASKED) if any(map(str.isalpha, text)) else ()
        valued = value_in_note(text) if lines_named(text, by_mark) else ""
        if not (valued or says_something(text, findings)) or states_total(text, drafts):
            continue
        named = lines_told(text, by_mark, drafts)
        about = [finding for finding in findings if finding.group != "count"] or [f for f in findings if multiplies(f)]
        value = size_in_note(text) or valued
        for draft in named:
            if value:
                field_of = "count" if value == "count_words" else "size"
                doubts.note(Doubt(value, draft, place, text, (), {AS_DRAWN: {}}, field=field_of))
                ends[place] = value
            for finding in about:
                doubt = doubt_about(draft, finding, place, text)
                if doubt is not None:
                    doubts.note(doubt)
                    ends[place] = doubt.code
        if not named and not (_LEGEND.match(text) and hearing):
            left.append((place, text))
    for changes, severity in ((True, BLOCKS_COSTING), (False, BLOCKS_ISSUE)):
        if some := [(place, text) for place, text in left if changes_lines(text) == changes]:
            ask_notes(some, severity, by_mark, asker)
    return ends | {place: "notes_words" for place, _ in left}


def legends_of(cells: Sequence[str]) -> list[tuple[str, str]]:
    """Codes and what a row says that they mean: HR | HALF ROUND, or RED = NIC; GREEN = OURS."""
    filled = [cell for cell in cells if cell]
    if len(filled) == 2 and len(filled[0]) <= 8 and "=" not in filled[1]:
        return [(filled[0].strip(" .)("), filled[1])]
    if filled and (sign := _SIGNED.match(" ".join(filled))):
        return [(sign[1] or sign[2], sign[3])]
    text = " ; ".join(filled)
    text = text[text.index(":") + 1 :] if ":" in text and "=" in text[text.index(":") :] else text
    parts = re.split(r"[;,]\s+(?=\S{1,12}\s*=)", text) if "=" in text else [text]
    return [(match[1], match[2]) for part in parts if (match := _MEANS.match(part))]


def explain_codes(
    legends: Mapping[str, tuple[str, str]], cells: Iterable[tuple[Draft, str, str]], doubts: Doubts
) -> dict[str, str]:
    """What a legend (code -> meaning, place) says of a code counts for lines whose cells hold it; ends of legends."""
    ends: dict[str, str] = {}
    for draft, cell, text in cells:
        meaning, place = legends.get(text.strip().upper(), ("", ""))
        findings = read_words(meaning).of("scope", "shape") if meaning else ()
        shapes = tuple(finding for finding in findings if finding.group == "shape")
        for finding in findings:
            doubt = None if finding.group == "shape" else doubt_about(draft, finding, cell, f"{text}: {meaning}")
            if doubt is not None:
                doubts.note(doubt)
                ends[place] = doubt.code
        if shapes and "shape" not in draft.asked:
            shape = settle_words(draft, shapes, cell, f"{text}: {meaning}", own=True)
            if shape is not None:
                doubts.note(shape)
            ends[place] = "shape_words"
    return ends


def explain_signs(signed: Mapping[str, str], hearing: Sequence[Hearing], doubts: Doubts) -> None:
    """What a legend says of a sign counts for the lines whose marks carry it."""
    for heard in hearing:
        for draft, sign, cell in heard.signs:
            for finding in read_words(signed.get(sign, "")).of(*ASKED):
                doubt = doubt_about(draft, finding, cell, f"{sign} {signed[sign]}")
                if doubt is not None:
                    doubts.note(doubt)


def ask_notes(
    left: Sequence[tuple[str, str]], severity: str, by_mark: Mapping[str, Sequence[Draft]], asker: Asker
) -> None:  # fmt: skip
    """One question for the notes that name no line; the answer may say what holds for which marks."""
    said = "; ".join(f"{place}: {text[:100]!r}" for place, text in left[:MOST_SAID])
    more = f" and {len(left) - MOST_SAID} more" if len(left) > MOST_SAID else ""
    answer = asker.ask(
        "notes_words", severity,
        f"Notes hold words of scope, shape or count and name no line: {said}{more}. Do they change lines, and which?",
        about=tuple(text for _, text in left), choices=(NO_LINE,),
        open_answer="marks and what holds for them, such as W3, W5: set_aside; W1: quantity=8",
        cells=[place for place, _ in left],
    )  # fmt: skip
    if answer and answer != NO_LINE and (why := put_by_mark(answer, by_mark)):
        asker.refuse("notes_words", (), why)


def put_by_mark(answer: str, by_mark: Mapping[str, Sequence[Draft]]) -> str:
    """Puts in what an answer says of marks; why it can't be taken, blank where it can."""
    changes: list[tuple[Draft, str]] = []
    for clause in re.split(r";\s*(?=[^;:=]+:)", answer):
        marks, colon, said = clause.partition(":")
        if not colon:
            return f"{clause.strip()[:60]!r} does not say which marks and what holds for them"
        for mark in re.split(r"\s*,\s*", marks.strip()):
            drafts = by_mark.get(mark_key(mark), ())
            if not drafts:
                return f"no line has the mark {mark[:40]!r}"
            changes += [(draft, said.strip()) for draft in drafts]
    for draft, said in changes:
        if why := put_any(draft, said, Doubt("notes_words", draft, "", said)):
            return why
    return ""
