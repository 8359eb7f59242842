"""Lengths of a building model, exact: its unit, its numbers as they stand, noise taken off, differences told."""

from __future__ import annotations

from typing import Any

from estimating.intake.asking import BLOCKS_COSTING, Asker
from estimating.intake.cells import read_cell_length
from rates.core.exact import print_quantity, read_decimal, round_half_up
from rates.core.fraction import Fraction
from rates.core.problems import Unreadable
from rates.core.units import LENGTH_NM

PREFIXES: dict[str | None, Fraction | int]
PREFIXES = {None: 1, "MILLI": Fraction(1, 1000), "CENTI": Fraction(1, 100), "DECI": Fraction(1, 10), "KILO": 1000}
ASKED_UNITS = ("mm", "m", "ft", "in", "cm")
NOISE_NM = 1000  # sizes are taken to the whole micrometre; what is behind is a computer's noise
DIFFERENCE = Fraction(1, 100)  # of overall and stated quantity before it is asked about


def settle_unit(unit: dict[str, Any] | None, asker: Asker) -> Fraction | None:
    """The project's unit of length in nanometres; asked for where none is stated, never taken from magnitude."""
    if unit is not None and unit["prefix"] in PREFIXES and unit["factor"] is not None:
        factor = exact(unit["factor"])
        if factor:
            return factor * PREFIXES[unit["prefix"]] * LENGTH_NM["m"]
    answer = asker.ask(
        "unit_unknown", BLOCKS_COSTING, "The model states no unit of length that is known. In which unit is it drawn?",
        about=("model",), choices=ASKED_UNITS,
    )  # fmt: skip
    return LENGTH_NM[answer] if answer else None


def exact(number: str | None) -> Fraction | None:
    """A number of the model as it stands; None for none, or one out of any range."""
    if number is None:
        return None
    mantissa, _, exponent = number.partition("e")
    try:
        power = int(exponent or 0)
        value = read_decimal(mantissa, max_digits=30, max_places=25)
    except (Unreadable, ValueError):
        return None
    return value * Fraction(10) ** power if abs(power) < 20 else None


def length_text(number: str | None, scale: Fraction | None) -> str | None:
    """A length as a line holds it, to the whole micrometre; None for none, 0 or less."""
    value = exact(number)
    if value is None or value <= 0:
        return None
    if scale is None:
        return print_quantity(value, 9)
    nm = round_half_up(value * scale / NOISE_NM) * NOISE_NM
    return f"{print_quantity(Fraction(nm, 10**6), 6)} mm" if nm else None


def settle_size(element: dict[str, Any], scale: Fraction | None) -> None:
    """Width and height: the overall size, the hole's only where that is null or 0."""
    hole = element["hole"] or {}
    for name in ("width", "height"):
        overall = length_text(element[name], scale)
        element[f"{name}_text"] = overall or length_text(hole.get(name), scale)
        element[f"{name}_from_hole"] = overall is None and element[f"{name}_text"] is not None
        element[f"{name}_quantity"] = length_text(element[f"quantity_{name}"], scale)
        element[f"{name}_noise"] = overall is not None and len(str(element[name])) > 12
    host = element["host"]
    element["depth_text"] = length_text(host["depth"], scale) if host else None


def differ(one: str, other: str) -> bool:
    """Whether two lengths differ by more than a hundredth."""
    a, b = read_cell_length(one, "").nm, read_cell_length(other, "").nm
    return a is not None and b is not None and abs(a - b) > DIFFERENCE * a
