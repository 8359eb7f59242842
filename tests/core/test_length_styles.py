"""Lengths print in each style and read back equal: 10,000 of them, drawn anew by a fixed seed."""

from __future__ import annotations

import random
from fractions import Fraction

import pytest

from rates.core.length_styles import STYLES, print_length
from rates.core.units import read_length

INCH = Fraction(25_400_000)


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("denominator", [16, 64])
def test_ten_thousand_random_lengths_read_back_equal(style: str, denominator: int) -> None:
    chance = random.Random(20_270_101)
    for _ in range(10_000):
        if style in ("mm", "m"):
            nm = Fraction(chance.randrange(1, 20 * 10**9))
        else:
            nm = INCH * chance.randrange(1, 720 * denominator) / denominator
        text = print_length(nm, style, denominator)
        assert read_length(text).nm == nm, text


@pytest.mark.parametrize(
    ("style", "text"),
    [("feet_inches", "3'-4 3/8\""), ("inches", "40 3/8 in"), ("mm", "1025.525 mm"), ("m", "1.025525 m")],
)
def test_one_length_in_every_style(style: str, text: str) -> None:
    # 3'-4 3/8" is 40.375 in; times 25.4 exactly (NIST Handbook 44, Appendix C) is 1025.525 mm
    assert print_length(40 * INCH + 3 * INCH / 8, style) == text


def test_another_style_is_refused() -> None:
    with pytest.raises(ValueError, match="cubits"):
        print_length(INCH, "cubits")
