"""The lines that words outside of them are about: by their marks, their places or their kinds, less exceptions."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import lru_cache

from estimating.core.schedule_lines import mark_key
from estimating.intake.draft import Draft
from estimating.intake.kind_words import kind_of
from estimating.intake.marks import several_marks
from estimating.intake.places_words import read_places
from estimating.intake.scope_words import ASKED, read_words

PLACED = ("storey", "elevation", "building")
_WORD = re.compile(r"[A-Za-z]{0,5}[-. ]?[0-9]{1,5}[A-Za-z]{0,2}|\b[A-Z]{1,2}\b")
_RANGE = re.compile(
    r"\b[A-Za-z]{0,5}-?[0-9]{1,4}\s*(?:-|–|to|thru|through|bis|à)\s*[A-Za-z]{0,5}-?[0-9]{1,4}", re.IGNORECASE
)
_EXCEPT = re.compile(
    r"\b(?:except|but|other than|excluding|unless|apart from|außer|ausgenommen|sauf|hormis|excepto|salvo)\b",
    re.IGNORECASE,
)
_ALL = re.compile(r"\b(?:all|every|each|alle|sämtliche|tous|toutes|todos|todas)\b", re.IGNORECASE)
_TO = re.compile(r"\s*(?:-|–|to|thru|through|bis|à)\s*(?=[0-9]+$)", re.IGNORECASE)
_NUMBERED = re.compile(
    r"(?:level|floor|lvl|l|storey|story|niveau|planta|nivel|piso|etage|étage)?\s*0*([0-9]+)", re.IGNORECASE
)


def marked(drafts: Sequence[Draft]) -> dict[str, list[Draft]]:
    """The lines by their marks."""
    by_mark: dict[str, list[Draft]] = {}
    for draft in drafts:
        by_mark.setdefault(mark_key(str(draft.values.get("mark", ""))), []).append(draft)
    return by_mark


def lines_named(text: str, by_mark: Mapping[str, list[Draft]]) -> list[Draft]:
    """The lines whose marks a note names, by themselves or in a range."""
    names = [mark_key(word) for word in _WORD.findall(text)]
    for span in _RANGE.findall(text):
        names += [mark_key(mark) for mark in several_marks(with_lead(span))]
    found: dict[int, Draft] = {}
    for name in dict.fromkeys(names):
        if any(c.isdigit() for c in name) or f" {name} " in f" {text} ":
            for draft in by_mark.get(name, ()):
                found[id(draft)] = draft
    return list(found.values())


def with_lead(span: str) -> str:
    """A range of marks with the letters of the first on the second: W3-5 is W3 to W5."""
    lead = re.match(r"[A-Za-z]*-?", span)
    return _TO.sub(f" to {lead[0] if lead else ''}", span)


def lines_told(text: str, by_mark: Mapping[str, list[Draft]], drafts: Sequence[Draft]) -> list[Draft]:
    """The lines that a note is about: those that it names, or those at a place or of a kind, less its exceptions."""
    parts = _EXCEPT.split(text, maxsplit=1)
    if len(parts) == 1:
        return lines_named(text, by_mark) or lines_placed(text, drafts)
    excepted = lines_named(parts[1], by_mark) or lines_placed(parts[1], drafts)
    if not excepted:
        return []
    before, behind = (any(said.topic != "exception" for said in read_words(part).of(*ASKED)) for part in parts)
    if not before:
        return excepted
    whole = lines_named(parts[0], by_mark) or lines_placed(parts[0], drafts)
    whole = whole or (list(drafts) if _ALL.search(parts[0]) else [])
    left = {id(draft) for draft in excepted} if not behind else set()
    return [draft for draft in whole if id(draft) not in left]


def lines_placed(text: str, drafts: Sequence[Draft]) -> list[Draft]:
    """The lines at the places that a note names, or of the one kind that it says all of."""
    said = read_places(text)
    wanted = {kind: set(map(place_key, names)) for kind in PLACED if (names := said.names(kind))}
    if wanted and not said.bare:
        return [draft for draft in drafts if all(keys & keys_of(draft, kind) for kind, keys in wanted.items())]
    kind = kind_of(text) if _ALL.search(text) else None
    return [draft for draft in drafts if kind and draft.values.get("kind") == kind]


def keys_of(draft: Draft, kind: str) -> set[str]:
    """The places of a kind at which a line is, as place_key has them."""
    cells = [str(draft.values.get(kind, "")), *(draft.storeys if kind == "storey" else ())]
    return {key for cell in cells for key in keys_in(cell, kind)}


@lru_cache(maxsize=4096)
def keys_in(cell: str, kind: str) -> frozenset[str]:
    """The places of a kind that a cell names."""
    return frozenset(map(place_key, read_places(cell).names(kind)))


def place_key(name: str) -> str:
    """One spelling for a place: Level 3, Floor 3, L3 and 3 are one storey."""
    numbered = _NUMBERED.fullmatch(name.strip())
    return numbered[1] if numbered else " ".join(name.casefold().split())
