"""What changed between two jobs is said: whole sentences, and the law that no difference goes without one.

The law: of two requests that differ in any set of fields, each field's value before and after stands in a sentence, and
fields that are alike are named in none. FIELDS has every field of a request and of an opening line; rates are invented.
"""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.core.attribution import compare
from estimating.core.job import read_request
from estimating.core.kind_reading import kind_fields
from estimating.core.request_reading import FIELDS as REQUEST_FIELDS
from estimating.core.request_reading import opaque
from estimating.core.schedule_lines import LINE_FIELDS
from estimating.outputs.comparison_answer import comparison_answer
from rates.core.length_styles import LengthStyle
from tests.core.invented import (
    Document,
    edition,
    lift,
    opening,
    percent,
    production,
    request,
    seal_materials,
    sources,
    worker,
)

MEN = [{"labour": "worker", "count": 2}, {"labour": "helper", "count": 1}]
SEAL = {"width": "1/2 in", "depth": "1/4 in", "weeps": {"count": 2, "length": "1 in"}}
JOINTS = {"walls": [], "corners": "20 ft"}
# field of the request -> (a value, another, what a sentence says of the change)
FIELDS: dict[str, tuple[Any, Any, str]] = {
    "work_date": ("2027-03-15", "2027-05-01", "Work date 2027-05-01 instead of 2027-03-15."),
    "method": ("fluid", "tape", "Method tape instead of fluid."),
    "wall_barrier": ("none", "fluid", "Wall barrier fluid instead of none."),
    "treated_depth": ("6 in", "8 in", 'Treated depth 8" instead of 6".'),
    "substrate": ("plywood", "cement_board", "Substrate cement board instead of plywood."),
    "method_override": (None, {"reason": "as told", "by": "J. Doe"}, 'Method override "as told" by J. Doe, not stated'),
    "crew": (
        {"members": [{"labour": "worker", "count": 2}]},
        {"members": MEN},
        "Crew 3 workers (2 Invented worker, 1 Helper) instead of 2 workers (2 Invented worker).",
    ),
    "mobilisations": (1, 3, "Mobilisations 3 instead of 1."),
    "temperature": (None, "hot", "Temperature hot, not stated before."),
    "congestion": ("open", "tight", "Congestion tight instead of open."),
    "rework": ("some", None, "Rework no longer stated, before some."),
    "perimeter_seal": (SEAL, SEAL | {"depth": "3/8 in"}, 'Perimeter seal depth 3/8" instead of 1/4".'),
    "sheathing_joints": (JOINTS, JOINTS | {"corners": "30 ft"}, "length of corner joints 30'-0\" instead of 20'-0\"."),
    "stock": ({"mesh": "10 ft"}, {"mesh": "30 ft"}, "Stock of mesh 30 ft instead of 10 ft."),
    "materials": ({"mesh": "mesh"}, {}, "Row for mesh no longer stated, before mesh."),
    "subcontracts": ([], [{"title": "Caulking", "amount": "120"}], "Subcontract Caulking "),
    "allowances": (
        [{"title": "Pipes", "count": "4", "unit_price": "50"}],
        [{"title": "Pipes", "count": "6", "unit_price": "50"}],
        "Allowance Pipes count 6 instead of 4.",
    ),
    "return_trips": (1, 2, "Return trips 2 instead of 1."),
    "unit_prices": (
        [{"mark": "A", "quantity": 1}],
        [{"mark": "A", "quantity": 5}],
        "Unit price of A quantity 5 instead of 1.",
    ),
    "allocate_by": ("own_use", "touch_minutes", "Price shared over marks by touch minutes instead of own use."),
    "only_external": (False, True, "Interior openings left out yes instead of no."),
    "wall_area": ("2400 ft2", "2500 ft2", "Wall area 2500 ft2 instead of 2400 ft2."),
    "stated_rate": ("1.85", "2", "Stated price per area 2.00 instead of 1.85."),
    "quantities_from": ("waste", "cut_plan", "Quantities from cut plan instead of waste."),
    "calendar": (
        {"start": "2027-04-01"},
        {"start": "2027-05-03"},
        "Calendar start 2027-05-03 instead of 2027-04-01.",
    ),
    "empty_price": ("zero", "minimum", "Price where nothing is to be done minimum instead of zero."),
    "no_primer_reason": (None, "as the sheet says", "Reason for no primer as the sheet says, not stated before."),
    "exemption_certificate": ("X-1", "X-2", "Sales tax exemption certificate X-2 instead of X-1."),
}
LINE = {"width": "48 in", "height": "60 in", "elevation": "North", "storey": "1", "id": "a"}
# field of an opening line -> (a value, another, what the line's sentence says of the change)
OF_LINES: dict[str, tuple[Any, Any, str]] = {
    "mark": ("W2", "W9", "was W2"),
    "quantity": (4, 6, "4 openings became 6"),
    "kind": ("window", "door", "kind of opening door instead of window"),
    "width": ("48 in", "50 in", "size 4'-2\" x 5'-0\" instead of 4'-0\" x 5'-0\""),
    "sides": ("all", "sill, jambs", "treated sides sill, jambs instead of sill, jambs, head"),
    "access": ("ground", "extension_ladder", "access extension ladder instead of ground"),
    "treated_depth": ("6 in", None, 'treated depth no longer stated, before 6"'),
    "substrate": ("osb", "gypsum_sheathing", "substrate gypsum sheathing instead of osb"),
    "wall_barrier": ("none", "fluid", "wall barrier fluid instead of none"),
    "sill": ({"kind": "pan"}, {"kind": "sloped", "angle_degrees": "9"}, "sill sloped, angle 9 degrees instead of pan"),
    "method": (None, "tape", "method tape, not stated before"),
    "method_override": (
        None,
        {"reason": "told", "by": "J. Doe"},
        'method override "told" by J. Doe, not stated before',
    ),
    "height_above_grade": ("10 ft", "24 ft", "height above grade 24'-0\" instead of 10'-0\""),
    "from_inside": (None, True, "worked from inside yes instead of no"),
    "external": (None, True, "in an exterior wall yes, not stated before"),
    "seal": (True, False, "perimeter seal no instead of yes"),
    "elevation": ("North", "South", "moved from 1, North to 1, South"),
    "excluded": (None, {"reason": "by owner"}, "set aside (by owner)"),
    "alternate": (None, "2", "moved from the base bid to alternate 2"),
    "source": ({"sheet": "A-1"}, {"sheet": "A-2"}, "source sheet A-2 instead of A-1"),
}
# told of by another field here, or of no account to price and work: kept beside the line
BESIDE = {"height", "storey", "shape", "springline", "rise", "diameter", "lap_on_pipe", "points", "building", "phase"}
NOT_READ = {"id", "storey_elevation", "confidence", "note"}
RATES = sources(
    edition(
        effective_from="2027-01-01",
        labour=[worker(), worker(code="helper", title="Helper", wage="20")],
        materials=seal_materials(),
        equipment=[lift()],
        production=production(
            perimeter_seal={"minutes_per_foot": "1"},
            sheathing_joint={"width": "4 in"},
            temperature={"hot": "1.1"},
            congestion={"tight": "1.2", "open": "1"},
            rework={"some": "1.3"},
        ),
        overheads=[percent("profit", "10", "cost", kind="markup")],
    )
)


