"""Crew sheets: batches and clocks by hand, the pieces of the cut plan, the minutes of the price, no money."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.core.estimate import Estimate
from estimating.outputs.calendar_answer import planned_parts
from estimating.outputs.coat_clock import batch_size, on_the_clock
from estimating.outputs.crew_sheets import crew_sheets
from estimating.outputs.cut_plan import cut_plan
from rates.core.length_styles import LengthStyle
from tests.core.derivation_cases import CASES, cost
from tests.core.invented import Document, costed, edition, lift, material, materials, opening, production, request
from tests.core.random_estimates import random_estimate
from tests.core.test_calendar_laws import random_job
from tests.core.test_season_split import SETUP
from tests.core.test_site_calendar import COATS, MILWAUKEE, months

SEEDS = range(int(os.environ.get("CREW_SHEETS", "25")))
STYLE = LengthStyle()
RANK = ("sill", "jamb", "side", "head", "arch head", "collar", "diagonal", "joint")
TABLE = production(coats=COATS, setup_hours=SETUP)


def sheets(document: Document, *editions: Document) -> list[Document]:
    """The sheets of a request."""
    return crew_sheets(costed(document, *editions), STYLE)


@pytest.mark.parametrize(
    ("first_coat", "openings"),
    [(15, 3), (16, 3), (30, 2), (31, 2), (10, 4), (9, 5)],  # ceil(30 ÷ minutes) + 1
)
def test_batches_by_hand(first_coat: int, openings: int) -> None:
    assert batch_size(Fraction(30), Fraction(first_coat)) == openings


@given(st.integers(1, 90), st.integers(1, 60))
def test_a_batch_is_the_smallest_in_which_nobody_waits(interval: int, first: int) -> None:
    """After the first coat of all of it the first opening has had its interval; with one opening fewer it has not."""
    count, coat = batch_size(Fraction(interval), Fraction(first)), Fraction(first)
    assert on_the_clock(count, coat, coat, Fraction(interval))[0][1] == count * coat
    assert on_the_clock(count - 1, coat, coat, Fraction(interval))[0][1] > (count - 1) * coat or first >= interval


@given(st.integers(1, 12), st.integers(1, 60), st.integers(1, 60), st.integers(1, 90))
def test_no_second_coat_is_early_and_nobody_does_two_at_once(n: int, first: int, second: int, interval: int) -> None:
    times = on_the_clock(n, Fraction(first), Fraction(second), Fraction(interval))
    for one, two in times:
        assert two >= one + first + interval
    starts = [two for _, two in times]
    assert starts[0] >= n * first
    assert all(later >= earlier + second for earlier, later in zip(starts, starts[1:], strict=False))


def test_a_zone_by_hand() -> None:
    """Four openings of 30 minutes from the ground in North, one from a lift of 36 (1.2 × 30).

    First coats of 15 minutes; interval 30: three at a time. Mobilisation 2 h and elevation half an hour: 150 minutes.
    """
    lines = [opening("A", 1, access="lift", elevation="North"), opening("B", 4, elevation="North", height="24 in")]
    (sheet,) = sheets(request(*lines), edition(production=TABLE | {"access": {"lift": "1.2"}}, equipment=[lift()]))
    assert [(x["order"], x["mark"], x["minutes_each"], x["minutes"], x["boxes"]) for x in sheet["lines"]] == [
        (1, "A", "36", "36", 1),
        (2, "B", "30", "120", 4),
    ]
    assert [sheet[name] for name in ("setup_minutes", "target_minutes", "crew_hours")] == ["150", "156", "5.1"]
    coats = sheet["coats"]
    assert (coats["batch"], coats["first_coat_minutes"], coats["waiting_minutes"]) == (3, "15", "0")
    clock = [(row["first_coat"], row["second_coat"]) for row in coats["clock"]]
    assert clock == [("0", "45"), ("15", "60"), ("30", "75")]
    assert sheet["order"] == ["sill", "jambs", "head"]
    pieces = [(row["mark"], row["piece"], row["count"]) for row in sheet["pieces"]]
    assert pieces[:4] == [("A", "sill", 1), ("A", "jamb", 2), ("A", "head", 1), ("A", "diagonal", 4)]
    assert sheet["lines"][1]["size"] == "4'-0\" x 2'-0\""


def test_what_the_rates_do_not_say_is_said_to_be_by_default() -> None:
    (sheet,) = sheets(request(opening()))
    coats = sheet["coats"]
    assert {coats[name] for name in ("interval_from", "share_from", "dry_from")} == {"default"}
    assert (coats["interval_minutes"], coats["first_coat_minutes"], coats["waiting_minutes"]) == ("30", "15", "30")
    assert sheet["weather"]["lowest_from"] == "default"


def test_go_and_no_go_follow_the_data_sheets_and_the_month() -> None:
    """The liquid is for 35 to 95 °F; March has its own eight hours to dry."""
    rows = [
        m | ({"lowest_temperature": "35 F", "highest_temperature": "95 F"} if m["role"] == "liquid" else {})
        for m in materials()
    ]
    march = months(m3=("70", "50"))
    march["months"][0]["dry_hours"] = "8"
    (sheet,) = sheets(request(opening(), calendar={"climate": march}), edition(materials=rows))
    weather = sheet["weather"]
    assert weather["go"][0] == "Surface 35 °F or warmer, and rising, no warmer than 95 °F"
    assert weather["no_go"][:2] == ["Colder than 35 °F, or falling to it within 8 h", "Warmer than 95 °F"]
    (metric,) = sheets(request(opening(), units="metric"), edition(materials=rows))
    assert metric["weather"]["go"][0].startswith("Surface 1.7 °C") and "2.8 °C or more" in metric["weather"]["go"][2]


def test_cautions_fit_the_zone_and_not_the_job() -> None:
    """North by a swing stage, South from the ground; April in Milwaukee has nights below 40 °F; tape takes a primer."""
    lines = [opening("A", elevation="North", access="swing_stage"), opening("B", elevation="South", **LOW)]
    north, south = sheets(request(*lines, calendar={"climate": MILWAUKEE}))
    for words, found in (("Swing stages", {"North"}), ("Cold", {"North", "South"}), ("Primers", set())):
        assert {s["title"] for s in (north, south) if any(words in c for c in s["cautions"])} == found
    assert "Wind above the limit" in north["weather"]["no_go"][-1]
    assert not any("Wind" in rule for rule in south["weather"]["no_go"])
    (taped,) = sheets(request(opening(**LOW), method="tape", wall_barrier="sheet"))
    assert any("Primers" in caution for caution in taped["cautions"]) and taped["coats"] is None


LOW: Document = {"height_above_grade": "0 in", "height": "24 in", "width": "24 in"}


def test_packs_to_load_are_the_zone_s_share_in_the_fewest_packs() -> None:
    """Ten openings of 1552 in² at 40 mil are 2.69 gal: one pail of 5, not three of 1."""
    rows = [m for m in materials() if m["role"] != "liquid"]
    pails = [{"size": "5 gal", "price": "170"}, {"size": "1 gal", "price": "42"}]
    rows.append(material("liquid", "liquid", wet_film=["20 mil", "20 mil"], packs=pails))
    lines = [
        opening("A", 10, elevation="North"),
        opening("B", 10, elevation="South"),
        opening("C", 1, elevation="East"),
    ]
    north, south, east = sheets(request(*lines), edition(materials=rows))
    (liquid,) = [row for row in north["packs"] if row["material"] == "liquid"]
    assert Fraction(liquid["quantity"]) == pytest.approx(1552 * 10 * 0.040 / 231, abs=1e-6)
    assert liquid["packs"] == [{"size": "5 gal", "count": 1}]
    assert [row["packs"] for row in east["packs"]] == [[{"size": "1 gal", "count": 1}]]


def test_what_is_used_by_the_day_is_loaded_where_each_day_begins() -> None:
    """Rags by the crew-day were bought and stood on nobody's sheet; 48 openings of 30 minutes take days of 8 h."""
    rags = material("consumable", "rags", per="crew_day", packs=[{"size": "1 each", "price": "2"}])
    lines = [opening("A", 20, elevation="North"), opening("B", 28, elevation="South")]
    estimate = costed(request(*lines), edition(materials=[*materials(), rags]))
    loads = [
        [Fraction(row["quantity"]) for row in sheet["packs"] if row["material"] == "rags"]
        for sheet in crew_sheets(estimate, STYLE)
    ]
    bought = next(line.gross for part in estimate.parts for line in part.materials if line.row.code == "rags")
    assert sum(load for zone in loads for load in zone) == bought > 2
    assert len(loads) == 2 and all(loads)


