"""`--why FIGURE`: an indented tree from the figure down to schedule lines and table rows, each with its place."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from tests.core.command_line import GOLDEN, GOLDEN_FILES, ROOT, run

DEMO = ROOT / "estimating" / "demo"
DUPLEX = ROOT / "tests" / "data" / "schedules" / "duplex.csv"


def told(figure: str, *arguments: str | Path) -> str:
    """What --why prints of a figure; the golden example where no files are named."""
    ended = run(*(arguments or GOLDEN_FILES), "--why", figure)
    assert (ended.status, ended.err) == (0, "")
    return ended.out


def indent(line: str) -> int:
    """Spaces before a line."""
    return len(line) - len(line.lstrip(" "))


def test_the_price_is_the_build_up_down_to_lines_and_rows() -> None:
    text = told("price")
    lines = text.splitlines()
    assert lines[0] == "Price: 1655.00 USD  [price]"
    assert lines[1] == "  = Σ of every line of the build-up"
    expected = json.loads((GOLDEN / "expected.json").read_text())
    steps = [re.search(r": (-?[0-9.]+) USD", line) for line in lines if indent(line) == 2 and "[build_up." in line]
    assert [step[1] for step in steps if step] == [row["amount"] for row in expected["build_up"]]
    flat = " ".join(text.split())
    # the wage of tests/data/golden/edition.json and the quantities of its request, each with its place
    assert "wage: 32 USD/hour (labour journeyman wage; edition.json, company rates)" in flat
    request = (GOLDEN / "request.json").read_text().split("\n")
    found = {
        mark: (int(line), int(column)) for line, column, mark in re.findall(r"json:(\d+):(\d+), mark ([ABC])\)", flat)
    }
    assert set(found) == {"A", "B", "C"}
    for mark, (line, _) in found.items():
        assert f'"mark": "{mark}"' in request[int(line) - 1]


@pytest.mark.parametrize(
    ("figure", "first"),
    [
        ("price", "Price: 1655.00 USD  [price]"),
        ("totals.price", "Price: 1655.00 USD  [price]"),
        ("totals/price", "Price: 1655.00 USD  [price]"),
        ("direct_cost", "1269.40 USD  [direct_cost]"),
        ("cost", "1464.38 USD  [cost]"),
        ("hours", "12.0025 hours  [hours.standard]"),
        ("totals.hours", "12.0025 hours  [hours.standard]"),
        ("crew_days", ": 1 days  [crew_days]"),
        ("openings", ": 16  [openings]"),
        ("perimeter", "283.333333 ft  [perimeter]"),
        ("treated_area", "190.555556 ft2  [treated_area]"),
        ("price_per_opening", "103.4375 USD  [price_per_opening]"),
        ("mark.A.price", "919.19 USD  [mark.0.price]"),
        ("mark.2.price", "195.33 USD  [mark.2.price]"),
        ("material.liquid.gross", "5.464242 gal  [material.liquid.gross]"),
        ("equipment.lift.days", "1 days  [equipment.lift.days]"),
        ("hour_cost", "50.46 USD/hour  [hour_cost]"),
    ],
)
def test_figures_are_found_by_the_names_of_the_document(figure: str, first: str) -> None:
    assert told(figure).splitlines()[0].endswith(first)


def test_each_step_stands_deeper_than_what_it_explains() -> None:
    for line in told("price").splitlines():
        assert indent(line) % 2 == 0 and len(line) <= 100
    depth = max(indent(line) for line in told("price").splitlines())
    assert depth > 20


def test_a_line_of_a_csv_is_named_by_its_cell(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    text = " ".join(told("openings", DUPLEX.relative_to(ROOT)).split())  # a long path would be wrapped within
    lines = DUPLEX.read_text().splitlines()
    places = re.findall(r"duplex\.csv:([0-9]+):([0-9]+), mark ([A-Z0-9]+)\)", text)
    assert len(places) == 11
    for line, column, mark in places:
        row = lines[int(line) - 1]
        assert row.startswith(f"{mark},") and row[int(column) - 1 :].split(",")[0] == row.split(",")[2]


def test_what_is_long_is_cut_and_can_be_asked_on() -> None:
    text = told("price", DEMO / "hall-a.json")
    assert len(text.splitlines()) <= 2_000
    assert text.endswith("Any figure in brackets can be asked for in the same way: --why FIGURE.\n")
    figure = re.findall(r"\[(kind\.[0-9]+\.quantity)\]", told("openings", DEMO / "hall-a.json"))[0]
    assert told(figure, DEMO / "hall-a.json").splitlines()[0].endswith(f"[{figure}]")


def test_a_figure_of_many_inputs_says_how_many_are_left_out(tmp_path: Path) -> None:
    path = tmp_path / "schedule.csv"
    path.write_text("mark,count,width_mm,height_mm\n" + "".join(f"W{i},1,900,900\n" for i in range(500)))
    assert re.search(r"^ +and 460 more$", told("kind.0.quantity", path), re.MULTILINE)


@pytest.mark.parametrize("figure", ["prise", "", "mark.Z.price", "build_up.99", "kind.x", "totals", "line.-1.price"])
def test_an_unknown_figure_is_wrong_usage(figure: str) -> None:
    ended = run(*GOLDEN_FILES, "--why", figure)
    assert (ended.status, ended.out) == (2, "")
    assert ended.err.startswith(f"The estimate has no figure {figure}.") and len(ended.err.splitlines()) == 1


def test_a_near_name_is_offered() -> None:
    assert "Near it: price" in run(*GOLDEN_FILES, "--why", "prise").err
