"""Minor units, rounding to them, and largest remainder, against published figures and laws."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.core.remainders import allocate
from rates.core.currencies import MINOR_DIGITS
from rates.core.money import allocate_values, minor_digits, print_money, read_money, round_to_minor, to_major
from rates.core.problems import Unreadable
from tests.steps import steps

HALF_UP = "school rule: a half goes up"
SSUTA = "Streamlined Sales and Use Tax Agreement, section 324"
EPA = "US EPA information collection worksheet (OMB 2070): benefits 43 %, overhead 50 %"
MARGIN_PAGE = "a help page on margin prints the truncated 55.55 for 50 at 10 %"
APPORTIONMENT = "study sites on apportionment by largest remainder, reproduced"


@pytest.mark.parametrize(
    ("source", "value", "currency", "rounding", "minor"),
    [
        (HALF_UP, "0.125", "USD", "half_up", 13),
        (HALF_UP, "0.135", "USD", "half_up", 14),
        (HALF_UP, "0.175", "USD", "half_up", 18),
        (SSUTA, "0.015", "USD", "half_up", 2),
        (SSUTA, "0.0149", "USD", "half_up", 1),
        ("half to even, by definition", "0.125", "USD", "half_even", 12),
        ("half to even, by definition", "0.135", "USD", "half_even", 14),
        ("ISO 4217: the yen has no minor unit", "1654.5", "JPY", "half_up", 1655),
        ("ISO 4217: the yen has no minor unit", "1654.5", "JPY", "half_even", 1654),
        ("ISO 4217: the Kuwaiti dinar has three places", "1.0005", "KWD", "half_up", 1001),
        ("half away from zero, by definition", "-0.005", "USD", "half_up", -1),
    ],
)
def test_rounds_to_the_minor_unit(source: str, value: str, currency: str, rounding: str, minor: int) -> None:
    assert round_to_minor(Fraction(value), currency, rounding) == minor, source


def test_tax_by_item_or_by_invoice_differs_by_a_cent() -> None:
    """SSUTA s. 324: three lines of 0.10 at 5 % give 0.03 by item, 0.02 by invoice."""
    line, rate = Fraction("0.10"), Fraction("0.05")
    assert 3 * round_to_minor(line * rate, "USD") == 3
    assert round_to_minor(3 * line * rate, "USD") == 2


@pytest.mark.parametrize(
    ("wage", "figures"),
    [
        ("48.31", (2077, 6908, 3454, 10362)),
        ("31.26", (1344, 4470, 2235, 6705)),
        ("15.78", (679, 2257, 1128, 3385)),
    ],
)
def test_a_loaded_wage_rounds_only_when_printed(wage: str, figures: tuple[int, ...]) -> None:
    benefits = Fraction(wage) * Fraction("0.43")
    loaded = Fraction(wage) + benefits
    exact = (benefits, loaded, loaded / 2, loaded + loaded / 2)
    assert tuple(round_to_minor(value, "USD") for value in exact) == figures, EPA


def test_rounding_step_by_step_would_miss_the_published_wage() -> None:
    """EPA's row for 15.78 prints 11.28 and 33.85; rounding each step gives 11.29 and 33.86."""
    loaded = to_major(1578 + round_to_minor(Fraction("15.78") * Fraction("0.43"), "USD"), "USD")
    assert round_to_minor(loaded / 2, "USD") == 1129


def test_a_margin_price_is_rounded_and_not_truncated() -> None:
    price = round_to_minor(Fraction(50) / Fraction("0.9"), "USD")
    assert price == 5556, MARGIN_PAGE
    assert print_money(price, "USD") != "55.55"


def test_an_unknown_rounding_is_a_programming_error() -> None:
    with pytest.raises(KeyError):
        round_to_minor(Fraction(1), "USD", "down")


def test_currencies_agree_with_an_independent_copy_of_iso_4217() -> None:
    """The PyPI package iso4217 carries the SIX list one; codes without a minor unit can't state a price."""
    listed = pytest.importorskip("iso4217").Currency
    assert {c.code: c.exponent for c in listed if c.exponent is not None} == MINOR_DIGITS


