"""Words in the lines of programs: their notes, marks and places are heard as a person's cells are.

A program fills its fields by the rules of the field, but a person wrote the words in them: "NIC" in a note takes a
line out of the work there as it does in a spreadsheet.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence

from estimating.intake.asking import Asker
from estimating.intake.causes import CAUSES
from estimating.intake.doubts import Doubt, Doubts, settle_doubts
from estimating.intake.draft import Draft
from estimating.intake.expansion import storeys_of
from estimating.intake.line_answers import AS_DRAWN
from estimating.intake.marks import read_mark
from estimating.intake.places_words import read_places
from estimating.intake.remark_doubts import doubts_of_remark, sides
from estimating.intake.row_places import doubt_of_places
from estimating.intake.row_shapes import settle_words
from estimating.intake.scope_words import Finding, read_remark, read_words
from estimating.intake.size_remarks import size_in_doubt
from estimating.intake.size_words import read_size_text
from estimating.intake.word_doubts import doubt_about

Place = Callable[[int, str | None], str]
_BARE = re.compile(r"[0-9]+(?:\.[0-9]+)?")
PLACES = ("elevation", "storey", "building", "phase")
SPOKEN = {
    "interior": "external",
    "alternate": "alternate",
    "fire_rated": "fire_rated",
}  # topic -> the field that says it


def hear_lines(drafts: Sequence[Draft], place: Place, asker: Asker, unit: str) -> None:
    """Asks about the words of scope, shape and count in all lines and puts in what was answered.

    unit: of bare numbers, blank where the request for an estimate is to name it.
    """
    doubts = Doubts()
    for index, draft in enumerate(drafts):
        if "excluded" in draft.values:
            continue
        for name in ("note", "mark", *PLACES):
            text = draft.values.get(name)
            if isinstance(text, str) and text.strip():
                for doubt in doubts_of(draft, name, text, place(index, name)):
                    doubts.note(doubt)
    for doubt in doubts.found:
        if unit and doubt.code == "shape_words":
            name_unit(doubt.draft, unit)
    settle_doubts(doubts.found, drafts, CAUSES, asker)


def name_unit(draft: Draft, unit: str) -> None:
    """Writes the unit behind the bare dimensions of a line, which answers about its shape reckon with."""
    for name in ("width", "height", "diameter", "springline", "rise"):
        value = draft.values.get(name)
        if isinstance(value, int) and not isinstance(value, bool):
            draft.values[name] = f"{value} {unit}"
        elif isinstance(value, str) and _BARE.fullmatch(value.strip()):
            draft.values[name] = f"{value.strip()} {unit}"


def doubts_of(draft: Draft, name: str, text: str, cell: str) -> Iterable[Doubt]:
    """What the words of one field leave open."""
    if name in PLACES:
        if (name == "storey" and storeys_of(text)) or doubt_of_places(draft, name, text, cell) is not None:
            yield counted(draft, cell, text)
        findings = read_words(text).of("scope") if read_places(text).residue else ()
    else:
        heard = read_remark(text) if name == "note" else read_words(text)
        findings = read_mark(text).heard if name == "mark" else heard.findings
        if name == "note" and names_size(heard.residue):
            yield Doubt("size_in_words", draft, cell, text, (), {AS_DRAWN: {}}, field="size")
        if name == "note":
            yield from doubts_of_remark(draft, text, cell, "")
            yield from (
                doubt for doubt in [sides(draft, text, cell)] if doubt is not None and "sides" not in draft.values
            )
        if name == "mark" and read_mark(text).several:
            yield counted(draft, cell, text)
    if code := size_in_doubt(text):
        yield Doubt(code, draft, cell, text, (), {AS_DRAWN: {}}, field="size")
    yield from asked(draft, findings, cell, text)


def asked(draft: Draft, findings: Sequence[Finding], cell: str, text: str) -> Iterable[Doubt]:
    """The doubts among findings, save what a field of the line says already."""
    shapes = tuple(finding for finding in findings if finding.group == "shape")
    if shapes and draft.values.get("shape", "rectangle") == "rectangle":
        doubt = settle_words(draft, shapes, cell, text, own=False)
        if doubt is not None:
            yield doubt
    for finding in findings:
        if finding.group not in ("scope", "delta", "count") or SPOKEN.get(finding.topic) in draft.values:
            continue
        if finding.topic == "typical" and not any(map(str.isdigit, text)):
            continue  # it multiplies nothing
        doubt = doubt_about(draft, finding, cell, text)
        if doubt is not None:
            yield doubt


def counted(draft: Draft, cell: str, text: str) -> Doubt:
    """Several storeys, places or marks in the field of one: the count is of each or of all."""
    return Doubt("count_words", draft, cell, text, (), {AS_DRAWN: {}}, field="count")


def names_size(residue: str) -> bool:
    """Whether words give another size."""
    sides = {one.role for one in read_size_text(residue).dimensions}
    return {"first", "second"} <= sides or {"width", "height"} <= sides
