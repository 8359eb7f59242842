"""The invented demo: complete, readable, marked invented, and priced as by a separate calculation by hand."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from estimating.core.estimate import Estimate
from estimating.core.job import cost_request
from estimating.core.kinds import OPENING_KINDS
from estimating.core.request import Request
from estimating.core.request_reading import read_request
from estimating.intake.schedule_files import read_schedule
from estimating.outputs.calendar_answer import calendar_answer
from rates.core.card import Card, EditionSource, read_edition
from rates.core.exact import print_quantity
from rates.core.jsontext import read_json
from rates.core.piece_geometry import GEOMETRY
from rates.core.production import PRODUCTION, SHAPES
from rates.core.steps import ROW_STEPS
from rates.core.tables import ACCESS, ROLES
from rates.core.units import AREA_NM2, LENGTH_NM

DEMO = Path(__file__).resolve().parent.parent / "estimating" / "demo"
EDITIONS = ("rates.json", "rates-next.json")
PROJECTS = ("clinic-a.json", "clinic-b.json", "hall-a.json", "hall-b.json")


def document(name: str) -> Any:
    """A demo file as read."""
    return read_json((DEMO / name).read_text())


def card(name: str) -> Card:
    """The rate card of a demo edition."""
    return read_edition(EditionSource(name, 1, "company", document(name)))


def request_of(name: str) -> Request:
    """The request of a demo project."""
    request, faults = read_request(document(name))
    assert request is not None, faults
    return request


def priced(request: Request) -> int:
    """How many openings count in the base price."""
    return sum(line.quantity for line in request.schedule.lines if line.priced)


@pytest.mark.parametrize("name", EDITIONS)
def test_an_edition_uses_every_field_and_says_that_it_is_invented(name: str) -> None:
    edition = document(name)
    tables = edition["tables"]
    assert edition["note"].startswith("Invented")
    rows = [row for table in ("labour", "materials", "equipment", "overheads") for row in tables[table]]
    assert {row["source"] for row in rows} == {"invented for the demo"}
    assert set(tables["production"]) == {field.name for field in PRODUCTION.fields}
    assert set(tables["production"]["geometry"]) == {field.name for field in GEOMETRY.fields}
    assert {row["role"] for row in tables["materials"]} == set(ROLES)
    assert {row["step"] for row in tables["overheads"]} == set(ROW_STEPS)
    assert len(card(name).labour) == 3


def test_the_later_edition_keeps_the_codes_and_changes_prices() -> None:
    now, later = card("rates.json"), card("rates-next.json")
    assert now.effective_from < later.effective_from
    for table in ("labour", "materials", "equipment", "overheads"):
        assert [row.code for row in getattr(now, table)] == [row.code for row in getattr(later, table)]
        assert getattr(now, table) != getattr(later, table)
    assert now.production == later.production


@pytest.mark.parametrize("name", PROJECTS)
def test_a_project_is_marked_invented_and_reads_without_a_fault(name: str) -> None:
    assert document(name)["project"].endswith("(invented)")
    assert request_of(name).schedule.lines


def test_the_clinic_has_16_openings_and_the_hall_400_of_every_shape_and_access() -> None:
    assert priced(request_of("clinic-a.json")) == 16
    hall = request_of("hall-a.json")
    assert priced(hall) == 400
    lines = [line for line in hall.schedule.lines if line.priced]
    assert {line.elevation for line in lines} == {"North", "East", "South", "West"}
    assert {line.storey for line in lines} == {"1", "2", "3", "4", "5", "6"}
    kinds = hall.schedule.kinds
    assert {kind.shape.name for kind in kinds} == set(SHAPES)
    assert {kind.kind for kind in kinds} == set(OPENING_KINDS)
    assert {kind.method for kind in kinds} == {"fluid", "tape"}
    assert {kind.access for kind in kinds} == {"ground", "lift", "swing_stage", "frame_scaffold"}
    assert {kind.sill.kind for kind in kinds if kind.sill} == {"sloped", "pan"}
    assert {kind.access for kind in kinds} <= set(ACCESS)


@pytest.mark.parametrize("project", ["clinic", "hall"])
def test_revision_b_adds_removes_resizes_renumbers_excludes_and_offers_an_alternate(project: str) -> None:
    before, after = (document(f"{project}-{revision}.json")["openings"] for revision in "ab")
    rows = [{(row["mark"], row["elevation"], row["storey"]): row for row in lines} for lines in (before, after)]
    both = rows[0].keys() & rows[1].keys()
    changed = {name for key in both for name in rows[1][key] if rows[1][key][name] != rows[0][key].get(name)}
    assert rows[1].keys() - rows[0].keys() and rows[0].keys() - rows[1].keys()
    assert {"quantity", "height", "treated_depth", "excluded"} <= changed
    assert any(row.get("note", "").startswith("renumbered from") for row in after)
    assert any("alternate" in row for row in after)
    assert all(row["excluded"]["reason"] for row in after if "excluded" in row)


# Worked apart from the project's code, in ordinary decimals, from the formulas of the trade: areas by P(d + f) + 4f²
# (a sloped sill w·d/cos 12°), mesh pieces h + 4 in, minutes max(30, 12 + 1.125 P_ft), 2 workers at 1.7 shares.
CLINIC_BUILD_UP = [
    ("labour", "699.78"),
    ("materials", "333.60"),
    ("freight", "13.34"),
    ("sales_tax", "21.68"),
    ("equipment", "68.00"),
    ("small_tools", "20.99"),
    ("travel", "0.00"),
    ("per_diem", "0.00"),
    ("return_trips", "0.00"),
    ("overhead", "48.98"),
    ("overhead", "104.17"),
    ("contingency", "39.32"),
    ("profit", "166.84"),
    ("bond", "39.09"),
    ("gross_receipts_tax", "7.82"),
    ("minimum_charge", "0.00"),
    ("round_up_to", "1.39"),
]


def estimate_of(name: str) -> Estimate:
    """The estimate of a demo project under the demo editions."""
    return cost_request(document(name), [EditionSource(e, i, "company", document(e)) for i, e in enumerate(EDITIONS)])


def test_the_clinic_is_priced_as_by_hand() -> None:
    estimate = estimate_of("clinic-a.json")
    assert [(line.step, estimate.till.text(line.amount_minor)) for line in estimate.up.lines] == CLINIC_BUILD_UP
    assert estimate.till.text(estimate.up.price_minor) == "1565.00"
    assert print_quantity(estimate.perimeter_nm / LENGTH_NM["ft"]) == "228.270893"
    assert print_quantity(estimate.treated_area_nm2 / AREA_NM2["ft2"]) == "153.21524"
    assert print_quantity(estimate.standard_hours) == "13.171187"


def test_the_hall_is_set_up_as_by_hand() -> None:
    """Two mobilisations × 3, four elevations × 0.75, 4 × 5 storey changes × 0.5; zones: 12 from the lift × 0.25, five
    from the frame scaffold × 0.5, three from the swing stage × 4."""
    assert print_quantity(estimate_of("hall-a.json").totals.hours.setup) == "36.5"


def test_the_hall_s_calendar_has_days_off_of_its_own_rain_and_a_zone_that_is_late() -> None:
    """Revision B seals the ground floor by a second mobilisation on 19 April, the day that units come in the east."""
    found = calendar_answer(estimate_of("hall-b.json"))
    assert [row["start"] for row in found["parts"]] == ["2027-03-15", "2027-04-19"]
    assert {row["reason"] for row in found["days_off"]} >= {"day_off", "rain"}
    assert [row["title"] for row in found["zones"] if row["late"]] == ["East, storey 1"]
    assert {row["lowest_from"] for row in found["parts"]} == {"rates"}


def test_the_hall_uses_what_rates_and_requests_may_say() -> None:
    """Ducts of 7 in are 22 in around, so they are worked as penetrations; pans have a back dam of 2 in."""
    hall, later = estimate_of("hall-a.json"), estimate_of("hall-b.json")
    works = hall.parts[0].works.values()
    small = [work for work in works if work.is_small and not work.kind.is_pipe]
    assert {print_quantity(work.base_minutes) for work in small} == {"13.497787"}  # 8 + (2 + 2 × 0.5) × 1.832596 ft
    assert {work.kind.sill.back_dam_nm for work in works if work.kind.sill} >= {2 * LENGTH_NM["in"]}
    assert {line.row.days_from for line in hall.parts[0].equipment} == {"touch", "crew_days"}
    assert [part.conditions.temperature for part in later.parts] == ["cold", "mild"]
    lines = later.request.schedule.lines
    assert {line.building for line in lines if line.priced} == {"North wing", "South wing"}
    assert {line.phase for line in lines} == {"1", "2"}
    offered = {line.alternate_name: line.alternate_kind for line in lines if line.alternate_name}
    assert offered == {"1": "add", "2": "deduct", "3": "substitute"}


def test_the_clinic_s_csv_holds_the_openings_of_its_request() -> None:
    page = read_schedule((DEMO / "clinic-a.csv").read_bytes(), "clinic-a.csv")
    request, faults = read_request({**document("clinic-a.json"), "openings": page.rows})
    assert request is not None, faults
    assert request.schedule == request_of("clinic-a.json").schedule


@pytest.mark.parametrize("name", PROJECTS)
def test_every_project_is_costed_and_its_build_up_is_its_price(name: str) -> None:
    estimate = estimate_of(name)
    assert estimate.openings == priced(estimate.request)
    assert sum(line.amount_minor for line in estimate.up.lines) == estimate.up.price_minor > 0
    assert {line.amount_minor for line in estimate.up.lines if line.cost_code is None} <= {0}, "no money without a code"
