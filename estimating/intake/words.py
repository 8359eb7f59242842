"""Cells that hold one of a field's words: exterior or interior, the way of access, the substrate."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from estimating.intake.cells import blank
from estimating.intake.vocabulary import FALSE_WORDS, TRUE_WORDS, UNKNOWN_WORDS, access_of, substrate_of
from rates.core.tables import ACCESS, SUBSTRATES

Words = tuple[Any, tuple[str, ...]]


def external_word(cell: str) -> Words:
    """True, False, or None for unknown; choices where the word means nothing here."""
    plain = cell.strip().lower().removesuffix(" wall")
    if plain in TRUE_WORDS or plain in FALSE_WORDS:
        return plain in TRUE_WORDS, ()
    return None, () if plain in UNKNOWN_WORDS else ("exterior", "interior", "unknown")


def access_word(cell: str) -> Words:
    """One of the ways of access, or those to choose from."""
    return (found, ()) if (found := access_of(cell)) else (None, () if blank(cell) else ACCESS)


def substrate_word(cell: str) -> Words:
    """One of the substrates, or those to choose from."""
    return (found, ()) if (found := substrate_of(cell)) else (None, () if blank(cell) else SUBSTRATES)


def sides_word(cell: str) -> Words:
    """The treated sides that a cell names, as a list or a number; those to choose from where it names others."""
    plain = cell.strip().lower()
    if blank(cell):
        return None, ()
    if plain in SIDE_SETS:
        return SIDE_SETS[plain], ()
    named = [SIDE_WORDS.get(word) for word in re.split(r"[\s,;+&/]+|\band\b", plain) if word]
    if named and all(named):
        return list(dict.fromkeys(side for side in named if side)), ()
    return None, tuple(SIDE_SETS)[:4]


NEGATORS = frozenset(("no", "not", "without", "ohne", "kein", "keine", "sans", "sin"))
_SELF_ADHESIVE = re.compile(r"peel (?:and|&|n) stick|self[- ]?(?:adhesive|adhered)|selbstklebend\w*|klebeband")


_EITHER = re.compile(r"(?<!\bw)/|\b(?:or|oder|ou)\b")
# What stands beside a method and is none: liquid/mesh, tape or equal
_WITH_METHOD = frozenset(
    "mesh fabric primer sealant corner corners coat coats equal eq equivalent similar approved".split()
)


def says_either(cell: str) -> bool:
    """Whether a cell names two things of which one is no method that is known: LF/Tape."""
    known = _WITH_METHOD.union(*METHOD_WORDS.values())
    parts = [set(re.findall(r"[^\W\d_]+", _SELF_ADHESIVE.sub("tape", part))) for part in _EITHER.split(cell.lower())]
    return len(parts) > 1 and any(part and not part & known for part in parts)


def method_word(cell: str) -> Words:
    """Fluid or tape; words of neither are heard with the others of the line."""
    plain = set(re.findall(r"[a-z]+", _SELF_ADHESIVE.sub("tape", cell.lower())))
    if plain & NEGATORS:
        return None, tuple(METHOD_WORDS)
    if says_either(cell):
        return None, tuple(METHOD_WORDS)
    found = {method for method, names in METHOD_WORDS.items() if plain & names}
    return (found.pop(), ()) if len(found) == 1 else (None, () if blank(cell) else tuple(METHOD_WORDS))


SIDE_SETS = {
    "all": ["sill", "jambs", "head"], "jambs_and_head": ["jambs", "head"], "sill_and_jambs": ["sill", "jambs"],
    "sill": ["sill"], "4": ["sill", "jambs", "head"], "4 sides": ["sill", "jambs", "head"],
    "four": ["sill", "jambs", "head"],
    "3": ["jambs", "head"], "3 sides": ["jambs", "head"], "three": ["jambs", "head"],
    "all sides": ["sill", "jambs", "head"],
}  # fmt: skip
SIDE_WORDS = {
    "sill": "sill", "bottom": "sill", "jamb": "jambs", "jambs": "jambs", "sides": "jambs",
    "head": "head", "top": "head",
    "brüstung": "sill", "laibung": "jambs", "laibungen": "jambs", "sturz": "head", "appui": "sill", "seuil": "sill",
    "tableau": "jambs", "tableaux": "jambs", "linteau": "head", "umbral": "sill", "jambas": "jambs", "dintel": "head",
}  # fmt: skip
METHOD_WORDS = {
    "fluid": {"fluid", "liquid", "lam", "flüssig", "liquide", "líquido"},
    "tape": {"tape", "taped", "membrane", "sam", "saf", "adhered", "selbstklebend", "bande", "cinta"},
}
WORDS: dict[str, Callable[[str], Words]] = {
    "external": external_word,
    "access": access_word,
    "substrate": substrate_word,
    "sides": sides_word,
    "method": method_word,
}
