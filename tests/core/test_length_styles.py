"""Lengths print in each style and read back equal: 10,000 of them, drawn anew by a fixed seed."""

from __future__ import annotations

import random
from fractions import Fraction

import pytest

from rates.core.length_styles import DENOMINATORS, STYLES, LengthStyle, print_length
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


def test_another_style_of_a_company_is_refused() -> None:
    with pytest.raises(ValueError, match="cubits"):
        LengthStyle("cubits").show(INCH)


@pytest.mark.parametrize("name", STYLES)
@pytest.mark.parametrize("denominator", DENOMINATORS)
def test_what_a_company_is_shown_reads_back_to_within_half_a_step(name: str, denominator: int) -> None:
    style, chance = LengthStyle(name, denominator), random.Random(20_261_126)
    for _ in range(5_000):
        nm = Fraction(chance.randrange(-(10**9), 20 * 10**9), chance.choice((1, 3, 7, 64, 10**6)))
        text = style.show(nm)
        back = read_length(text).nm
        assert abs(back - nm) <= style.step_nm / 2, text
        whole = chance.randrange(-5_000, 100_000) * style.step_nm
        assert read_length(style.show(whole)).nm == whole
        assert style.show(back) == text  # shown again it is the same


@pytest.mark.parametrize(
    ("name", "denominator", "inches", "text"),
    [
        ("feet_inches", 16, "35.99", "3'-0\""),  # 35.99 in is 575.84 sixteenths: 576, three feet
        ("feet_inches", 8, "35.99", "3'-0\""),
        ("feet_inches", 16, "11.99", "1'-0\""),
        ("feet_inches", 16, "35.96", "2'-11 15/16\""),  # 575.36 sixteenths
        ("feet_inches", 8, "35.96", "3'-0\""),  # 287.68 eighths
        ("feet_inches", 16, "48.0625", "4'-0 1/16\""),
        ("feet_inches", 8, "48.0625", "4'-0 1/8\""),  # a half goes up
        ("feet_inches", 16, "0.01", '0"'),
        ("feet_inches", 16, "-0.01", '0"'),
        ("feet_inches", 16, "0.5", '1/2"'),
        ("inches", 16, "35.99", "36 in"),
        ("inches", 8, "40.3125", "40 3/8 in"),
        ("mm", 16, "35.99", "914.1 mm"),  # 914.146
        ("mm", 16, "36", "914.4 mm"),
        ("m", 16, "35.99", "0.9141 m"),
        ("m", 8, "0", "0 m"),
    ],
)
def test_a_length_as_a_company_reads_it(name: str, denominator: int, inches: str, text: str) -> None:
    assert LengthStyle(name, denominator).show(INCH * Fraction(inches)) == text


@pytest.mark.parametrize(
    ("name", "denominator", "inches", "text"),
    [
        ("feet_inches", 16, "36", "3'-0\""),
        ("feet_inches", 16, "36.001", "3'-0 1/16\""),
        ("feet_inches", 8, "36.001", "3'-0 1/8\""),
        ("inches", 8, "40.375", "40 3/8 in"),
        ("inches", 8, "40.376", "40 1/2 in"),
        ("mm", 16, "36", "915 mm"),
        ("m", 16, "36", "0.915 m"),
        ("mm", 16, "100", "2540 mm"),
    ],
)
def test_a_length_to_cut_is_never_short(name: str, denominator: int, inches: str, text: str) -> None:
    assert LengthStyle(name, denominator).show_cut(read_length(f"{inches} in").nm) == text
