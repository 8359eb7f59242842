"""Bad requests and editions: an edit of the golden example, and every fault that it must be refused with.

A pointer is RFC 6901; DROPPED takes the value away. Faults are (document, pointer, code).
"""

# ruff: noqa: E501  (a case stands on one line)
from __future__ import annotations

import copy
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

DROPPED = object()
REQUEST, EDITION = "request", "edition"
Fault = tuple[str, str, str]


@dataclass(frozen=True)
class Bad:
    """An edit of the golden request and edition, and the faults it gives, in any order."""

    name: str
    faults: tuple[Fault, ...]
    request: Mapping[str, Any] = field(default_factory=dict)
    edition: Mapping[str, Any] = field(default_factory=dict)


def request(name: str, pointer: str, value: Any, code: str, *, at: str | None = None, **also: Any) -> Bad:
    """One edit of the request, one fault there or at another pointer."""
    edits = {pointer: value} | {"/" + where.replace("__", "/"): what for where, what in also.items()}
    return Bad(name, ((REQUEST, pointer if at is None else at, code),), request=edits)


def edition(name: str, pointer: str, value: Any, code: str, *, at: str | None = None, also: Any = None) -> Bad:
    """One edit of the edition's tables, one fault there or at another pointer."""
    edits = {"/tables" + pointer: value} | {"/tables" + where: what for where, what in (also or {}).items()}
    return Bad(name, ((EDITION, "/tables" + (pointer if at is None else at), code),), edition=edits)


def edited(document: Any, edits: Mapping[str, Any]) -> Any:
    """A copy of the document with the edits made."""
    made = copy.deepcopy(document)
    for pointer, value in edits.items():
        *path, last = (step.replace("~1", "/").replace("~0", "~") for step in pointer.split("/")[1:])
        inner = made
        for step in path:
            inner = inner[int(step)] if isinstance(inner, list) else inner[step]
        if isinstance(inner, list):
            inner[int(last) :] = [value] if int(last) == len(inner) else [value, *inner[int(last) + 1 :]]
        elif value is DROPPED:
            del inner[last]
        else:
            inner[last] = value
    return made


W = "/openings/0"
ARCH = {"mark": "A", "quantity": 1, "shape": "segmental_top", "width": "40 in", "springline": "40 in", "rise": "21 in"}
CONCAVE = [["0 in", "0 in"], ["40 in", "0 in"], ["40 in", "40 in"], ["20 in", "10 in"], ["0 in", "40 in"]]
SLANTED = [["0 in", "0 in"], ["40 in", "0 in"], ["40 in", "40 in"], ["1 in", "40 in"]]
TIERS = [{"up_to": "1000", "percent": "2"}, {"up_to": "1000", "percent": "1"}, {"up_to": None, "percent": "1"}]

