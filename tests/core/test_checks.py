"""Checks: each has a job that raises it and a near one that does not; none refuses, none moves a price."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from estimating.core.checks.access import storey_number
from estimating.core.checks.bands import PERCENTAGES
from estimating.core.checks.run import checks, edition_checks
from estimating.core.checks.table import CHECK, CHECKS
from estimating.intake.schedule_files import read_schedule
from estimating.outputs.answer import answer
from estimating.outputs.check_rows import MOST_LINES, estimate_checks
from rates.core.card import read_edition
from rates.core.jsontext import read_json
from rates.core.steps import STEPS
from tests.core.checked_jobs import LIFT, PIPE, ROWS, WINDOW, Change, hand, job, rates
from tests.core.invented import Document, costed, edition, lift, opening, request, sources
from tests.worked_cases import CASES, DATA, read_case

DEMO = Path(__file__).resolve().parents[2] / "estimating" / "demo"
SCHEDULES = DATA / "schedules"


def raised(change: Change) -> list[str]:
    """The codes of the checks of the quiet job with a change."""
    return [finding.check.code for finding in checks(costed(*job(change)))]


def sentences(change: Change) -> list[str]:
    """Their sentences."""
    return [finding.sentence for finding in checks(costed(*job(change)))]


def test_the_quiet_job_raises_none() -> None:
    assert raised(Change()) == []


@pytest.mark.parametrize(("code", "raising", "near"), ROWS)
def test_a_check_is_raised_by_its_case_and_not_by_a_near_one(code: str, raising: Change, near: Change) -> None:
    assert raised(raising) == [code]
    assert raised(near) == []


def test_every_check_of_an_estimate_has_a_case() -> None:
    of_editions = {"access_without_equipment"}
    assert {code for code, _, _ in ROWS} == set(CHECK) - of_editions


def test_sentences_name_marks_openings_and_lengths() -> None:
    assert sentences(Change({"storey": "Level 3"})) == [
        "W1 (6 openings): heads up to 24'-0\" above grade (storeys of 10'-0\"), priced from the ground, which reaches "
        "10'-0\" as a rule; the edition states no limit."
    ]
    assert sentences(Change({"sides": ["sill"]})) == [
        "W1 (6 openings): jambs and head not treated. A window takes sill, jambs and head."
    ]
    assert sentences(rates(labour=[hand(wage="3400")])) == [
        "Invented worker: 3,400.00 an hour. 8.00 to 200.00 is likely."
    ]
    metric = Change({"height_above_grade": "9 m"}, {"units": "metric"})
    assert "heads up to 10219 mm above grade" in sentences(metric)[0]


def test_many_marks_are_counted_and_lines_are_numbered_from_1() -> None:
    lines = [opening(f"W{i}", **WINDOW | LIFT | {"quantity": 2}) for i in range(1, 8)]
    document, rows = job(Change(tables={"equipment": []}))
    (found,) = estimate_checks(costed(document | {"openings": [PIPE, *lines]}, rows))
    assert str(found["sentence"]).startswith(
        "W1 (2 openings), W2 (2 openings), W3 (2 openings), W4 (2 openings) and 3 more marks (6 openings): "
    )
    assert found["lines"] == [2, 3, 4, 5, 6, 7, 8]


def test_a_tower_priced_from_the_ground_is_told_with_every_opening() -> None:
    lines = [opening(f"W{s}", **WINDOW | {"storey": str(s), "quantity": 30}) for s in range(1, 31)]
    document, rows = job(Change())
    found = checks(costed(document | {"openings": [PIPE, *lines]}, rows))
    assert [finding.check.code for finding in found] == ["access_out_of_reach"]
    assert "(750 openings)" in found[0].sentence and "294'-0\"" in found[0].sentence
    assert len(found[0].case.lines) == 29


def test_sheathing_joints_are_worked_from_somewhere_too() -> None:
    wall = {"length": "40 ft", "height": "20 ft", "sheet_long": "8 ft", "sheet_high": "4 ft"}
    joints = {"sheathing_joints": {"walls": [wall], "access": "lift"}}
    table = {"sheathing_joint": {"width": "4 in", "minutes_per_foot": "0.25"}}
    said = sentences(Change(request=joints, tables={"equipment": []}, production=table))
    assert said[0].startswith("The sheathing joints: priced from a lift")
    assert sentences(Change(request=joints, tables={"equipment": [lift()]}, production=table)) == []


@pytest.mark.parametrize(
    ("storey", "number"),
    [
        ("3", 3),
        ("Level 3", 3),
        ("L03", 3),
        ("3rd floor", 3),
        ("storey 12", 12),
        ("Roof", None),
        ("3A", None),
        ("", None),
    ],
)
def test_a_storey_is_read_as_a_number_where_its_name_is_one(storey: str, number: int | None) -> None:
    assert storey_number(storey) == number


def test_every_step_that_states_a_percentage_has_one_that_is_likely() -> None:
    assert set(PERCENTAGES) == {step.name for step in STEPS if "percent" in step.takes}


def test_a_currency_of_other_units_is_not_judged_by_these_bands() -> None:
    document, rows = job(rates(labour=[hand(wage="3400")]))
    assert [f.check.code for f in checks(costed(document, rows | {"currency": "JPY"}))] == []


def test_an_edition_by_itself_is_checked_with_all_of_its_rows() -> None:
    table: Document = job(rates(labour=[hand(), hand(code="second", title="Second", wage="3400")]))[1]
    table["tables"]["production"]["access"] = {"swing_stage": "1.4", "lift": "1.2"}
    found = edition_checks(read_edition(sources(table)[0]))
    assert [(f.check.code, f.case.about) for f in found] == [
        ("access_without_equipment", ""),
        ("wage_unlikely", "second"),
    ]
    quiet = edition_checks(read_edition(sources(job(Change())[1])[0]))
    assert quiet == ()


def without_checks(document: Document) -> str:
    """An answer without its checks and digest."""
    return json.dumps({k: v for k, v in document.items() if k not in ("checks", "input_digest")})


def test_fields_for_checks_alone_move_nothing_else() -> None:
    plain = costed(*job(Change(LIFT)))
    graded = rates(labour=[hand(grade="helper")], equipment=[lift(owned=True)])
    told = Change(
        LIFT | {"from_inside": True},
        {},
        graded.tables,
        {"access_limits": {"lift": {"up_to": "20 ft"}}, "storey_height": "12 ft"},
    )
    with_fields = costed(*job(told))
    assert without_checks(answer(plain)) == without_checks(answer(with_fields))
    assert plain.input_digest != with_fields.input_digest
    assert [f.check.code for f in checks(with_fields)] == ["no_journeyman"]


def test_what_is_owned_needs_no_rental_and_still_costs_its_delivery() -> None:
    own = {"code": "own", "title": "Own lift", "for_access": ["lift"], "owned": True, "delivery": "90"}
    line = costed(request(opening(access="lift")), edition(equipment=[own])).parts[0].equipment[0]
    assert (line.amount_minor, line.mix.counts, line.days) == (9000, (), 1)


def test_parts_of_a_split_tell_what_they_share_once() -> None:
    parts = [{"work_date": "2027-03-15", "openings": ["W1"]}, {"work_date": "2027-06-15"}]
    change = rates(overheads=[])
    document, rows = job(change._replace(request={"mobilisations": parts}))
    assert [f.check.code for f in checks(costed(document, rows))] == ["no_profit", "no_overhead"]


def test_the_same_input_gives_the_same_checks_whatever_else_is_costed() -> None:
    document, rows = job(Change({"storey": "9"}, tables={"equipment": []}))
    first, second = (answer(costed(document, rows)) for _ in range(2))
    assert json.dumps(first) == json.dumps(second)


@pytest.mark.parametrize("name", CASES)
def test_the_worked_cases_raise_what_a_veteran_would_ask(name: str) -> None:
    """No penetration counted or allowed for; in one case a frame scaffold that no row rents."""
    expected = {
        "03-pipes-minimum-charge": set(),
        "12-storeys-two-mobilisations": {"access_not_rented", "no_penetrations"},
    }
    document = {field: value for field, value in read_case(name, "request.json").items() if field != "edition"}
    found = checks(costed(document, read_case(name, "edition.json")))
    assert {f.check.code for f in found} == expected.get(name, {"no_penetrations"})


def test_more_lines_than_a_list_holds_are_still_counted_in_the_sentence() -> None:
    lines = [opening("W1", **WINDOW | {"storey": "9", "quantity": 1}) for _ in range(MOST_LINES + 5)]
    document, rows = job(Change())
    (found,) = estimate_checks(costed(document | {"openings": [PIPE, *lines]}, rows))
    assert len(found["lines"]) == MOST_LINES
    assert f"({MOST_LINES + 5:,} openings)" in str(found["sentence"])


def test_codes_stand_once_and_severities_are_those_of_remarks() -> None:
    assert len(CHECK) == len(CHECKS)
    assert {check.severity for check in CHECKS} == {"warning", "to_know"}
    assert all((check.of_work is None) != (check.of_rates is None) for check in CHECKS)


def test_nothing_priced_raises_nothing() -> None:
    document, rows = job(Change({"quantity": 0}, more=()))
    assert checks(costed(document, rows)) == ()


@pytest.mark.parametrize("name", ["clinic-a.json", "clinic-b.json", "hall-a.json", "hall-b.json"])
def test_the_demo_raises_none(name: str) -> None:
    editions = [read_json((DEMO / file).read_text()) for file in ("rates.json", "rates-next.json")]
    assert checks(costed(read_json((DEMO / name).read_text()), *editions)) == ()


@pytest.mark.parametrize(("name", "high"), [("office", "W01"), ("institute", "W08"), ("duplex", "W03")])
def test_published_buildings_tell_their_upper_windows_and_missing_penetrations(name: str, high: str) -> None:
    """They give no access and count no pipe: windows of the upper storeys would be priced from the ground."""
    page = read_schedule((SCHEDULES / f"{name}.csv").read_bytes(), f"{name}.csv")
    assumed: Any = read_json((DEMO / "assumptions.json").read_text())
    found = checks(costed(assumed | {"openings": page.rows}, read_json((DEMO / "rates.json").read_text())))
    assert [finding.check.code for finding in found] == ["access_out_of_reach", "no_penetrations"]
    assert found[0].sentence.startswith(f"{high} (")
