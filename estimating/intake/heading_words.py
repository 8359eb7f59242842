"""Column headings in several languages: the field, the basis and the unit that each means, exactly or only perhaps.

heading > words > every way to cut it into fields, basis, unit and filler > the best cut > sure, or choices

Common practice, no source. What is two-way keeps its choices; what is not understood is residue and the heading is not
sure.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from estimating.intake.folding import compose, fold
from estimating.intake.heading_choices import PERHAPS, SURE_ANYWAY
from estimating.intake.heading_terms import BASIS, FIELDS, FILLER, MULTIPLYING, UNITS
from estimating.intake.phrases import Token, sequences, tokens_of
from estimating.intake.places_words import read_places
from estimating.intake.scope_columns import scope_of_heading
from estimating.intake.scope_words import read_words

MOST_WORDS = 10  # a longer text is no heading
SIZED = frozenset({"width", "height", "size"})
_COUNTED = re.compile(
    r"(?<!\w)(?:qty|quantity|count|nos?|ea|each|pcs|stk|anzahl|qt[eé]|nbr?e?|cant|#|of)(?!\w)\.?", re.IGNORECASE
)
_OURS = re.compile(
    r"\b(?:take ?-?off|field|verified|our|approved|bid|base|revised|current|confirmed|final|net|est(?:imated)?|schedule"
    r"|arch(?:itect(?:\'s)?)?|plan|drawing|dwg|per \w+|windows?|doors?|openings?|opngs?|units?|exterior|ext)\b\.?",
    re.IGNORECASE,
)  # words beside a count that leave it the count of the openings
_PARTS = re.compile(r"\b(?:sash(?:es)?|lea(?:f|ves)|panels?|frames?|lites?|change|balance)\b", re.IGNORECASE)
_TOGETHER = frozenset(
    {"pair", "ganged", "mulled", "ditto", "similar", "opposite", "same_place", "elsewhere", "twin", "triple", "hands"}
)  # what they say of a line is no count
Words = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class HeadingMeaning:
    """What a heading means.

    field: the field's name, "property" (glass, finish, hardware: words are still heard), "count_at" (counts at the
    place `places`), or blank where none is found. sure: nothing else is likely and no word is left over. choices: the
    fields it may mean, the likeliest first. basis: masonry, rough, nominal, frame, leaf or clear. unit: mm, cm, m, ft,
    in, ft_in; part: feet or inches where the heading is a unit only and stands beside another. order: "height_first"
    for H x W.
    """

    field: str = ""
    sure: bool = False
    choices: tuple[str, ...] = ()
    basis: str = ""
    unit: str = ""
    part: str = ""
    order: str = ""
    places: tuple[str, ...] = ()
    residue: str = ""


@dataclass(frozen=True, slots=True)
class Piece:
    """Some words of a heading taken as a field, a basis, a unit, filler, or not understood (kind "")."""

    kind: str
    values: tuple[str, ...]
    start: int
    end: int


@lru_cache(maxsize=1)
def meanings() -> dict[str, dict[Words, tuple[str, ...]]]:
    """Every phrase by its kind: the values that it may have."""
    tables = {"field": phrases_of(FIELDS), "basis": phrases_of(BASIS), "unit": phrases_of(UNITS)}
    tables["filler"] = phrases_of({"filler": FILLER})
    perhaps = {words: tuple(fields[0].split()) for words, fields in phrases_of(PERHAPS).items()}
    tables["field"] |= perhaps
    return tables


@lru_cache(maxsize=1)
def multiplying() -> frozenset[Words]:
    """The headings whose numbers multiply a count: they name no field, and their column is asked about."""
    return frozenset(phrases_of({"times": MULTIPLYING}))


def phrases_of(terms: Mapping[str, str]) -> dict[Words, tuple[str, ...]]:
    """The sequences of words of each term; a phrase that stands in several has all of them."""
    found: dict[Words, tuple[str, ...]] = {}
    for value, text in terms.items():
        for phrase in filter(None, (part.strip() for line in text.splitlines() for part in line.split(";"))):
            for words in sequences(phrase):
                if words and value not in found.get(words, ()):
                    found[words] = (*found.get(words, ()), value)
    return found


@lru_cache(maxsize=4096)
def read_heading_words(text: str) -> HeadingMeaning:
    """The meaning of a heading as a person writes it."""
    plain = compose(text)
    tokens = tokens_of(fold(plain))
    if not tokens or len(tokens) > MOST_WORDS:
        return HeadingMeaning(residue=plain.strip())
    heading = tuple(token.text for token in tokens)
    if heading in multiplying():
        return HeadingMeaning("count_at", False, ("count_at",), residue=plain.strip())
    best = min(cuts(heading, 0), key=rank)
    here = at_places(plain, heading)
    if here and not (rank(best)[:2] == (0, 0) and heading[-1] in ("w", "h")):  # Unit W is a width, Unit A a place
        return here
    fields = [piece for piece in best if piece.kind == "field"]
    if not fields and not any(piece.kind in ("basis", "unit") for piece in best):
        return by_words(plain)
    residue = " ".join(plain[tokens[piece.start].start : tokens[piece.end - 1].end] for piece in best if not piece.kind)
    basis = next((piece.values[0] for piece in best if piece.kind == "basis"), "")
    unit = next((piece.values[0] for piece in best if piece.kind == "unit"), "")
    if not fields:
        return without_field(basis, unit, residue)
    words = [tuple(token.text for token in tokens[piece.start : piece.end]) for piece in fields]
    return with_fields([piece.values for piece in fields], words, basis, unit, residue, tokens)


@lru_cache(maxsize=4096)
def counts_parts(heading: str) -> bool:
    """Whether a heading counts something else than openings, or at another time: SASH QTY, ANCHOR QTY, PREV. QTY."""
    said = read_heading_words(heading) if heading else HeadingMeaning()
    return said.field == "quantity" and bool(_OURS.sub("", said.residue).strip(" .()-") or _PARTS.search(heading))


def cuts(words: Words, at: int) -> Iterator[tuple[Piece, ...]]:
    """Every way to cut words into pieces; a word that no phrase begins with is a piece by itself."""
    if at == len(words):
        yield ()
        return
    known = False
    for end in range(min(len(words), at + 7), at, -1):
        for kind, table in meanings().items():
            values = table.get(words[at:end])
            if values:
                known = True
                for rest in cuts_once(words, end):
                    yield (Piece(kind, values, at, end), *rest)
    if not known:
        for rest in cuts_once(words, at + 1):
            yield (Piece("", (), at, at + 1), *rest)


@lru_cache(maxsize=4096)
def cuts_once(words: Words, at: int) -> tuple[tuple[Piece, ...], ...]:
    """The best few cuts of the words from a place on."""
    return tuple(sorted(cuts(words, at), key=rank)[:12])


def rank(pieces: tuple[Piece, ...]) -> tuple[int, int, int, int, int]:
    """How poor a cut is: words left over, fields too many or too few, pieces, meanings of these."""
    fields = [piece for piece in pieces if piece.kind == "field"]
    sides = {value for piece in fields for value in piece.values[:1]}
    many = 0 if len(sides) == 1 or sides == {"width", "height"} else 2 if fields else 1
    many = 0 if not fields and any(piece.kind == "basis" for piece in pieces) else many
    lone = not fields and any(piece.kind == "unit" for piece in pieces) and len(pieces) == 1
    unit_as_basis = sum(
        1 for piece in fields if piece.values[0] not in SIZED and any(p.kind == "basis" for p in pieces)
    )
    options = sum(len(piece.values) for piece in fields) if len(fields) > 1 else 0
    return (sum(not piece.kind for piece in pieces), 0 if lone else many, unit_as_basis, len(pieces), options)


def with_fields(
    values: list[tuple[str, ...]], words: list[Words], basis: str, unit: str, residue: str, tokens: list[Token]
) -> HeadingMeaning:
    """The meaning of a heading that names a field, or two that make a size."""
    firsts = list(dict.fromkeys(options[0] for options in values))
    if set(firsts) == {"width", "height"}:
        order = "height_first" if firsts[0] == "height" else ""
        return HeadingMeaning("size", not residue, ("size",), basis, unit, order=order, residue=residue)
    name = " ".join(words[0])
    choices = tuple(dict.fromkeys(option for options in values for option in options))
    settled = len(firsts) == 1 and (
        len(choices) == 1 or name in SURE_ANYWAY or (bool(basis or unit) and firsts[0] in SIZED)
    )
    turned = any(run[0] in ("h", "hxw", "height", "hohe", "hauteur") for run in words)
    order = "height_first" if firsts[0] == "size" and turned else ""
    if firsts[0] == "size" and not basis and words[0] in (("ro",), ("r", "o")):
        basis = "rough"
    kept = basis if firsts[0] in SIZED else ""
    return HeadingMeaning(firsts[0], settled and not residue, choices, kept, unit, order=order, residue=residue)


def without_field(basis: str, unit: str, residue: str) -> HeadingMeaning:
    """A heading of a basis alone (Rough opening: a size), or of a unit alone (ft, in: part of the one beside it)."""
    if basis:
        return HeadingMeaning("size", not residue, ("size",), basis, unit, residue=residue)
    part = {"ft": "feet", "in": "inches"}.get(unit, "")
    return HeadingMeaning("", False, (), "", unit, part, residue=residue)


def at_places(plain: str, words: Words) -> HeadingMeaning | None:
    """A heading that names a place (North, Level 2, BLDG A): counts stand below it."""
    if words in meanings()["field"] or words in meanings()["filler"]:
        return None
    here = read_places(plain)
    rest = _COUNTED.sub(" ", here.residue).strip(" .,:;()[]/-")
    if not here.places or rest or here.bare or here.multipliers:
        return None
    names = tuple(dict.fromkeys(place.name for place in here.places))
    return HeadingMeaning("count_at", len(plain.strip()) > 1, ("count_at",), places=names)


def by_words(plain: str) -> HeadingMeaning:
    """A heading without a field that holds words of scope, shape, count or method, or harmless ones."""
    for group, field in (
        ("scope", "scope"),
        ("shape", "shape"),
        ("count", "quantity"),
        ("method", "method"),
        ("plain", "property"),
    ):
        heard = read_words(plain)
        if group == "count" and {finding.topic for finding in heard.of(group)} <= _TOGETHER:
            continue
        if scope_of_heading(plain) if group == "scope" else heard.of(group):
            choices = ("note", "property") if group == "plain" else (field, "note")
            return HeadingMeaning(choices[0], False, choices, residue=heard.residue)
    return HeadingMeaning(residue=plain.strip())