def test_parts_of_one_title_keep_their_pieces_apart() -> None:
    parts = [{"work_date": "2027-03-15", "openings": ["A"], "title": "x"}, {"work_date": "2027-05-03", "title": "x"}]
    first, second = sheets(request(opening("A"), opening("B", 2), mobilisations=parts))
    assert ({row["mark"] for row in first["pieces"]}, {row["mark"] for row in second["pieces"]}) == ({"A"}, {"B"})
    assert (first["zone"], second["zone"]) == (1, 2)


def test_some_of_the_sheets() -> None:
    estimate = costed(request(*(opening(f"W{i}", storey=str(i)) for i in range(1, 6))))
    assert [sheet["zone"] for sheet in crew_sheets(estimate, STYLE, 2, 3)] == [2, 3]
    assert [sheet["storey"] for sheet in crew_sheets(estimate, STYLE, 5)] == ["5"]


def counted(rows: list[Document]) -> Counter[tuple[Any, ...]]:
    """Pieces by all that tells them apart."""
    found: Counter[tuple[Any, ...]] = Counter()
    for row in rows:
        found[tuple(row[name] for name in ("mark", "piece", "material", "length", "width"))] += row["count"]
    return found


def check_pieces(estimate: Estimate) -> None:
    """The sheets have the pieces of the cut plan, of each mark from the sill up."""
    found = crew_sheets(estimate, STYLE)
    assert counted([row for sheet in found for row in sheet["pieces"]]) == counted(cut_plan(estimate)["bundles"])
    for sheet in found:
        for mark in {row["mark"] for row in sheet["pieces"]}:
            names = [row["piece"].replace("corner", "diagonal") for row in sheet["pieces"] if row["mark"] == mark]
            order = [RANK.index(name) for name in names]
            assert order == sorted(order)


