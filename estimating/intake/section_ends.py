"""What a row of words of its own ends of the headings above it: what multiplies, words of scope, a kind, a place."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

from estimating.intake.draft import Draft
from estimating.intake.folding import compose, fold
from estimating.intake.multipliers import one_of_type, times_of
from estimating.intake.place_headings import KINDS
from estimating.intake.places_words import read_places
from estimating.intake.scope_words import Heard, read_words
from estimating.intake.word_doubts import OURS

Over = tuple[str, str, list[Draft]]  # place and text of a heading, the lines below it

_REMARKS = frozenset({"verification", "reference", "see_note", "finish", "function", "hold"})
_FLOORS = re.compile(
    r"\b(?:floors?|flrs?|levels?|lvls?|storeys?|story|stories|(?:regel)?geschosse?|etages?|niveaux?|plantas?|pisos?)\b"
)  # in folded text

# Rooms that a unit has: UNIT B x 8 goes on below KITCHEN, and ends at LOBBY
_OF_UNIT = re.compile(
    r"(?:(?:master|main|guest|primary|kids?|hall|powder|living|family|great|dining|laundry|utility|mud) ?)?"
    r"(?:kitchen(?:ette)?|bath(?:room)?s?|bed(?:room)?s?|rooms?|suite|living|dining|den|closets?|laundry|powder|study|wc)"
    r"(?: ?#? ?\d{1,2})?"
)  # in folded text


def below_heading(sections: Iterable[Over], text: str, heading: Over | None) -> list[Over]:
    """What stands over the lines below a section's heading: itself, and of those above what it doesn't end."""
    if heading is not None and not is_remark(text):
        return [heading]
    left = [over for over in sections if not names_same_kind(over[1], text) and not (is_ours(text) and is_out(over))]
    return [*left, *([heading] if heading is not None else [])]


def below_note(sections: Iterable[Over], text: str) -> list[Over]:
    """What stands over the lines below a row of words that is no heading of a place, a kind or of scope."""
    if is_remark(text) or _OF_UNIT.fullmatch(fold(compose(text)).strip(" .:-")):
        return list(sections)
    return [over for over in sections if not multiplies(over[1]) and not (is_ours(text) and is_out(over))]


def multiplies(text: str) -> bool:
    """Whether what stands below a heading counts more than once: UNIT A x 4, UNIT TYPE A."""
    return times_of(text) is not None or one_of_type(text)


@lru_cache(maxsize=8192)
def is_remark(text: str) -> bool:
    """Whether words tell of the lines beside them and head none: Field Verify, See Spec, Prefinished."""
    heard = read_words(text)
    return says_all(heard) and all(finding.topic in _REMARKS for finding in heard.findings)


@lru_cache(maxsize=8192)
def keeps_kind(text: str) -> bool:
    """Whether words leave the kind that stands above: remarks, and words of scope alone, as INTERIOR below DOORS."""
    heard = read_words(text)
    return says_all(heard) and all(
        finding.topic in _REMARKS | {"in_scope"} or (finding.group == "scope" and finding.topic != "apart")
        for finding in heard.findings
    )


def says_all(heard: Heard) -> bool:
    """Whether something is heard and every word of it is understood."""
    return bool(heard.findings) and not heard.residue


def is_ours(text: str) -> bool:
    """Whether a heading says that what stands below is in the work: BASE BID, NEW WORK, EXTERIOR."""
    heard = read_words(text)
    inside = says_all(heard) and all(finding.topic == "in_scope" for finding in heard.findings)
    return len(text.split()) <= 3 and (inside or bool(OURS.match(text.strip()))) and not heard.of("scope")


def is_out(over: Over) -> bool:
    """Whether words over lines may put them out of the work, or make them an alternate."""
    return bool(read_words(over[1]).of("scope"))


def names_same_kind(over: str, text: str) -> bool:
    """Whether a heading names a place of the same kind as the one above it: UNIT D ends UNIT A x 2, NORTH does not."""
    return bool(kinds_of(over) & kinds_of(text))


@lru_cache(maxsize=8192)
def kinds_of(text: str) -> frozenset[str]:
    """The kinds of place that a heading is about; TYPICAL FLOOR x 4 is about storeys and names none."""
    kinds = {KINDS[place.kind] for place in read_places(text).places}
    return frozenset(kinds | ({"storey"} if is_of_floors(text) else set()))


def is_of_floors(text: str) -> bool:
    """Whether a text has a word for storeys."""
    return bool(_FLOORS.search(fold(compose(text))))
