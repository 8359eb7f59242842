"""What a remark says of its line beside the vocabulary: parts of counts, places, depths, access, sides, sill, method.

Each is a pattern of numbers and words, so no list of phrases could have it. Common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import lru_cache
from typing import Any

from estimating.intake.cells import read_cell_length
from estimating.intake.count_words import read_count_text
from estimating.intake.doubts import Doubt
from estimating.intake.draft import Draft
from estimating.intake.folding import compose, fold
from estimating.intake.line_answers import AS_DRAWN, SET_ASIDE
from estimating.intake.named_lines import place_key
from estimating.intake.place_headings import KINDS, counts_in, lists_storeys, place_of_heading
from estimating.intake.places_words import read_places
from estimating.intake.row_shapes import doubt_of, nm_of
from estimating.intake.scope_words import BLOT, read_words, set_apart
from estimating.intake.sill_words import DAM, WITHOUT_SILL
from estimating.intake.sill_words import KINDS as SILLS
from estimating.intake.size_remarks import CHANGED, names_part
from estimating.intake.size_words import read_size_text
from estimating.intake.word_doubts import set_aside
from estimating.intake.words import SIDE_SETS, method_word
from rates.core.tables import ACCESS
from rates.core.units import LENGTH_NM

METHODS = ("fluid", "tape")
LEAST_DEPTH = 3 * LENGTH_NM["in"]  # below it a third dimension is a leaf's thickness (common practice, no source)
_EDGES = (
    r"(?:sill|jambs?|head|top|bottom|sides|brustung|sohlbank|laibungen|laibung|sturz|appui|seuil|tableaux|linteau|alfeizar"
    r"|umbral|jambas|dintel)"
)
_AND_EDGE = rf"(?:\s*(?:,|and|&|\+|und|et|y)\s*{_EDGES})"
_SIDES = re.compile(
    rf"\b{_EDGES}{_AND_EDGE}*(?: (?:flashing|pan|tape|seal|sealing|treatment))? (?:only|seul\w*|uniquement)\b"
    rf"|\b(?:nur|solo|seulement) {_EDGES}\b|\b(?:ohne|sans|sin) (?:brustung|sturz|appui|linteau|alfeizar|dintel)\b"
    r"|\b(?:no|without|not at(?: the)?|omit|except) (?:sill|head|jambs?|bottom|top)\b(?! (?:height|detail|ht|rail))"
    r"|\b(?:three|two|one|[123]) sides? only\b|^\s*(?:two|three|[23])[- ]side[ds]?\s*$|^\s*(?:2|two) jambs\s*$"
    r"|\b(?:[23]-?|zwei|drei)seitig\b|^\s*(?:[23]|deux|trois|dos|tres) (?:cotes|lados)\s*$"
    rf"|^\s*{_EDGES}{_AND_EDGE}+\s*$"
)  # in folded text
_METHOD = re.compile(
    r"(?<!glazing )(?<!foam )(?<!butyl )(?<!drywall )(?<!joint )(?<!seam )\b"
    r"(?:tape|taped|fluid|liquid|self[- ]adhe(?:red|sive)|peel ?(?:&|and|n) ?stick|saf|sam|klebeband|flussig\w*"
    r"|selbstklebend\w*|bande adhesive|liquide|cinta adhesiva|membrana liquida|autoadhesiv[ao])\b"
)  # in folded text
_SILL = re.compile(
    r"\b(?:slp|slop(?:e|ed|ing)) sill\b|\bsill (?:is )?(?:slp\b|slop\w+)"
    rf"|\b(?:sill )?pans?\b(?: flashing)?|\b(?:{DAM})\b"
)
_SHARE = re.compile(
    r"\d{1,3} ?%|(?:ca|approx|about)?\W{0,2}(?:~|±|<|>|\+/-)\s*\d{1,4}|\d{1,4}\s*(?:±|\+/?-|~|\?)|-\s*\d{1,3}"
    r"|\d{1,2} ?w(?: ?x ?\d{1,2} ?h)?|half|halb|halfte|(?:la )?moitie|(?:la )?mitad"
)
_STATED = re.compile(
    r"(?:use|make(?: it)?|s/?b|should be|to be|(?:chgd?|changed?|revised?)(?: from \d{1,4})? to"
    r"|(?:count|qty|quantity|no)\.? ?(?:=|:|is|should be|to be)) ?(\d{1,4})"
)
_SEVERAL = re.compile(r"\d{1,3} ?(?:to|thru|through) ?\d{1,3}|(?:to|thru|through|up to) ?\d{1,3}")  # thru 4
_NOTES = re.compile(r"[\d\s,;&./-]*")  # numbers of notes
_FRACTION = re.compile(r"\d{1,3}\s*/\s*\d{1,3}")
_KEYED = re.compile(r"\bkey|\bnotes? (?:no|nr|#|ref)|\bref\b", re.IGNORECASE)
_NAME = r"(?:[a-z]?\d{1,4}[a-z]?|[a-z])"
_AND = r"\s*(?:,|&|;|\+|/|-|\band\b|\bto\b|\bthru\b|\bthrough\b)\s*"
_LISTED = re.compile(
    r"(?:at |@ |in |typ\.? (?:at |@ )?)?"
    r"(?:types?|bays?|rms?|rooms?|units?|apts?|flats?|suites?|stairs?|houses|lots|plots)\b\.?"
    rf"\s*{_NAME}(?:{_AND}{_NAME})+|(?:at |@ |in )?\d{{3,4}}(?:{_AND}\d{{3,4}})+"
)
_ONLY = re.compile(r"\b(?:only|nur|uniquement|seulement|solo)\b")
_COUNTED_AT = re.compile(r"\d{1,3} ?(?:on|at|@|in) ?(?:the )?[nsew]\b")
_OF_PART = re.compile(
    r"\b(?:louv(?:er|re)s?|blades?|frames?|glass|glazing|igu|headers?|lintels?|beams?|pans?|sills?|stools?|mullions?|doors?|panels?"
    r"|well|areaway|canopy|overhang|awning|planter|footing|rabbets?|hinges?|casings?|trim|insulation|sheathing)\b"
)  # what has a depth of its own
_RECESSED = re.compile(r"\b(?:recess(?:ed)?|inset|set ?back|zuruckgesetzt|ruckversetzt|en retrait|retranque\w*)\b")
_WALL = re.compile(r"\b(?:walls?|wand\w*|mauer\w*|mur|muro|pared)\b")
_COMMA = re.compile(r"(?<=\d),(?=\d{1,2}(?!\d))")
_ACCESS = (
    ("swing_stage", r"swing ?stage|rope access"),
    ("rolling_scaffold", r"rolling scaffold"),
    ("frame_scaffold", r"frame scaffold"),
    ("step_ladder", r"step ?ladder"),
    ("extension_ladder", r"extension ladder"),
    ("ladder", r"ladder|leiter|echelle|escalera"),
    ("lift", r"lift|boom|hubsteiger|nacelle"),
    ("ground", r"ground"),
)


def doubts_of_remark(draft: Draft, text: str, cell: str, heading: str) -> Iterator[Doubt]:
    """What a remark leaves open of its line beside the words of scope, shape and count in it."""
    asked: tuple[Callable[[Draft, str, str], Doubt | None], ...] = (sill, method, depth, access, diameter)
    yield from (doubt for ask in asked if (doubt := ask(draft, text, cell)) is not None)
    if counts_part(text, bool(_KEYED.search(heading))) or names_places(draft, text) or counts_otherwise(draft, text):
        yield Doubt("count_words", draft, cell, text, (), {AS_DRAWN: {}}, field="count")
    if draft.values.get("kind") == "door" and names_part(text):
        yield Doubt(CHANGED, draft, cell, text, (), {AS_DRAWN: {}}, field="size")
    if text.strip(" ?") == "" and "?" in text:
        yield Doubt("scope_words", draft, cell, text, (), {SET_ASIDE: set_aside(text), AS_DRAWN: {}}, field="scope")


def sides(draft: Draft, text: str, cell: str) -> Doubt | None:
    """Words that fewer sides are treated than all: sill only, no sill."""
    if not _SIDES.search(fold(compose(text))) or "sides" in draft.asked:
        return None
    options: dict[str, dict[str, Any]] = {name: {"sides": list(one)} for name, one in tuple(SIDE_SETS.items())[:4]}
    return Doubt("sides_unknown", draft, cell, text, (), options, field="sides")


def sill(draft: Draft, text: str, cell: str) -> Doubt | None:
    """Words of a sloped sill or a pan, where no column of sills says so."""
    round_or_pipe = draft.values.get("shape") in WITHOUT_SILL or draft.values.get("kind") == "pipe"
    if (
        "sill" in draft.values
        or round_or_pipe
        or _SIDES.search(fold(compose(text)))
        or not _SILL.search(fold(compose(text)))
    ):
        return None
    options: dict[str, dict[str, Any]] = {kind: {"sill": {"kind": kind}} for kind in SILLS} | {AS_DRAWN: {}}
    return Doubt("sill_unknown", draft, cell, text, (), options, field="sill")


def method(draft: Draft, text: str, cell: str) -> Doubt | None:
    """Words that name a method, where the line has none of its own or another."""
    own = draft.values.get("method")
    if not _METHOD.search(fold(compose(text))) or (own is not None and method_word(text)[0] in (None, own)):
        return None
    options = {one: {"method": one} for one in METHODS} | {AS_DRAWN: {}}
    return Doubt("method_unknown", draft, cell, text, (), options, field="method")


def depth(draft: Draft, text: str, cell: str) -> Doubt | None:
    """A depth of return or wall in words that is not the line's own: the treated return may be as deep."""
    named = depth_in(text)
    if not named or nm_of({"treated_depth": named}, "treated_depth") == nm_of(draft.values, "treated_depth"):
        return None
    options: dict[str, dict[str, Any]] = {named: {"treated_depth": named}, AS_DRAWN: {}}
    return Doubt("depth_words", draft, cell, text, (), options, field="treated_depth")


