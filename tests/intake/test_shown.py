"""What was read of a schedule, in each company's style: values, sentences and choices; ids and answers stay."""

from __future__ import annotations

import json
from typing import Any

import pytest

from estimating.intake.asking import Asker
from estimating.intake.reading import Options, read_file
from estimating.intake.report import make_report, question_of
from estimating.intake.said import joined, keep, spell
from estimating.intake.shown import show_line, show_question, show_value
from rates.core.fraction import Fraction
from rates.core.jsontext import NumberText
from rates.core.length_styles import LengthStyle

INCH = Fraction(25_400_000)
FEET, EIGHTHS, INCHES = LengthStyle(), LengthStyle("feet_inches", 8), LengthStyle("inches", 8)
MM, METRES = LengthStyle("mm"), LengthStyle("m")


def line(mark: str, width: str, height: str, **more: Any) -> dict[str, Any]:
    return {"mark": mark, "quantity": 1, "width": width, "height": height, "access": "ground"} | more


def questions(*lines: dict[str, Any]) -> dict[str, dict[str, Any]]:
    """The questions of a JSON schedule by code, as they are stored."""
    intake = read_file(json.dumps({"openings": lines}).encode(), Options())
    stored = json.loads(json.dumps(make_report(intake, [])))
    return {question["code"]: question for question in stored["questions"]}


@pytest.mark.parametrize(
    ("style", "size"),
    [(FEET, '2 1/2"'), (EIGHTHS, '2 1/2"'), (INCHES, "2 1/2 in"), (MM, "63.5 mm"), (METRES, "0.0635 m")],
)
def test_a_size_out_of_band_is_asked_about_in_the_style(style: LengthStyle, size: str) -> None:
    stored = questions(line("W1", "2.5 in", "4'-0\""))["size_out_of_band"]
    shown = show_question(stored, style)
    assert shown["sentence"] == f"The width of W1, {size}, is outside any likely size. Is it right?"
    assert stored["sentence"] == 'The width of W1, 2 1/2", is outside any likely size. Is it right?'
    choices = ["as_read", "set_aside"]
    assert (shown["id"], shown["choices"], shown["choices_shown"]) == (stored["id"], choices, choices)
    assert shown.keys() == stored.keys() - {"said", "keys"} | {"open", "choices_shown"}


def test_two_sizes_of_a_mark_are_labelled_in_the_style_and_answered_as_before() -> None:
    stored = questions(line("W1", "36 in", "48 in"), line("W1", "40 3/8 in", "48 in"))["mark_of_two_sizes"]
    shown = show_question(stored, MM)
    assert shown["choices"] == ["3'-0\" x 4'-0\"", "3'-4 3/8\" x 4'-0\"", "all_right"]
    assert shown["choices_shown"] == ["914.4 mm x 1219.2 mm", "1025.5 mm x 1219.2 mm", "all_right"]
    assert shown["sentence"] == f"W1 has 2 sizes: {', '.join(shown['choices_shown'][:2])}. Which is right?"


def test_sizes_that_a_style_shows_alike_are_shown_as_they_are_kept() -> None:
    stored = questions(line("W1", "36 in", "48 in"), line("W1", "36 1/32 in", "48 in"))["mark_of_two_sizes"]
    apart = {style: show_question(stored, style)["choices_shown"] for style in (FEET, EIGHTHS, MM)}
    assert apart[FEET] == ["3'-0\" x 4'-0\"", "3'-0 1/16\" x 4'-0\"", "all_right"]
    assert apart[EIGHTHS] == apart[FEET]  # both are 3'-0" to 1/8 in
    assert apart[MM] == ["914.4 mm x 1219.2 mm", "915.2 mm x 1219.2 mm", "all_right"]
    alike = questions(line("W1", "36 in", "48 in"), line("W1", "36.001 in", "48 in"))["mark_of_two_sizes"]
    for style in (FEET, EIGHTHS, INCHES, MM, METRES):
        shown = show_question(alike, style)
        assert len(set(shown["choices_shown"])) == 3 and shown["sentence"] == alike["sentence"]


def test_a_door_on_its_side_is_asked_about_in_the_style() -> None:
    stored = questions(line("D1", "84 in", "36 in", kind="door"))["width_height_swapped"]
    assert show_question(stored, INCHES)["sentence"] == (
        "D1 is 84 in x 36 in wide by high. Are width and height swapped?"
    )


def test_questions_kept_before_there_were_styles_read_as_they_were() -> None:
    old = questions(line("W1", "2 in", "48 in"))["size_out_of_band"]
    del old["said"]
    assert show_question(old, MM)["sentence"] == old["sentence"]
    assert question_of(old).read_in(MM.show) == (old["sentence"], ("as_read", "set_aside"))


def test_a_question_without_lengths_keeps_none_apart() -> None:
    for question in questions({"mark": "W1", "quantity": 1, "width": "36 in", "height": "48 in"}).values():
        assert not {"said", "choices_said"} & question.keys()


def test_ids_do_not_know_of_styles() -> None:
    asker = Asker()
    asker.ask("x", "to_know", "A is 1", about=("A",), said=("A is ", INCH))
    asker.ask("x", "to_know", "A is 1", about=("A",))
    plain = Asker()
    plain.ask("x", "to_know", "A is 1", about=("A",))
    assert asker.questions[0].id == plain.questions[0].id


def test_sentences_are_kept_to_the_whole_nanometre() -> None:
    said = ("W1 {0} is ", INCH / 3, " wide")
    assert keep(said) == ("W1 {0} is ", 8_466_667, " wide")
    assert spell(keep(said), FEET.show) == 'W1 {0} is 5/16" wide' == spell(said, FEET.show)
    assert joined([("a", INCH), ("b",)], ", ") == ("a", INCH, ", ", "b") and joined([], ", ") == ()


@pytest.mark.parametrize(
    ("name", "value", "unit", "text"),
    [
        ("width", "36 in", None, "3'-0\""),
        ("height", "1025.525 mm", None, "3'-4 3/8\""),
        ("width", 36, "in", "3'-0\""),
        ("width", NumberText("0.9144"), "m", "3'-0\""),
        ("width", "36", "in", "3'-0\""),
        ("width", 36, None, None),  # the request is to tell the unit
        ("height_above_grade", "-2 ft", None, "-2'-0\""),
        ("points", [["0 in", "0 in"], ["40 in", 30]], "in", '(0", 0") (3\'-4", 2\'-6")'),
        ("points", [["0 in", {}]], "in", None),
        ("points", [7], "in", None),
        ("points", "none", "in", None),
        ("width", {"a": 1}, "in", None),
        ("width", True, "in", None),
        ("width", None, "in", None),
        ("width", "wide", "in", None),
        ("quantity", 4, "in", None),
        ("mark", "36 in", "in", None),
    ],
)
def test_lengths_of_a_line(name: str, value: object, unit: str | None, text: str | None) -> None:
    assert show_value(name, value, unit, FEET) == text


def test_a_line_keeps_all_it_has_and_gets_what_is_shown_beside() -> None:
    fields = {"mark": {"value": "W1", "cell": "A2"}, "width": {"value": "36 in", "cell": "C2", "written": "36"}}
    read = {"line": 0, "mark": "W1", "cell": "row 2", "fields": fields}
    shown = show_line(read, "", EIGHTHS)
    assert shown == read | {"fields": fields | {"width": fields["width"] | {"shown": "3'-0\""}}}
    assert "shown" not in fields["width"]
