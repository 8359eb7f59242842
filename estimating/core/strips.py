"""How cut pieces come out of a stock width, and which stock costs least for an opening.

n = 1 where the stock is as wide as the piece, else ceil((W − L) / (b − L)) strips lapped by L.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil
from operator import attrgetter
from typing import Any

from estimating.core.conditions import PartSubject
from estimating.core.crew import CrewCost
from estimating.core.cuts import Cut
from estimating.core.figures.figure import Step, figure, figures, named, once, parameter, told, word
from estimating.core.figures.printing import EXACT_MONEY, LENGTH, NUMBER, RUN, TEXT
from estimating.core.figures.rules import minimum, product, rule, sum_of_products, total
from estimating.core.material_prices import MaterialPrice
from estimating.core.roll_needs import chosen_for_job
from rates.core.fraction import Fraction
from rates.core.production_rows import Geometry

ZERO, ONE = Fraction(0), Fraction(1)
ALIKE = {count: parameter("alike", count) for count in (1, 2)}
PieceKey = tuple[int, int]
TURNS, LAPS = parameter("turns", 2), parameter("laps", 2)
KEYS, FITTING = attrgetter("piece_keys"), attrgetter("fitting")


@rule("strips of the second, lapped by the third, that cover the first")
def strip_count(width: Fraction, stock: Fraction, lap: Fraction) -> Fraction | None:
    """1 where the stock is as wide; None where it is no wider than its lap."""
    if stock >= width:
        return ONE
    return None if stock <= lap else Fraction(ceil((width - lap) / (stock - lap)))


@rule("Σ over terms of count − count ÷ strips")
def extra_strips(*pieces: tuple[Fraction, Fraction]) -> Fraction:
    """Strips past the first of each piece; each term is (strips, lengths cut)."""
    return sum((count - count / strips for strips, count in pieces if strips != 1), ZERO)


@rule("the side that goes along the stock: the short one where the long one fits across it")
def diagonal_length(one: Fraction, other: Fraction, stock: Fraction) -> Fraction:
    """Of a diagonal of these sides."""
    return min(one, other) if max(one, other) <= stock else max(one, other)


@rule("the side that goes across the stock: the long one where it fits")
def diagonal_width(one: Fraction, other: Fraction, stock: Fraction) -> Fraction:
    """Of a diagonal of these sides."""
    return max(one, other) if max(one, other) <= stock else min(one, other)


@rule("the name of the cheapest, ties to the earlier")
def least_cost(*costs: Any) -> str:
    """Of costs that have names."""
    return str(min(costs).input.name)


@dataclass(frozen=True, slots=True)
class Piece:
    """A cut as it leaves one stock: `strips` lengths for each of `count` pieces, each `width_nm` wide."""

    material: str
    name: str
    length_nm: Fraction
    width_nm: Fraction
    strips: int
    count: int

    @property
    def pieces(self) -> int:
        """Lengths cut from the roll."""
        return self.strips * self.count


@dataclass(frozen=True)
class StockChoice:
    """The pieces from the chosen stock, its cost and the strips past the first of each piece."""

    stock: MaterialPrice
    pieces: tuple[Piece, ...]
    extra_strips: int
    cost: Fraction


class Pieces(PartSubject):
    """What is cut for one opening, or for the joints, from every stock that it may be cut from.

    run: the stretch that each piece is cut for; depth: the return that it covers; pieces by (place of the stock, of the
    cut); planned: the code of the stock that a cut plan takes for the whole job.
    """

    index: int | None
    method: str
    stocks: tuple[MaterialPrice, ...]
    crew: CrewCost
    cuts: tuple[Cut, ...]
    run: Mapping[int, Fraction]
    corners: Any
    geometry: Geometry
    planned: str | None = None

    def told_geometry(view: Any) -> Any:
        """As the production table has it."""
        return view.production.geometry

    @told
    def lap(self) -> Any:
        """The lap between strips of its stock."""
        return self.geometry.tape_lap_nm if self.method == "tape" else self.geometry.mesh_lap_nm

    def fits(self, place: int) -> bool:
        """Whether strips of a stock can be lapped over every piece."""
        width = self.stocks[place].row.width_nm or ZERO
        if width > self.lap:
            return True
        steps = [self.cut_width_from(place, j) for j in range(len(self.cuts))]
        return all(rule.function(*inputs) <= width for rule, _, *inputs in steps)

    @once
    def fitting(self) -> list[int]:
        """Places of the stocks that fit."""
        return [i for i in range(len(self.stocks)) if self.fits(i)]

    @once
    def piece_keys(self) -> list[PieceKey]:
        """Every piece from every stock that fits."""
        return [(i, j) for i in self.fitting for j in range(len(self.cuts))]

    @property
    def chosen(self) -> int:
        """The place of the stock that is chosen; ValueError where none fits."""
        fitting = self.fitting
        return fitting[0] if len(fitting) == 1 else [s.row.code for s in self.stocks].index(str(self.stock))

    def stem(self, key: PieceKey, more: str = "") -> str:
        """The name of a piece: short from the stock that is chosen."""
        i, j = key
        return f"piece.{j}{more}" if i == self.chosen else f"stock.{word(self.stocks[i].row.code)}.piece.{j}{more}"

    def of_stock(self, place: int) -> str:
        """The first words of the figures of a stock."""
        return f"stock.{word(self.stocks[place].row.code)}"

    @figures(lambda s, k: f"Length of the {s.cuts[k[1]].name}", LENGTH, KEYS, stem, label="length")
    def length(self, key: PieceKey) -> Step:
        i, j = key
        name, g = self.cuts[j].name, self.geometry
        if name == "diagonal":
            words = "the short side where the long side fits across the stock, else the long side"
            return diagonal_length, words, g.diagonal_length_nm, g.diagonal_width_nm, self.stocks[i].row.width_nm
        if name == "corner":
            return total, "the corner length of the table", g.tape_corner_length_nm
        return self.run_length(name, self.run[j])

    def run_length(self, name: str, run: Fraction) -> Step:
        """The length of the piece for a stretch of the outline."""
        g = self.geometry
        if name == "jamb":
            words = "height + turn on to the head, and where a sill is treated + turn on to the sill"
            turns = [g.turn_head_nm, g.turn_sill_nm] if self.has_sill else [g.turn_head_nm]
            return total, words, run, *turns
        if name == "sill":
            turn = g.tape_sill_turn_up_nm if self.method == "tape" else g.sill_turn_up_nm
            return sum_of_products, "width + 2 × turn up the jambs", (run,), (turn, TURNS)
        if name == "head":
            laps = [(g.face_lap_nm, LAPS)] if self.method == "tape" else []
            return sum_of_products, "width; tape + 2 × face lap", (run,), *laps
        if name == "arch head":
            return product, "arc × arch factor", run, g.arch_factor
        if name == "collar":
            words = "perimeter × collar factor + collar lap"
            return sum_of_products, words, (run, g.collar_factor), (g.collar_lap_nm,)
        if name == "joint":
            return total, "the length of the joints", run
        return total, "side + one head turn", run, g.turn_head_nm

    @property
    def has_sill(self) -> bool:
        """Whether the sill is treated."""
        return False

    def cut_width_from(self, i: int, j: int) -> Step:
        """The width that a piece must cover, from a stock."""
        name, g = self.cuts[j].name, self.geometry
        if name == "diagonal":
            words = "the side of the diagonal that does not go along the stock"
            return diagonal_width, words, g.diagonal_length_nm, g.diagonal_width_nm, self.stocks[i].row.width_nm
        words = "return depth + face lap; a tape corner is as wide as its stock, a joint as the table says"
        return total, words, *([self.stocks[i].row.width_nm] if name == "corner" else self.covered(name))

    def covered(self, name: str) -> Any:
        """What the width of a piece is made of."""
        raise NotImplementedError(name)

    @figures(
        lambda s, k: s.cuts[k[1]].width_title,
        LENGTH,
        KEYS,
        lambda s, k: s.stem(k, ".cut_width"),
        label="width to cover",
    )
    def cut_width(self, key: PieceKey) -> Step:
        return self.cut_width_from(*key)

    @figures(
        lambda s, k: f"Width of a strip of the {s.cuts[k[1]].name}",
        LENGTH,
        KEYS,
        lambda s, k: s.stem(k, ".width"),
        label="width",
    )
    def width_of_strip(self, key: PieceKey) -> Step:
        words = "the width to cover, at most the stock's"
        return minimum, words, self.cut_width[key], self.stocks[key[0]].row.width_nm

    @figures(
        lambda s, k: f"Strips for the {s.cuts[k[1]].name}", NUMBER, KEYS, lambda s, k: s.stem(k, ".strips"), "strips"
    )
    def strips(self, key: PieceKey) -> Step:
        words = "1 where the stock is as wide, else (width − lap) ÷ (stock − lap), rounded up"
        return strip_count, words, self.cut_width[key], self.stocks[key[0]].row.width_nm, self.lap

    @figures(
        lambda s, k: f"Lengths cut for the {s.cuts[k[1]].name}",
        NUMBER,
        KEYS,
        lambda s, k: s.stem(k, ".count"),
        "how many",
    )
    def count(self, key: PieceKey) -> Step:
        cut = self.cuts[key[1]]
        each = self.corners if cut.name in ("corner", "diagonal") else ALIKE[cut.times]
        return product, "strips × how many alike in one opening", self.strips[key], each

    @figures("Length of stock for one opening", RUN, FITTING, lambda s, k: f"{s.of_stock(k)}.length", "length")
    def stock_length(self, place: int) -> Step:
        length, count, keys = self.length, self.count, [(place, j) for j in range(len(self.cuts))]
        return sum_of_products, "Σ length × how many", *[(length[k], count[k]) for k in keys]

    @figures("Strips past the first", NUMBER, FITTING, lambda s, k: f"{s.of_stock(k)}.extra_strips", "extra strips")
    def extra_strips(self, place: int) -> Step:
        keys = [(place, j) for j in range(len(self.cuts))]
        return extra_strips, "Σ lengths − lengths ÷ strips", *((self.strips[k], self.count[k]) for k in keys)

    @figures("Cost of one opening from this stock", EXACT_MONEY, FITTING, lambda s, k: f"{s.of_stock(k)}.cost", "cost")
    def stock_cost(self, place: int) -> Step:
        words = "length × lowest price after waste + extra strips × cost of a strip's minutes"
        of_length = (self.stock_length[place], self.stocks[place].price_after_waste)
        return sum_of_products, words, of_length, (self.extra_strips[place], self.crew.strip_cost)

    @figure("Stock chosen", TEXT, label="stock chosen")
    def stock(self) -> Step:
        if self.planned is not None:
            return chosen_for_job, chosen_for_job.words, parameter("stock of the cut plan", self.planned)
        words = "the stock of the least cost, ties to the earlier row; stock no wider than its lap is left out"
        return least_cost, words, *(named(self.stocks[i].row.code, cost) for i, cost in self.stock_cost.items())

    @property
    def choice(self) -> StockChoice:
        """The pieces from the stock that is chosen."""
        i = self.chosen
        stock = self.stocks[i]
        pieces = []
        for j, cut in enumerate(self.cuts):
            length, width = self.length[i, j], self.width_of_strip[i, j]
            pieces.append(Piece(stock.row.code, cut.name, length, width, int(self.strips[i, j]), cut.times))
        return StockChoice(stock, tuple(pieces), int(self.extra_strips[i]), self.stock_cost[i])