@lru_cache(maxsize=20_000)
def depth_in(text: str) -> str:
    """The depth of a return, or the thickness of a wall, that words give; blank where they give none."""
    folded = fold(compose(text))
    if _OF_PART.search(folded):
        return ""
    said, wall = read_size_text(text), bool(_WALL.search(folded))
    loose = wall or bool(_RECESSED.search(folded))
    roles = {"depth", *(("thickness",) if wall else ()), *(("length",) if loose else ())}
    found = [one.text for one in said.dimensions]
    if len(found) != 1 or said.dimensions[0].role not in roles:
        return ""
    reading = read_cell_length(_COMMA.sub(".", found[0]), "")
    return "" if reading.code else reading.text


def depth_beside(draft: Draft, text: str, cell: str) -> Doubt | None:
    """A third dimension of a size that may be the wall's depth, 36 x 60 x 8: not a leaf's thickness, nor a louvre's."""
    found = [one.text for one in read_size_text(text).dimensions if one.role in ("third", "depth")]
    reading = read_cell_length(found[0], "") if len(found) == 1 else None
    if reading is None or reading.nm is None or reading.nm < LEAST_DEPTH or draft.values.get("kind") == "louvre":
        return None
    if reading.nm == nm_of(draft.values, "treated_depth"):
        return None
    options: dict[str, dict[str, Any]] = {reading.text: {"treated_depth": reading.text}, AS_DRAWN: {}}
    return Doubt("depth_words", draft, cell, text, (), options, field="treated_depth")


