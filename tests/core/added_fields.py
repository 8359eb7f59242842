"""A job with the fields that came to requests and editions later: small openings, zones, crew-days, a pan, beads."""

from __future__ import annotations

from tests.core.invented import Document, edition, lift, material, opening, production, request, seal_materials

PENETRATIONS = {"fixed": "8", "per_foot": "2", "below_perimeter": "24 in"}
DAM = {"kind": "pan", "back_dam": "3 in"}
SMALL = {"kind": "duct", "shape": "round", "diameter": "4 in"}
HOT = {"hot": {"kind": "lost", "percent": "20"}}


def added_production() -> Document:
    """The production table with the fields that came later."""
    return production(
        penetration_minutes=PENETRATIONS,
        shape={"round": "5", "pipe": "3"},
        sill={"pan": "5"},
        depth_over={"from": "4 in", "minutes_per_inch": "1.5"},
        temperature={"hot": "1.1", "cold": "1.2"},
        tape={"extra_strip_minutes": "1"},
        setup_hours={"mobilisation": "2", "zone": {"lift": "1.5", "ground": "0.25"}},
        perimeter_seal={"minutes_per_foot": "0.5"},
    )


def added_case() -> tuple[Document, list[Document]]:
    """(request, editions): a season split, its second part hot, from a lift that is there for the crew's days."""
    rows = [row | {"waste_by_temperature": HOT} if row["role"] == "mesh" else row for row in seal_materials()]
    kit = material("consumable", "kit", per="crew_day", packs=[{"size": "1 each", "price": "14"}])
    rates = edition(materials=[*rows, kit], equipment=[lift(days_from="crew_days")], production=added_production())
    lines = [
        opening("A", 10, access="lift", elevation="North", storey="1", sill=DAM, building="East wing", phase="1"),
        opening("A", 6, access="lift", elevation="North", storey="2", sill=DAM, building="East wing", phase="2"),
        opening("B", 4, elevation="South", sides=["jambs", "head"], kind="door"),
        opening("V", 60, **SMALL, access="lift", elevation="North", storey="1"),
        opening("P", 2, kind="pipe", diameter="4 in"),
        opening("Q", 2, kind="pipe", diameter="12 in"),
        opening("C", 3, access="lift", elevation="North", storey="1", width="5 in", height="6 in"),
        opening("D", 2, elevation="South", alternate={"name": "1", "kind": "deduct"}),
        opening("E", 2, elevation="South", alternate={"name": "2", "kind": "substitute", "replaces": "B"}),
    ]
    parts = [
        {"work_date": "2027-03-15", "openings": ["A"]},
        {"work_date": "2027-08-15", "temperature": "hot"},
    ]
    seal = {"width": "1/2 in", "weeps": {"count": 2, "length": "1 in"}, "beads": 2}
    return request(*lines, temperature="cold", mobilisations=parts, perimeter_seal=seal), [rates]