LINES = (
    request("unknown field of a line", f"{W}/colour", "red", "unknown_field"),
    request("unknown field of the request", "/discount", "5", "unknown_field"),
    request("no mark", f"{W}/mark", DROPPED, "missing"),
    request("blank mark", f"{W}/mark", "  ", "blank"),
    request("mark is a number", f"{W}/mark", 7, "not_text"),
    request("mark with a control character", f"{W}/mark", "A\tB", "control_character"),
    request("mark turned round", f"{W}/mark", "A\u202eB", "control_character"),
    request("mark of 81 characters", f"{W}/mark", "A" * 81, "too_long"),
    request("no quantity", f"{W}/quantity", DROPPED, "missing"),
    request("negative quantity", f"{W}/quantity", -1, "too_small"),
    request("quantity 10⁹", f"{W}/quantity", 10**9, "too_large"),
    request("half an opening", f"{W}/quantity", "1.5", "not_whole"),
    request("quantity true", f"{W}/quantity", True, "not_a_number"),
    request("quantity in exponent form", f"{W}/quantity", "1e3", "not_a_number"),
    request("quantity with a separator", f"{W}/quantity", "1_000", "not_a_number"),
    request("quantity in other digits", f"{W}/quantity", "\u0661\u0662", "not_a_number"),
    request("quantity of a million digits", f"{W}/quantity", "9" * 10**6, "too_many_digits"),
    request("width 0", f"{W}/width", "0 in", "too_small"),
    request("negative width", f"{W}/width", "-48 in", "too_small"),
    request("width NaN", f"{W}/width", "NaN", "not_a_length"),
    request("width infinite", f"{W}/width", "inf in", "not_a_length"),
    request("width in exponent form", f"{W}/width", "1e3 mm", "not_a_length"),
    request("width in other digits", f"{W}/width", "\u0664\u0668 in", "not_a_length"),
    request("width of a million digits", f"{W}/width", "9" * 10**6 + " in", "too_long"),
    request("width without a unit", f"{W}/width", "48", "unit_missing"),
    request("width as a bare number", f"{W}/width", 48, "unit_missing"),
    request("width in an unknown unit", f"{W}/width", "48 cubits", "unknown_unit"),
    request("width that is an area", f"{W}/width", "48 ft2", "unknown_unit"),
    request("width as a pair of sizes", f"{W}/width", "3068", "ambiguous"),
    request("width 6-8", f"{W}/width", "6-8", "ambiguous"),
    request("width 5'-14\"", f"{W}/width", "5'-14\"", "inches_not_under_12"),
    request("width with 9/8", f"{W}/width", "4 9/8 in", "improper_fraction"),
    request("width with 3/0", f"{W}/width", "4 3/0 in", "zero_denominator"),
    request("width of 1,001 m", f"{W}/width", "1001 m", "too_large"),
    request("blank width", f"{W}/width", " ", "blank"),
    request("width a list", f"{W}/width", ["48 in"], "not_a_number"),
    request("no width", f"{W}/width", DROPPED, "missing"),
    request("diameter of a rectangle", f"{W}/diameter", "48 in", "not_for_shape"),
    request("unknown shape", f"{W}/shape", "trapezoid", "unknown_choice"),
    request("unknown kind", f"{W}/kind", "hatch", "unknown_choice"),
    request("unknown access", f"{W}/access", "rope", "unknown_choice"),
    request("unknown side", f"{W}/sides", ["sill", "top"], "unknown_choice"),
    request("a side twice", f"{W}/sides", ["sill", "sill"], "unknown_choice"),
    request("external neither", f"{W}/external", "perhaps", "not_true_or_false"),
    request("sloped sill without its angle", f"{W}/sill", {"kind": "sloped"}, "angle", at=f"{W}/sill/angle_degrees"),
    request("sill none, yet treated", f"{W}/sill", {"kind": "none"}, "contradiction", at=f"{W}/sides", openings__0__sides=["sill"]),
    request("excluded without a reason", f"{W}/excluded", {}, "missing", at=f"{W}/excluded/reason"),
    request("rise over half the width", W, ARCH, "rise_over_half_width", at=f"{W}/rise"),
    request("arch with both heights", W, {**ARCH, "rise": "9 in", "height": "49 in"}, "one_of", at=f"{W}/springline"),
    request("arch higher than it is", W, {**ARCH, "springline": None, "height": "9 in", "rise": "10 in"}, "too_small", at=f"{W}/height"),
    request("concave polygon", W, {"mark": "A", "quantity": 1, "shape": "polygon", "points": CONCAVE}, "bad_outline", at=f"{W}/points"),
    request("two points", W, {"mark": "A", "quantity": 1, "shape": "polygon", "points": CONCAVE[:2]}, "wrong_count", at=f"{W}/points"),
    request("slanted outline", W, {"mark": "A", "quantity": 1, "shape": "outline", "points": SLANTED}, "bad_outline", at=f"{W}/points"),
    request("one mark of two sizes", "/openings/1/mark", "A", "mark_of_two_sizes", at="/openings/1"),
    request("two sizes but for a dash", "/openings/1/mark", "W\u20131", "mark_of_two_sizes", at="/openings/1", openings__0__mark="w-1"),
    request("a line that is a text", W, "A, 4 x 4", "not_an_object"),
    request("openings as an object", "/openings", {"A": 1}, "not_a_list"),
    request("no openings", "/openings", DROPPED, "missing"),
    request("no depth", "/treated_depth", DROPPED, "missing", at=f"{W}/treated_depth", openings=[{"mark": "A", "quantity": 1, "width": "48 in", "height": "48 in"}]),
    request("fluid under a sheet barrier", "/wall_barrier", "sheet", "method_against_barrier", at=f"{W}/method", openings=[{"mark": "A", "quantity": 1, "width": "48 in", "height": "48 in"}]),
    request("method by line, and a line without", "/method", "by_line", "missing", at=f"{W}/method", openings=[{"mark": "A", "quantity": 1, "width": "48 in", "height": "48 in"}]),
    request("a line to seal, and no seal", f"{W}/seal", True, "missing"),
)  # fmt: skip

CREW = "/crew/members/0"
PART = {"work_date": "2027-03-15", "openings": ["A"]}
ALL_ELSE = {"work_date": "2027-03-15"}