def access(draft: Draft, text: str, cell: str) -> Doubt | None:
    """Words that name an access, where the line has none or another."""
    said = [finding.words for finding in read_words(text).of("method") if finding.topic == "access"]
    folded = fold(compose(" ".join(said)))
    named = next((name for name, words in _ACCESS if re.search(rf"\b(?:{words})", folded)), "")
    if not said or draft.values.get("access") == named or "access" in draft.asked:
        return None
    options = {one: {"access": one} for one in dict.fromkeys((*((named,) if named else ()), *ACCESS))}
    return Doubt("access_unknown", draft, cell, text, (), options, field="access")


def diameter(draft: Draft, text: str, cell: str) -> Doubt | None:
    """A diameter in words, on a line of width and height."""
    named = any(one.role == "diameter" for one in read_size_text(text).dimensions)
    if not named or draft.values.get("shape") or "shape" in draft.asked or draft.values.get("kind") == "pipe":
        return None
    return doubt_of(draft, ("round",), cell, text) if {"width", "height"} <= draft.values.keys() else None


@lru_cache(maxsize=20_000)
def counts_part(text: str, keyed: bool) -> bool:
    """Whether a remark says nothing but how many, and not plainly: 2/3, 50 %, 10+/-. keyed: by numbers of notes."""
    folded = fold(compose(text)).strip(" .()")
    if read_words(text).of("count") or set_apart(folded)[0]:
        return False  # heard as words of count, or a reference or a date
    if not keyed and _SEVERAL.fullmatch(folded):
        return True
    if _NOTES.fullmatch(folded):
        return not keyed and bool(_FRACTION.fullmatch(folded)) or bool(re.fullmatch(r"-\s*\d{1,3}", folded))
    if _SHARE.fullmatch(folded) or counts_in(text) or len(_COUNTED_AT.findall(folded)) > 0:
        return True
    said = read_count_text(text)
    return bool(said.multipliers or said.signs) and not said.residue


