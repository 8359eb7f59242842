"""Lengths printed in a company's style, each so that it reads back: feet and inches, inches, millimetres, metres."""

from __future__ import annotations

from dataclasses import dataclass

from rates.core.exact import print_quantity, round_half_up
from rates.core.feet_inches import INCH_NM, print_feet_inches
from rates.core.fraction import Fraction

STYLES = ("feet_inches", "inches", "mm", "m")
DENOMINATORS = (8, 16)
STYLE_OF_UNITS = {"imperial": "feet_inches", "metric": "mm"}  # what a company starts with
MM_NM, TENTH_MM_NM = 1_000_000, 100_000


@dataclass(frozen=True, slots=True)
class LengthStyle:
    """How a company reads lengths: one of STYLES, and 1/denominator in for the first two.

    For people alone: beside what is shown the exact quantity stands, and nothing is computed from the text.
    """

    name: str = "feet_inches"
    denominator: int = 16

    @property
    def step_nm(self) -> Fraction:
        """What lengths are rounded to when shown: 1/denominator in, or 0.1 mm."""
        inches = self.name in ("feet_inches", "inches")
        return Fraction(INCH_NM, self.denominator) if inches else Fraction(TENTH_MM_NM)

    def show(self, nm: Fraction | int) -> str:
        """A length to the nearest step, half away from zero; nm in nanometres. Reads back to the rounded length."""
        step = self.step_nm
        return print_length(round_half_up(Fraction(nm) / step) * step, self.name, self.denominator)

    def show_cut(self, nm: Fraction | int) -> str:
        """A length to cut, rounded up to 1/denominator in or 1 mm, so that no piece is short; nm in nanometres."""
        step = self.step_nm if self.name in ("feet_inches", "inches") else Fraction(MM_NM)
        return print_length(-(-Fraction(nm) // step) * step, self.name, self.denominator)


def print_length(nm: Fraction | int, style: str, denominator: int = 16) -> str:
    """A length as 3'-4 3/8", 40 3/8 in, 1025.525 mm or 1.025525 m; nm in nanometres.

    feet_inches and inches are rounded to 1/denominator in, mm and m to the whole nanometre, half away from zero.
    ValueError for another style.
    """
    if style == "feet_inches":
        return print_feet_inches(nm, denominator)
    if style == "inches":
        return f"{print_inches(Fraction(nm), denominator)} in"
    if style in ("mm", "m"):
        places = 6 if style == "mm" else 9
        return f"{print_quantity(Fraction(nm) / 10**places, places)} {style}"
    raise ValueError(style)


def print_inches(nm: Fraction, denominator: int) -> str:
    """Inches as 40 3/8, the fraction in lowest terms."""
    parts = round_half_up(abs(nm) * denominator / INCH_NM)
    whole, top = divmod(parts, denominator)
    rest = Fraction(top, denominator)
    text = f"{whole} {rest}" if whole and rest else str(rest or whole)
    return "-" + text if nm < 0 and parts else text
