"""Random editions and requests that can be costed, the same for the same seed; every rate in them is invented.

    seed > chance > edition (random_editions.py) and openings (random_openings.py) > request > case

`random_case(seed)` gives plain documents, as a file or a body would hold them; `sources` makes of the editions what
the core takes. Together the cases cover the shapes, both methods, both wastes, temperatures, stock on hand, the seal,
sheathing joints, the learning models, mixed crews, rental, overhead rows on every base, tiers, receipts tax, minimum,
rounding up, four currencies, half to even, both allocations, lines that are not priced, and the season split.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from estimating.core.estimate import Estimate
from estimating.core.job import cost_request
from rates.core.card import EditionSource
from tests.core.random_chance import Chance
from tests.core.random_editions import TEMPERATURES, random_edition
from tests.core.random_openings import ACCESS, random_openings

Document = dict[str, Any]
STARTS = ("2027-01-01", "2027-07-01")
DATES = ("2027-03-15", "2027-09-20", "2028-02-02")


def crew(chance: Chance, edition: Document) -> Document:
    """Workers of one or more labour rows; an experienced, a new or a half-experienced crew."""
    codes = [row["code"] for row in edition["tables"]["labour"]]
    members = [{"labour": code, "count": chance.whole(1, 4)} for code in chance.some(codes, least=1)]
    found: Document = {"members": members}
    if chance.maybe(0.7):
        done = {"done_before": chance.number(0, 60, 1)}
        found["experience"] = chance.pick(["experienced", "new", "new", done])
    if chance.maybe(0.4):
        found["crews"] = chance.whole(1, 3)
    return found


def seal(chance: Chance) -> Document:
    """A perimeter seal at most one inch wide, so that a rod always fits."""
    found: Document = {"width": chance.pick(["3/8 in", "1/2 in", "3/4 in", "12 mm", "1 in"])}
    if chance.maybe(0.5):
        found["depth"] = chance.pick(["1/4 in", "3/8 in", "6 mm"])
    if chance.maybe(0.5):
        found["weeps"] = {"count": chance.whole(0, 3), "length": chance.pick(["1 in", "1/2 in"])}
    return found


def joints(chance: Chance) -> Document:
    """Sheathing joints: walls by layout, plus lengths of their own."""
    walls = [
        {
            "length": f"{chance.whole(9, 60)} ft",
            "height": f"{chance.number(7, 30, 1)} ft",
            "sheet_long": chance.pick(["8 ft", "4 ft", "2400 mm"]),
            "sheet_high": chance.pick(["4 ft", "1200 mm"]),
        }
        for _ in range(chance.whole(0, 3))
    ]
    found: Document = {"walls": walls, "corners": f"{chance.whole(1, 40)} ft"}
    for name in ("terminations", "deflection"):
        if chance.maybe(0.4):
            found[name] = f"{chance.whole(0, 30)} ft"
    if chance.maybe(0.6):
        found["access"] = chance.pick(ACCESS)
    return found


def entries(chance: Chance) -> Document:
    """Subcontracts and allowances."""
    found: Document = {}
    codes = [None, None, "07 92 00", "01 21 00"]
    if chance.maybe(0.35):
        found["subcontracts"] = [
            {
                "title": f"Invented subcontract {i + 1}",
                "amount": chance.number(50, 2500, 2),
                "taxable": chance.maybe(0.6),
                "cost_code": chance.pick(codes),
            }
            for i in range(chance.whole(1, 3))
        ]
    if chance.maybe(0.3):
        found["allowances"] = [
            {
                "title": f"Allowance {i + 1}",
                "count": chance.number(0, 12, 1),
                "unit_price": chance.number(5, 90, 3),
                "cost_code": chance.pick(codes),
            }
            for i in range(chance.whole(1, 2))
        ]
    return found


def materials_on_hand(chance: Chance, edition: Document) -> Document:
    """Stock of a few rows, and the rows to use where a role has several."""
    rows = edition["tables"]["materials"]
    sizes = {"length": ["10 ft", "37.5 ft", "25 m"], "volume": ["1 qt", "2.5 gal", "3 L"], "each": ["2 each"]}
    dimension = {"mesh": "length", "tape": "length", "backer_rod": "length", "consumable": "each"}
    found: Document = {}
    stock = {
        row["code"]: chance.pick(sizes[dimension.get(row["role"], "volume")]) for row in rows if chance.maybe(0.12)
    }
    if stock:
        found["stock"] = stock
    chosen = {}
    for role in ("liquid", "sealant", "mesh", "tape"):
        codes = [row["code"] for row in rows if row["role"] == role]
        if len(codes) > 1 and (role in ("liquid", "sealant") or chance.maybe(0.2)):
            chosen[role] = chance.pick(codes)
    if chosen:
        found["materials"] = chosen
    return found


def season_split(chance: Chance, marks: Sequence[str], with_joints: bool) -> list[Document]:
    """Two or three parts with their own dates; the last but the joints' takes the marks that no other names."""
    first = chance.some(list(marks))
    parts: list[Document] = [
        {"work_date": DATES[0], "scope": chance.pick(["openings", "openings_and_joints"]), "openings": first},
        {"work_date": chance.pick(DATES[:2]), "scope": "openings"},
    ]
    if chance.maybe(0.5) or with_joints:
        parts.append({"work_date": DATES[2], "scope": "joints", "title": "In spring"})
    return parts


