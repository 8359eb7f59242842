"""Shapes that words, radii and springlines leave open: one question a file, whose answers are exact."""

from math import isqrt

import pytest

from estimating.intake.questions import Question
from estimating.intake.reading import Intake, Options, read_file
from estimating.intake.row_shapes import hexagon, octagon, rise_of
from rates.core.fraction import Fraction
from rates.core.units import read_length

HEAD = "Mark,Kind,Qty,Width,Height"
SHAPES = (
    "hexagon",
    "octagon",
    "round",
    "arched",
    "bay",
    "triangle",
    "pentagon",
    "quarter round",
    "oval",
    "gothic",
    "raked",
)


def question_of(intake: Intake) -> Question:
    found = [question for question in intake.questions if question.severity == "blocks_costing" and question.open]
    assert [question.code for question in found] == ["shape_words"]
    return found[0]


def answered(data: bytes, *answers: str) -> list[dict]:  # type: ignore[type-arg]
    """The lines after one answer for all, or one for each."""
    question = question_of(read_file(data))
    ids = [question.id] if len(answers) == 1 else list(question.keys)
    intake = read_file(data, Options(answers=dict(zip(ids, answers, strict=True))))
    assert not intake.refused_answers
    return intake.lines


def nm(text: str) -> Fraction:
    return Fraction(read_length(text).nm)


def test_all_shape_words_of_a_file_are_one_question() -> None:
    rows = [f"W{i},Window,1,36 in,{36 if i % 2 else 60} in,{shape}" for i, shape in enumerate(SHAPES)]
    question = question_of(read_file("\n".join([f"{HEAD},Remarks", *rows]).encode()))
    assert len(question.lines) == len(SHAPES) and question.open_answer
    assert {"rectangle", "octagon", "triangle", "ellipse", "half_round_height_overall"} <= set(question.choices)


def test_lines_of_one_question_take_shapes_of_their_own() -> None:
    rows = (
        "W1,Window,1,36 in,36 in,round",
        "W2,Window,1,48 in,36 in,hexagon",
        "W3,Window,1,36 in,60 in,arched",
        "W4,Window,1,36 in,60 in,bay",
    )
    lines = answered(
        "\n".join((f"{HEAD},Remarks", *rows)).encode(), "round", "hexagon", "half_round_height_overall", "rectangle"
    )
    assert [line["shape"] for line in lines] == ["round", "polygon", "half_round_top", "rectangle"]
    assert (lines[0]["diameter"], len(lines[1]["points"]), lines[2]["height"]) == ("36 in", 6, "60 in")


def test_a_shape_that_a_line_can_not_be_of_is_no_choice_and_is_refused() -> None:
    data = f"{HEAD},Remarks\nW1,Window,1,36 in,60 in,round\n".encode()
    question = question_of(read_file(data))
    assert "round" not in question.choices
    intake = read_file(data, Options(answers={question.id: "round"}))
    assert intake.refused_answers and question_of(intake)


@pytest.mark.parametrize(
    "rows",
    [
        (f"{HEAD},Head radius", "W1,Window,1,36 in,60 in,18 in"),
        ("Mark,Kind,Qty,Width (in),Height (in),Radius", "W1,Window,1,36,60,R18"),
        ("Mark,Kind,Qty,Size", 'W1,Window,1,"36"" x 60"" R18"""'),
        (HEAD, "W1,Window,1,36 in,60 in R 18 in"),
    ],
)
def test_a_radius_of_half_the_width_is_a_half_round(rows: tuple[str, ...]) -> None:
    data = "\n".join(rows).encode()
    assert "segmental_height_overall" not in question_of(read_file(data)).choices
    (line,) = answered(data, "half_round_height_overall")
    assert (line["shape"], nm(line["height"])) == ("half_round_top", nm("60 in"))


@pytest.mark.parametrize(
    "rows",
    [
        (f"{HEAD},Head radius", "W1,Window,1,36 in,60 in,30 in"),
        ("Mark,Kind,Qty,Width (in),Height (in),Radius", "W1,Window,1,36,60,30"),
        ("Mark,Kind,Qty,Size", 'W1,Window,1,"36"" x 60"" R30"""'),
        ("Mark,Kind,Qty,Size", "W1,Window,1,36 x 60 in radius 30 in"),
    ],
)
def test_a_larger_radius_is_a_segment_of_a_computed_rise(rows: tuple[str, ...]) -> None:
    """R = 30, w = 36: the right triangle of 18, 24 and 30 leaves a rise of 6."""
    data = "\n".join(rows).encode()
    assert "half_round_height_overall" not in question_of(read_file(data)).choices
    (line,) = answered(data, "segmental_height_overall")
    assert (line["shape"], nm(line["springline"]), nm(line["rise"])) == ("segmental_top", nm("54 in"), nm("6 in"))
    (line,) = answered(data, "segmental_height_to_springline")
    assert (nm(line["springline"]), nm(line["rise"])) == (nm("60 in"), nm("6 in"))


@pytest.mark.parametrize(
    ("width", "radius"), [("36 in", "20 in"), ("1000 mm", "777 mm"), ("5 ft", "31 in"), ("910 mm", "455 mm")]
)
def test_a_rise_is_within_half_a_nanometre(width: str, radius: str) -> None:
    """Against the integer root of R² - w²/4 in units of 10**-20 nm."""
    w, r = nm(width), nm(radius)
    scaled = (r * r - w * w / 4) * 10**40
    root = Fraction(isqrt(int(scaled)), 10**20)
    rise = rise_of({"width": width}, radius)
    assert rise is not None and rise.denominator == 1
    assert abs(rise - (r - root)) <= Fraction(1, 2) + Fraction(1, 10**18)


def test_a_radius_without_a_unit_and_one_below_half_the_width_leave_the_shape_open() -> None:
    for size in ('"36"" x 60"" R18"', '"36"" x 60"" R12"""'):
        question = question_of(read_file(f"Mark,Kind,Qty,Size\nW1,Window,1,{size}\n".encode()))
        assert "segmental_height_overall" not in question.choices and question.open_answer


def test_a_springline_that_fits_no_arch_is_one_question_with_a_way_out() -> None:
    data = f"{HEAD},Springline\nW1,Window,1,36 in,60 in,30 in\n".encode()
    (line,) = answered(data, "half_round_height_to_springline")
    assert (line["shape"], line["springline"]) == ("half_round_top", "30 in")
    (line,) = answered(data, "rectangle")
    assert line.get("springline") is None and line["height"] == "60 in"


def test_polygons_in_a_box() -> None:
    """A regular octagon of width 2 + 2/√2 has sides of 2/√2 · √2 = 2; a hexagon of 2 by √3 has sides of 1."""
    side = Fraction(10**9)
    corners = octagon(side, side)
    lengths = [((x - a) ** 2 + (y - b) ** 2) for (x, y), (a, b) in zip(corners, corners[1:] + corners[:1], strict=True)]
    assert max(lengths) - min(lengths) < 10 * side  # of squares: sides that differ by a few nanometres
    assert all(0 <= x <= side and 0 <= y <= side for x, y in corners)
    assert sorted({x for x, _ in hexagon(Fraction(4), Fraction(3))}) == [0, 1, 3, 4]
    assert sorted({y for _, y in hexagon(Fraction(3), Fraction(4))}) == [0, 1, 3, 4]