@pytest.mark.parametrize("code", ["", "usd", "US", "USDX", "XAU", "XXX", "XTS", "ZZZ", "$", "ＵＳＤ", "U" * 10**6])
def test_refuses_other_currencies(code: str) -> None:
    with pytest.raises(Unreadable) as caught:
        minor_digits(code)
    assert (caught.value.code, len(caught.value.detail) < 400) == ("unknown_currency", True)


@pytest.mark.parametrize(
    ("minor", "currency", "text"),
    [
        (165500, "USD", "1655.00"),
        (-27182, "USD", "-271.82"),
        (5, "USD", "0.05"),
        (-5, "USD", "-0.05"),
        (0, "USD", "0.00"),
        (1655, "JPY", "1655"),
        (0, "JPY", "0"),
        (1001, "KWD", "1.001"),
        (10001, "CLF", "1.0001"),
    ],
)
def test_prints_every_place_of_the_currency(minor: int, currency: str, text: str) -> None:
    assert print_money(minor, currency) == text
    assert to_major(minor, currency) == Fraction(text)
    assert read_money(text, currency) == minor


@pytest.mark.parametrize(
    ("text", "currency", "code"),
    [
        ("1.005", "USD", "too_many_places"),
        ("1.5", "JPY", "too_many_places"),
        ("1.00001", "CLF", "too_many_places"),
        ("1,50", "EUR", "not_a_number"),
        ("9" * 61, "JPY", "too_many_digits"),
    ],
)
def test_an_amount_that_is_none_of_its_currency_is_not_read(text: str, currency: str, code: str) -> None:
    """ISO 4217: two places of USD, none of JPY, four of CLF; sixty digits at most, as the reader states."""
    with pytest.raises(Unreadable) as unread:
        read_money(text, currency)
    assert unread.value.code == code
    assert (read_money("9" * 60, "JPY"), read_money("1.5", "USD"), read_money("1.500", "KWD")) == (
        10**60 - 1,
        150,
        1500,
    )


@pytest.mark.parametrize(
    ("source", "total", "weights", "shares"),
    [
        (APPORTIONMENT, 42, [247000, 185000, 459000, 400000, 413000], [6, 5, 11, 10, 10]),
        (APPORTIONMENT, 40, [153000, 411000, 81000, 92000, 163000], [7, 18, 4, 4, 7]),
        ("ties to the earlier", 2, [1, 1, 1, 1], [1, 1, 0, 0]),
        ("ties to the earlier", 100, [1, 1, 1], [34, 33, 33]),
        ("floor toward minus infinity, then largest fraction", -100, [1, 1, 1], [-33, -33, -34]),
        ("all-zero weights are equal weights", 5, [0, 0, 0], [2, 2, 1]),
        ("a zero weight gets nothing beside others", 1, [0, 3, 0], [0, 1, 0]),
        ("nothing to share", 0, [3, 1], [0, 0]),
        ("nobody to share", 7, [], []),
        ("fractions of unlike denominators", 10, [Fraction(1, 3), Fraction(1, 7)], [7, 3]),
    ],
)
def test_allocates_by_largest_remainder(
    source: str, total: int, weights: list[int | Fraction], shares: list[int]
) -> None:
    assert allocate(total, weights) == shares, source


WEIGHTS = st.lists(st.fractions(0, 10**6, max_denominator=10**4), min_size=1, max_size=12)


