"""The field table of a request for an estimate, and its reading with every fault at once."""

from __future__ import annotations

from typing import Any

from estimating.core.kind_reading import OVERRIDE
from estimating.core.kinds import BARRIERS, Given
from estimating.core.request import Crew, Joints, Member, Mobilisation, Request, Seal, SheetWall
from estimating.core.request_calendar import CALENDAR, check_zones
from estimating.core.request_money import ALLOWANCE, SUBCONTRACT, UNIT_PRICE, check_unit_prices
from estimating.core.request_units import with_units
from estimating.core.schedule import Schedule, read_schedule
from rates.core.fields import (
    Faults,
    Field,
    ListOf,
    MapOf,
    Reader,
    Record,
    boolean,
    choice,
    clean_text,
    date,
    decimal,
    measure,
    number_text,
    text,
    whole,
)
from rates.core.fraction import Fraction
from rates.core.problems import Problem
from rates.core.tables import ACCESS, SUBSTRATES, length, length_or_zero
from rates.core.units import read_area, read_pack_size

SCOPES = ("openings", "joints", "openings_and_joints")


def seal(width: Fraction, depth: Fraction | None, weeps: tuple[int, Fraction] | None, beads: int) -> Seal:
    """A seal; absent depth is half the width, at least 1/4 in (common practice, no source)."""
    least = length.parse("1/4 in")
    count, gap = weeps or (0, Fraction(0))
    return Seal(width, depth if depth is not None else max(width / 2, least), count, gap, beads)


DONE_BEFORE = Record(
    lambda done_before: done_before, (Field("done_before", decimal(0, 10**6), "openings done before", required=True),)
)


class Experience:
    """Reader of "experienced", "new" or {"done_before": N}."""

    schema = {
        "oneOf": [
            {"type": "string", "enum": ["experienced", "new"]},
            DONE_BEFORE.schema,
        ]
    }

    def read(self, raw: object, pointer: str, faults: Faults) -> Any:
        """("experienced", None) or ("done", N)."""
        if isinstance(raw, dict):
            return ("done", DONE_BEFORE.read(raw, pointer, faults))
        word = choice("experienced", "new").read(raw, pointer, faults)
        return ("done", Fraction(0)) if word == "new" else ("experienced", None)


CREW = Record(
    lambda members, experience, crews, hours_per_week: Crew(members, experience[1], crews, hours_per_week),
    (
        Field(
            "members",
            ListOf(
                Record(
                    Member,
                    (
                        Field("labour", text(60), "code of a labour row", required=True),
                        Field("count", whole(1, 1000), "how many", required=True),
                    ),
                ),
                1,
                50,
            ),
            "who works",
            required=True,
        ),
        Field("experience", Experience(), "experienced, new, or openings done before", default=("experienced", None)),
        Field("crews", whole(1, 100), "crews that share the openings equally", default=1),
        Field("hours_per_week", decimal(0, 168, above=True), "hours worked a week, in place of those of the rates"),
    ),
)

PART = Record(
    lambda openings, **v: Mobilisation(marks=openings, **v),
    (
        Field("work_date", date(), "first day of the part", required=True),
        Field("scope", choice(*SCOPES), "what the part does", default="openings_and_joints"),
        Field("openings", ListOf(text(80), 0, 10_000), "marks of the part; absent: all that no other part names"),
        Field("title", text(100), "a title"),
        Field("temperature", text(40), "a name of the production and waste tables; the request's if absent"),
    ),
)


class Mobilisations:
    """Reader of a number of mobilisations, or a list of parts each with its own date."""

    schema = {"oneOf": [whole(0, 1000).schema, ListOf(PART, 1, 20).schema]}

    def read(self, raw: object, pointer: str, faults: Faults) -> Any:
        """A whole number, or a tuple of parts."""
        if isinstance(raw, list | tuple):
            return ListOf(PART, 1, 20).read(raw, pointer, faults)
        return whole(0, 1000).read(raw, pointer, faults)


SEAL = Record(
    seal,
    (
        Field("width", length, "joint width", required=True),
        Field("depth", length, "bead depth; half the width, at least 1/4 in, if absent"),
        Field(
            "weeps",
            Record(
                lambda count, length: (count, length),
                (
                    Field("count", whole(0, 100), "gaps in a sill's bead", required=True),
                    Field("length", length, "length of a gap", required=True),
                ),
            ),
            "weep gaps, left only where a sill is treated",
        ),
        Field("beads", whole(1, 2), "beads of sealant around an opening, each with its rod", default=1),
    ),
)

JOINTS = Record(
    lambda walls, corners, terminations, deflection, access: Joints(walls, corners, terminations, deflection, access),
    (
        Field(
            "walls",
            ListOf(
                Record(
                    lambda length, height, sheet_long, sheet_high: SheetWall(length, height, sheet_long, sheet_high),
                    (
                        Field("length", length, "wall length", required=True),
                        Field("height", length, "wall height", required=True),
                        Field("sheet_long", length, "sheet size along the wall", required=True),
                        Field("sheet_high", length, "sheet size up the wall", required=True),
                    ),
                )
            ),
            "walls sheathed in sheets",
            default=(),
        ),
        Field("corners", length_or_zero, "length of corner joints", default=Fraction(0)),
        Field("terminations", length_or_zero, "length of terminations", default=Fraction(0)),
        Field("deflection", length_or_zero, "length of deflection joints", default=Fraction(0)),
        Field("access", choice(*ACCESS), "how it is reached"),
    ),
)

CHOSEN_ROLES = ("liquid", "primer", "mesh", "tape", "sealant", "backer_rod")
opaque = Reader(lambda raw: clean_text(raw, 200), {"type": "string"})
stock_size = Reader(lambda raw: read_pack_size(clean_text(number_text(raw), 64)), {"type": "string"})
UNITS = ("imperial", "metric")
LENGTH_UNITS = ("in", "ft", "mm", "cm", "m")

