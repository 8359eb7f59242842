"""Traps met in real building models, each shown by a small model of our own making."""

from __future__ import annotations

from dataclasses import replace

import pytest

from estimating.intake.questions import Question
from estimating.intake.reading import Intake, Options, read_file
from rates.core.problems import Refused
from tests.intake.small_models import Opening, model

pytest.importorskip("ifcopenshell", reason="the extra ifc is not installed")
W = Opening(width="0.9", height="1.2", mark="W1", external=".T.")


def sizes(intake: Intake) -> list[tuple[str | None, str | None]]:
    return [(line.get("width"), line.get("height")) for line in intake.lines]


def asked(intake: Intake, code: str) -> Question:
    found = [question for question in intake.questions if question.code == code]
    assert len(found) == 1, (code, [question.code for question in intake.questions])
    return found[0]


def codes(intake: Intake) -> set[str]:
    return {question.code for question in intake.questions}


def answered(data: bytes, intake: Intake, code: str, answer: str) -> Intake:
    return read_file(data, Options(answers={asked(intake, code).id: answer}))


@pytest.mark.parametrize(
    ("unit", "width", "height", "hole"),
    [("m", "0.9", "1.2", ("0.9", "1.2")), ("mm", "900.", "1200.", ("900.", "1200.")), ("ft", "3.", "4.", ("3.", "4."))],
)
def test_units_mm_m_and_ft_scale_from_the_project_unit(
    unit: str, width: str, height: str, hole: tuple[str, str]
) -> None:
    intake = read_file(model([replace(W, width=width, height=height, hole=hole)], unit))
    # 3 ft is 914.4 mm and 4 ft 1219.2 mm (NIST Handbook 44, Appendix C)
    expected = ("914.4 mm", "1219.2 mm") if unit == "ft" else ("900 mm", "1200 mm")
    assert sizes(intake) == [expected]


def test_a_missing_unit_is_asked_for_and_never_taken_from_magnitude() -> None:
    data = model([W], unit="none")
    intake = read_file(data)
    assert asked(intake, "unit_unknown").severity == "blocks_costing"
    assert sizes(answered(data, intake, "unit_unknown", "ft")) == [("274.32 mm", "365.76 mm")]


def test_float_noise_does_not_split_one_size_into_many() -> None:
    noisy = [
        replace(W, width="2.419999999999998", height="1.2"),
        replace(W, width="2.42", height="1.2000000000000002", tag="2"),
        replace(W, width="2.4200000000000004", height="1.2", tag="3"),
    ]
    intake = read_file(model(noisy))
    assert [(line["quantity"], line["width"]) for line in intake.lines] == [(3, "2420 mm")]
    assert intake.read(0)["fields"]["width"]["written"] == "2.419999999999998"


def test_null_sizes_are_taken_from_the_hole_and_only_then() -> None:
    nulls, given = replace(W, width="$", height="$"), replace(W, mark="W2", tag="2", hole=("0.95", "1.25"))
    intake = read_file(model([nulls, given]))
    assert sizes(intake) == [("900 mm", "1200 mm"), ("900 mm", "1200 mm")]
    assert intake.read(0)["fields"]["width"]["written"] == "hole 0.9"
    assert "written" not in intake.read(1)["fields"]["width"]
    assert "size_from_hole" in codes(intake)


def test_null_sizes_without_a_hole_are_asked_for() -> None:
    data = model([replace(W, width="$", height="1.2", hole=None, host="curtain_wall")])
    intake = read_file(data)
    assert asked(intake, "size_unknown").severity == "blocks_costing"
    assert sizes(answered(data, intake, "size_unknown", "3'-0\"")) == [("3'-0\"", "1200 mm")]


@pytest.mark.parametrize(("external", "read"), [("", None), (".U.", None), (".T.", True), (".F.", False)])
def test_is_external_absent_or_unknown_is_a_third_state(external: str, read: bool | None) -> None:
    intake = read_file(model([W, replace(W, mark="W2", tag="2", external=external)]))
    assert intake.lines[1].get("external") is read
    assert ("external_unknown" in codes(intake)) is (read is None)


def test_blanket_false_is_warned_of() -> None:
    intake = read_file(model([replace(W, mark=f"W{i}", tag=str(i), external=".F.") for i in range(1, 4)]))
    assert asked(intake, "all_interior").severity == "blocks_issue"


