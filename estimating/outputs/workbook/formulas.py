"""The rules of derivations as formulas of a spreadsheet, by the rule's name.

A rule that is not here (of geometry, of learning, of the search for packs) stands as a number, its words beside it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import groupby

from estimating.core.derivations.nodes import Node
from estimating.core.figures.figure import Input
from estimating.outputs.workbook import rounding
from estimating.outputs.workbook.numbers import number_text
from estimating.outputs.workbook.references import sum_of
from rates.core.fraction import Fraction


@dataclass(frozen=True)
class Given:
    """One input of a rule: its exact value, and what a formula says for it."""

    input: Input
    text: str

    @property
    def value(self) -> Fraction:
        """The number."""
        return Fraction(self.input.value)


Terms = Sequence[Sequence[Given]]
Formula = Callable[[Node, Sequence[Given]], str]


def terms(given: Sequence[Given]) -> Terms:
    """The inputs that belong together, those of no term alone."""
    numbered = [(i if x.input.term is None else -1 - x.input.term, x) for i, x in enumerate(given)]
    return [[x for _, x in group] for _, group in groupby(numbered, key=lambda pair: pair[0])]


def joined(sign: str, given: Sequence[Given]) -> str:
    """The inputs with a sign between them."""
    return sign.join(x.text for x in given)


def least(name: str) -> Formula:
    """A function over all inputs."""
    return lambda _, given: f"{name}({joined(',', given)})"


def sum_of_products(_: Node, given: Sequence[Given]) -> str:
    """Σ Π term."""
    return "+".join(joined("*", term) for term in terms(given))


def round_once(node: Node, given: Sequence[Given]) -> str:
    """Rounded to the places of the currency."""
    value, places, way = given
    return rounding.rounded(value.text, value.value, int(places.value), str(way.input.value))


def ceiling_quotient(_: Node, given: Sequence[Given]) -> str:
    """A quotient rounded up."""
    return rounding.rounded_up(f"{given[0].text}/{given[1].text}", given[0].value / given[1].value)


def round_up(_: Node, given: Sequence[Given]) -> str:
    """What is missing to a multiple."""
    value, step = given
    times = rounding.rounded_up(f"{value.text}/{step.text}", value.value / step.value)
    return f"{times}*{step.text}-{value.text}"


def share_of_crew(_: Node, given: Sequence[Given]) -> str:
    """The part of hours that belongs to an access."""
    hours, touch, everything = given[1:]
    return f"IF({everything.text}=0,0,{hours.text}*{touch.text}/{everything.text})"


def floor_share(node: Node, given: Sequence[Given]) -> str:
    """total × weight ÷ all weights, floored in units of the last decimal place."""
    total, places, weight, whole = given
    scale = 10 ** int(places.value)
    exact = total.value * scale * weight.value / whole.value
    return f"{rounding.floored(f'{total.text}*{scale}*{weight.text}/{whole.text}', exact)}/{scale}"


def remainder_places(given: Sequence[Given]) -> int:
    """Decimal places to which what flooring takes is certain; the share may be as large as the total."""
    total, places = given[:2]
    return rounding.guard(total.value * 10 ** int(places.value))


def share_remainder(node: Node, given: Sequence[Given]) -> str:
    """What flooring takes, in units of the last decimal place."""
    total, places, weight, whole = given
    scale = 10 ** int(places.value)
    share = f"{total.text}*{scale}*{weight.text}/{whole.text}"
    exact = total.value * scale * weight.value / whole.value
    return f"ROUND({share}-{rounding.floored(share, exact)},{remainder_places(given)})"


def rank(_: Node, given: Sequence[Given]) -> str:
    """How many remainders are larger, or equal and earlier."""
    place, others = int(given[0].value), given[1:]
    before = [f"({x.text}>={others[place].text})" for x in others[:place]]
    after = [f"({x.text}>{others[place].text})" for x in others[place + 1 :]]
    return "+".join([*before, *after]) or "0"


def extra_unit(_: Node, given: Sequence[Given]) -> str:
    """One unit where fewer come before than flooring leaves."""
    missing, place, places = given
    return f"IF({place.text}<{missing.text},1,0)/{10 ** int(places.value)}"


def missing_units(_: Node, given: Sequence[Given]) -> str:
    """The units that flooring leaves."""
    whole, places, *parts = given
    return f"ROUND(({whole.text}-{sum_of([x.text for x in parts])})*{10 ** int(places.value)},0)"


def tier_percent(tier: Sequence[Given]) -> str:
    """The percentage of a tier."""
    return f"{tier[-1].text}/100"


def price_with_bond_and_tax(_: Node, given: Sequence[Given]) -> str:
    """The solution of the first tier that it lands in: linear within each."""
    base, tax, *rest = given
    start, paid, found, closing = "", "", "", ""
    of_tax = f"-{tax.text}/100" if tax.value else ""
    for tier in terms(rest) or [[]]:
        rate = tier_percent(tier) if tier else "0"
        below = f"-{rate}*{start}" if start else ""
        solved = f"({base.text}{paid}{below})/(1-{rate}{of_tax})"
        if len(tier) < 2:
            return f"{found}{solved}{closing}"
        found += f"IF({solved}<={tier[0].text},{solved},"
        closing += ")"
        paid += f"+{rate}*({tier[0].text}{f'-{start}' if start else ''})"
        start = tier[0].text
    return f"{found}{solved}{closing}"


def tiered(_: Node, given: Sequence[Given]) -> str:
    """Each tier's percentage of its own part of the price."""
    price, *rest = given
    start, found = "", list[str]()
    for tier in terms(rest):
        end = f"MIN({price.text},{tier[0].text})" if len(tier) == 2 else price.text
        found.append(f"{tier_percent(tier)}*" + (f"MAX(0,{end}-{start})" if start else end))
        start = tier[0].text
    return "+".join(found) or "0"


