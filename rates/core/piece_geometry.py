"""Field table of how pieces are cut, part of the production table: laps, turns, diagonals, factors, with defaults."""

from __future__ import annotations

from typing import Any

from rates.core.fields import Field, Record, decimal
from rates.core.fraction import Fraction
from rates.core.production_rows import Geometry
from rates.core.tables import length, length_or_zero
from rates.core.units import LENGTH_NM

INCH = LENGTH_NM["in"]
factor = decimal(0, 100, above=True)

LENGTHS_IN = {
    "face_lap": 2,
    "turn_sill": 2,
    "turn_head": 2,
    "sill_turn_up": 0,
    "collar_lap": 2,
    "mesh_lap": 2,
    "tape_lap": 2,
    "tape_sill_turn_up": 6,
    "tape_corner_length": 6,
    "lap_on_pipe": 2,
}


def geometry(**v: Any) -> Geometry:
    """Built from its fields."""
    width, long = v.pop("diagonal")
    factors = {name: v.pop(name) for name in ("arch_factor", "collar_factor")}
    lengths = {f"{name}_nm": value for name, value in v.items()}
    return Geometry(diagonal_width_nm=width, diagonal_length_nm=long, **lengths, **factors)


GEOMETRY = Record(
    geometry,
    (
        *(Field(n, length_or_zero, n.replace("_", " "), default=INCH * inches) for n, inches in LENGTHS_IN.items()),
        Field(
            "diagonal",
            Record(
                lambda width, length: (width, length),
                (Field("width", length, "width", required=True), Field("length", length, "length", required=True)),
            ),
            "the reinforcing piece across a corner",
            default=(4 * INCH, 8 * INCH),
        ),
        Field("arch_factor", factor, "of the head arc's length", default=Fraction(11, 10)),
        Field("collar_factor", factor, "of a round opening's perimeter", default=Fraction(11, 10)),
    ),
)
NO_GEOMETRY = geometry(
    **{n: INCH * inches for n, inches in LENGTHS_IN.items()},
    diagonal=(4 * INCH, 8 * INCH),
    arch_factor=Fraction(11, 10),
    collar_factor=Fraction(11, 10),
)
