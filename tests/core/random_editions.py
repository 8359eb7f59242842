"""Random editions: labour, materials, equipment, production and overheads, every rate invented."""

from __future__ import annotations

from typing import Any

from tests.core.random_chance import Chance
from tests.core.random_overheads import random_overheads
from tests.core.random_production import TEMPERATURES as TEMPERATURES
from tests.core.random_production import random_production

Document = dict[str, Any]
CODES = (None, "07 27 00", "07 65 26", "01 54 23")
PACKS = {  # what a row is sold in, and how many hundredths of its first pack each holds
    "length": ({"150 ft": 100, "75 ft": 50, "50 ft": 33}, {"30 m": 100, "25 m": 83, "10 m": 33}),
    "volume": (
        {"5 gal": 100, "2 gal": 40, "1 gal": 20},
        {"20 fl oz": 100, "10.1 fl oz": 50},
        {"20 L": 100, "5 L": 25, "500 mL": 2},
    ),
    "each": ({"1 each": 100}, {"12 each": 100, "1 each": 8}),
}


def labour(chance: Chance) -> list[Document]:
    """One to three classes of worker."""
    rows = []
    for code in ("journeyman", "apprentice", "labourer")[: chance.whole(1, 3)]:
        row: Document = {"code": code, "title": code.title(), "wage": chance.number(14, 60, 2)}
        row["cost_code"] = chance.pick(CODES)
        if chance.maybe(0.7):
            row["fringe"] = chance.number(0, 20, 2)
        if chance.maybe(0.8):
            row["burden"] = [
                {
                    "title": f"burden {i}",
                    "percent": chance.number(0, 30, 2),
                    "on": chance.pick(["wage", "straight_wage"]),
                }
                for i in range(chance.whole(1, 3))
            ]
        if chance.maybe(0.6):
            row["productive_share"] = chance.pick(["1", "0.9", "0.75", "0.5", "1.1"])
        rows.append(row)
    return rows


def cents(amount: int) -> str:
    """An amount in hundredths as decimal text."""
    return f"{amount // 100}.{amount % 100:02d}"


def waste(chance: Chance) -> Document:
    """Added on, or a share lost."""
    return {"kind": chance.pick(["added", "lost"]), "percent": chance.number(0, 50, 1)}