FIELDS = (
    Field("work_date", date(), "day of the work, by which rates are looked up", required=True),
    Field("units", choice(*UNITS), "units of the answer", default="imperial"),
    Field("length_unit", choice(*LENGTH_UNITS), "unit of bare numbers in the request and its openings"),
    Field("openings_length_unit", choice(*LENGTH_UNITS), "that of the openings, where it is another"),
    Field("method", choice("fluid", "tape", "by_line"), "fluid, tape, or as each line says", required=True),
    Field("wall_barrier", choice(*BARRIERS), "the field water-resistive barrier"),
    Field("treated_depth", length_or_zero, "treated return depth where a line gives none"),
    Field("substrate", choice(*SUBSTRATES), "substrate where a line gives none"),
    Field("method_override", OVERRIDE, "lets the method stand against the wall barrier"),
    Field("crew", CREW, "who works, how experienced, in how many crews", required=True),
    Field("mobilisations", Mobilisations(), "how many, or parts each with a date", default=1),
    Field("return_trips", whole(0, 1000), "trips back to the site beside the mobilisations"),
    Field("temperature", text(40), "a name of the production and waste tables"),
    Field("congestion", text(40), "a name of the production table"),
    Field("rework", text(40), "a name of the production table"),
    Field("perimeter_seal", SEAL, "perimeter seal"),
    Field("sheathing_joints", JOINTS, "sheathing joints"),
    Field("stock", MapOf(stock_size), "stock on hand by material code", default=()),
    Field("materials", MapOf(text(60), CHOSEN_ROLES), "the row to use for a role", default=()),
    Field("subcontracts", ListOf(SUBCONTRACT), "subcontracts and services", default=()),
    Field("allowances", ListOf(ALLOWANCE), "allowances, not marked up", default=()),
    Field("unit_prices", ListOf(UNIT_PRICE, 0, 200), "marks whose unit prices are wanted; every mark's if absent"),
    Field("allocate_by", choice("own_use", "touch_minutes"), "how the price goes to marks", default="own_use"),
    Field(
        "quantities_from",
        choice("waste", "cut_plan"),
        "waste percentages decide the quantities, or for mesh and tape whole rolls by the cut plan",
        default="waste",
    ),
    Field("calendar", CALENDAR, "the site's calendar: start, days off, dates of zones, climate; it moves no price"),
    Field("only_external", boolean(), "leave out lines known to be interior", default=False),
    Field("wall_area", measure(read_area, title="Area"), "gross wall area, for the price per area"),
    Field("stated_rate", decimal(0, 10**6), "a price per area unit to compare with"),
    Field("empty_price", choice("zero", "minimum"), "price where nothing is to be done", default="zero"),
    Field("no_primer_reason", text(300), "why tape on gypsum takes no primer"),
    Field("exemption_certificate", text(100), "certificate number of the sales tax exemption"),
    *(
        Field(name, opaque, doc)
        for name, doc in (
            ("edition", "the rate edition, where named"),
            ("rate_book", "the rate book, where named"),
            ("known_at", "rates as known at this time"),
            ("schedule", "a stored schedule"),
            ("project", "the project"),
            ("hold", "the edition of an earlier quote whose rates are held"),
            ("title", "a title"),
        )
    ),
)
REQUEST = Record(lambda **v: v, FIELDS)


def read_request(document: object) -> tuple[Request | None, Faults]:
    """The request with its openings, or None and every fault, pointers in the request."""
    faults: Faults = []
    if not isinstance(document, dict):
        faults.append(Problem("", "not_an_object", "a request is an object of fields"))
        return None, faults
    own = {k: v for k, v in document.items() if k != "openings"}
    values = REQUEST.values(with_units(own, own.get("length_unit"), LENGTH_UNITS), "", faults)
    rows = document.get("openings")
    if rows is None:
        faults.append(Problem("/openings", "missing", "the opening lines are needed"))
        return None, faults
    schedule = read_schedule(
        rows,
        values["openings_length_unit"] or values["length_unit"],
        only_external=bool(values["only_external"]),
        pointer="/openings",
        faults=faults,
    )
    if schedule is not None:
        check_unit_prices(values["unit_prices"] or (), schedule, faults)
        check_zones(values["calendar"], schedule, faults)
    return (None if faults or schedule is None else build(values, schedule)), faults


def build(v: dict[str, Any], schedule: Schedule) -> Request:
    """The request from its values, none of which is at fault."""
    parts = v["mobilisations"] if isinstance(v["mobilisations"], tuple) else ()
    return Request(
        schedule=schedule,
        work_date=v["work_date"],
        units=v["units"],
        given=Given(v["method"], v["wall_barrier"], v["treated_depth"], v["substrate"], v["method_override"]),
        crew=v["crew"],
        mobilisations=len(parts) if parts else v["mobilisations"],
        parts=parts,
        temperature=v["temperature"],
        congestion=v["congestion"],
        rework=v["rework"],
        seal=v["perimeter_seal"],
        joints=v["sheathing_joints"],
        stock=v["stock"],
        materials=v["materials"],
        subcontracts=v["subcontracts"],
        allowances=v["allowances"],
        allocate_by=v["allocate_by"],
        only_external=v["only_external"],
        wall_area_nm2=v["wall_area"],
        stated_rate=v["stated_rate"],
        empty_price=v["empty_price"],
        no_primer_reason=v["no_primer_reason"],
        exemption_certificate=v["exemption_certificate"],
        unit_prices=v["unit_prices"] or (),
        return_trips=v["return_trips"] or 0,
        quantities_from=v["quantities_from"],
        calendar=v["calendar"],
    )
