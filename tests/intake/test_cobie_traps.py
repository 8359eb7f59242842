"""Traps met in real COBie workbooks, each shown by a small workbook of our own making (invented content)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import pytest

from estimating.intake.questions import Question
from estimating.intake.reading import Intake, Options, read_file
from tests.intake.workbooks import workbook

TYPE = ["Name", "Category", "Description", "NominalLength", "NominalWidth", "NominalHeight"]
Row = Sequence[object]
WINDOW: Row = ["Window A", "Windows", "Fixed window", 0, 900, 1200]
ROOMS: Mapping[str, str] = {"A101": "Level 1", "A102": "Level 1", "A201": "Level 2"}


def cobie(
    types: Sequence[Row], components: Sequence[Row], unit: str = "millimeters", floors: Sequence[Row] = ()
) -> bytes:
    rows = {
        "Facility": [["Name", "LinearUnits"], ["Invented house", unit]],
        "Floor": [["Name", "Elevation"], *(floors or [["Level 1", 0], ["Level 2", 3000]])],
        "Space": [["Name", "FloorName"], *([room, floor] for room, floor in ROOMS.items())],
        "Type": [TYPE, *types],
        "Component": [["Name", "TypeName", "Space"], *components],
    }
    return workbook(rows)


def codes(intake: Intake) -> set[str]:
    return {question.code for question in intake.questions}


def asked(intake: Intake, code: str) -> Question:
    return next(question for question in intake.questions if question.code == code)


def answered(data: bytes, code: str, answer: str) -> Intake:
    return read_file(data, Options(answers={asked(read_file(data), code).id: answer}))


def sizes(intake: Intake) -> list[tuple[str | None, str | None]]:
    return [(line.get("width"), line.get("height")) for line in intake.lines]


ONE: Sequence[Row] = [["Window 1", "Window A", "A101"]]


def test_type_and_component_are_joined_and_counted_per_type_and_storey() -> None:
    door: Row = ["Door B", "Doors", "Entrance", 0, 915, 2134]
    used = [("Window A", "A101"), ("Window A", "A102"), ("Window A", "A201"), ("Door B", "A101")]
    intake = read_file(cobie([WINDOW, door], [[f"C{i}", kind, room] for i, (kind, room) in enumerate(used)]))
    assert intake.format == "cobie"
    assert [(line["mark"], line["kind"], line["storey"], line["quantity"]) for line in intake.lines] == [
        ("Window A", "window", "Level 1", 2),
        ("Window A", "window", "Level 2", 1),
        ("Door B", "door", "Level 1", 1),
    ]
    assert sizes(intake)[0] == ("900 mm", "1200 mm") and sizes(intake)[2] == ("915 mm", "2134 mm")
    assert intake.read(0)["fields"]["width"]["cell"] == "Type!E2"


def test_sizes_of_zero_with_the_real_size_only_in_the_description() -> None:
    data = cobie([["Window A", "Windows", "Fixed 915 x 1830 mm", 0.0, 0.0, 0.0]], ONE)
    question = asked(read_file(data), "size_unknown")
    assert question.severity == "blocks_costing" and question.choices[0] == "915 mm x 1830 mm"
    assert sizes(read_file(data)) == [(None, None)]
    assert sizes(answered(data, "size_unknown", "915 mm x 1830 mm")) == [("915 mm", "1830 mm")]


def test_a_columns_own_heading_as_filler_text_is_unknown() -> None:
    data = cobie([["Window A", "Windows", "Description", 0, "NominalWidth", "NominalHeight"]], ONE)
    assert sizes(read_file(data)) == [(None, None)]
    assert "size_unknown" in codes(read_file(data))


def test_width_in_nominal_length_is_asked_about() -> None:
    data = cobie([["Door B", "Doors", "", 915, 45, 2134]], [["D1", "Door B", "A101"]])  # 45 mm is the leaf
    assert sizes(read_file(data)) == [(None, "2134 mm")]
    after = answered(data, "width_in_length_column", "length_is_width")
    assert sizes(after) == [("915 mm", "2134 mm")]
    assert after.read(0)["fields"]["width"]["cell"] == "Type!D2"


def test_numbers_as_text_are_read() -> None:
    assert sizes(read_file(cobie([["Window A", "Windows", "", "0", "900", "1200.0"]], ONE))) == [
        ("900 mm", "1200.0 mm")
    ]


def test_declared_metres_holding_millimetres_are_caught_by_the_band() -> None:
    data = cobie([["Door B", "Doors", "", 0, 915, 2134]], [["D1", "Door B", "A101"]], unit="meters")
    question = asked(read_file(data), "unit_implausible")
    assert question.severity == "blocks_costing" and "2,134 m" in question.sentence
    assert "mm" in question.choices and question.cells == ("Facility!B2",)
    assert sizes(answered(data, "unit_implausible", "mm")) == [("915 mm", "2134 mm")]


def test_a_storey_elevation_of_100000_is_told_and_not_used() -> None:
    intake = read_file(cobie([WINDOW], ONE, "millimeters", [["Level 1", 0], ["Roof", 10_000_000]]))
    metres = read_file(
        cobie([["Window A", "Windows", "", 0, 0.9, 1.2]], ONE, "meters", [["Level 1", 0], ["Level 2", 100000.0]])
    )
    assert asked(intake, "storey_elevation_implausible").cells == ("Floor!B3",)
    assert asked(metres, "storey_elevation_implausible").cells == ("Floor!B3",)


def test_blinds_and_cubicle_doors_are_not_openings() -> None:
    others: list[Row] = [
        ["Window blind", "Window treatments", "Roller blind", 0, 900, 1200],
        ["Cubicle door", "Toilet compartments", "Door of a cubicle", 0, 600, 1800],
    ]
    used = [*ONE, ["B1", "Window blind", "A101"], ["C1", "Cubicle door", "A101"]]
    intake = read_file(cobie([WINDOW, *others], used))
    assert [line["mark"] for line in intake.lines] == ["Window A"]
    assert asked(intake, "not_openings").cells == ("Type!A3", "Type!A4")


@pytest.mark.parametrize(("spaces", "doubt"), [("A101, A102", False), ("A101,A201", True)])
def test_two_spaces_in_one_cell(spaces: str, doubt: bool) -> None:
    intake = read_file(cobie([WINDOW], [["Window 1", "Window A", spaces]]))
    assert [(line["quantity"], line["storey"]) for line in intake.lines] == [(1, "Level 1")]
    assert ("two_storeys" in codes(intake)) is doubt


def test_exterior_is_unknown_in_such_a_workbook() -> None:
    assert "external" not in read_file(cobie([WINDOW], ONE)).lines[0]


def test_a_type_without_components_is_told() -> None:
    intake = read_file(cobie([WINDOW], []))
    assert intake.lines == [] and "type_not_used" in codes(intake)
