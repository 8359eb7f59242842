"""What a title, a section or a heading multiplies counts by: 4 BUILDINGS THUS, LEVEL 2 (x4), TYPE B - 12 UNITS.

Common practice, no source. English, German, French, Spanish.
"""

from __future__ import annotations

import re
from functools import lru_cache

from estimating.intake.count_words import read_count_text
from estimating.intake.folding import compose, fold
from estimating.intake.places_words import read_places

_UNITS = r"(?:x|no\.?|nos\.?|off|units?|dwellings?|flats?|houses?|plots?|lots?|stuck|mal|fois|uds?|veces|times|thus)"
_WHOLE = (
    "houses|buildings|bldgs|units|blocks|dwellings|apartments|apts|towers|homes|plots|hauser|gebaude|wohnungen|batiments"
    "|logements|edificios|viviendas"
)
_TIMES = tuple(
    re.compile(pattern)
    for pattern in (
        r"\b(?P<n>\d{1,3})\s*(?:x\s*)?thus\b",
        r"(?:^|[^\d\s\"'])\s*(?<!\w)x\s?(?P<n>\d{1,3})\s*\)?\s*$",
        r"\(\s*x\s?(?P<n>\d{1,3})\s*\)",
        rf"\(\s*(?P<n>\d{{1,3}})\s*(?:{_UNITS}\.?\s*\)|\)\s*$)",
        rf"[-,:]\s*(?P<n>\d{{1,3}})\s*{_UNITS}\s*$",
        r"\b(?:each|typical) of (?P<n>\d{1,3})\b",
        r"\bof (?P<n>\d{1,3}) (?:identical|alike|same|such)\b",
        r"\b(?P<n>\d{1,3}) (?:identical|alike|gleiche|identiques?|iguales)\b",
        r"\b(?:multipl(?:y|ied)|malnehmen|multiplizieren|multiplier|multiplicar)\b[^.;\d]{0,40}\b(?P<n>\d{1,3})\b",
        r"(?<!\w)(?P<n>\d{1,3})\s?x(?!\w)\s*$",
        rf"\b(?:no|nr|number|anzahl|nombre|nb|numero)\b\.?\s*(?:of\s|de\s|d')?\s*(?:{_WHOLE})\s*[:=]?\s*(?P<n>\d{{1,3}})\b",
        r"[-–,:(]\s*(?:qty|quantity|count|anzahl|quantité|cantidad)\b\.?\s*(?:of\s)?[:=]?\s*(?P<n>\d{1,3})\s*\)?\s*$",
        r"\b(?:units|houses|buildings|multiplier)\s*[:=]\s*(?P<n>\d{1,3})\b",
    )
)
_DWELLING = r"(?:unit|apartment|apt|flat|suite|room|guest ?room|dwelling|house|home|villa|townhouse|cabin|pod)"
_TYPE = re.compile(
    rf"\b{_DWELLING}\.?[ -]types?\s+[a-z]?\d{{0,2}}[a-z]?(?!\w)|\btypes?\s+[a-z]?\d{{0,2}}[a-z]?\s+{_DWELLING}\b"
    rf"|\btyp(?:ical|\.)?\s+{_DWELLING}(?!s)\b"
)
_SEVERAL_TYPES = re.compile(r"\b(?:schedule of|all|types? [a-z] (?:&|and|to|-) [a-z])\b|\bby (?:unit|room|house) type")
_PER = re.compile(
    r"(?:/|\b(?:per|each|ea|every|pro|je|par|por|cada|chaque))\.?\s*(?:dwellings?|flats?|homes?|villas?|townhouses?|cabins?"
    r"|stairs?|cores?|towers?|lodges?|typ(?:ical)? (?:unit|floor)|module|wohneinheit|we)\b"
)


def times_of(text: str) -> int | None:
    """The number of times that what stands below counts; None where nothing says so."""
    said = read_places(text)
    parts = [part.count for part in said.multipliers if part.per != "opening"]
    found = [
        int(match["n"])
        for words in dict.fromkeys((text, said.residue))
        for pattern in _TIMES
        if (match := pattern.search(fold(compose(words)).strip()))
    ]
    return next((count for count in [*parts, *found] if count and count > 1), None)


@lru_cache(maxsize=4096)
def one_of_type(text: str) -> bool:
    """Whether a title or a section is of one type of unit, UNIT TYPE A, of which there may be many."""
    return bool(_TYPE.search(fold(compose(text)))) and not _SEVERAL_TYPES.search(fold(compose(text)))


def per_of(heading: str) -> str:
    """What a heading of counts counts them for each of (floor, building, unit, room); blank where it is in all."""
    said = (*read_count_text(heading).parts, *read_places(heading).multipliers)
    named = next((part.per for part in said if part.how == "per" and part.per and part.per != "opening"), "")
    return named or ("unit" if _PER.search(fold(compose(heading))) else "")
