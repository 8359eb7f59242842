"""What a unit of a material costs: the cheapest pack, and what waste makes of a net quantity."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from estimating.core.conditions import Conditions, PartSubject
from estimating.core.figures.figure import Step, figure, told, word
from estimating.core.figures.printing import LENGTH, NUMBER, OF_DIMENSION, Unit, money_for
from estimating.core.figures.rules import product, rule, total
from estimating.core.packs import Offers, Pack, least_price
from rates.core.fraction import Fraction
from rates.core.rows import MaterialRow, Waste


@rule("1 + percent ÷ 100")
def waste_added(percent: Fraction) -> Fraction:
    """Gross for net, where waste is added to the net quantity."""
    return 1 + percent / 100


@rule("1 ÷ (1 − percent ÷ 100)")
def waste_lost(percent: Fraction) -> Fraction:
    """Gross for net, where waste is lost of the gross quantity."""
    return 100 / (100 - percent)


WASTES = {"added": waste_added, "lost": waste_lost}


def own_unit(of: Any) -> Unit:
    """The unit that a row's material is measured in."""
    return OF_DIMENSION[of.row.packs[0].dimension]


def for_own_unit(of: Any) -> Unit:
    """Money for each of them."""
    return money_for(own_unit(of))


@dataclass(eq=False, repr=False)
class MaterialPrice(PartSubject):
    """A materials row at the temperature of its part."""

    conditions: Conditions
    row: MaterialRow

    @property
    def path(self) -> str:
        """material.<code>"""
        return f"{self.prefix}material.{word(self.row.code)}"

    @property
    def code(self) -> str:
        """The row's code."""
        return self.row.code

    @property
    def waste(self) -> Waste:
        """The waste that counts at the temperature."""
        return self.row.waste_at(self.temperature)

    def told_waste(view: Any) -> Any:
        """As it stands in the row."""
        named, at = dict(view.subject.row.waste_by_temperature), view.subject.temperature
        return view.row.field(f"waste_by_temperature/{at}" if at in named else "waste")

    @property
    def packs(self) -> tuple[Pack, ...]:
        """The packs as sold."""
        return tuple(Pack(p.size, p.price, p.label) for p in self.row.packs)

    @told
    def offers(self) -> Offers:
        """(size, price) of each pack."""
        return tuple((pack.size, pack.price) for pack in self.row.packs)

    @figure("Lowest price of {s.row.title}", for_own_unit, label="lowest price")
    def unit_price(self) -> Step:
        return least_price, "the least of price ÷ size", *self.offers

    @figure("Gross for net of {s.row.title}", NUMBER, label="gross for net")
    def gross_factor(self) -> Step:
        rule = WASTES[self.waste.kind]
        return rule, rule.words, self.waste.percent

    @figure("Lowest price of {s.row.title} after waste", for_own_unit)
    def price_after_waste(self) -> Step:
        return product, "lowest price × gross for net", self.unit_price, self.gross_factor

    @figure("Wet film of {s.row.title}", LENGTH, label="wet film", when=lambda s: s.row.wet_film_nm)
    def film(self) -> Step:
        return total, "Σ of all coats", *(self.row.wet_film_nm or ())
