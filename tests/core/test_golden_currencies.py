"""The worked example in other currencies and other units: right at every line, and the same price.

Each line is worked again below with decimal.Decimal from the example's own sums (trade notes, section 10): hours,
packs, days and percentages; only the minor unit of ISO 4217 changes: JPY 0, USD and EUR 2, KWD 3, CLF 4 places.
"""

from __future__ import annotations

import json
from copy import deepcopy
from decimal import ROUND_CEILING, ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal
from pathlib import Path
from typing import Any

import pytest

from estimating.core.estimate import Estimate
from estimating.core.job import cost_request
from estimating.outputs.answer import answer
from rates.core.card import EditionSource

GOLDEN = Path(__file__).parents[1] / "data" / "golden"
PLACES = {"USD": 2, "EUR": 2, "JPY": 0, "KWD": 3, "CLF": 4}
WAYS = {"half_up": ROUND_HALF_UP, "half_even": ROUND_HALF_EVEN}
Document = dict[str, Any]


def read(name: str) -> Document:
    """A document of the worked example."""
    found: Document = json.loads((GOLDEN / name).read_text())
    return found


def cost(request: Document, edition: Document) -> Estimate:
    """The estimate of two documents."""
    return cost_request(request, [EditionSource("e", 1, "company", edition)])


def worked(places: int, way: str) -> dict[str, Decimal]:
    """Every step of the example worked with decimals, each line rounded once on the rounded lines before it."""
    unit = Decimal(1).scaleb(-places)

    def money(value: Decimal) -> Decimal:
        return value.quantize(unit, rounding=WAYS[way])

    hours = Decimal("540.15") / 60 + Decimal("2.0") + 2 * Decimal("0.5")
    assert hours == Decimal("12.0025")
    found = {"labour": money(hours * (Decimal("32.00") + Decimal("9.50") + Decimal("0.28") * Decimal("32.00")))}
    found["materials"] = money(Decimal("212.00")) + money(3 * Decimal("58.00")) + money(16 * Decimal("1.75"))
    found["freight"] = money(Decimal("0.04") * found["materials"])
    found["sales_tax"] = money(Decimal("0.0725") * found["materials"])
    found["equipment"] = money(Decimal("185.00"))
    found["small_tools"] = money(Decimal("0.03") * found["labour"])
    direct = sum(found.values(), Decimal(0))
    found["overhead"] = money(Decimal("0.12") * direct)
    found["contingency"] = money(Decimal("0.03") * (direct + found["overhead"]))
    cost_of_all = sum(found.values(), Decimal(0))
    found["profit"] = money(cost_of_all * Decimal("0.10") / Decimal("0.90"))
    before = sum(found.values(), Decimal(0))
    found["bond"] = money(before / Decimal("0.985") * Decimal("0.015"))
    before += found["bond"]
    found["minimum_charge"] = max(Decimal(0), Decimal("1500.00") - before)
    before += found["minimum_charge"]
    found["round_up_to"] = (before / 5).to_integral_value(ROUND_CEILING) * 5 - before
    return found


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("currency", PLACES)
def test_every_line_is_rounded_to_the_currency_s_minor_unit(currency: str, way: str) -> None:
    edition = read("edition.json") | {"currency": currency, "rounding": way}
    made = cost(read("request.json"), edition)
    told = answer(made)
    expected = worked(PLACES[currency], way)
    lines = {line["step"]: line["amount"] for line in told["build_up"]}
    assert lines == {step: f"{amount:.{PLACES[currency]}f}" for step, amount in expected.items()}
    price = sum(expected.values(), Decimal(0))
    assert (told["currency"], told["totals"]["price"]) == (currency, f"{price:.{PLACES[currency]}f}")
    assert sum(Decimal(mark["price"]) for mark in told["by_mark"]) == price
    for line in told["build_up"]:
        assert len(line["amount"].partition(".")[2]) == PLACES[currency]


