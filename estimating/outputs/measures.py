"""Exact quantities as answers print them: half-up at six places in the units of the document."""

from __future__ import annotations

from dataclasses import dataclass

from estimating.core.estimate import Estimate
from estimating.outputs.text_table import group_thousands
from rates.core.exact import print_quantity, print_scaled, round_half_up
from rates.core.fraction import Fraction
from rates.core.units import AREA_NM2, LENGTH_NM, VOLUME_NM3


@dataclass(frozen=True)
class Measures:
    """The units of one document: lengths of pieces, perimeters and rolls, areas, volumes."""

    length: str
    perimeter: str
    area: str
    volume: str

    def stated(self) -> dict[str, str]:
        """As the document states them once."""
        return {"length": self.length, "perimeter": self.perimeter, "area": self.area, "volume": self.volume}

    def print_length(self, nm: Fraction) -> str:
        """A piece's length."""
        return print_quantity(nm / LENGTH_NM[self.length])

    def print_perimeter(self, nm: Fraction) -> str:
        """A perimeter or a length of roll."""
        return print_quantity(nm / LENGTH_NM[self.perimeter])

    def print_area(self, nm2: Fraction) -> str:
        """An area."""
        return print_quantity(nm2 / AREA_NM2[self.area])

    def unit_of(self, dimension: str) -> str:
        """The unit of a material's quantity by its dimension (length, volume, each)."""
        return {"length": self.perimeter, "volume": self.volume}.get(dimension, "each")

    def stock(self, dimension: str, base: Fraction) -> Fraction:
        """A material's quantity in its unit, given in nm, nm³ or pieces."""
        if dimension == "length":
            return base / LENGTH_NM[self.perimeter]
        return base / VOLUME_NM3[self.volume] if dimension == "volume" else base

    def print_stock(self, dimension: str, base: Fraction) -> str:
        """A material's quantity, given in nm, nm³ or pieces."""
        return print_quantity(self.stock(dimension, base))


# places to which a person reads a figure; documents have it to six
PLACES = {"hours": 2, "factor": 3, "ft": 1, "m": 2, "ft2": 1, "m2": 2, "gal": 2, "L": 2}


def for_reading(value: Fraction, unit: str = "hours") -> str:
    """A figure rounded half up as the report shows it, thousands grouped."""
    places = PLACES.get(unit, 0)
    return group_thousands(print_scaled(round_half_up(value * 10**places), places))


MEASURES = {"imperial": Measures("in", "ft", "ft2", "gal"), "metric": Measures("mm", "m", "m2", "L")}


def measures_of(estimate: Estimate) -> Measures:
    """The units that the request asks for."""
    return MEASURES[estimate.request.units]