def given_fields(table: dict[str, tuple[Any, Any, str]], changed: set[str], side: int) -> Document:
    """The fields of one side: the second value of those that changed."""
    values = {name: pair[side if name in changed else 0] for name, pair in table.items()}
    return {name: value for name, value in values.items() if value is not None}


def told(before: Document, after: Document) -> Any:
    """The comparison document of two requests."""
    return comparison_answer(compare(read_request(before, RATES), read_request(after, RATES)), LengthStyle().show)


def sentences(found: Any) -> list[str]:
    """Each change alone, as the document says it."""
    changes = [change["sentence"] for row in found["causes"] for change in row["changes"]]
    return changes + [change["sentence"] for change in found["also_changed"]]


@settings(max_examples=12)
@given(st.sets(st.sampled_from(sorted(FIELDS))))
def test_every_field_of_the_request_that_differs_is_named_before_and_after(changed: set[str]) -> None:
    two = [request(opening("A", 3)) | given_fields(FIELDS, changed, side) for side in (0, 1)]
    said = sentences(told(*two))
    assert {name for name, (_, _, words) in FIELDS.items() if any(words in one for one in said)} == changed


@settings(max_examples=12)
@given(st.sets(st.sampled_from(sorted(OF_LINES))))
def test_every_field_of_a_line_that_differs_is_named_before_and_after(changed: set[str]) -> None:
    extra = {"id": "a", "height": "60 in", "storey": "1"}
    lines = [given_fields(OF_LINES, changed, side) | extra for side in (0, 1)]
    two = [request(line, opening("B", 2), perimeter_seal=SEAL) for line in lines]
    rows = [row for row in told(*two)["lines"] if row["classes"] != ["with_other_causes"]]
    assert len(rows) == bool(changed)
    said = rows[0]["sentence"] if changed else ""
    if changed == {"quantity"}:
        assert said == "4 openings of W2 (1, North) became 6."
    else:
        assert {name for name, (_, _, words) in OF_LINES.items() if words in said} == changed


def test_other_units_of_the_answer_are_a_change_and_those_of_the_words() -> None:
    """10 ft are 3.048 m, 20 ft twice as much."""
    two = [
        request(opening("A", 3), units=u, stock={"mesh": s}) for u, s in (("imperial", "10 ft"), ("metric", "20 ft"))
    ]
    assert sentences(told(*two)) == [
        "Stock of mesh 6.096 m instead of 3.048 m.",
        "Units of the answer metric instead of imperial.",
    ]


