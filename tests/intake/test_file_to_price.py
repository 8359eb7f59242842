"""A person's file and its answers file, by the command, cost what the same openings cost as JSON.

The house has ten shapes (rectangle, round, half round, segment, oval, octagon, triangle, trapezoid, L, pipe) with pipes
and ducts; the clinic is the demo's. Both are invented. Each is a CSV, a workbook and a list pasted from a spreadsheet,
with title rows, a total, feet and inches, nominal pipe sizes (ASME B36.10M: NPS 4 is 4.500 in and NPS 2 is 2.375 in
outside, from memory), and shapes in words.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.core.command_line import ROOT, run

DATA = ROOT / "tests" / "data" / "from_people"
FORMS = ("schedule.csv", "schedule.xlsx", "pasted.txt")


def of_house() -> tuple[list[Any], dict[str, Any]]:
    """The house's openings and the request for it."""
    request: dict[str, Any] = json.loads((DATA / "house" / "request.json").read_text())
    return json.loads((DATA / "house" / "openings.json").read_text()), request


def of_clinic() -> tuple[list[Any], dict[str, Any]]:
    """The clinic's openings and the request for it."""
    request: dict[str, Any] = json.loads((ROOT / "estimating" / "demo" / "clinic-a.json").read_text())
    return request.pop("openings"), request


JOBS = {"house": of_house, "clinic": of_clinic}


def cost(path: Path, *options: str | Path) -> dict[str, Any]:
    """The command's answer in JSON."""
    ended = run(path, *options, "--json")
    assert ended.status == 0, ended.err
    document: dict[str, Any] = json.loads(ended.out)
    return document


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("job", JOBS)
def test_a_persons_file_costs_what_the_json_costs(tmp_path: Path, job: str, form: str) -> None:
    openings, request = JOBS[job]()
    asked, whole = tmp_path / "request.json", tmp_path / "whole.json"
    asked.write_text(json.dumps(request))
    whole.write_text(json.dumps(request | {"openings": openings}))
    from_json = cost(whole)
    from_file = cost(DATA / job / form, "--request", asked, "--answers", DATA / job / "answers.json")
    assert from_file["totals"] == from_json["totals"]
    assert from_file["build_up"] == from_json["build_up"]
    assert [item["price"] for item in from_file["by_mark"]] == [item["price"] for item in from_json["by_mark"]]
    scope = from_file["scope"]
    assert scope["in_file"] == scope["priced"] == sum(line["quantity"] for line in openings)
    assert scope["questions"]["blocks_issue"] == 0


def test_what_answers_settled_is_listed_as_assumed() -> None:
    house = DATA / "house"
    ended = run(
        house / FORMS[0], "--request", house / "request.json", "--answers", house / "answers.json", "--assumptions"
    )
    told = " ".join(ended.out.split())
    triangle = "shape=polygon, points=0 in, 0 in; 60 in, 0 in; 30 in, 36 in"
    assert f"shape_words: {triangle} (answer, 2 openings)" in told and f"Answered: {triangle}." in told
    assert "door_sides" not in told  # the file itself says them


@pytest.mark.parametrize("form", FORMS)
def test_without_its_answers_the_house_is_not_priced(form: str) -> None:
    ended = run(DATA / "house" / form, "--request", DATA / "house" / "request.json", "--json")
    assert (ended.status, ended.out) == (1, "")
    assert all(mark in ended.err for mark in ("Octagon", "Triangle", "Trapezoid", "L shaped"))


@pytest.mark.parametrize("job", JOBS)
def test_the_jobs_hold_what_is_claimed(job: str) -> None:
    openings, _ = JOBS[job]()
    shapes = {line.get("shape", "pipe" if line["kind"] == "pipe" else "rectangle") for line in openings}
    kinds = {line["kind"] for line in openings}
    assert "pipe" in kinds
    if job == "house":
        cornered = [len(line["points"]) for line in openings if "points" in line]
        assert sorted(cornered) == [3, 4, 6, 8] and {"polygon", "outline"} <= shapes
        assert len(shapes - {"polygon", "outline"}) + len(cornered) == 10 and {"duct", "pipe"} <= kinds