def test_skylights_flagged_internal_are_reported_apart() -> None:
    data = model([W, replace(W, mark="S1", tag="2", host="roof", external=".F.")])
    intake = read_file(data)
    skylights = [part for part in intake.apart if part["what"] == "skylight"]
    assert [(part["mark"], part["count"], part["external"]) for part in skylights] == [("S1", 1, False)]
    after = answered(data, intake, "skylight", "set_aside")
    assert after.lines[1]["excluded"] == {"reason": "skylight"} and "excluded" not in after.lines[0]


def test_curtain_wall_doors_listed_twice_with_one_tag() -> None:
    door = Opening(kind="DOOR", width="0.9", height="2.1", tag="77", mark="D1", hole=None, host="curtain_wall")
    data = model([door, door])
    intake = read_file(data)
    assert sum(line["quantity"] for line in intake.lines) == 2
    assert sum(line["quantity"] for line in answered(data, intake, "tag_listed_twice", "one").lines) == 1


def test_windows_that_fill_no_hole_are_asked_about() -> None:
    intake = read_file(model([W, replace(W, mark="W2", tag="2", hole=None)]))
    assert asked(intake, "no_hole").cells[0].startswith("#0Invented")


def test_unfilled_holes_in_furniture_and_roofs_are_left_out_and_those_in_walls_asked_about() -> None:
    empty = replace(W, empty_hole=True, external="", mark="")
    intake = read_file(model([W, replace(empty, host="furniture"), replace(empty, host="roof"), empty]))
    assert len(intake.lines) == 1
    assert [(part["host"], part["count"]) for part in intake.apart if "host" in part] == [
        ("IfcFurnishingElement", 1),
        ("IfcRoof", 1),
        ("IfcWall", 1),
    ]
    assert asked(intake, "holes_in_walls").severity == "blocks_issue"


def test_overall_size_against_quantity_size_is_asked_about() -> None:
    data = model([replace(W, quantities=("0.84", "1.2"))])  # 6.7 % apart
    intake = read_file(data)
    assert sizes(intake) == [("900 mm", "1200 mm")]
    assert asked(intake, "size_disagrees").choices == ("900 mm", "840 mm")
    assert sizes(answered(data, intake, "size_disagrees", "840 mm")) == [("840 mm", "1200 mm")]


def test_a_tag_is_an_authoring_id_and_not_a_mark() -> None:
    intake = read_file(model([replace(W, mark="", tag="359493")]))
    assert "359493" not in intake.lines[0]["mark"]
    assert "mark_from_type" in codes(intake)


@pytest.mark.parametrize("case", [{"storey": "$"}, {"on_storey": False}])
def test_a_storey_null_or_missing_stays_unknown(case: dict[str, object]) -> None:
    window = replace(W, on_storey=bool(case.get("on_storey", True)))
    intake = read_file(model([window], storey=str(case.get("storey", "'Level 1'"))))
    assert intake.lines[0]["storey"] == ""


def test_marks_with_suffixes_are_kept_apart_as_drawn() -> None:
    intake = read_file(model([replace(W, mark="W1"), replace(W, mark="W1R", tag="2", width="0.95")]))
    assert [line["mark"] for line in intake.lines] == ["W1", "W1R"]
    assert "mark_of_two_sizes" not in codes(intake)


def test_a_property_set_with_no_name_is_read() -> None:
    assert read_file(model([replace(W, set_name="$")])).lines[0]["external"] is True


@pytest.mark.parametrize("schema", ["IFC151", "IFC2X_FINAL", "IFC9"])
def test_schemas_that_are_not_read_are_refused_with_a_clear_message(schema: str) -> None:
    with pytest.raises(Refused) as refused:
        read_file(model([W], schema=schema))
    assert [problem.code for problem in refused.value.problems] == ["schema_not_read"]
    assert "IFC2x3, IFC4" in refused.value.problems[0].detail


def test_curtain_walls_with_no_window_objects_are_reported() -> None:
    intake = read_file(model([]))
    assert {"what": "curtain_walls", "count": 1} in intake.apart
    assert {"curtain_walls", "no_openings"} <= codes(intake)
    assert intake.lines == []


def test_the_host_wall_and_its_depth_are_told() -> None:
    assert read_file(model([W])).lines[0]["note"] == "in Invented wall, 300 mm deep"
