"""What a shape of opening says of its outline; shapes.py has them all."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from typing import ClassVar, NamedTuple

from rates.core.fraction import Fraction

Point = tuple[Fraction, Fraction]
SIDES = ("sill", "jambs", "head")
ALL_SIDES = frozenset(SIDES)


class Stretch(NamedTuple):
    """Straight or curved stretches of one name, `times` alike; place: of a side among those between points."""

    name: str
    times: int
    place: int = 0


@dataclass(frozen=True)
class Shape:
    """A rough opening's outline; `name` is the word of the schedule.

    needs, may: the fields of a line that say its size, those that have to be there and those that can; an attribute is
    called as its field.
    """

    name = "shape"
    has_sill = False
    needs: ClassVar[tuple[str, ...]] = ()
    may: ClassVar[tuple[str, ...]] = ()

    @property
    def width_nm(self) -> Fraction:
        """Overall width."""
        raise NotImplementedError

    @property
    def height_nm(self) -> Fraction:
        """Overall height."""
        raise NotImplementedError

    @property
    def sizes(self) -> Mapping[str, Fraction]:
        """The lengths that the outline is drawn by, in nm."""
        values = {field.name: getattr(self, field.name) for field in fields(self)}
        return {name: value for name, value in values.items() if isinstance(value, Fraction)}

    def stretches(self, sides: frozenset[str]) -> Sequence[Stretch]:
        """The treated stretches of the outline in the order of work."""
        raise NotImplementedError

    def stretch_nm(self, name: str, place: int) -> Fraction:
        """The length of a stretch; place: of a side among those between points."""
        raise NotImplementedError

    @property
    def outline_nm(self) -> Fraction:
        """The length of the whole outline, whatever sides are treated."""
        lengths = [self.stretch_nm(x.name, x.place) * x.times for x in self.stretches(ALL_SIDES)]
        return sum(lengths, Fraction(0))

    def corner_factor(self, sides: frozenset[str]) -> Fraction:
        """K of the treated sides; quotients of irrationals settle to 40 decimals."""
        raise NotImplementedError

    def corners(self, sides: frozenset[str]) -> int:
        """The corners that take a diagonal."""
        raise NotImplementedError
