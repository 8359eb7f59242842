"""Sections that say that they are as another: APT 102 - SAME AS 101; its lines stand once more, if a person says so."""

from __future__ import annotations

import re

from estimating.intake.doubts import Doubt
from estimating.intake.draft import Draft
from estimating.intake.place_headings import KINDS
from estimating.intake.places_words import read_places
from estimating.intake.row_fields import PLACES
from estimating.intake.row_reader import RowReader
from estimating.intake.scope_words import Finding, read_words
from estimating.intake.sheets_state import SheetsReading

_WORD = re.compile(r"[^\W_]+")


def note_repeat(text: str, place: str, reader: RowReader, reading: SheetsReading) -> bool:
    """Notes a doubt about each line that a section repeats; whether it repeats any."""
    said = next(
        (f for f in read_words(text).of("count") if f.topic in ("same_place", "similar", "opposite", "ditto")), None
    )
    lines = lines_of(said, reader, reading) if said is not None else []
    if said is None or not lines:
        return False
    own = read_places(text.replace(said.words, " ")).places
    field = KINDS[own[0].kind] if own else "building"
    name = own[0].text if own else text.replace(said.words, " ").strip(" -–:,()")
    for draft in lines:
        reading.doubts.note(Doubt("section_repeats", draft, place, text, (text,), field=field, parts=(name,)))
    return True


def lines_of(said: Finding, reader: RowReader, reading: SheetsReading) -> list[Draft]:
    """The lines of the section that is repeated: by the name of its place, or of the section above."""
    mine = [draft for draft in reading.drafts if draft.table == reader.number]
    if said.name:
        name = said.name.upper()
        return [d for d in mine if any(name in _WORD.findall(str(d.values.get(field, "")).upper()) for field in PLACES)]
    field, value = reader.sections[-1][:2] if reader.sections else ("", "")
    return [draft for draft in mine if field and draft.values.get(field) == value]
