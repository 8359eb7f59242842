"""The registry of rules: the function that computes a figure is the one by which its derivation is told.

A rule takes the values of a figure's inputs one by one; inputs that belong together (factors of one product, a row of a
table) come as one tuple. Rules of one subject stand beside it (strips, packs, shapes, learning, ...), the general ones
here. `RULES` has them all by name.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import ceil
from typing import Any

from rates.core.fraction import Fraction
from rates.core.fraction import sum_of_products as exact_sum_of_products
from rates.core.money import ROUNDINGS

ZERO = Fraction(0)


@dataclass(eq=False)
class Rule:
    """One rule: its name in derivations, what it gives in words, and the function of a figure's inputs."""

    name: str
    words: str
    function: Callable[..., Any]

    def __call__(self, *inputs: Any) -> Any:
        """The value that the rule gives of these inputs."""
        return self.function(*inputs)


RULES: dict[str, Rule] = {}


def rule(words: str, name: str | None = None) -> Callable[[Callable[..., Any]], Rule]:
    """Registers the function below as a rule, by its own name or another."""

    def register(function: Callable[..., Any]) -> Rule:
        made = Rule(name or function.__name__, words, function)
        if made.name in RULES:
            raise ValueError(f"the rule {made.name} stands twice")
        RULES[made.name] = made
        return made

    return register


@rule("the input as it is")
def given(value: Any) -> Any:
    """As stated."""
    return value


@rule("0 for the reason given")
def zero(reason: object) -> Fraction:
    """Nothing, whatever the reason."""
    return ZERO


@rule("1 for the reason given")
def one(reason: object) -> Fraction:
    """No change, whatever the reason."""
    return Fraction(1)


@rule("the sum of the inputs", "sum")
def total(*values: Fraction) -> Fraction:
    """Σ values."""
    return values[0] if len(values) == 1 else sum(values, ZERO)


@rule("the product of the inputs")
def product(first: Fraction, *others: Fraction) -> Fraction:
    """Π values."""
    for other in others:
        first = first * other
    return first


@rule("the first less each of the others")
def difference(first: Fraction, *others: Fraction) -> Fraction:
    """first − Σ others."""
    return first - sum(others, ZERO)


@rule("the largest of the inputs")
def maximum(*values: Fraction) -> Fraction:
    """The largest."""
    return max(values)


@rule("the smallest of the inputs")
def minimum(*values: Fraction) -> Fraction:
    """The smallest."""
    return min(values)


@rule("the first ÷ each of the others")
def quotient(first: Fraction, *others: Fraction) -> Fraction:
    """first ÷ Π others."""
    for other in others:
        first = first / other
    return Fraction(first)


@rule("first × second ÷ third")
def proportion(first: Fraction, second: Fraction, third: Fraction) -> Fraction:
    """A rule of three."""
    return first * second / third


@rule("Σ over terms of the product of a term")
def sum_of_products(*terms: tuple[Fraction, ...]) -> Fraction:
    """Σ Π term."""
    return exact_sum_of_products(terms)


@rule("first − second, at least 0")
def shortfall(first: Fraction, second: Fraction) -> Fraction:
    """What the second lacks of the first."""
    return max(ZERO, first - second)


@rule("first − second × third")
def residual(first: Fraction, second: Fraction, third: Fraction) -> Fraction:
    """What is left over."""
    return first - second * third


@rule("rounded up")
def ceiling(value: Fraction) -> Fraction:
    """The next whole number."""
    return Fraction(ceil(value))


@rule("first ÷ second, rounded up")
def ceiling_quotient(first: Fraction, second: Fraction) -> Fraction:
    """Whole times that the second covers the first."""
    return Fraction(ceil(Fraction(first) / second))


@rule("to decimal places, half away from zero (half_up) or to even (half_even)", "round")
def rounded(value: Fraction, places: Fraction, way: str) -> Fraction:
    """The nearest value of so many places."""
    unit = 10 ** int(places)
    return Fraction(ROUNDINGS[way](value * unit), unit)


@rule("what is missing from the first to the next multiple of the second")
def round_up(value: Fraction, step: Fraction) -> Fraction:
    """Up to a multiple."""
    return -(-value // step) * step - value


@rule("first × second ÷ 100")
def percent(base: Fraction, percentage: Fraction) -> Fraction:
    """A percentage of a base."""
    return base * percentage / 100


@rule("first × g ÷ (1 − g), g = second ÷ 100")
def margin(base: Fraction, percentage: Fraction) -> Fraction:
    """What makes a percentage of the sum."""
    return base * percentage / (100 - percentage)


@rule("100 m ÷ (100 − m)")
def markup_percent_of_other(percentage: Fraction) -> Fraction:
    """A margin as markup."""
    return 100 * percentage / (100 - percentage)


@rule("100 m ÷ (100 + m)")
def margin_percent_of_other(percentage: Fraction) -> Fraction:
    """A markup as margin."""
    return 100 * percentage / (100 + percentage)


@rule("the second, whose field ends in the first")
def lookup(key: str, found: Fraction) -> Fraction:
    """A row of a table found by a word."""
    return found


@rule("the third, if the first two agree")
def chosen(choice: str, own: str, value: Fraction) -> Fraction:
    """What counts where this one is chosen, else nothing."""
    return value if choice == own else ZERO


@rule("units of the last decimal place in the first that the others leave")
def missing_units(whole: Fraction, places: Fraction, *parts: Fraction) -> Fraction:
    """Units in the total − Σ parts."""
    left: Fraction = (whole - sum(parts)) * 10 ** int(places)
    return left
