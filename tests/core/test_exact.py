"""Decimal text, rounding and printing against published roundings and hostile text."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rates.core.exact import print_quantity, read_decimal, round_half_even, round_half_up
from rates.core.problems import Unreadable

COLLEGE = "college rounding sheets, half to even"
HALF_UP = "school rule: a half goes up"
IRS = "US IRS, instructions for rounding off to whole dollars"


@pytest.mark.parametrize(
    ("source", "text", "value"),
    [
        ("definition of decimal notation", "12", Fraction(12)),
        ("definition of decimal notation", "-0.5", Fraction(-1, 2)),
        ("definition of decimal notation", ".375", Fraction(3, 8)),
        ("definition of decimal notation", "007.250", Fraction(29, 4)),
        ("definition of decimal notation", "-0", Fraction(0)),
        ("definition of decimal notation", "123456789012345", Fraction(123456789012345)),
        ("definition of decimal notation", "0.000000000001", Fraction(1, 10**12)),
    ],
)
def test_reads_plain_decimals_exactly(source: str, text: str, value: Fraction) -> None:
    assert read_decimal(text) == value, source


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "not_a_number"),
        (" 1", "not_a_number"),
        ("1 ", "not_a_number"),
        ("1\n", "not_a_number"),
        ("+1", "not_a_number"),
        ("--1", "not_a_number"),
        ("1.", "not_a_number"),
        (".", "not_a_number"),
        ("-", "not_a_number"),
        ("1.2.3", "not_a_number"),
        ("1e3", "not_a_number"),
        ("1e1000000", "not_a_number"),
        ("1_000", "not_a_number"),
        ("1,000", "not_a_number"),
        ("0x10", "not_a_number"),
        ("NaN", "not_a_number"),
        ("Infinity", "not_a_number"),
        ("-inf", "not_a_number"),
        ("٣", "not_a_number"),
        ("１２", "not_a_number"),
        ("²", "not_a_number"),
        ("−5", "not_a_number"),
        ("1/2", "not_a_number"),
        ("1234567890123456", "too_many_digits"),
        ("0000000000000001", "too_many_digits"),
        ("-123456789012345678901234567890", "too_many_digits"),
        ("0.0000000000001", "too_many_places"),
        ("x" * 10**6, "not_a_number"),
        ("9" * 10**6, "too_many_digits"),
        ("9" * 10**6 + "e5", "too_many_digits"),
    ],
)
def test_refuses_everything_else_in_a_short_sentence(text: str, code: str) -> None:
    with pytest.raises(Unreadable) as caught:
        read_decimal(text)
    assert (caught.value.code, len(caught.value.detail) < 400) == (code, True)


@pytest.mark.parametrize(
    ("source", "value", "nearest"),
    [
        (IRS, "1.39", 1),
        (IRS, "2.50", 3),
        (HALF_UP, "0.5", 1),
        (HALF_UP, "12.5", 13),
        (HALF_UP, "13.5", 14),
        (HALF_UP, "17.5", 18),
        ("half away from zero, by definition", "-0.5", -1),
        ("half away from zero, by definition", "-2.5", -3),
        ("half away from zero, by definition", "-2.4999", -2),
    ],
)
def test_rounds_half_away_from_zero(source: str, value: str, nearest: int) -> None:
    assert round_half_up(Fraction(value)) == nearest, source


@pytest.mark.parametrize(
    ("source", "value", "places", "text"),
    [
        (COLLEGE, "21.350", 1, 214),
        (COLLEGE, "21.45", 1, 214),
        (COLLEGE, "3.250", 1, 32),
        (COLLEGE, "16.351", 1, 164),
        ("half to even, by definition", "-0.5", 0, 0),
        ("half to even, by definition", "-1.5", 0, -2),
    ],
)
def test_rounds_half_to_even(source: str, value: str, places: int, text: int) -> None:
    assert round_half_even(Fraction(value) * 10**places) == text, source


@pytest.mark.parametrize(
    ("value", "places", "text"),
    [
        (Fraction(1, 3), 6, "0.333333"),
        (Fraction(2, 3), 6, "0.666667"),
        (Fraction(1, 2 * 10**6), 6, "0.000001"),
        (Fraction(-1, 3 * 10**6), 6, "0"),
        (Fraction(-1, 2 * 10**6), 6, "-0.000001"),
        (1200, 6, "1200"),
        (Fraction(-5, 4), 6, "-1.25"),
        (Fraction(5, 2), 0, "3"),
        (Fraction("4.751515151515"), 6, "4.751515"),
        (0, 6, "0"),
    ],
)
def test_prints_quantities_by_the_rule_of_six_places(value: Fraction | int, places: int, text: str) -> None:
    assert print_quantity(value, places) == text


@given(st.fractions())
def test_both_roundings_stay_within_a_half_and_differ_only_on_halves(value: Fraction) -> None:
    up, even = round_half_up(value), round_half_even(value)
    assert abs(value - up) <= Fraction(1, 2)
    assert abs(value - even) <= Fraction(1, 2)
    assert even == round(value)  # Python's own rounding of a Fraction is half to even
    assert up == even or abs(value - up) == Fraction(1, 2)
    assert round_half_up(-value) == -up


@given(st.integers(-(10**14), 10**14), st.integers(0, 6))
def test_what_is_printed_reads_back_equal(units: int, places: int) -> None:
    value = Fraction(units, 10**places)
    assert read_decimal(print_quantity(value)) == value


@given(st.text(max_size=30))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        read_decimal(text)
    except Unreadable as refusal:
        assert refusal.code in {"not_a_number", "too_many_digits", "too_many_places"}
    else:
        assert text.isascii()
