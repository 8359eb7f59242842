"""Three published models and three published schedules give the counts and perimeters stated for them.

Figures: tests/data/ifc/LICENCES.md names the models; the counts and perimeters were read from them by an independent
program. duplex: 24 windows 139.40 m 65.94 m2, 14 doors 83.08 m 25.69 m2, external 158.14 m. tall_building: 21 windows
115.29 m 35.16 m2, 5 internal doors 31.54 m. simple_walls: 14 internal doors 86.42 m. office: 69 windows 374.0 m,
102 doors of which 96 internal, external 415.98 m. institute: 206 windows 1032.2 m, 77 doors of which 76 internal,
external 1040.4 m.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from estimating.intake.reading import Intake, read_file
from rates.core.exact import print_quantity
from rates.core.units import read_length

DATA = Path(__file__).resolve().parent.parent / "data"
M, M2 = 10**9, 10**18
Line = Mapping[str, Any]


@pytest.fixture(scope="module")
def models() -> dict[str, Intake]:
    pytest.importorskip("ifcopenshell", reason="the extra ifc is not installed")
    return {name: read(f"ifc/{name}.ifc") for name in ("duplex", "tall_building", "simple_walls")}


def read(path: str) -> Intake:
    return read_file((DATA / path).read_bytes())


def size(line: Line) -> tuple[Fraction, Fraction]:
    return read_length(line["width"]).nm, read_length(line["height"]).nm


def totals(lines: Iterable[Line], places: int = 2) -> tuple[int, str, str]:
    """Count, perimeter in m, area in m²."""
    chosen = list(lines)
    perimeter = sum((2 * sum(size(line)) * line["quantity"] for line in chosen), Fraction(0))
    area = sum((size(line)[0] * size(line)[1] * line["quantity"] for line in chosen), Fraction(0))
    count = sum(line["quantity"] for line in chosen)
    return count, print_quantity(perimeter / M, places), print_quantity(area / M2, 2)


def of(intake: Intake, kind: str) -> list[Line]:
    return [line for line in intake.lines if line["kind"] == kind]


def external(intake: Intake) -> list[Line]:
    return [line for line in intake.lines if line.get("external")]


def test_the_duplex_model(models: dict[str, Intake]) -> None:
    intake = models["duplex"]
    assert totals(of(intake, "window")) == (24, "139.4", "65.94")
    assert totals(of(intake, "door")) == (14, "83.08", "25.69")
    assert totals(external(intake))[:2] == (26, "158.14")
    assert Counter(line["kind"] for line in external(intake)) == {"window": 22, "door": 4}
    skylights = [part for part in intake.apart if part["what"] == "skylight"]
    assert [(part["kind"], part["count"], part["external"]) for part in skylights] == [("window", 1, False)] * 2


def test_the_tall_building(models: dict[str, Intake]) -> None:
    intake = models["tall_building"]
    assert totals(of(intake, "window")) == (21, "115.29", "35.16")
    assert totals(of(intake, "door"))[:2] == (5, "31.54")
    assert {line.get("external") for line in of(intake, "door")} == {False}


def test_the_simple_walls(models: dict[str, Intake]) -> None:
    intake = models["simple_walls"]
    assert totals(of(intake, "door"))[:2] == (14, "86.42")
    assert of(intake, "window") == [] and external(intake) == []


@pytest.mark.parametrize(
    ("name", "windows", "doors", "interior", "outside"),
    [
        ("duplex", (24, "139.4"), 14, 10, "158.1"),
        ("office", (69, "374"), 102, 96, "416"),
        ("institute", (206, "1032.2"), 77, 76, "1040.4"),
    ],
)
def test_the_published_schedules(
    name: str, windows: tuple[int, str], doors: int, interior: int, outside: str
) -> None:  # fmt: skip
    intake = read(f"schedules/{name}.csv")
    assert totals(of(intake, "window"), 1)[:2] == windows
    assert totals(of(intake, "door"))[0] == doors
    assert sum(line["quantity"] for line in of(intake, "door") if line["external"] is False) == interior
    assert totals(external(intake), 1)[1] == outside


def test_the_duplex_as_csv_and_as_model_agree_but_for_the_skylights(models: dict[str, Intake]) -> None:
    def counted(intake: Intake) -> Counter[tuple[object, ...]]:
        found: Counter[tuple[object, ...]] = Counter()
        for line in intake.lines:
            found[line["kind"], *size(line), line["storey"], line["external"]] += line["quantity"]
        return found

    table, model = counted(read("schedules/duplex.csv")), counted(models["duplex"])
    mm = 10**6
    # the schedule gives the skylights to the whole millimetre, the model to the micrometre
    assert dict(table - model) == {("window", 1172 * mm, 635 * mm, "Roof", False): 2}
    assert dict(model - table) == {("window", Fraction(1_172_538_000), Fraction(634_800_000), "Roof", False): 2}
