"""An evaluator of derivation steps that shares no code with the core: each rule anew from its inputs alone.

`EXACT[rule](inputs)` gives the value of a step; the rules are those that estimating.core.derivation documents.
Everything is exact but the irrational rules of derivation_shapes.py.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from math import ceil, floor, prod

from tests.core.derivation_inputs import Given, Inputs, Rule, named, numbers, terms
from tests.core.derivation_purchases import contained_price, packs_cost, packs_count, packs_left, premium


def sum_of_products(inputs: Inputs) -> Fraction:
    """Σ over terms of the product of a term."""
    assert all(given.term is not None for given in inputs)
    return sum((prod(term, start=Fraction(1)) for term in terms(inputs)), Fraction(0))


def quotient(inputs: Inputs) -> Fraction:
    """The first over each of the others."""
    first, *others = numbers(inputs)
    for other in others:
        first /= other
    return first


def nearest(value: Fraction, way: str) -> int:
    """The nearest whole number; a half away from zero or to even."""
    low = floor(value)
    rest = value - low
    if rest != Fraction(1, 2):
        return low if rest < Fraction(1, 2) else low + 1
    if way == "half_even":
        return low if low % 2 == 0 else low + 1
    assert way == "half_up"
    return low + 1 if value > 0 else low


def rounded(inputs: Inputs) -> Fraction:
    """To decimal places."""
    exact, places, way = inputs
    unit = 10 ** int(places.number)
    return Fraction(nearest(exact.number * unit, way.text), unit)


def exact_share(inputs: Inputs) -> Fraction:
    """total × weight ÷ all weights, in units of the last decimal place."""
    total, places, weight, whole = numbers(inputs)
    assert (total * 10 ** int(places)).denominator == 1
    return Fraction(total * 10 ** int(places) * weight / whole)


def floor_share(inputs: Inputs) -> Fraction:
    """The share floored."""
    return Fraction(floor(exact_share(inputs)), 10 ** int(inputs[1].number))


def share_remainder(inputs: Inputs) -> Fraction:
    """What flooring takes from the share, in units."""
    return exact_share(inputs) - floor(exact_share(inputs))


def missing_units(inputs: Inputs) -> Fraction:
    """Units in the total that the floored shares leave."""
    total, places, *floors = numbers(inputs)
    return Fraction((total - sum(floors, Fraction(0))) * 10 ** int(places))


def rank(inputs: Inputs) -> Fraction:
    """How many shares have a larger remainder, or an equal one and stand earlier."""
    place, *remainders = numbers(inputs)
    own = remainders[int(place)]
    return Fraction(sum(left > own or (left == own and i < place) for i, left in enumerate(remainders)))


def extra_unit(inputs: Inputs) -> Fraction:
    """One unit where fewer come before than there are left."""
    missing, before, places = numbers(inputs)
    return Fraction(int(before < missing), 10 ** int(places))


def highest_passed(inputs: Inputs) -> Fraction:
    """The factor of the highest row that the height strictly passes."""
    height, rows = inputs[0].number, terms(inputs)
    return max((over, factor) for over, factor in rows if height > over)[1]


def pair(inputs: Inputs) -> Fraction:
    """The factor, where it counts."""
    factor, workers, *widths = numbers(inputs)
    counts = workers >= 2 and (not widths or widths[0] >= widths[1])
    return factor if counts else Fraction(1)


def lookup(inputs: Inputs) -> Fraction:
    """The value whose field ends in the key."""
    key, found = inputs
    assert found.field is not None and found.field.split("/", 1)[1] == key.text
    return found.number


def chosen(inputs: Inputs) -> Fraction:
    """The length, if this stock is the one chosen."""
    choice, own, length = inputs
    assert choice.text == own.text
    return length.number


def least_cost(inputs: Inputs) -> str:
    """The name of the cheapest, ties to the earlier."""
    return min(enumerate(inputs), key=lambda found: (found[1].number, found[0]))[1].name


def strip_count(inputs: Inputs) -> Fraction:
    """Strips of stock that cover a width."""
    width, stock, lap = numbers(inputs)
    return Fraction(1) if stock >= width else Fraction(ceil((width - lap) / (stock - lap)))


def diagonal_length(inputs: Inputs) -> Fraction:
    """The side that goes along the stock."""
    one, other, stock = numbers(inputs)
    return min(one, other) if max(one, other) <= stock else max(one, other)


def diagonal_width(inputs: Inputs) -> Fraction:
    """The side that goes across it."""
    one, other, _ = numbers(inputs)
    return one + other - diagonal_length(inputs)


def sheet_joints(inputs: Inputs) -> Fraction:
    """Joints of a wall by layout (a wall of 40 × 20 ft in 8 × 4 ft sheets has 240 ft)."""
    length, height, along, up = numbers(inputs)
    return (ceil(height / up) - 1) * length + (ceil(length / along) - 1) * height


def place_name(given: Given) -> str:
    """A place's name for comparing."""
    return " ".join(given.text.split()).casefold()


def count_distinct(inputs: Inputs) -> Fraction:
    """Distinct names but blank ones."""
    return Fraction(len({place_name(given) for given in inputs} - {""}))


def storey_changes(inputs: Inputs) -> Fraction:
    """Σ over elevations of (distinct storeys − 1)."""
    storeys: dict[str, set[str]] = {}
    for elevation, storey in zip(inputs[::2], inputs[1::2], strict=True):
        storeys.setdefault(place_name(elevation), set()).update({place_name(storey)} - {""})
    return Fraction(sum(max(0, len(found) - 1) for found in storeys.values()))