@pytest.mark.parametrize("name", CASES)
def test_the_pieces_of_worked_cases_are_those_of_their_cut_plans(name: str) -> None:
    check_pieces(cost(CASES[name]))


@pytest.mark.parametrize("seed", SEEDS)
def test_the_pieces_of_random_jobs_are_those_of_their_cut_plans(seed: int) -> None:
    check_pieces(random_estimate(seed))


@pytest.mark.parametrize("seed", SEEDS)
def test_targets_loads_and_waiting_are_those_of_the_price(seed: int) -> None:
    """Minutes of all zones are the touch minutes, loads the gross quantities, waiting the idle minutes of the zones."""
    estimate = random_job(seed)
    parts = planned_parts(estimate)
    found = {sheet["zone"]: sheet for sheet in crew_sheets(estimate, STYLE)}
    for of in parts:
        own = [(task, found[of.before + task.number]) for task in of.tasks]
        assert float(sum(Fraction(sheet["target_minutes"]) for _, sheet in own)) == pytest.approx(
            float(of.part.hours.touch_minutes), abs=1e-4
        )
        for task, sheet in own:
            if sheet["lines"]:
                minutes = sum(Fraction(line["minutes"]) for line in sheet["lines"])
                assert float(minutes) == pytest.approx(float(task.work * 60), abs=1e-4)
            assert sum(line["boxes"] for line in sheet["lines"]) == task.openings
            if task.zone is not None:
                assert Fraction(sheet["coats"]["waiting_minutes"]) == pytest.approx(task.zone.idle_minutes, abs=1e-6)
        for line in of.part.materials:
            loads = [row for _, sheet in own for row in sheet["packs"] if row["material"] == line.row.code]
            if loads and not line.is_cut:
                size = {"length": {"ft": 304_800_000, "m": 10**9}, "volume": {"gal": 231 * 25_400_000**3, "L": 10**24}}
                unit = size.get(line.row.packs[0].dimension, {"each": 1})[loads[0]["unit"]]
                assert float(sum(Fraction(row["quantity"]) for row in loads)) == pytest.approx(
                    float(line.gross / unit), abs=1e-4
                )


def field_names(value: Any) -> Iterator[str]:
    """Every name of a document."""
    if isinstance(value, dict):
        for name, inner in value.items():
            yield name
            yield from field_names(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from field_names(inner)


def test_no_sheet_has_a_field_for_money() -> None:
    found = {name for seed in range(5) for sheet in crew_sheets(random_job(seed), STYLE) for name in field_names(sheet)}
    assert not [name for name in found if any(word in name for word in ("price", "cost", "amount", "wage", "rate"))]