def counts_otherwise(draft: Draft, text: str) -> bool:
    """Whether a remark says another count than the line has: use 3, should be 3, chg to 3, qty = 3."""
    said = _STATED.fullmatch(fold(compose(text)).strip(" .()"))
    return said is not None and int(said[1]) != draft.values.get("quantity")


@lru_cache(maxsize=20_000)
def places_beside(text: str) -> dict[str, tuple[str, ...]]:
    """Field of a place -> the places of it that a remark names, references to drawings and sizes aside."""
    rest = set_apart(fold(compose(text)))[1].replace(BLOT, " ")
    found: dict[str, tuple[str, ...]] = {}
    said = read_places(rest)
    for place in said.places if not said.bare else ():
        name = KINDS[place.kind]
        found[name] = tuple(dict.fromkeys((*found.get(name, ()), place.name)))
    return found


def lists_places(text: str) -> bool:
    """Whether words name several places, rooms or units one by one."""
    listed = _LISTED.fullmatch(fold(compose(text)).strip(" .()"))
    return bool(listed) or lists_storeys(text) or any(len(names) > 1 for names in places_beside(text).values())


def names_places(draft: Draft, text: str) -> bool:
    """Whether a remark names several places, one alone, or another one than the line's own: north only, rooms 1 & 2."""
    if draft.storeys or any(finding.topic != "typical" for finding in read_words(text).of("count")):
        return False
    if lists_places(text) or (places_beside(text) and _ONLY.search(text.lower())):
        return True
    here = place_of_heading(text)
    pairs = zip(("elevation", "storey", "building"), here or (), strict=False)
    return any(other_place(str(draft.values.get(name, "")), name, own) for name, own in pairs if own)


def other_place(written: str, name: str, own: str) -> bool:
    """Whether a place in words is another one than the line's, by the names that both may have."""
    if not written:
        return False
    said = read_places(own).names(name)
    known = set(map(place_key, read_places(written).names(name) or (written,)))
    return bool(said) and not known & set(map(place_key, said))