ASSUMPTIONS = (
    request("no work date", "/work_date", DROPPED, "missing"),
    request("31 February", "/work_date", "2027-02-31", "not_a_date"),
    request("date in other digits", "/work_date", "2027-03-1\u0665", "not_a_date"),
    request("before every edition", "/work_date", "2026-12-31", "no_edition_in_force"),
    request("unknown method", "/method", "paint", "unknown_choice"),
    request("negative depth", "/treated_depth", "-6 in", "too_small"),
    request("depth without a unit", "/treated_depth", "6", "unit_missing"),
    request("unknown barrier", "/wall_barrier", "foil", "unknown_choice"),
    request("override without who decided", "/method_override", {"reason": "mock-up passed"}, "missing", at="/method_override/by"),
    request("no crew", "/crew", DROPPED, "missing"),
    request("crew of nobody", "/crew/members", [], "wrong_count"),
    request("nobody of a row", f"{CREW}/count", 0, "too_small"),
    request("unknown labour row", f"{CREW}/labour", "painter", "unknown_row"),
    request("unknown experience", "/crew/experience", "some", "unknown_choice"),
    request("experience below 0", "/crew/experience", {"done_before": "-1"}, "too_small", at="/crew/experience/done_before"),
    request("no crews", "/crew/crews", 0, "too_small"),
    request("mobilisations in words", "/mobilisations", "two", "not_a_number"),
    request("two parts for all the rest", "/mobilisations", [ALL_ELSE, ALL_ELSE], "one_of", at="/mobilisations/1/openings"),
    request("a mark in two parts", "/mobilisations", [PART, PART, ALL_ELSE], "mark_twice", at="/mobilisations/1/openings/0"),
    request("a part of an unknown mark", "/mobilisations", [{**PART, "openings": ["Z"]}, ALL_ELSE], "unknown_mark", at="/mobilisations/0/openings/0"),
    request("a part before every edition", "/mobilisations", [{**PART, "work_date": "2026-01-01"}, ALL_ELSE], "no_edition_in_force", at="/mobilisations/0/work_date"),
    request("unknown temperature", "/temperature", "hot", "unknown_name"),
    request("stock of an unknown row", "/stock", {"mesh-8": "10 ft"}, "unknown_row", at="/stock/mesh-8"),
    request("stock of a name with a slash", "/stock", {"a/b~c": "10 ft"}, "unknown_row", at="/stock/a~1b~0c"),
    request("mesh in gallons", "/stock", {"mesh-9": "10 gal"}, "wrong_dimension", at="/stock/mesh-9"),
    request("stock below 0", "/stock", {"mesh-9": "-10 ft"}, "wrong_dimension", at="/stock/mesh-9"),
    request("unknown row for a role", "/materials", {"liquid": "paste"}, "unknown_row", at="/materials/liquid"),
    request("unknown role", "/materials", {"glue": "liquid"}, "unknown_choice", at="/materials/glue"),
    request("allowance without a price", "/allowances", [{"title": "pipes", "count": 2}], "missing", at="/allowances/0/unit_price"),
    request("subcontract below 0", "/subcontracts", [{"title": "test", "amount": "-1"}], "too_small", at="/subcontracts/0/amount"),
    request("wall area below 0", "/wall_area", "-5 ft2", "too_small"),
    request("wall area that is a length", "/wall_area", "5 ft", "unknown_unit"),
    request("unknown allocation", "/allocate_by", "area", "unknown_choice"),
    request("quantities from nowhere", "/quantities_from", "guess", "unknown_choice"),
    request("only external, perhaps", "/only_external", "perhaps", "not_true_or_false"),
    request("seal without a width", "/perimeter_seal", {}, "missing", at="/perimeter_seal/width"),
    request("wall of no length", "/sheathing_joints", {"walls": [{"length": "0 ft", "height": "9 ft", "sheet_long": "8 ft", "sheet_high": "4 ft"}]}, "too_small", at="/sheathing_joints/walls/0/length"),
)  # fmt: skip

LIQUID, MESH, PROFIT, BOND = "/materials/0", "/materials/1", "/overheads/5", "/overheads/6"
ROD_FROM_THE_ROLL = {
    "code": "rod",
    "title": "Rod",
    "role": "backer_rod",
    "diameter": "1 in",
    "packs": [{"size": "9 gal", "price": "1"}],
}