def test_the_lines_of_the_worked_example_itself() -> None:
    """The oracle above against the example's printed figures."""
    expected = {"labour": "605.65", "materials": "414.00", "freight": "16.56", "sales_tax": "30.02"}
    expected |= {"equipment": "185.00", "small_tools": "18.17", "overhead": "152.33", "contingency": "42.65"}
    expected |= {"profit": "162.71", "bond": "24.78", "minimum_charge": "0.00", "round_up_to": "3.13"}
    assert {step: f"{amount:.2f}" for step, amount in worked(2, "half_up").items()} == expected


@pytest.mark.parametrize(
    ("currency", "labour", "price"),
    [("EUR", "605.65", "1655.00"), ("JPY", "606", "1655"), ("KWD", "605.646", "1655.000")],
)
def test_labour_of_12_0025_hours_at_50_46(currency: str, labour: str, price: str) -> None:
    """12.0025 × 50.46 = 605.64615."""
    told = answer(cost(read("request.json"), read("edition.json") | {"currency": currency}))
    assert (told["build_up"][0]["amount"], told["totals"]["price"]) == (labour, price)


METRIC_SIZES = {
    "48 in": "1219.2 mm",
    "72 in": "1828.8 mm",
    "60 in": "1524 mm",
    "40 in": "1016 mm",
    "86 in": "2184.4 mm",
}
METRIC = METRIC_SIZES | {
    "6 in": "152.4 mm",
    "9 in": "228.6 mm",
    "2 in": "50.8 mm",
    "0 in": "0 mm",
    "4 in": "101.6 mm",
    "8 in": "203.2 mm",
    "20 mil": "508 um",
    "150 ft": "45.72 m",
    "5 gal": "18.92705892 L",  # 1 US gal = 3.785411784 L (NIST SP 811, appendix B)
    "1 gal": "3.785411784 L",
}


def metric(value: Any) -> Any:
    """A document with every length and volume in millimetres, metres and litres."""
    if isinstance(value, dict):
        return {name: metric(item) for name, item in value.items()}
    if isinstance(value, list):
        return [metric(item) for item in value]
    return METRIC.get(value, value) if isinstance(value, str) else value


def units_left(value: Any) -> list[str]:
    """Texts that still hold a US customary unit."""
    if isinstance(value, dict):
        return [text for item in value.values() for text in units_left(item)]
    if isinstance(value, list):
        return [text for item in value for text in units_left(item)]
    parts = value.split() if isinstance(value, str) else []
    return [value] if len(parts) == 2 and parts[1] in ("in", "ft", "mil", "gal") else []


def test_the_same_price_from_millimetres_and_litres() -> None:
    """1.125 minutes a foot are 3.690944881890 a metre, to the 12 places that are read."""
    request, edition = metric(read("request.json")) | {"units": "metric"}, metric(read("edition.json"))
    minutes = edition["tables"]["production"]
    minutes["opening_minutes"] = {"minimum": "30", "fixed": "12", "per_metre": "3.69094488189"}
    minutes["penetration_minutes"] = {"fixed": "8", "per_metre": "6.561679790026"}
    assert units_left(request) == [] and units_left(edition) == []
    told, imperial = answer(cost(request, edition)), answer(cost(read("request.json"), read("edition.json")))
    assert told["totals"]["price"] == imperial["totals"]["price"] == "1655.00"
    assert [x["amount"] for x in told["build_up"]] == [x["amount"] for x in imperial["build_up"]]
    assert [x["price"] for x in told["by_mark"]] == [x["price"] for x in imperial["by_mark"]]
    assert (told["units"]["length"], told["units"]["volume"]) == ("mm", "L")


def test_the_same_digest_but_for_units_where_the_rates_a_length_stay_as_they_are() -> None:
    """Every size is exactly the same length or volume, so the documents mean the same."""
    request, edition = read("request.json"), read("edition.json")
    again = cost(metric(deepcopy(request)), metric(deepcopy(edition)))
    first = cost(request, edition)
    assert answer(again)["totals"] == answer(first)["totals"]
    assert again.up.price_minor == first.up.price_minor == 165500
