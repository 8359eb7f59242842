"""Openings with a curved head on jambs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from estimating.core.irrational import PI, asin, settle, tan
from estimating.core.shape import Shape, Stretch
from rates.core.fraction import Fraction


@dataclass(frozen=True)
class Arched(Shape):
    """Jambs to the springline under a curved head."""

    width: Fraction
    springline: Fraction
    has_sill = True
    may = ("springline", "height")

    @property
    def width_nm(self) -> Fraction:
        return self.width

    def arc(self) -> tuple[Fraction, Fraction]:
        """(length of the head arc in nm, half the angle at its centre in radians)."""
        raise NotImplementedError

    def has_jambs(self, sides: frozenset[str]) -> bool:
        """Whether there are jambs and they are treated."""
        return "jambs" in sides and self.springline > 0

    def stretches(self, sides: frozenset[str]) -> Sequence[Stretch]:
        there = {"sill": "sill" in sides, "jambs": self.has_jambs(sides), "arc": "head" in sides}
        return [stretch for stretch in ARCH if there[stretch.name]]

    def stretch_nm(self, name: str, place: int) -> Fraction:
        return {"sill": self.width, "jambs": self.springline}[name] if name != "arc" else self.arc()[0]

    def corner_factor(self, sides: frozenset[str]) -> Fraction:
        """Corners at the sill and, where the arc meets the jambs at an angle, at the springline."""
        found, has_jambs = Fraction(2 if "sill" in sides and self.has_jambs(sides) else 0), self.has_jambs(sides)
        if "head" in sides:
            _, half_angle = self.arc()
            found += half_angle
            if has_jambs and half_angle != PI / 2:
                found += 2 * tan((PI / 2 - half_angle) / 2)
            elif not has_jambs and self.springline == 0 and "sill" in sides:
                found += 2 * (Fraction(1) if half_angle == PI / 2 else tan((PI - half_angle) / 2))
        return settle(found)

    def corners(self, sides: frozenset[str]) -> int:
        lunette = "head" in sides and self.springline == 0
        return 2 if "sill" in sides and (self.has_jambs(sides) or lunette) else 0


ARCH = (Stretch("sill", 1), Stretch("jambs", 2), Stretch("arc", 1))


@dataclass(frozen=True)
class HalfRoundTop(Arched):
    """A half circle on jambs: arc πw/2, Θ = π, no corner at the springline."""

    name = "half_round_top"
    needs = ("width",)

    @property
    def height_nm(self) -> Fraction:
        return self.springline + self.width / 2

    def arc(self) -> tuple[Fraction, Fraction]:
        return PI * self.width / 2, PI / 2


@dataclass(frozen=True)
class SegmentalTop(Arched):
    """A flatter arc of a given rise: R = (w²/4 + r²)/2r, θ = 2 asin(w/2R), rise ≤ w/2."""

    rise: Fraction
    name = "segmental_top"
    needs = ("width", "rise")

    @property
    def height_nm(self) -> Fraction:
        return self.springline + self.rise

    def arc(self) -> tuple[Fraction, Fraction]:
        if 2 * self.rise == self.width:
            return PI * self.width / 2, PI / 2
        radius = (self.width**2 / 4 + self.rise**2) / (2 * self.rise)
        half_angle = asin(self.width / (2 * radius))
        return settle(2 * radius * half_angle), half_angle
