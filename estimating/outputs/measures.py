"""Exact quantities as answers print them: half-up at six places in the units of the document."""

from __future__ import annotations

from dataclasses import dataclass

from estimating.core.estimate import Estimate
from rates.core.exact import print_quantity
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

    def print_stock(self, dimension: str, base: Fraction) -> str:
        """A material's quantity, given in nm, nm³ or pieces."""
        if dimension == "length":
            return self.print_perimeter(base)
        return print_quantity(base / VOLUME_NM3[self.volume] if dimension == "volume" else base)


MEASURES = {"imperial": Measures("in", "ft", "ft2", "gal"), "metric": Measures("mm", "m", "m2", "L")}


def measures_of(estimate: Estimate) -> Measures:
    """The units that the request asks for."""
    return MEASURES[estimate.request.units]
