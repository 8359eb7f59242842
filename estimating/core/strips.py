"""How cut pieces come out of a stock width, and which stock costs least for an opening.

n = 1 where the stock is as wide as the piece, else ceil((W − L) / (b − L)) strips lapped by L.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from estimating.core.cuts import Cut
from estimating.core.packs import Pack, lowest_unit_price
from rates.core.fraction import Fraction
from rates.core.rows import MaterialRow


@dataclass(frozen=True)
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


def strip_count(width_nm: Fraction, stock_nm: Fraction, lap_nm: Fraction) -> int | None:
    """Strips of stock that cover a width, or None where the stock is no wider than its lap."""
    if stock_nm >= width_nm:
        return 1
    return None if stock_nm <= lap_nm else ceil((width_nm - lap_nm) / (stock_nm - lap_nm))


def piece(cut: Cut, row: MaterialRow, lap_nm: Fraction) -> Piece | None:
    """The cut from this row's stock; a diagonal goes in by its short side where its long side fits across."""
    stock = row.width_nm or Fraction(0)
    length, width = cut.length_nm, stock if cut.width_nm is None else cut.width_nm
    if cut.diagonal:
        short, long = sorted((length, width))
        length, width = (short, long) if long <= stock else (long, short)
    strips = strip_count(width, stock, lap_nm)
    if strips is None:
        return None
    return Piece(row.code, cut.name, length, width if strips == 1 else stock, strips, cut.count)


def packs_of(row: MaterialRow) -> tuple[Pack, ...]:
    """The row's packs for the pack search."""
    return tuple(Pack(p.size, p.price, p.label) for p in row.packs)


@dataclass(frozen=True)
class Stock:
    """A mesh or tape row with what a nanometre of it costs after waste (major units)."""

    row: MaterialRow
    price_per_nm: Fraction

    @staticmethod
    def of(row: MaterialRow, temperature: str | None) -> Stock:
        """The row priced at its cheapest pack and this temperature's waste."""
        return Stock(row, lowest_unit_price(packs_of(row)) * row.waste_at(temperature).gross_factor)


@dataclass(frozen=True)
class StockChoice:
    """The pieces from the chosen stock, its cost and the strips past the first of each piece."""

    stock: Stock
    pieces: tuple[Piece, ...]
    extra_strips: int
    cost: Fraction


def choose(cuts: Sequence[Cut], stocks: Sequence[Stock], lap_nm: Fraction, strip_cost: Fraction) -> StockChoice | None:
    """The least-cost stock for an opening, ties to the earlier row; None where none is wide enough to lap.

    Cost = Σ length × strips × price per nm after waste, plus strips past the first × `strip_cost` (major units).
    """
    best: StockChoice | None = None
    for stock in stocks:
        pieces = [piece(cut, stock.row, lap_nm) for cut in cuts]
        fitted = tuple(p for p in pieces if p is not None)
        if len(fitted) < len(cuts):
            continue
        extra = sum((p.strips - 1) * p.count for p in fitted)
        length = sum((p.length_nm * p.pieces for p in fitted), Fraction(0))
        cost = length * stock.price_per_nm + extra * strip_cost
        if best is None or cost < best.cost:
            best = StockChoice(stock, fitted, extra, cost)
    return best
