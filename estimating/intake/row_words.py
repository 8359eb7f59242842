"""Words of a line's cells that no field takes: which of them a price must wait for, which are told, which mean nothing.

cell > findings of scope, shape, count and issue, each a doubt of its line > the words that are left, told once by table
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from estimating.intake.cells import blank
from estimating.intake.count_words import read_count_text
from estimating.intake.doubts import Doubt, Doubts
from estimating.intake.draft import Draft
from estimating.intake.expansion import split_typical
from estimating.intake.headings import Heading, understand
from estimating.intake.line_answers import AS_DRAWN
from estimating.intake.places_words import read_places
from estimating.intake.remark_doubts import doubts_of_remark, sides
from estimating.intake.row_shapes import settle_words
from estimating.intake.scope_columns import (
    OUT,
    WORDS,
    is_of_heading,
    read_status,
    read_tick,
    scope_of_heading,
    tick_means,
)
from estimating.intake.scope_words import Finding, Heard, read_remark, read_words
from estimating.intake.size_remarks import size_in_doubt
from estimating.intake.size_words import read_size_text
from estimating.intake.word_doubts import alternate_doubt, doubt_about, number_out

Own = Callable[[str], None]  # marks the cell as one that a question of this code is about
_BY = re.compile(r"\b(?:par l[ea]s?|par l'|durch|vom|von der|von dem|por el|por la|por los)\b", re.IGNORECASE)
_NUMBER = re.compile(r"[0-9]+(?:[.,][0-9]+)?")
_OF_MEASURE = re.compile(
    r"units?|u\.? ?/ ?m\.?|u\.?o\.?m\.?|units? of measure|einheit|me|unité|ud\.?|unidad", re.IGNORECASE
)
_MEASURE = re.compile(
    r"(?:l\.? ?f|s\.? ?f|s\.? ?y|c\.? ?f|l\.? ?s|lin\.? ?f(?:ee)?t|sq\.? ?f(?:ee)?t|lots?|lump sum|allow(?:ance)?"
    r"|lm|lfm|ml|m|m2|m²|hrs?|hours?|days?|std|psch|pausch(?:al)?|forfait|ff|pa)\.?",
    re.IGNORECASE,
)
REPEATED = frozenset({"typical", "per_floor", "multiplied"})
JOINED = frozenset(
    {"pair", "twin", "triple", "ganged", "mulled", "similar", "opposite", "same_place", "elsewhere", "each_side"}
)  # heard in a heading


@dataclass(slots=True)
class Hearing:
    """What was heard on the lines of one table. told: words that are not used -> where they stand; signs: by line."""

    doubts: Doubts
    told: dict[str, list[str]] = field(default_factory=dict)
    signs: list[tuple[Draft, str, str]] = field(default_factory=list)
    drafts: list[Draft] = field(default_factory=list)

    def hear(self, draft: Draft, finding: Finding, cell: str, text: str, own: Own) -> None:
        """One finding about one line."""
        doubt = doubt_about(draft, finding, cell, text)
        if doubt is None:
            self.tell(finding.words, cell)
            return
        self.doubts.note(doubt)
        own(doubt.code)

    def tell(self, words: str, cell: str) -> None:
        """Words that change nothing and are not used."""
        self.told.setdefault(words[:80], []).append(cell)

    def words(self, drafts: Sequence[Draft], text: str, cell: str, own: Own) -> None:
        """The words of a cell, for all lines of its row."""
        heard = read_words(text)
        self.findings(drafts, heard, text, cell, own)
        for finding in heard.of("method"):
            self.tell(finding.words, cell)
        if heard.residue:
            self.leave(drafts, heard.residue, text, cell, own)

    def findings(self, drafts: Sequence[Draft], heard: Heard, text: str, cell: str, own: Own) -> None:
        """What is asked about of what was heard; several shapes are one question."""
        shapes = heard.of("shape")
        for draft in drafts:
            for finding in heard.of("scope", "delta"):
                self.hear(draft, finding, cell, text, own)
            self.counts(draft, heard, text, cell, own)
            if shapes and "shape" not in draft.asked:
                doubt = settle_words(draft, shapes, cell, text, own=False)
                if doubt is not None:
                    self.doubts.note(doubt)
                    own(doubt.code)

        self.sizes(drafts, text, cell, own)
        self.sides(drafts, text, cell, own)

    def sizes(self, drafts: Sequence[Draft], text: str, cell: str, own: Own) -> None:
        """Words that the size is not the rough opening's, or does not stand."""
        code = size_in_doubt(text)
        for draft in drafts if code else ():
            self.doubts.note(Doubt(code, draft, cell, text, (), {AS_DRAWN: {}}, field="size"))
            own(code)

    def sides(self, drafts: Sequence[Draft], text: str, cell: str, own: Own) -> None:
        """Words that fewer sides are treated than all: sill only, no sill."""
        for doubt in [found for draft in drafts if (found := sides(draft, text, cell)) is not None]:
            self.doubts.note(doubt)
            own(doubt.code)

    def counts(self, draft: Draft, heard: Heard, text: str, cell: str, own: Own) -> None:
        """Words of count: typical floors, multipliers, similar ones, those whose effect a person must say."""
        findings = heard.of("count")
        if not findings:
            return
        storeys = read_places(text).names("storey")
        for finding in findings:
            if finding.topic in REPEATED and len(storeys) > 1:
                if not draft.storeys:
                    draft.storeys = storeys
                    draft.written.setdefault("storey", text)
                    self.doubts.note(Doubt("typical_storeys", draft, cell, text, field="storey"))
                    own("typical_storeys")
            elif finding.topic == "typical" and (is_counted(draft, text) or not any(map(str.isdigit, finding.words))):
                continue  # the count has it, or it multiplies nothing
            elif finding.topic in ("similar", "opposite"):
                self.doubts.note(Doubt("similar_words", draft, cell, text, (), {AS_DRAWN: {}}, field="similar"))
                own("similar_words")
            elif finding.topic == "ditto" and not draft.wants:
                self.tell(finding.words, cell)
            else:
                self.hear(draft, finding, cell, text, own)

    def leave(self, drafts: Sequence[Draft], residue: str, text: str, cell: str, own: Own) -> None:
        """Words that were not understood: another size than the line's own is asked about, the rest is told."""
        self.by_somebody(drafts, residue, text, cell, own)
        said = read_size_text(residue)
        sides = {one.role for one in said.dimensions}
        if {"first", "second"} <= sides or {"width", "height"} <= sides:
            for draft in drafts:
                self.doubts.note(Doubt("size_in_words", draft, cell, text, (), {AS_DRAWN: {}}, field="size"))
            own("size_in_words")
            return
        self.tell(residue, cell)

    def cell(self, drafts: Sequence[Draft], text: str, cell: str, heading: Heading, own: Own) -> None:
        """A cell of a column of words."""
        if heading.field in ("scope", "status"):
            self.status(drafts, text, heading.title, cell, own)
        elif heading.field == "alternate":
            if not blank(text) and read_tick(text)[0] != "no" and text.strip().lower() not in ("base", "base bid"):
                for draft in drafts:
                    self.doubts.note(alternate_doubt(draft, text, cell, text))
                own("alternate_words")
        else:
            heard = read_remark(text) if heading.field == "note" else read_words(text)
            if heading.field in ("kind", "type", "shape"):
                if heading.field == "shape" and not heard.of("shape"):
                    self.by_heading(drafts, text, heading.title, cell, own)
                heard = Heard(tuple(f for f in heard.findings if f.group != "shape"), heard.residue)
            self.findings(drafts, heard, text, cell, own)
            if heading.field == "note":
                self.remark(drafts, text, cell, heading.title, own)
            for finding in heard.of("method"):
                self.tell(finding.words, cell)
            if heard.residue and heading.field == "note":
                self.leave(drafts, heard.residue, text, cell, own)

    def measure(self, drafts: Sequence[Draft], text: str, cell: str, own: Own) -> None:
        """A count that is of feet, of areas or of lots, and no count of openings."""
        if _MEASURE.fullmatch(text.strip()):
            for draft in drafts:
                self.doubts.note(Doubt("count_words", draft, cell, text, (), {AS_DRAWN: {}}, field="count"))
            own("count_words")

    def remark(self, drafts: Sequence[Draft], text: str, cell: str, heading: str, own: Own) -> None:
        """What a remark says beside words of scope, shape and count."""
        for draft in drafts:
            for doubt in doubts_of_remark(draft, text, cell, heading):
                self.doubts.note(doubt)
                own(doubt.code)

    def unused(self, drafts: Sequence[Draft], text: str, heading: str, cell: str, own: Own) -> None:
        """A cell of a column that no field has: a tick under words of scope counts as these words."""
        if tick_means(heading) != WORDS or scope_of_heading(heading):
            self.status(drafts, text, heading, cell, own)
            return
        self.by_heading(drafts, text, heading, cell, own)
        if blank(text):
            return  # TBD under Manufacturer says nothing of the opening
        if "basis" in heading.lower():
            self.sizes(drafts, f"basis: {text}", cell, own)
        heard = read_words(text)
        letters = read_status(text) if len(text.strip(" .()")) == 1 else ()
        heard = Heard(tuple(one for one in heard.findings if not is_of_heading(one, heading)), heard.residue)
        self.findings(drafts, Heard((*heard.findings, *letters), heard.residue), text, cell, own)
        self.by_somebody(drafts, heard.residue, text, cell, own)

    def by_heading(self, drafts: Sequence[Draft], text: str, heading: str, cell: str, own: Own) -> None:
        """Words of shape and count in a heading (Mulled with, Arched): said of the lines with a cell under it."""
        meant = understand(heading)
        if meant is not None and meant.field in ("width", "height"):
            return  # the O H of R/O H is no opposite hand
        said = read_words(heading).of("shape", "count")
        findings = tuple(one for one in said if one.group == "shape" or one.topic in JOINED)
        if findings and not blank(text) and read_tick(text)[0] not in ("no", "blank"):
            self.findings(drafts, Heard(findings), f"{heading}: {text}", cell, own)

    def by_somebody(self, drafts: Sequence[Draft], residue: str, text: str, cell: str, own: Own) -> None:
        """Words such as "par le chauffagiste", whoever that may be."""
        if _BY.search(text) and _BY.search(residue):
            self.put_out(drafts, Finding("by_others", "scope", text), text, cell, own)

    def status(self, drafts: Sequence[Draft], text: str, heading: str, cell: str, own: Own) -> None:
        """A cell of a column that says which lines are work: a tick, a cross, or words."""
        means, (tick, two_way) = tick_means(heading), read_tick(text)
        said = f"{heading}: {text or 'not ticked'}" if heading else text
        if not text or "?" in text:
            self.put_out(drafts, Finding("unknown" if text else "not_in_contract", "scope", text), said, cell, own)
            return
        if means == WORDS or not tick:
            if _NUMBER.fullmatch(text):
                if len(drafts) == 1 and (doubt := number_out(drafts[0], text, said, cell)) is not None:
                    self.doubts.note(doubt)
                    own(doubt.code)
                    return
                for finding in scope_of_heading(heading)[:1]:
                    self.put_out(drafts, finding, said, cell, own)
                return
            heard = read_words(text)
            letters = tuple(finding for finding in read_status(text) if finding not in heard.findings)
            self.findings(drafts, Heard((*heard.findings, *letters)), said, cell, own)
            known = [one for one in heard.findings if one.group != "plain" or one.topic == "in_scope"]
            if heard.residue and not known and not letters:
                self.put_out(drafts, Finding("unknown", "scope", text), said, cell, own)
        elif tick != "blank" and (two_way or (tick == "yes") == (means == OUT)):
            self.put_out(drafts, Finding("not_in_contract", "scope", text), said, cell, own)

    def put_out(self, drafts: Sequence[Draft], finding: Finding, text: str, cell: str, own: Own) -> None:
        """The same finding about all lines of a row."""
        for draft in drafts:
            self.hear(draft, finding, cell, text, own)

    def struck(self, drafts: Sequence[Draft], text: str, cell: str, own: Own) -> None:
        """What is struck through: the line, or words of it."""
        for draft in drafts:
            self.hear(draft, Finding("deleted", "scope", text), cell, f"struck through: {text}", own)

    def sign(self, draft: Draft, sign: str, cell: str) -> None:
        """A sign behind a mark, which a note may explain."""
        self.signs.append((draft, sign, cell))


def counts_by_measure(heading: str) -> bool:
    """Whether a column tells what each line's count is of: EA, LF, LOT."""
    return _OF_MEASURE.fullmatch(heading.strip()) is not None


def counts_joined(heading: str) -> bool:
    """Whether the counts under a heading are of openings joined in one, of pairs or sets: QTY (PAIRS)."""
    joined = any(finding.topic in JOINED - {"similar", "opposite"} for finding in read_words(heading).of("count"))
    return joined or any(part.how == "dozen" for part in read_count_text(heading).parts)


def is_counted(draft: Draft, text: str) -> bool:
    """Whether the TYP x 4 of a cell is the one in the line's note, which its count is multiplied by or asked about."""
    return split_typical(text)[1] is not None and text in str(draft.values.get("note", ""))