def assumptions(chance: Chance) -> Document:
    """What the request says for every opening, and how the price is put together."""
    found: Document = {"treated_depth": chance.pick(["6 in", "4 in", "7 1/4 in", "150 mm", "0 in"])}
    optional: dict[str, tuple[float, list[Any]]] = {
        "units": (0.6, ["imperial", "metric"]),
        "substrate": (0.6, ["gypsum_sheathing", "plywood", "concrete"]),
        "temperature": (0.5, list(TEMPERATURES)),
        "congestion": (0.3, ["tight", "open"]),
        "rework": (0.3, ["some"]),
        "allocate_by": (0.6, ["own_use", "touch_minutes"]),
        "empty_price": (0.4, ["zero", "minimum"]),
        "no_primer_reason": (0.1, ["the data sheet asks for none"]),
        "exemption_certificate": (0.1, ["INVENTED-1"]),
        "only_external": (0.3, [True, False]),
        "mobilisations": (0.5, [0, 1, 2, 3]),
        "wall_area": (0.3, ["2400 ft2", "310.5 m2"]),
        "stated_rate": (0.5, ["1.85", "12.5"]),
    }
    for name, (chances, values) in optional.items():
        if chance.maybe(chances):
            found[name] = chance.pick(values)
    return found


def method(chance: Chance) -> Document:
    """The method, and a wall barrier that it may stand under, by an override at times."""
    found: Document = {"method": chance.pick(["fluid", "fluid", "tape", "tape", "by_line"])}
    barriers = {"fluid": ["fluid", "none", None], "tape": ["sheet", "none", "fluid", None]}
    barrier = chance.pick(barriers.get(found["method"], ["fluid", None]))
    if chance.maybe(0.1):
        barrier = "sheet"
        found["method_override"] = {"reason": "as the designer wrote", "by": "an invented designer"}
    if barrier is not None:
        found["wall_barrier"] = barrier
    return found


def random_case(seed: int) -> tuple[Document, list[Document]]:
    """(request, editions): documents that the core costs without a fault."""
    chance = Chance(seed)
    money = {
        "currency": chance.pick(["USD", "USD", "EUR", "JPY", "KWD"]),
        "rounding": chance.pick(["half_up", "half_up", "half_even"]),
    }
    editions = [random_edition(chance, money | {"effective_from": STARTS[0]})]
    request: Document = {"title": f"Invented request {seed}", "work_date": DATES[0]} | method(chance)
    request |= assumptions(chance) | entries(chance)
    request["openings"] = random_openings(chance, by_line=request["method"] == "by_line")
    if chance.maybe(0.35):
        request["perimeter_seal"] = seal(chance)
    else:
        request["openings"] = [{k: v for k, v in line.items() if k != "seal"} for line in request["openings"]]
    if chance.maybe(0.3):
        request["sheathing_joints"] = joints(chance)
    if chance.maybe(0.25):
        marks = list(dict.fromkeys(line["mark"] for line in request["openings"]))
        request["mobilisations"] = season_split(chance, marks, "sheathing_joints" in request)
        editions.append(random_edition(chance, money | {"effective_from": STARTS[1]}, editions[0]))
    request["crew"] = crew(chance, editions[0])
    request |= materials_on_hand(chance, editions[0])
    return request, editions


def sources(editions: Sequence[Document]) -> list[EditionSource]:
    """The editions as the core takes them, numbered from 1, all of the company's layer."""
    return [EditionSource(f"edition-{i}", i, "company", document) for i, document in enumerate(editions, start=1)]


def random_estimate(seed: int) -> Estimate:
    """The costed estimate of a random case."""
    request, editions = random_case(seed)
    return cost_request(request, sources(editions))
