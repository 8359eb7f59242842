"""A job in which no check finds anything; for each check a change of it that raises it, and one near it that does not.

All rates are invented. What is likely is judgement (estimating/core/checks/bands.py), so a case stands well outside of
it and its near one inside, not at the edge.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from tests.core.invented import (
    Document,
    edition,
    lift,
    opening,
    overhead,
    percent,
    production,
    request,
    rod,
    seal_materials,
    worker,
)

WASTE = {"kind": "added", "percent": "10"}
BURDEN = [{"title": "payroll taxes", "percent": "28", "on": "wage"}]
WINDOW: Document = {"kind": "window", "quantity": 6, "elevation": "North", "storey": "1"}
PIPE = opening("P1", 2, kind="pipe", diameter="4 in")


class Change(NamedTuple):
    """What is changed of the quiet job: opening fields, fields of the request, tables and fields of the edition."""

    opening: Mapping[str, Any] = {}
    request: Mapping[str, Any] = {}
    tables: Mapping[str, Any] = {}
    production: Mapping[str, Any] = {}
    more: Sequence[Document] = (PIPE,)


def hand(**fields: Any) -> Document:
    """A class of worker with a burden."""
    return worker(**({"burden": BURDEN, "wage": "32"} | fields))


def supplies(**changes: Document) -> list[Document]:
    """Materials with waste; `changes` of a row by its code."""
    rows = [row | {"waste": WASTE} for row in (*seal_materials(), rod("1 1/4 in"), rod("3 in"))]
    return [row | changes.get(row["code"].replace(" ", "_"), {}) for row in rows]


def overheads(*left_out: str, **rates: str) -> list[Document]:
    """Overhead, profit and sales tax rows, some left out, some of another percentage."""
    rows = {"sales_tax": ("7", "taxable_materials"), "overhead": ("12", "direct_cost"), "profit": ("10", "cost")}
    kinds = {"profit": {"kind": "markup"}}
    return [
        percent(step, rates.get(step, rate), on, **kinds.get(step, {}))
        for step, (rate, on) in rows.items()
        if step not in left_out
    ]


def job(change: Change) -> tuple[Document, Document]:
    """(request, edition) of the quiet job with a change."""
    lines = [opening("W1", **{**WINDOW, **change.opening}), *change.more]
    tables: Document = {"labour": [hand()], "materials": supplies(), "overheads": overheads(), "equipment": [lift()]}
    table = production(**change.production)
    return request(*lines, **change.request), edition(production=table, **(tables | dict(change.tables)))


def crew(count: int = 1, crews: int = 1, code: str = "worker", **fields: Any) -> Document:
    """A crew of one class of worker."""
    return {"crew": {"members": [{"labour": code, "count": count}], "crews": crews} | fields}


UP = {"height_above_grade": "30 ft"}
LIFT = {"access": "lift", "height_above_grade": "30 ft"}
STAGE = {"access": "swing_stage", "height_above_grade": "90 ft"}
STAGE_ROW = lift(code="stage", for_access=["swing_stage"])
DOOR = {"kind": "door"}
FLAT = overhead("overhead", amount="500")
NEW = crew(experience="new")
GRADED = {"labour": [hand(grade="apprentice")]}
OWNED = {"code": "own", "title": "Own lift", "for_access": ["lift"], "owned": True}
TAPE = {"method": "tape", "wall_barrier": "fluid"}
MANY = Change({"quantity": 12}, more=())
ALLOWED = {"allowances": [{"title": "Pipes not scheduled", "count": "6", "unit_price": "40"}]}
OTHER_ALLOWANCE = {"allowances": [{"title": "Mock-up", "count": "1", "unit_price": "900"}]}
FREE = [{"period": "day", "price": "0"}]
Row = tuple[str, Change, Change]


def tape_lists(*barriers: str) -> Change:
    """Tape over a fluid-applied barrier, with the barriers that its row lists."""
    return Change(request=TAPE, tables={"materials": supplies(tape={"compatible_with": list(barriers)})})


def rates(**tables: Any) -> Change:
    """Other tables of the edition."""
    return Change(tables=tables)


def supplied(**changes: Document) -> Change:
    """Other material rows."""
    return rates(materials=supplies(**changes))


def pack(size: str, price: str) -> Document:
    """The one pack of a row."""
    return {"packs": [{"size": size, "price": price}]}


def sealed(width: str, depth: str | None = None) -> Change:
    """With a perimeter seal."""
    return Change(request={"perimeter_seal": {"width": width} | ({"depth": depth} if depth else {})})


def produced(**fields: Any) -> Change:
    """Another production table."""
    return Change(production=fields)


def rented(*rows: Document, access: Mapping[str, Any] = LIFT) -> Change:
    """Work from an access with these equipment rows."""
    return Change(access, tables={"equipment": list(rows)})


NO_WASTE = {"waste": WASTE | {"percent": "0"}}
TWO_AND_A_HALF = {"waste": WASTE | {"percent": "150"}}
LEARNING = {"model": "exponential", "first": "1.8", "tau": "10"}
SLOW, QUICK = {"fixed": "12", "per_foot": "1"}, {"fixed": "1", "per_foot": "0.05"}


ROWS: Sequence[Row] = (
    ("access_out_of_reach", Change(UP), Change(UP | {"from_inside": True})),
    ("access_out_of_reach", Change({"storey": "Level 3"}), Change({"storey": "Level 1"})),
    ("access_out_of_reach", Change({"storey": "2"}), Change({"storey": "2", "height_above_grade": "3 ft"})),
    ("access_out_of_reach", Change({"storey": "2"}), Change({"storey": "2", "external": False})),
    (
        "access_out_of_reach",
        Change(LIFT, production={"access_limits": {"lift": {"up_to": "33 ft"}}}),
        Change(LIFT, production={"access_limits": {"lift": {"up_to": "34 ft"}}}),
    ),
    ("access_not_rented", rented(), rented(OWNED)),
    ("access_not_rented", rented(), rented(access={"access": "step_ladder"})),
    (
        "one_on_stage",
        rented(STAGE_ROW, access=STAGE)._replace(request=crew(3, 2)),
        rented(STAGE_ROW, access=STAGE)._replace(request=crew(4, 2)),
    ),
    ("sides_left_out", Change({"sides": ["sill", "jambs"]}), Change({"sides": ["sill", "jambs", "head"]})),
    ("sides_left_out", Change(DOOR | {"sides": ["jambs"]}), Change(DOOR | {"sides": ["jambs", "head"]})),
    ("sides_left_out", Change({"sides": ["sill"]}), Change({"kind": "other", "sides": ["sill"]})),
    ("sill_none", Change({"sill": {"kind": "none"}}), Change(DOOR | {"sill": {"kind": "none"}})),
    ("no_penetrations", MANY, MANY._replace(request=ALLOWED)),
    ("no_penetrations", MANY._replace(request=OTHER_ALLOWANCE), MANY._replace(more=(PIPE,))),
    ("no_penetrations", MANY, Change({"quantity": 3}, more=())),
    ("tape_over_barrier", tape_lists("sheet"), tape_lists("sheet", "fluid")),
    ("lap_short", produced(geometry={"face_lap": "1 in"}), produced(geometry={"face_lap": "38.1 mm"})),
    ("lap_short", produced(geometry={"mesh_lap": "0 in"}), produced(geometry={"tape_lap": "0 in"})),
    ("pipe_lap_short", Change(more=(PIPE | {"lap_on_pipe": "0 in"},)), Change(more=(PIPE | {"lap_on_pipe": "1 in"},))),
    ("waste_unlikely", supplied(mesh=NO_WASTE), supplied(tape=NO_WASTE)),
    ("waste_unlikely", supplied(liquid=TWO_AND_A_HALF), supplied()),
    ("one_coat", supplied(liquid={"wet_film": ["40 mil"]}), supplied(liquid={"wet_film": ["30 mil", "10 mil"]})),
    ("seal_depth", sealed("1/2 in", "5/8 in"), sealed("1/2 in", "1/4 in")),
    ("seal_depth", sealed("3/8 in", "1/2 in"), sealed("3/8 in", "3/8 in")),
    ("seal_depth", sealed("1/2 in", "1/8 in"), sealed("1/2 in")),
    ("seal_width", sealed("2 in", "1/2 in"), sealed("1 in")),
    ("no_journeyman", rates(**GRADED), rates(labour=[hand(grade="journeyman")])),
    ("no_journeyman", rates(**GRADED), rates(labour=[hand()])),
    ("more_crews_than_workers", Change(request=crew(2, 3)), Change(request=crew(3, 3))),
    ("not_mobilised", Change(request={"mobilisations": 0}), Change(request={"mobilisations": 1})),
    ("new_crew_not_learning", Change(request=NEW), Change(request=NEW, production={"learning": LEARNING})),
    ("work_date_far", Change(request={"work_date": "2031-03-15"}), Change(request={"work_date": "2028-03-15"})),
    ("no_profit", rates(overheads=overheads("profit")), rates(overheads=overheads(profit="5"))),
    ("no_profit", rates(overheads=overheads(profit="0")), rates(overheads=overheads())),
    ("no_overhead", rates(overheads=overheads("overhead")), rates(overheads=[*overheads("overhead"), FLAT])),
    ("no_burden", rates(labour=[hand(burden=[])]), rates(labour=[hand(), hand(code="not in the crew", burden=[])])),
    ("percentage_unlikely", rates(overheads=overheads(profit="0.1")), rates(overheads=overheads(profit="10"))),
    ("percentage_unlikely", rates(overheads=overheads(sales_tax="725")), rates(overheads=overheads(sales_tax="7.25"))),
    ("percentage_unlikely", rates(labour=[hand(burden=[BURDEN[0] | {"percent": "0.28"}])]), rates(labour=[hand()])),
    ("wage_unlikely", rates(labour=[hand(wage="3400")]), rates(labour=[hand(wage="34")])),
    ("wage_unlikely", rates(labour=[hand(wage="0")]), rates(labour=[hand(), hand(code="not in the crew", wage="0")])),
    ("price_unlikely", supplied(mesh=pack("150 ft", "0")), supplied(tape=pack("75 ft", "0"))),
    ("price_unlikely", supplied(liquid=pack("5 gal", "17000")), supplied(liquid=pack("5 gal", "170"))),
    ("rental_unlikely", rented(lift(rental=FREE)), rented(lift(rental=FREE, owned=True))),
    ("production_unlikely", produced(opening_minutes=QUICK), produced(opening_minutes=SLOW)),
    ("production_unlikely", produced(access={"ground": "0.1"}), produced(access={"ground": "1"})),
    ("production_unlikely", produced(hours_per_day="24"), produced(hours_per_day="10")),
)