def material(chance: Chance, code: str, role: str, dimension: str, fields: Document) -> Document:
    """A row sold in one to three packs at nearly the same price by the unit, so that mixes pay."""
    shares = chance.pick(PACKS[dimension])
    whole_cents = chance.whole(400, 30000)
    packs = [
        {"size": size, "price": cents(whole_cents * share * chance.whole(90, 140) // 10000)}
        for size, share in chance.some(list(shares.items()), least=1)
    ]
    row: Document = {"code": code, "title": code.replace("-", " ").title(), "role": role, "packs": packs} | fields
    row["cost_code"] = chance.pick(CODES)
    if chance.maybe(0.7):
        row["waste"] = waste(chance)
    if chance.maybe(0.4):
        row["waste_by_temperature"] = {name: waste(chance) for name in chance.some(TEMPERATURES, least=1)}
    if chance.maybe(0.4):
        row["taxable"] = chance.maybe(0.6)
    if chance.maybe(0.4):
        row["price_as"] = chance.pick(["bought", "used"])
    return row


def films_and_stocks(chance: Chance) -> list[Document]:
    """Liquids, meshes and tapes."""
    rows = []
    for i in range(chance.pick([1, 1, 2])):
        fields: Document = {"wet_film": [f"{chance.whole(10, 30)} mil" for _ in range(chance.whole(1, 3))]}
        if chance.maybe(0.3):
            fields |= {"solids_percent": "60", "coverage": "40 ft2/gal"}
        rows.append(material(chance, f"liquid-{i}", "liquid", "volume", fields))
    for role in ("mesh", "tape"):
        for width in chance.some(["4 in", "6 in", "9 in", "12 in", "300 mm"], least=1):
            rows.append(material(chance, f"{role}-{width.replace(' ', '')}", role, "length", {"width": width}))
    return rows


def primers(chance: Chance) -> list[Document]:
    """One primer for all substrates, or one for gypsum and perhaps one for the rest; never two for the same."""
    rows = []
    split = chance.maybe(0.5)
    groups = (["gypsum_sheathing"], ["plywood", "osb", "concrete", "cmu"]) if split else (None,)
    for i, substrates in enumerate(groups):
        coverage = f"{chance.whole(80, 300)} ft2/gal"
        fields: Document = {"apply": chance.pick(["edge", "bonded_area"]), "coverage": coverage}
        if fields["apply"] == "edge" or chance.maybe(0.2):
            fields["edge_width"] = chance.pick(["1 in", "5/8 in"])
        if substrates is not None:
            fields["substrates"] = substrates
        rows.append(material(chance, f"primer-{i}", "primer", "volume", fields))
    return rows


def sealing(chance: Chance) -> list[Document]:
    """Sealants, and rods of which the widest always fits."""
    rows = [material(chance, f"sealant-{i}", "sealant", "volume", {}) for i in range(chance.pick([1, 1, 2]))]
    for i, diameter in enumerate([*chance.some(["1/2 in", "5/8 in", "7/8 in", "5/8 in"]), "1 1/2 in"]):
        rows.append(material(chance, f"rod-{i}", "backer_rod", "length", {"diameter": diameter}))
    return rows


def random_materials(chance: Chance) -> list[Document]:
    """Rows of every role, in any order."""
    rows = films_and_stocks(chance) + primers(chance) + sealing(chance)
    for per in chance.some(["opening", "crew_day", "opening"]):
        rows.append(material(chance, f"consumable-{len(rows)}", "consumable", "each", {"per": per}))
    return chance.shuffled(rows)


SERVED = (["lift"], ["rolling_scaffold", "frame_scaffold"], ["lift", "swing_stage"], ["extension_ladder"], ["ground"])


def random_equipment(chance: Chance) -> list[Document]:
    """Rental rows, some of which serve the same access."""
    rows: list[Document] = []
    for access in chance.some(SERVED):
        prices = {"day": (60, 240), "week": (200, 900), "month": (600, 2600)}
        periods = chance.some(list(prices), least=1)
        row: Document = {
            "code": f"rental-{len(rows)}",
            "title": "Rental of " + " and ".join(access).replace("_", " "),
            "for_access": access,
            "rental": [{"period": period, "price": chance.number(*prices[period], 2)} for period in periods],
            "cost_code": chance.pick(CODES),
        }
        if chance.maybe(0.6):
            row["delivery"] = chance.number(0, 180, 2)
        if chance.maybe(0.5):
            row["per_workers"] = chance.whole(1, 4)
        rows.append(row)
    return rows


def dearer(price: str, share: int) -> str:
    """The price times a percentage."""
    return cents(int(price.replace(".", "")) * share // 100)


def repriced(chance: Chance, rows: list[Document]) -> list[Document]:
    """The same labour or material rows at other prices."""
    found = []
    for row in rows:
        new = dict(row)
        if "wage" in row:
            new["wage"] = chance.number(14, 60, 2)
        else:
            share = chance.whole(60, 160)
            new["packs"] = [{**pack, "price": dearer(pack["price"], share)} for pack in row["packs"]]
        found.append(new)
    return chance.shuffled(found)


def random_edition(chance: Chance, head: Document, earlier: Document | None = None) -> Document:
    """An edition with the head's currency, rounding and start.

    After an earlier one it keeps its labour and material rows at other prices, so that the rows a request names stand
    in both; everything else is drawn anew.
    """
    tables: Document = {"labour": labour(chance), "materials": random_materials(chance)}
    if earlier is not None:
        tables = {name: repriced(chance, earlier["tables"][name]) for name in tables}
    tables |= {
        "equipment": random_equipment(chance),
        "production": random_production(chance),
        "overheads": random_overheads(chance),
    }
    return head | {"note": "invented rates", "tables": tables}
