"""Cells of a column of walls: what the wall is built of, or whether it is exterior. Common practice, no source."""

from __future__ import annotations

import re
from functools import lru_cache

from estimating.intake.folding import compose, fold
from estimating.intake.place_headings import place_of_heading
from estimating.intake.places_words import read_places
from estimating.intake.vocabulary import substrate_of

_BUILT = re.compile(
    r"\b(?:cmu|blocks?(?! [a-z0-9]\b)|bricks?|masonry|concrete|conc|precast|tilt ?-?up|icf|clt|sips?|eifs|stucco|studs?"
    r"|framed?|framing|steel|stl|metal|mtl|wood|wd|timber|siding|veneer|gyp|gypsum|sheathing|osb|plywood|ply"
    r"|(?:cement|fiber) board|curtain ?wall|stone|adobe|beton|stahlbeton|mauerwerk|ziegel|klinker|kalksandstein"
    r"|porenbeton|holz|holzrahmen|stahl|trockenbau|brique|bois|parpaing|pierre|ossature|hormigon|ladrillo|madera|acero"
    r"|bloque de hormigon)\b"
)
_OUTSIDE = re.compile(
    r"(?:int|ext)(?:erior|ernal)?\.?(?:\s*wall)?|außen(?:wand)?|innen(?:wand)?|ext[ée]rieur|int[ée]rieur", re.IGNORECASE
)


@lru_cache(maxsize=8192)
def is_construction(cell: str) -> bool:
    """Whether a cell says what a wall is built of, and names no place: CMU, metal stud, 8 in brick."""
    if substrate_of(cell) is not None:
        return True
    return place_of_heading(cell) is None and bool(_BUILT.search(fold(compose(cell))))


def says_outside(cell: str) -> bool:
    """Whether a cell says that a wall is exterior or interior and nothing else."""
    return _OUTSIDE.fullmatch(cell.strip()) is not None


@lru_cache(maxsize=8192)
def is_elevation(cell: str) -> bool:
    """Whether a cell names an elevation as known words do: N, South wall, Elev. 3, front."""
    return place_of_heading(cell) is not None or bool(read_places(cell).names("elevation"))
