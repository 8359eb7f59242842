"""Lengths in feet and inches and in metric against published values."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rates.core.exact import print_quantity
from rates.core.problems import Unreadable
from rates.core.units import (
    LENGTH_NM,
    Length,
    print_feet_inches,
    read_length,
)

INCH = LENGTH_NM["in"]
THREADS = "public issue threads of general unit parsers"
DRAWINGS = "ways that drawings and schedules write one size: common practice, no source"
SP811 = "NIST Special Publication 811, B.7.2"
HB44 = "NIST Handbook 44, Appendix C"


def inches(text: str, unit: str | None = None) -> Fraction:
    return read_length(text, unit=unit).nm / INCH


@pytest.mark.parametrize(
    ("source", "text", "unit", "value"),
    [
        (THREADS, "4'2\"", None, "50"),
        (THREADS, "4'2.3\"", None, "50.3"),
        (THREADS, "4'2-1/4\"", None, "50.25"),
        (THREADS, "60 ft 1 in", None, "721"),
        (THREADS, "4' 0 3/16\"", None, "48.1875"),
        (THREADS, "7-0-1/2", "ft-in", "84.5"),
        (THREADS, "11ft6-7/8in", None, "138.875"),
        (THREADS, "3' 5 7/32\"", None, "41.21875"),
        (THREADS, "85-1/2 in", None, "85.5"),
        (DRAWINGS, "6'-8\"", None, "80"),
        (DRAWINGS, "6' 8\"", None, "80"),
        (DRAWINGS, '80"', None, "80"),
        (DRAWINGS, "80 in", None, "80"),
        (DRAWINGS, "6'-8 0/4\"", None, "80"),
        (DRAWINGS, "2032 mm", None, "80"),
        (DRAWINGS, "2.032 m", None, "80"),
        (DRAWINGS, "203.2cm", None, "80"),
        (DRAWINGS, "3'-4 3/8\"", None, "40.375"),
        (DRAWINGS, "7'-2 13/16\"", None, "86.8125"),
        (DRAWINGS, "6’-8”", None, "80"),
        (DRAWINGS, "6′ 8″", None, "80"),
        (DRAWINGS, "6'-8''", None, "80"),
        (DRAWINGS, "6’ 8’’", None, "80"),
        (DRAWINGS, "6'\u00a0-\u00a08\u202f\"", None, "80"),
        (DRAWINGS, "6'–8½\"", None, "80.5"),
        (DRAWINGS, "4⅜ in", None, "4.375"),
        (DRAWINGS, "4'⅜\"", None, "48.375"),
        (DRAWINGS, "4 3⁄8 in", None, "4.375"),
        (DRAWINGS, "4 3/8", "in", "4.375"),
        (DRAWINGS, "4-3/8", "in", "4.375"),
        (DRAWINGS, "6-8", "ft-in", "80"),
        (DRAWINGS, '6-8"', "ft-in", "80"),
        (DRAWINGS, "6'-8\"", "ft-in", "80"),
        (DRAWINGS, "6'8", None, "80"),
        (DRAWINGS, "6 ft 8", None, "80"),
        (DRAWINGS, "6ft.-8in.", None, "80"),
        (DRAWINGS, "6 ft8 in", None, "80"),
        (DRAWINGS, "6'", "mm", "72"),
        (DRAWINGS, "6 1/2'", None, "78"),
        (DRAWINGS, "-6'-8\"", None, "-80"),
        (DRAWINGS, "3 FEET 4 INCHES", None, "40"),
        (DRAWINGS, "2032", "mm", "80"),
        (DRAWINGS, "3068", "mm", "3068/25.4"),
        (DRAWINGS, "20 mil", None, "0.02"),
        (DRAWINGS, "508 µm", None, "0.02"),
        (DRAWINGS, "2 yd", None, "72"),
        (DRAWINGS, "0", "in", "0"),
    ],
)
def test_reads_lengths_exactly(source: str, text: str, unit: str | None, value: str) -> None:
    top, _, bottom = value.partition("/")
    assert read_length(text, unit=unit) == Length(Fraction(top) / Fraction(bottom or 1) * INCH, snapped=False), source


@pytest.mark.parametrize(
    ("source", "text", "printed"),
    [
        (SP811, "36 ft", "10972.8"),
        (THREADS, "10 3/8 in", "263.525"),
        (THREADS, "85-1/2 in", "2171.7"),
        ("NIST Special Publication 811: 1 in = 25.4 mm exactly", "1/64 in", "0.396875"),
    ],
)
def test_converts_to_millimetres(source: str, text: str, printed: str) -> None:
    assert print_quantity(read_length(text).nm / LENGTH_NM["mm"]) == printed, source


@pytest.mark.parametrize(
    ("text", "unit", "value", "snapped"),
    [
        ("6.6667'", None, "80", True),
        ("6.6667", "ft", "80", True),
        ("-6.6667 ft", None, "-80", True),
        ("6.5'", None, "78", False),
        ("0.0052083'", None, "0.0625", True),
        ("10.1 ft", None, "121.203125", True),
        ("50.3 in", None, "50.3", False),
    ],
)
def test_snaps_decimal_feet_alone_to_a_64th_and_says_so(text: str, unit: str | None, value: str, snapped: bool) -> None:
    assert read_length(text, unit=unit) == Length(Fraction(value) * INCH, snapped)


@pytest.mark.parametrize(
    ("text", "unit", "code"),
    [
        ("", None, "blank"),
        (" \u00a0 ", None, "blank"),
        ("36", None, "unit_missing"),
        ("4 3/8", None, "unit_missing"),
        ("80", "ft-in", "unit_missing"),
        ("36", "cubit", "unknown_unit"),
        ("36 cubits", None, "unknown_unit"),
        ("3068", None, "ambiguous"),
        ("6-8", None, "ambiguous"),
        ("6-8", "in", "ambiguous"),
        ("7-0-1/2", None, "ambiguous"),
        ("4 3/0 in", None, "zero_denominator"),
        ("0/0 in", None, "zero_denominator"),
        ("4 9/8 in", None, "improper_fraction"),
        ("5'-14\"", None, "inches_not_under_12"),
        ("6.5' 3\"", None, "feet_not_whole"),
        ("1e3 mm", None, "not_a_length"),
        ("1_000 mm", None, "not_a_length"),
        ("1,200 mm", None, "not_a_length"),
        ("+5 mm", None, "not_a_length"),
        ("--5 mm", None, "not_a_length"),
        ("NaN", None, "not_a_length"),
        ("inf mm", None, "not_a_length"),
        ("١٢ mm", None, "not_a_length"),
        ("１２ mm", None, "not_a_length"),
        ("3² in", None, "not_a_length"),
        ("½½ in", None, "not_a_length"),
        ("½2 in", None, "not_a_length"),
        ("8\" 6'", None, "not_a_length"),
        ("3'-0\" x 6'-8\"", None, "not_a_length"),
        ("TYP", None, "not_a_length"),
        ("=36 in", None, "not_a_length"),
        ("36 in\n", None, "not_a_length"),
        ("5 ft2", None, "unknown_unit"),
        ("5 ft²", None, "unknown_unit"),
        ("5 ft2", "in", "unknown_unit"),
        ("9" * 21 + " mm", None, "too_many_digits"),
        ("0." + "1" * 19 + " mm", None, "too_many_places"),
        ("9" * 10**6, "mm", "too_long"),
        ("1" * 70 + " mm", None, "too_long"),
    ],
)
def test_refuses_what_it_would_have_to_guess(text: str, unit: str | None, code: str) -> None:
    with pytest.raises(Unreadable) as caught:
        read_length(text, unit=unit)
    assert (caught.value.code, len(caught.value.detail) < 400) == (code, True)


def test_an_ambiguous_size_names_its_readings() -> None:
    with pytest.raises(Unreadable) as caught:
        read_length("3068")
    assert "3'-0\" x 6'-8\"" in caught.value.detail
    assert "3068 mm" in caught.value.detail


@pytest.mark.parametrize(
    ("source", "value", "denominator", "text"),
    [
        (THREADS, "50.125", 16, "4'-2 1/8\""),
        (THREADS, "35.99", 16, "3'-0\""),
        (THREADS, "35.9375", 16, "2'-11 15/16\""),
        ("half away from zero, by definition", "1.03125", 16, '1 1/16"'),
        ("half away from zero, by definition", "-1.03125", 16, '-1 1/16"'),
        ("lowest terms", "8.5", 16, '8 1/2"'),
        ("no whole inch, no zero before it", "0.375", 16, '3/8"'),
        ("a foot keeps its zero inches", "12.375", 16, "1'-0 3/8\""),
        ("nothing is no negative", "-0.001", 16, '0"'),
        ("cut lists go to an eighth", "40.4375", 8, "3'-4 1/2\""),
    ],
)
def test_prints_feet_and_inches(source: str, value: str, denominator: int, text: str) -> None:
    assert print_feet_inches(Fraction(value) * INCH, denominator) == text, source


@given(st.integers(-(10**6), 10**6), st.sampled_from([1, 2, 4, 8, 16, 32, 64]))
def test_feet_and_inches_print_and_read_back_equal(parts: int, denominator: int) -> None:
    nm = Fraction(parts, denominator) * INCH
    assert read_length(print_feet_inches(nm, denominator)) == Length(nm, snapped=False)


@given(st.fractions(-(10**12), 10**12), st.sampled_from([1, 2, 4, 8, 16, 32, 64]))
def test_printing_moves_a_length_by_at_most_half_a_step(nm: Fraction, denominator: int) -> None:
    moved = read_length(print_feet_inches(nm, denominator)).nm - nm
    assert abs(moved) <= INCH / denominator / 2


@given(st.integers(0, 400), st.fractions(0, Fraction(767, 64), max_denominator=64))
def test_every_spelling_of_one_length_reads_alike(feet: int, inch: Fraction) -> None:
    whole, rest = divmod(inch, 1)
    mixed = f"{whole} {rest.numerator}/{rest.denominator}" if rest else str(whole)
    spellings = [
        f"{feet}'-{mixed}\"",
        f"{feet}' {mixed}\"",
        f"{feet}’{mixed}”",
        f"{feet} ft {mixed} in",
        f"{feet}′-{mixed}''",
    ]
    assert {read_length(text).nm for text in spellings} == {(12 * feet + inch) * INCH}


@given(st.text(alphabet="0123456789'\"-/. ½ftinmx²\u00a0’e", max_size=20), st.sampled_from([None, "in", "ft", "ft-in"]))
def test_any_text_is_read_or_refused(text: str, unit: str | None) -> None:
    try:
        assert read_length(text, unit=unit).nm.denominator > 0
    except Unreadable as refusal:
        assert refusal.code and refusal.detail.endswith(".")