@given(st.integers(-(10**9), 10**9), WEIGHTS)
def test_largest_remainder_sums_and_stays_within_one_unit_and_keeps_its_tie_rule(
    total: int, weights: list[Fraction]
) -> None:
    shares = allocate(total, weights)
    whole = sum(weights)
    exact = [total * weight / whole if whole else Fraction(total, len(weights)) for weight in weights]
    raised = [i for i in range(len(shares)) if shares[i] > exact[i] // 1]
    assert sum(shares) == total
    assert all(share in (value // 1, value // 1 + 1) for share, value in zip(shares, exact, strict=True))
    by_rule = sorted(range(len(shares)), key=lambda i: (-(exact[i] % 1), i))
    assert sorted(by_rule[: len(raised)]) == raised


@given(st.integers(0, 10**6), WEIGHTS, st.fractions(Fraction(1, 100), 100))
def test_the_scale_of_the_weights_does_not_matter(total: int, weights: list[Fraction], scale: Fraction) -> None:
    scaled = [weight * scale for weight in weights]
    assert allocate(total, scaled) == allocate(total, weights)


@pytest.mark.parametrize(
    "weights", [[1, -1, 3], [-1], [Fraction(1, 2), Fraction(-1, 3), 3], [Fraction(-2), Fraction(1)]]
)
def test_refuses_a_negative_weight(weights: list[int | Fraction]) -> None:
    with pytest.raises(ValueError, match="negative"):
        allocate(5, weights)


@pytest.mark.parametrize(
    ("values", "total", "whole"),
    [
        ([Fraction("278.784"), Fraction("66.336"), Fraction("-586.7"), Fraction("-30.24")], -272, [279, 66, -587, -30]),
        ([Fraction("-0.5"), Fraction("0.5")], 0, [0, 0]),
        ([0, Fraction("0.5"), 0, Fraction("0.5")], 1, [0, 1, 0, 0]),
        ([Fraction("-0.5"), Fraction("1.5"), -1], 0, [0, 1, -1]),
        ([Fraction("0.5"), Fraction("-1.5"), 1], 0, [0, -1, 1]),
        ([Fraction("1.5"), 0, Fraction("1.5")], 3, [2, 0, 1]),
        ([Fraction("-1.5"), 0, Fraction("-1.5")], -3, [-2, 0, -1]),
        ([5, -3], 2, [5, -3]),
        ([0, 0], 0, [0, 0]),
        ([], 0, []),
    ],
)
def test_signed_values_round_to_their_total(values: list[int | Fraction], total: int, whole: list[int]) -> None:
    assert allocate_values(values, total) == whole


@pytest.mark.parametrize(("values", "total"), [([0, 0], 1), ([Fraction(1, 2)], 2), ([Fraction(5, 2)], 1), ([], 1)])
def test_refuses_a_total_that_the_values_do_not_make(values: list[int | Fraction], total: int) -> None:
    with pytest.raises(ValueError, match="total"):
        allocate_values(values, total)


@given(st.lists(st.fractions(-1000, 1000, max_denominator=1000), max_size=10))
def test_signed_values_stay_within_one_unit_and_zeros_stay_zero(values: list[Fraction]) -> None:
    total = sum(value // 1 for value in values) + sum(1 for value in values if value % 1) // 2
    whole = allocate_values(values, total)
    assert sum(whole) == total
    assert all(abs(got - value) <= 1 for got, value in zip(whole, values, strict=True))
    assert all(got == 0 for got, value in zip(whole, values, strict=True) if value == 0)


@given(st.lists(st.integers(-20, 20), max_size=6), st.integers(1, 4), st.integers(-3, 3))
def test_opposite_values_have_opposite_shares(tops: list[int], bottom: int, more: int) -> None:
    """Few denominators, so that remainders tie; a total beside the sum as well."""
    values = [Fraction(top, bottom) for top in tops]
    least, most = sum(value // 1 for value in values), sum(-(-value // 1) for value in values)
    total = min(max(sum(values) // 1 + more, least), most)
    whole = allocate_values(values, int(total))
    negative = [-value for value in values]
    assert allocate_values(negative, -int(total)) == [-share for share in whole]


def test_a_hundred_thousand_weights_share_one_total() -> None:
    weights = [Fraction(i * 7919 % 100_003, 64) for i in range(100_000)]
    assert sum(allocate(123_456_789, weights)) == 123_456_789


def test_twice_the_weights_take_twice_the_steps() -> None:
    few, many = ([Fraction(i * 7919 % 100_003, 64) for i in range(count)] for count in (1_000, 2_000))
    assert steps(lambda: allocate(123_456_789, many)) < 2.2 * steps(lambda: allocate(123_456_789, few))