def count_zones(inputs: Inputs) -> Fraction:
    """Distinct pairs of elevation and storey, blank ones too."""
    return Fraction(len({(place_name(e), place_name(s)) for e, s in zip(inputs[::2], inputs[1::2], strict=True)}))


def larger_if_shorter(inputs: Inputs) -> Fraction:
    """The larger of the last two, of an outline under the limit."""
    outline, limit, *minutes = numbers(inputs)
    assert outline < limit
    return max(minutes)


def larger_unless_shorter(inputs: Inputs) -> Fraction:
    """The larger of the last two, of an outline from the limit on."""
    outline, limit, *minutes = numbers(inputs)
    assert outline >= limit
    return max(minutes)


def share_of_crew(inputs: Inputs) -> Fraction:
    """Standard hours × touch minutes ÷ all touch minutes."""
    way, hours, touch, whole = inputs
    assert way.text == "crew_days"
    return hours.number * touch.number / whole.number


def idle(inputs: Inputs) -> Fraction:
    """Waiting between coats."""
    interval, openings, first_coat = numbers(inputs)
    return max(Fraction(0), interval - (openings - 1) * first_coat)


def rolls_taken(inputs: Inputs) -> Fraction:
    """Of pieces that fill all rolls but one, none beside another: the sum of lengths, which no plan falls short of."""
    step, _, wide, stock = numbers(inputs[:4])
    pieces = [term for term in terms(inputs) if len(term) > 2]
    assert stock == 0 and all(2 * width > wide for *_, width in pieces)
    return sum((prod(counts) * ceil(length / step) * step for *counts, length, _ in pieces), Fraction(0))


def rolls_to_buy(inputs: Inputs) -> Fraction:
    """As many rolls of the one size as hold the sum, which no plan falls short of."""
    (size, _), *others = [term for term in terms(inputs) if len(term) == 2]
    assert not others and named(inputs, "place").number == 0
    return Fraction(ceil(rolls_taken(inputs[1:]) / size))


def two(rule: Callable[[Fraction, Fraction], Fraction]) -> Rule:
    """A rule of just two numbers."""

    def apply(inputs: Inputs) -> Fraction:
        first, second = numbers(inputs)
        return rule(first, second)

    return apply


def one(rule: Callable[[Fraction], Fraction]) -> Rule:
    """A rule of just one number."""

    def apply(inputs: Inputs) -> Fraction:
        (only,) = numbers(inputs)
        return rule(only)

    return apply


EXACT: Mapping[str, Rule] = {
    "given": one(lambda x: x),
    "zero": lambda inputs: Fraction(0),
    "one": lambda inputs: Fraction(1),
    "sum": lambda inputs: sum(numbers(inputs), Fraction(0)),
    "product": lambda inputs: prod(numbers(inputs), start=Fraction(1)),
    "difference": lambda inputs: 2 * inputs[0].number - sum(numbers(inputs), Fraction(0)),
    "maximum": lambda inputs: max(numbers(inputs)),
    "minimum": lambda inputs: min(numbers(inputs)),
    "quotient": quotient,
    "proportion": lambda inputs: inputs[0].number * inputs[1].number / inputs[2].number,
    "residual": lambda inputs: inputs[0].number - inputs[1].number * inputs[2].number,
    "sum_of_products": sum_of_products,
    "shortfall": two(lambda first, second: max(Fraction(0), first - second)),
    "ceiling": one(lambda x: Fraction(ceil(x))),
    "ceiling_quotient": two(lambda first, second: Fraction(ceil(first / second))),
    "round": rounded,
    "round_up": two(lambda so_far, step: ceil(so_far / step) * step - so_far),
    "percent": two(lambda base, percent: base * percent / 100),
    "margin": two(lambda base, percent: base * percent / (100 - percent)),
    "markup_percent_of_other": one(lambda m: 100 * m / (100 - m)),
    "margin_percent_of_other": one(lambda m: 100 * m / (100 + m)),
    "waste_added": one(lambda p: 1 + p / 100),
    "waste_lost": one(lambda p: 100 / (100 - p)),
    "lookup": lookup,
    "chosen": chosen,
    "highest_passed": highest_passed,
    "pair": pair,
    "floor_share": floor_share,
    "share_remainder": share_remainder,
    "missing_units": missing_units,
    "rank": rank,
    "extra_unit": extra_unit,
    "least_cost": least_cost,
    "lowest_unit_price": lambda inputs: min(price / size for size, price in terms(inputs)),
    "least_cost_packs": packs_cost,
    "least_cost_count": packs_count,
    "left_over": packs_left,
    "price_with_bond_and_tax": contained_price,
    "tiered": lambda inputs: premium(inputs[0].number, terms(inputs)),
    "strip_count": strip_count,
    "extra_strips": lambda inputs: sum((count - count / strips for strips, count in terms(inputs)), Fraction(0)),
    "diagonal_length": diagonal_length,
    "diagonal_width": diagonal_width,
    "sheet_joints": sheet_joints,
    "count_distinct": count_distinct,
    "storey_changes": storey_changes,
    "count_zones": count_zones,
    "larger_if_shorter": larger_if_shorter,
    "larger_unless_shorter": larger_unless_shorter,
    "share_of_crew": share_of_crew,
    "rolls_taken": rolls_taken,
    "rolls_to_buy": rolls_to_buy,
    "left_of_rolls": lambda inputs: sum_of_products(inputs[1:]) - inputs[0].number,
    "chosen_for_job": lambda inputs: inputs[0].text,
    "idle": idle,
}