def test_the_tables_above_have_every_field() -> None:
    """A field that comes later fails here until its words stand above."""
    of_service = {field.name for field in REQUEST_FIELDS if field.reader is opaque}
    of_units = {"units", "length_unit", "openings_length_unit"}
    assert set(FIELDS) == {field.name for field in REQUEST_FIELDS} - of_service - of_units
    fields = {field.name for field in (*LINE_FIELDS, *kind_fields(None))}
    assert set(OF_LINES) == fields - BESIDE - NOT_READ


@pytest.mark.parametrize(
    ("before", "after", "words"),
    [
        ("round", {"diameter": "12 in"}, "size round, 1'-0\" across instead of 4'-0\" x 5'-0\""),
        ("pipe", {"diameter": "4.5 in"}, 'size pipe, 4 1/2" across instead of 4\'-0" x 5\'-0"'),
        ("ellipse", {"width": "4 ft", "height": "5 ft"}, "size ellipse, 4'-0\" x 5'-0\" instead of 4'-0\" x 5'-0\""),
        (
            "half_round_top",
            {"width": "4 ft", "height": "5 ft"},
            "size half round top, 4'-0\" wide, springline at 3'-0\"",
        ),
        (
            "segmental_top",
            {"width": "4 ft", "height": "5 ft", "rise": "1 ft"},
            "size segmental top, 4'-0\" wide, springline at 4'-0\", rise 1'-0\"",
        ),
        (
            "polygon",
            {"points": [["0 in", "0 in"], ["40 in", "0 in"], ["20 in", "30 in"]]},
            'size polygon with corners (0", 0") (3\'-4", 0") (1\'-8", 2\'-6")',
        ),
    ],
)
def test_each_shape_is_told_with_its_size(before: str, after: Document, words: str) -> None:
    plain = opening("A", 3, width="48 in", height="60 in")
    other = (
        {name: value for name, value in plain.items() if name not in ("width", "height")} | {"shape": before} | after
    )
    (line, _) = told(request(plain), request(other))["lines"]
    assert words in line["sentence"]


def test_building_and_phase_are_told_with_the_place() -> None:
    two = [request(opening("A", 3, storey="1") | place) for place in ({}, {"building": "East", "phase": "2"})]
    assert told(*two)["lines"][0]["sentence"] == "A (1): moved from 1 to 1, East, phase 2."


def test_a_change_too_small_for_the_style_is_told_exactly() -> None:
    """36.001 in is 914.4254 mm; both are 3'-0" to 1/16 in."""
    two = [request(opening("A", 3, width=width, height="60 in")) for width in ("36 in", "36.001 in")]
    assert told(*two)["lines"][0]["sentence"] == "A: size 914.4254 mm x 1524 mm instead of 914.4 mm x 1524 mm."


def test_lines_that_changed_alike_are_told_together_the_dearest_first() -> None:
    before = [opening(f"W{n}", n, width="60 in", height="60 in") for n in range(1, 6)] + [opening("D1", 2)]
    after = [line | {"access": "lift"} for line in before[:5]] + [before[5] | {"quantity": 3}]
    found = told(request(*before), request(*after))
    sentence = found["causes"][0]["sentence"]
    assert sentence.startswith("The openings raise the price by ")
    assert sentence.endswith(
        ": 18 openings instead of 17; W1, W2, W3 and 2 more (15 openings) have access lift instead of ground; "
        "2 openings of D1 became 3."
    )
    assert found["customer_sentence"] == (
        "The bid covers 18 openings instead of 17: W1, W2, W3 and 2 more (15 openings) have access lift instead of "
        "ground; 2 openings of D1 became 3."
    )


def test_one_mark_on_several_storeys_is_counted_once() -> None:
    before = [opening("W2", 2, storey=storey) for storey in ("1", "2")]
    after = [line | {"quantity": 3} for line in before]
    assert "4 openings of W2 became 6" in told(request(*before), request(*after))["customer_sentence"]


def test_past_five_changes_the_rest_are_counted() -> None:
    before = [opening(f"W{n}", n) for n in range(1, 9)]
    after = [line | {"quantity": line["quantity"] * 2 + n} for n, line in enumerate(before)]
    sentence = told(request(*before), request(*after))["causes"][0]["sentence"]
    assert sentence.count(" became ") == 4 and sentence.endswith("; and 4 other changes.")


def test_work_on_a_day_of_other_rates_is_told_with_the_calendar() -> None:
    """The same two editions on both sides: nothing of the rates has changed, but the day falls under the later one."""
    later = edition(effective_from="2027-09-01", labour=[worker(wage="70")])
    both = sources(edition(labour=[worker()]), later)
    jobs = [read_request(request(opening("A", 3), work_date=day), both) for day in ("2027-03-15", "2027-10-01")]
    rows: Any = comparison_answer(compare(*jobs))["causes"]
    by_cause = {row["cause"]: row["sentence"] for row in rows}
    assert by_cause["rates"] == "The rates are as before."
    assert by_cause["calendar"].endswith(
        ": rates that count from 2027-09-01 instead of 2027-01-01; work date 2027-10-01 instead of 2027-03-15."
    )
