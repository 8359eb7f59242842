"""Three published schedules as they are: counts, perimeters, and what stays when only external openings are asked for.

Source of the figures: read from three published building models (duplex: buildingSMART International, Duplex Apartment
Test Files, 2020, CC BY 4.0; office and institute: published models, facts only), summed by a program of their own.
"""

from __future__ import annotations

import io
import json
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from django.core.management import call_command

from estimating.core.estimate import Estimate
from estimating.intake.job_files import DEMO, DEMO_ASSUMPTIONS, open_job
from estimating.intake.schedule_files import read_schedule
from estimating.outputs.takeoff_rows import openings
from rates.core.exact import print_quantity
from rates.core.jsontext import read_json

SCHEDULES = Path(__file__).resolve().parent.parent / "data" / "schedules"


@dataclass(frozen=True)
class Published:
    """What is known of a schedule: counts, and perimeters in metres as they were published (two places)."""

    name: str
    openings: int
    windows: int
    doors: int
    window_metres: str
    external_metres: str
    external_windows: int
    external_doors: int


PUBLISHED = (
    Published("office", 171, 69, 102, "374.0", "415.98", 69, 6),
    Published("institute", 283, 206, 77, "1032.2", "1040.4", 206, 1),
    Published("duplex", 38, 24, 14, "139.40", "158.14", 22, 4),
)
each = pytest.mark.parametrize("facts", PUBLISHED, ids=lambda facts: facts.name)


def schedule_file(name: str) -> Path:
    """The CSV of a schedule."""
    return SCHEDULES / f"{name}.csv"


def assumptions(folder: Path, **changes: Any) -> Path:
    """A request file like the demo's assumptions, with changes."""
    told: Any = read_json((DEMO / DEMO_ASSUMPTIONS).read_bytes())
    path = folder / "request.json"
    path.write_text(json.dumps({**told, **changes}))
    return path


def estimate_of(name: str, folder: Path, **changes: Any) -> Estimate:
    """The estimate of a schedule by the demo's rates and assumptions, in metric units."""
    return open_job(str(schedule_file(name)), str(assumptions(folder, units="metric", **changes))).cost()


def metres(rows: list[dict[str, Any]], kind: str | None = None) -> Decimal:
    """Σ quantity × perimeter of the priced lines, of one kind or of all."""
    return sum(
        (
            Decimal(row["perimeter"]) * row["quantity"]
            for row in rows
            if row["perimeter"] and kind in (None, row["kind"])
        ),
        Decimal(0),
    )


def count(rows: list[dict[str, Any]], kind: str) -> int:
    """Priced openings of a kind."""
    return sum(row["quantity"] for row in rows if row["kind"] == kind and row["not_priced"] is None)


@each
def test_counts_and_window_perimeters(facts: Published, tmp_path: Path) -> None:
    estimate = estimate_of(facts.name, tmp_path)
    rows: Any = openings(estimate)
    assert estimate.openings == facts.openings
    assert (count(rows, "window"), count(rows, "door")) == (facts.windows, facts.doors)
    assert metres(rows, "window") == Decimal(facts.window_metres)
    assert metres(rows) == Decimal(print_quantity(estimate.perimeter_nm / 10**9))


@each
def test_only_external_leaves_the_published_perimeter(facts: Published, tmp_path: Path) -> None:
    estimate = estimate_of(facts.name, tmp_path, only_external=True)
    rows: Any = openings(estimate)
    assert print_quantity(estimate.perimeter_nm / 10**9, 2) == print_quantity(Fraction(facts.external_metres))
    assert (count(rows, "window"), count(rows, "door")) == (facts.external_windows, facts.external_doors)
    assert {row["not_priced"] for row in rows} == {None, "interior"}
    assert sum(row["quantity"] for row in rows) == facts.openings, "what is left out stays visible"


def test_perimeters_of_doors_of_the_duplex(tmp_path: Path) -> None:
    rows: Any = openings(estimate_of("duplex", tmp_path))
    assert print_quantity(Fraction(metres(rows, "door")), 2) == "83.08"


@each
@pytest.mark.parametrize("only_external", [False, True])
def test_the_same_by_the_command(facts: Published, only_external: bool, tmp_path: Path) -> None:
    request = assumptions(tmp_path, units="metric", only_external=only_external)
    out = io.StringIO()
    call_command("estimate", str(schedule_file(facts.name)), "--request", str(request), "--json", stdout=out)
    found = json.loads(out.getvalue())
    kept = facts.external_windows + facts.external_doors if only_external else facts.openings
    assert found["totals"]["openings"] == kept
    if only_external:
        assert print_quantity(Fraction(found["totals"]["perimeter"]), 2) == print_quantity(
            Fraction(facts.external_metres)
        )
    else:
        assert metres(found["openings"], "window") == Decimal(facts.window_metres)


@each
def test_the_demo_prices_a_bare_schedule(facts: Published) -> None:
    out = io.StringIO()
    call_command("estimate", str(schedule_file(facts.name)), stdout=out)
    text = out.getvalue()
    assert "The demo's rates and assumptions were used." in text
    assert f"openings{facts.openings:>28}" in text


@each
def test_the_lines_as_json_give_the_same_estimate(facts: Published, tmp_path: Path) -> None:
    rows = read_schedule(schedule_file(facts.name).read_bytes(), facts.name).rows
    as_json = tmp_path / "schedule.json"
    as_json.write_text(json.dumps(rows))
    request = str(assumptions(tmp_path, units="metric"))
    digests = {open_job(str(file), request).cost().input_digest for file in (schedule_file(facts.name), as_json)}
    assert len(digests) == 1


@each
def test_order_of_lines_and_of_columns_never_matters_to_the_price(facts: Published, tmp_path: Path) -> None:
    heading, *lines = schedule_file(facts.name).read_text().splitlines()
    turned = ["\n".join([heading, *reversed(lines)])]
    turned.append("\n".join(",".join(reversed(line.split(","))) for line in (heading, *lines)))
    prices = set()
    for text in (schedule_file(facts.name).read_text(), *turned):
        path = tmp_path / "turned.csv"
        path.write_text(text)
        prices.add(open_job(str(path)).cost().up.price_minor)
    assert len(prices) == 1
