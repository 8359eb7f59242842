"""How many strips cover a piece wider than its stock, and which stock is chosen at least cost.

n = 1 where the stock is as wide as the piece W, else ceil((W − L) / (b − L)) strips of width b lapped by L: geometry.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from estimating.core.strips import StockChoice, strip_count
from rates.core.problems import Refused
from rates.core.units import LENGTH_NM
from tests.core.invented import (
    Document,
    bought,
    costed,
    edition,
    inches,
    material,
    materials,
    opening,
    production,
    request,
    work,
)

INCH = LENGTH_NM["in"]
WINDOW = {"width": "48", "height": "60"}


def choice_of(line: Document, method: str, given: Document) -> StockChoice:
    """The chosen stock and pieces of one opening."""
    choice = work(costed(request(line, method=method, length_unit="in"), given)).choice
    assert choice is not None
    return choice


@pytest.mark.parametrize(
    ("width", "stock", "lap", "strips"),
    [
        ("8", "9", "2", 1),
        ("9", "9", "2", 1),
        ("8", "6", "2", 2),  # (8 − 2) / (6 − 2) = 1.5
        ("10", "6", "2", 2),  # (10 − 2) / 4 = 2
        ("10.01", "6", "2", 3),
        ("42", "9", "2", 6),  # 40 / 7 = 5.7
        ("10", "6", "0", 2),
        ("8", "2", "2", None),
        ("8", "1", "2", None),
        ("1", "1", "2", 1),
    ],
)
def test_strips_cover_a_width_with_their_laps(width: str, stock: str, lap: str, strips: int | None) -> None:
    found = strip_count(*(Fraction(x) * INCH for x in (width, stock, lap)))
    assert found == strips
    if strips is not None and strips > 1:
        covered = Fraction(stock) + (strips - 1) * (Fraction(stock) - Fraction(lap))
        assert covered - (Fraction(stock) - Fraction(lap)) < Fraction(width) <= covered


def stock(role: str, *rows: tuple[str, str, str]) -> list[Document]:
    """The plain materials with these (width, roll, price) rows for a role."""
    own = [
        material(role, f"{role} {width}", width=width, packs=[{"size": size, "price": price}])
        for width, size, price in rows
    ]
    return [m for m in materials() if m["role"] != role] + own


@pytest.mark.parametrize("method", ["fluid", "tape"])
def test_a_piece_wider_than_its_stock_is_cut_in_strips(method: str) -> None:
    """d 8 and f 2 make 10 in: two strips of 6 in lapped by 2; a fluid diagonal lies along the roll, 4 in wide."""
    role = "tape" if method == "tape" else "mesh"
    given = edition(
        materials=stock(role, ("6 in", "100 ft", "50")), production=production(tape={"extra_strip_minutes": "3"})
    )
    estimate = costed(request(opening(**WINDOW), method=method, treated_depth="8 in", length_unit="in"), given)
    choice = work(estimate).choice
    assert choice is not None
    assert [(p.name, p.strips, p.pieces, inches(p.width_nm)) for p in choice.pieces[:3]] == [
        ("sill", 2, 2, 6),
        ("jamb", 2, 4, 6),
        ("head", 2, 2, 6),
    ]
    last = choice.pieces[3]
    assert (last.strips, inches(last.length_nm)) == ((1, 8) if method == "fluid" else (1, 6))
    lengths = 2 * 48 + 4 * 64 + 2 * 48 + 4 * 8 if method == "fluid" else 2 * 60 + 4 * 64 + 2 * 52 + 4 * 6
    assert inches(bought(estimate, f"{role} 6 in").net) == lengths
    assert choice.extra_strips == 4
    assert work(estimate).base_minutes == 12 + Fraction("1.125") * 18 + 4 * 3


@pytest.mark.parametrize(("width", "across"), [("8", True), ("7.99", False)])
def test_a_diagonal_lies_across_the_roll_where_its_long_side_just_fits(width: str, across: bool) -> None:
    """4 × 8 in: 4 in of roll, or 8."""
    choice = choice_of(opening(), "fluid", edition(materials=stock("mesh", (f"{width} in", "100 ft", "50"))))
    diagonal = choice.pieces[-1]
    assert (diagonal.name, inches(diagonal.length_nm), diagonal.strips) == ("diagonal", 4 if across else 8, 1)


def test_the_lap_between_strips_is_the_methods_own() -> None:
    """10 in from 6 in stock: two strips at a lap of 2, three at a lap of 3 (7 / 3)."""
    given = edition(
        materials=stock("mesh", ("6 in", "100 ft", "50")), production=production(geometry={"mesh_lap": "3 in"})
    )
    assert choice_of(opening(treated_depth="8 in"), "fluid", given).pieces[0].strips == 3
    given = edition(
        materials=stock("tape", ("6 in", "100 ft", "50")), production=production(geometry={"mesh_lap": "3 in"})
    )
    assert choice_of(opening(treated_depth="8 in"), "tape", given).pieces[0].strips == 2


@pytest.mark.parametrize("method", ["fluid", "tape"])
def test_refuses_stock_that_is_no_wider_than_its_lap(method: str) -> None:
    """Found only when pieces are cut, so it is a refusal of costing; nothing is guessed."""
    role = "tape" if method == "tape" else "mesh"
    given = edition(materials=stock(role, ("2 in", "100 ft", "50")))
    with pytest.raises(Refused, match="no wider than its lap"):
        costed(request(opening(), method=method), given)


@pytest.mark.parametrize(
    ("narrow", "extra_minutes", "chosen"),
    [
        # one opening 48 × 48, 8 in pieces: 2 × 48 + 2 × 52 = 200 in, in two strips of 6 in or one of 12 in; diagonals
        # 4 × 8 in along the 6 in roll, 4 × 4 in across the 12 in one: 432 in against 216 in, 1.00 and 1.90 a foot
        ("100", "0", "mesh 12 in"),  # 36.00 against 34.20
        ("90", "0", "mesh 6 in"),  # 32.40 against 34.20
        ("90", "0.4", "mesh 6 in"),  # four strips more, 1.00 a minute: 34.00
        ("90", "0.5", "mesh 12 in"),  # 34.40
        ("90", "0.45", "mesh 6 in"),  # 34.20: a tie goes to the earlier row
    ],
)
def test_the_stock_that_costs_least_with_its_extra_minutes_is_chosen(
    narrow: str, extra_minutes: str, chosen: str
) -> None:
    rows = stock("mesh", ("6 in", "100 ft", narrow), ("12 in", "100 ft", "190"))
    given = edition(materials=rows, production=production(tape={"extra_strip_minutes": extra_minutes}))
    assert choice_of(opening(), "fluid", given).stock.row.code == chosen