FORMULAS: dict[str, Formula] = {
    "given": lambda _, given: given[0].text,
    "sum": lambda _, given: sum_of([x.text for x in given]),
    "product": lambda _, given: joined("*", given),
    "quotient": lambda _, given: joined("/", given),
    "difference": lambda _, given: joined("-", given),
    "maximum": least("MAX"),
    "minimum": least("MIN"),
    "proportion": lambda _, given: f"{given[0].text}*{given[1].text}/{given[2].text}",
    "sum_of_products": sum_of_products,
    "shortfall": lambda _, given: f"MAX(0,{given[0].text}-{given[1].text})",
    "residual": lambda _, given: f"{given[0].text}-{given[1].text}*{given[2].text}",
    "ceiling": lambda _, given: rounding.rounded_up(given[0].text, given[0].value),
    "ceiling_quotient": ceiling_quotient,
    "round": round_once,
    "round_up": round_up,
    "percent": lambda _, given: f"{given[0].text}*{given[1].text}/100",
    "margin": lambda _, given: f"{given[0].text}*{given[1].text}/(100-{given[1].text})",
    "markup_percent_of_other": lambda _, given: f"100*{given[0].text}/(100-{given[0].text})",
    "margin_percent_of_other": lambda _, given: f"100*{given[0].text}/(100+{given[0].text})",
    "waste_added": lambda _, given: f"1+{given[0].text}/100",
    "waste_lost": lambda _, given: f"1/(1-{given[0].text}/100)",
    "lowest_unit_price": lambda _, given: f"MIN({','.join(joined('/', term[::-1]) for term in terms(given))})",
    "share_of_crew": share_of_crew,
    "floor_share": floor_share,
    "share_remainder": share_remainder,
    "rank": rank,
    "extra_unit": extra_unit,
    "missing_units": missing_units,
    "price_with_bond_and_tax": price_with_bond_and_tax,
    "tiered": tiered,
}


def literal(value: Fraction | int) -> str:
    """A number inside a formula."""
    text = number_text(value)
    return f"({text})" if text.startswith("-") else text