RATES = (
    *(edition(f"no {table} table", f"/{table}", DROPPED, "missing") for table in ("labour", "materials", "equipment", "production", "overheads")),
    edition("no liquid row", LIQUID, {"code": "rags", "title": "Rags", "role": "consumable", "per": "crew_day", "packs": [{"size": "1 each", "price": "1"}]}, "missing_role", at="/materials"),
    edition("unknown field of a row", f"{LIQUID}/colour", "red", "unknown_field"),
    edition("unknown role of a row", f"{LIQUID}/role", "paint", "unknown_choice"),
    edition("price below 0", f"{LIQUID}/packs/0/price", "-1", "too_small"),
    edition("price NaN", f"{LIQUID}/packs/0/price", "NaN", "not_a_number"),
    edition("price infinite", f"{LIQUID}/packs/0/price", "Infinity", "not_a_number"),
    edition("price in exponent form", f"{LIQUID}/packs/0/price", "1.7e2", "not_a_number"),
    edition("price of 16 digits", f"{LIQUID}/packs/0/price", "1234567890.123456", "too_many_digits"),
    edition("price with a comma", f"{LIQUID}/packs/0/price", "1,70", "not_a_number"),
    edition("price with a plus", f"{LIQUID}/packs/0/price", "+170", "not_a_number"),
    edition("pack of nothing", f"{LIQUID}/packs/0/size", "0 gal", "too_small"),
    edition("liquid by the foot", f"{LIQUID}/packs/0/size", "5 ft", "wrong_dimension"),
    edition("rod by the gallon", "/materials/3", ROD_FROM_THE_ROLL, "wrong_dimension", at="/materials/3/packs/0/size"),
    edition("no packs", f"{LIQUID}/packs", [], "wrong_count"),
    edition("no wet film", f"{LIQUID}/wet_film", DROPPED, "missing"),
    edition("mesh with a wet film", f"{MESH}/wet_film", ["20 mil"], "not_for_role"),
    edition("all lost", f"{MESH}/waste", {"kind": "lost", "percent": "100"}, "waste_lost_whole", at=f"{MESH}/waste/percent"),
    edition("more than all lost", f"{MESH}/waste", {"kind": "lost", "percent": "130"}, "waste_lost_whole", at=f"{MESH}/waste/percent"),
    edition("all lost in heat", f"{MESH}/waste_by_temperature", {"hot": {"kind": "lost", "percent": "100"}}, "waste_lost_whole", at=f"{MESH}/waste_by_temperature/hot/percent"),
    edition("a code twice", f"{MESH}/code", "liquid", "duplicate_code"),
    edition("mesh as narrow as its lap", f"{MESH}/width", "2 in", "stock_too_narrow", at="/materials"),
    edition("wage below 0", "/labour/0/wage", "-32", "too_small"),
    edition("no productive share", "/labour/0/productive_share", "0", "too_small"),
    edition("overtime below 1", "/labour/0/overtime_multiplier", "0.5", "too_small"),
    edition("unknown access of a lift", "/equipment/0/for_access", ["rope"], "unknown_choice", at="/equipment/0/for_access/0"),
    edition("minutes for a foot and for a metre", "/production/opening_minutes", {"per_foot": "1", "per_metre": "3"}, "one_of"),
    edition("factor 0", "/production/access/lift", "0", "too_small"),
    edition("a factor for no access", "/production/access/rope", "2", "unknown_choice"),
    edition("no hours in a day", "/production/hours_per_day", "0", "too_small"),
    edition("25 hours in a day", "/production/hours_per_day", "25", "too_large"),
    edition("learning without its slope", "/production/learning", {"model": "unit_curve", "first": "2"}, "missing", at="/production/learning/slope_percent"),
    edition("slope of another model", "/production/learning", {"model": "none", "first": "2"}, "not_for_model", at="/production/learning/first"),
    edition("unknown step", "/overheads/0/step", "tip", "unknown_choice"),
    edition("percent and amount", "/overheads/0/amount", "5", "one_of", at="/overheads/0"),
    edition("percent of nothing", "/overheads/0/on", DROPPED, "missing"),
    edition("freight on the price", "/overheads/0/on", "price", "wrong_base"),
    edition("markup or margin not said", f"{PROFIT}/kind", DROPPED, "missing"),
    edition("margin on direct cost", f"{PROFIT}/on", "direct_cost", "wrong_base"),
    edition("margin and bond of 100 %", f"{PROFIT}/percent", "98.5", "nothing_left", at="/overheads"),
    edition("margin of 120 %", f"{PROFIT}/percent", "120", "nothing_left", at="/overheads"),
    edition("profit twice", "/overheads/9", {"code": "more", "title": "More", "step": "profit", "kind": "markup", "percent": "1", "on": "cost"}, "duplicate_step", at="/overheads/9/step"),
    edition("tiers that do not rise", f"{BOND}/tiers", TIERS, "not_rising", at=f"{BOND}/tiers/1/up_to"),
    edition("tiers that end", f"{BOND}/tiers", TIERS[:1], "open_tier", at=f"{BOND}/tiers/0/up_to"),
    edition("rounded up to nothing", "/overheads/8/amount", "0", "too_small"),
    Bad("unknown currency", ((EDITION, "/currency", "unknown_currency"),), edition={"/currency": "XXY"}),
    Bad("currency in small letters", ((EDITION, "/currency", "unknown_currency"),), edition={"/currency": "usd"}),
    Bad("unknown rounding", ((EDITION, "/rounding", "unknown_choice"),), edition={"/rounding": "down"}),
    Bad("no start", ((EDITION, "/effective_from", "missing"),), edition={"/effective_from": DROPPED}),
    Bad("no tables", ((EDITION, "/tables", "missing"),), edition={"/tables": DROPPED}),
)  # fmt: skip
