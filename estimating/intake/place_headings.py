"""Headings and titles that name nothing but a place: an elevation, a storey, a building, or these one after another."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from estimating.intake.folding import compose, fold
from estimating.intake.multipliers import times_of
from estimating.intake.places_words import read_places
from estimating.intake.scope_words import read_words

LETTERS = {"n": "North", "s": "South", "e": "East", "w": "West"}
_COUNT_WORDS = re.compile(
    r"\b(?:qty\.?|quantity|count|no\.?|nos\.?|number|ea\.?|each|pcs|stk\.?|anzahl|qt[ée]|nb\.?|cant\.?|of|per|on|at|in|the|total)\b|[/|:#()\[\],&-]",
    re.IGNORECASE,
)
MANY = re.compile(
    r"^(?:all|each|every|both|ea|typ|typical|various|several|even|odd|alle|jede[rs]?|beide|tous|toutes|chaque|todas?"
    r"|todos|cada|ambas?|ambos)\b|^(?:upper|lower|other) (?:floors|levels)\b|\b(?:ea|each|every|typ|all)$"
)  # places that no name is given for
_AND = r"\s*(?:,|&|/|\+|-|\.\.+|\b(?:to|thru|through|bis|a|and|und|et|y)\b)\s*"
_STEPS = re.compile(rf"[a-z]{{0,2}}\d{{1,3}}{_AND}(?:[a-z]{{0,2}}\d{{1,3}}|roof|dg|penthouse|ph)")
_LETTERS = re.compile(rf"[a-z](?:{_AND}[a-z])+|[a-z]?\d{{1,2}}(?:{_AND}[a-z]?\d{{1,2}})+")
_COUNTED = re.compile(r"\b[nsew]{1,2}\s*[-:=]\s*\d+\b.*\b[nsew]{1,2}\s*[-:=]\s*\d+\b")  # N-4, S-2: counts of each
# No space may be taken by two parts of a pattern that repeats: all ways of sharing them out would be tried
_BESIDE = r"(?:\s*(?:,|&|\+|;|/|\band\b|\bund\b|\bet\b|\by\b)\s*|\s+)"
_SIDE = r"(?:n|s|e|w|o|ne|nw|se|sw|north|south|east|west|front|rear|left|right)"
_END = r"(?:front|rear|back|left|right|n|s|e|w)"
_AT = rf"(?:[0-9]{{1,3}}\s*(?:[-x@]\s*)?{_SIDE}|{_SIDE}\s*(?:[-x:=(]\s*)?[0-9]{{1,3}}\)?)"
_COUNTED_AT = re.compile(rf"{_AT}(?:{_BESIDE}{_AT})+")
_ENDS = re.compile(
    rf"sides|(?:gable |both )?ends|gables|[lf]\s*[/&+]\s*[rb]"
    rf"|{_END}(?:\s*(?:&|/|\+|,|\band\b)\s*{_END})+(?: sides?| elevs?)?"
)  # L/R, front and back, ends
_STOREY = r"[0-9]{1,2}\.?(?:st|nd|rd|th|ere|er|re|eme|e|a|o|°)?"
SPAN = re.compile(
    rf"(?:g|gf|grd|gnd|ground|main|eg|rdc|pb|bsmt|bsmnt|basement|kg|mezz(?:anine)?|[blf][0-9]{{1,2}}|{_STOREY})\.?"
    r"(?: (?:floor|level))?\s*(?:-|~|(?<!\w)(?:to|thru|through|bis|a|al|au|hasta)(?!\w))"
    rf"\s*(?:(?:l|lvl|level|f|fl|floor)?\.?\s?{_STOREY}|roof|ph|penthouse)(?: ?(?:floor|level|og|etage|planta))?"
    r"|(?:(?:l|lvl|level|f|fl|floor)\.?\s?)?[0-9]{1,2}(?:st|nd|rd|th)?(?: (?:floor|level))?"
    r"\s*(?:\+|(?:&|and) (?:up|above|over))"
)  # G-3, Ground thru 3, B1-L2, 1er au 4e, 2+, L2+
_LEVEL = (
    r"(?:(?:l|lvl|level|f|fl|floor)\.?\s?)?(?:[0-9]{1,2}(?:st|nd|rd|th)?|[bgmp][0-9]?|ll|lg|ug|ph|mezz(?:anine)?|ground|gnd"
    r"|grd|main|bsmt|basement|cellar|roof|penthouse|lower|upper|attic|eg|dg|rdc|pb)(?: (?:floor|flr|level))?"
)
BETWEEN = r"(?:\s*(?:/|&|,|\+|;|(?<!\w)(?:and|und|et|y)(?!\w))\s*|\s+(?=[0-9]))"
LEVELS = re.compile(rf"{_LEVEL}{BETWEEN}{_LEVEL}")  # B/1, 2 3
_BARE = re.compile(r"[0-9\s,&/+;.-]+")
KINDS = {"elevation": "elevation", "storey": "storey", "building": "building", "unit": "building"}


def unexplained(text: str) -> str:
    """The words of a text that are neither of scope, shape or count, nor of places and counting."""
    places = set(read_places(text).residue.lower().split())
    rest = [word for word in read_words(text).residue.split() if word.lower() in places]
    return _COUNT_WORDS.sub(" ", " ".join(rest)).strip(" .'\"")


class Place(NamedTuple):
    """Where openings are: blank where nothing is said."""

    elevation: str = ""
    storey: str = ""
    building: str = ""


@lru_cache(maxsize=8192)
def place_of_heading(text: str) -> Place | None:
    """The place that a heading or a title names and nothing else; words of counting beside it do not matter."""
    said = read_places(text)
    several = len(said.names("storey")) > 1
    if not said.places or said.bare or (not several and (said.multipliers or said.typical)):
        return None
    if unexplained(text):
        return None
    if several:
        texts = {place.text for place in said.places}
        return Place(storey=said.places[0].text if len(texts) == 1 else text.strip())
    found: dict[str, str] = {}
    for place in said.places:
        name = KINDS[place.kind]
        if place.text.lower().startswith("phase"):
            return None
        if name in found:
            return None
        found[name] = place.name if name == "elevation" else place.text
    return Place(**found)


@lru_cache(maxsize=8192)
def says_several(cell: str, kind: str) -> bool:
    """Whether a cell of a column of places stands for more than one: N & S, 2-5, A-C, all, each, typ of 3, N x2.

    kind: storey, elevation or building. A name that is not known, and the number of one storey, stand for one.
    """
    said, folded = read_places(cell), fold(compose(cell)).strip(" .")
    names = {place.name for place in said.places if KINDS[place.kind] == kind}
    if kind == "building" and not names:  # WINGS: East & West
        names = {place.name for place in said.places if place.kind == said.places[0].kind and not said.bare}
    if len(names) > 1 or "All" in names or said.multipliers or said.typical or times_of(cell) is not None:
        return True
    if MANY.search(folded) or (kind == "storey" and _STEPS.fullmatch(folded)):
        return True
    if kind == "elevation" and _ENDS.fullmatch(folded):
        return True
    listed = kind == "building" or (kind == "elevation" and "-" not in folded)  # A-A is a section
    return listed and bool(_LETTERS.fullmatch(folded)) or bool(_COUNTED.search(folded) and said.residue)


@lru_cache(maxsize=20_000)
def counts_in(cell: str) -> tuple[int, ...]:
    """The counts of a cell that gives one for each of several places: N-4, S-2; none of any other cell."""
    folded = fold(compose(cell)).strip(" .")
    return tuple(map(int, re.findall(r"[0-9]+", folded))) if _COUNTED_AT.fullmatch(folded) else ()


@lru_cache(maxsize=20_000)
def lists_storeys(text: str) -> bool:
    """Whether words are several storeys and nothing else: 2nd & 3rd, L2+, 3rd and up; bare numbers may be of notes."""
    folded = fold(compose(text)).strip(" .()")
    return not _BARE.fullmatch(folded) and bool(SPAN.fullmatch(folded) or LEVELS.fullmatch(folded))
