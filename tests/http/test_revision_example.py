"""The revision example of a bare formula through the service: price = (hours × labour + area × material)(1 + markup).

Marks A, B, C of the worked example, all from the ground, no set-up. Each rate of material is for a square foot: of
liquid 77 mil thick a square foot takes 144 × 0.077 in³, which is 0.048 gal of 231 in³; under tape that costs nothing
a primer covers the bonded area. The currency has four places, so that no rounded line moves a cent of a cause.

By hand: R0 13.675 h × 50.46 + 304.2222 ft² × 3.00 = 1,602.7072, × 1.20 = 1,923.25. R1 16.04375 h × 52.00 + 353.2778 ft²
× 1.60 = 1,399.5194, × 1.18 = 1,651.43. tests/core/test_shares.py works the causes out from the formula alone.
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from typing import Any

import pytest

from tests.cast import Api, approve, make_office
from tests.worked_cases import read_case

CENT = Decimal("0.01")
ORDER = ["openings", "rates", "method", "overheads_and_profit", "productivity", "calendar"]


def edition(labour: str, tape: str, fluid: str, markup: str) -> Any:
    """The example's rates (invented)."""
    found = read_case("golden", "edition.json") | {"currency": "CLF"}
    tables = found["tables"]
    tables["labour"] = [{"code": "journeyman", "title": "Journeyman", "wage": labour, "fringe": "0", "burden": []}]
    used = {"price_as": "used", "waste": {"kind": "added", "percent": "0"}}
    nothing = {"packs": [{"size": "150 ft", "price": "0"}], "width": "9 in"} | used
    per_ft2 = {"wet_film": ["77 mil"], "packs": [{"size": "0.048 gal", "price": fluid}]} | used
    bonded = {"apply": "bonded_area", "coverage": "1 ft2/gal", "packs": [{"size": "1 gal", "price": tape}]} | used
    tables["materials"] = [
        {"code": "liquid", "title": "Liquid", "role": "liquid"} | per_ft2,
        {"code": "mesh", "title": "Mesh", "role": "mesh"} | nothing,
        {"code": "tape", "title": "Tape", "role": "tape"} | nothing,
        {"code": "primer", "title": "Bonded", "role": "primer"} | bonded,
    ]
    tables["equipment"] = []
    tables["production"]["setup_hours"] = {"mobilisation": "0", "elevation": "0", "storey_change": "0"}
    tables["overheads"] = [
        {"code": "profit", "title": "Markup", "step": "profit", "kind": "markup", "percent": markup, "on": "cost"}
    ]
    return found


def request(counts: dict[str, int], method: str, edition: Any) -> Any:
    """The request for so many of each mark."""
    lines = {line["mark"]: line for line in read_case("golden", "request.json")["openings"]}
    openings = [lines[mark] | {"quantity": count, "access": "ground"} for mark, count in counts.items()]
    said = {"edition": str(edition), "method": method, "openings": openings}
    return {name: v for name, v in read_case("golden", "request.json").items() if name != "wall_area"} | said


@pytest.mark.parametrize(
    ("mode", "causes"),
    [
        ("even_handed", ("278.78", "66.34", "-586.70", "-30.24")),
        ("in_order", ("320.03", "72.04", "-635.90", "-27.99")),
    ],
)
def test_the_example_s_causes_to_the_cent(rules: None, mode: str, causes: tuple[str, ...]) -> None:
    first, second = edition("50.46", "3.00", "1.50", "20"), edition("52.00", "3.10", "1.60", "18")
    office = make_office("Example", first)
    api = Api(office.key)
    later = approve(office.company, office.rate_book, office.drafter, office.approver, second)
    before = api.estimate(request({"A": 20, "B": 6}, "tape", office.edition)).json()
    after = api.estimate(request({"A": 24, "B": 4, "C": 3}, "fluid", later)).json()
    prices = [Decimal(made["totals"]["price"]).quantize(CENT, ROUND_HALF_UP) for made in (before, after)]
    assert prices == [Decimal("1923.25"), Decimal("1651.43")]
    body = {"before": before["id"], "after": after["id"], "attribution": mode}
    made = api.post("/v1/comparisons", body | ({"order": ORDER} if mode == "in_order" else {}))
    assert made.status_code == 201, made.content
    found = {row["cause"]: Decimal(row["amount"]).quantize(CENT, ROUND_HALF_UP) for row in made.json()["causes"]}
    assert found == dict(zip(ORDER, [*map(Decimal, causes), Decimal(0), Decimal(0)], strict=True))
    assert sum(found.values()) == Decimal("-271.82")
