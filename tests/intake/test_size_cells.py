"""Cells of sizes and counts that a person must settle: none is read by a part of its words or dropped in silence."""

import pytest

from estimating.intake.cell_sizes import read_dimension, read_size
from estimating.intake.reading import Intake, Options, read_file

IN, CELL = "Mark,Kind,Qty,Width,Height", "Mark,Kind,Qty,Size"


def read(*rows: str, **answers: str) -> Intake:
    """The rows read; each keyword is the answer to the questions of its code."""
    data = "\n".join(rows).encode()
    given: dict[str, str] = {}
    for code, answer in answers.items():
        found = [q.id for q in read_file(data, Options(answers=given)).questions if q.code == code]
        assert found, code
        given |= dict.fromkeys(found, answer)
    return read_file(data, Options(answers=given))


def blocking(intake: Intake) -> list[str]:
    return [question.code for question in intake.questions if question.severity == "blocks_costing" and question.open]


def choices(intake: Intake, code: str) -> tuple[str, ...]:
    return next(question.choices for question in intake.questions if question.code == code)


@pytest.mark.parametrize(
    ("cell", "count"),
    [("2 dozen", 24), ("two dozen", 24), ("a dozen", 12), ("half dozen", 6), ("4 (four)", 4), ("two (2)", 2),
     ("2 units", 2), ("2+3", 5), ("(2) + (3)", 5), ("6 (6 total)", 6), ("24 (2 dozen)", 24), ("3 Dutzend", 36)],
)  # fmt: skip
def test_counts_in_words(cell: str, count: int) -> None:
    intake = read(IN, f"W1,Window,{cell},36 in,60 in")
    assert (intake.lines[0]["quantity"], blocking(intake)) == (count, [])


@pytest.mark.parametrize(
    "cell", ["four (5)", "6+/-", "6±", "~6", "2 typ.", "6 (3+3)", "1 1/2 dozen", "4 4", "4+", ">4", "4 -"]
)
def test_counts_that_are_asked_about(cell: str) -> None:
    intake = read(IN, f"W1,Window,{cell},36 in,60 in")
    assert blocking(intake) == ["quantity_unreadable"] and "quantity" not in intake.lines[0]


@pytest.mark.parametrize(
    ("cell", "code"),
    [
        ('36"" x 60"" x 72""', "words_beside_size"),  # no depth of a wall
        ('36"" x 60"" 45 deg', "words_beside_size"),
        ('36"" x 60 in at center', "words_beside_size"),
        ("36 in x 60 in (E)", "words_beside_size"),
        ("36 in x 60 in +1/4", "words_beside_size"),
        ('36"" x 60"" x 2', "count_beside_size"),
        ('36"" x 60"" pair', "count_words"),
        ('36"" x 60"" x3', "count_beside_size"),
        ('36"" x 60"" TYP x 4', "count_beside_size"),
        ('36"" x 60"" x 3 ea.', "words_beside_size"),
        ('36"" x 60"" w/ 12"" arch', "shape_words"),
        ("36 in o.c. x 60 in", "size_unreadable"),
    ],
)
def test_numbers_and_words_beside_a_size_block(cell: str, code: str) -> None:
    assert blocking(read(CELL, f'W1,Window,2,"{cell}"')) == [code]


@pytest.mark.parametrize("cell", ["36 in o.c.", "36 in R", "36 in (E)", "30 in +1/4 -0", "36 in at center"])
def test_numbers_and_words_beside_one_length_block(cell: str) -> None:
    intake = read(IN, f'W1,Window,2,"{cell}",60 in')
    assert blocking(intake) == ["words_beside_size"]
    assert blocking(read(IN, f'W1,Window,2,"{cell}",60 in', words_beside_size="as_drawn")) == []
    assert read(IN, f'W1,Window,2,"{cell}",60 in', words_beside_size="32 in x 60 in").lines[0]["width"] == "32 in"


@pytest.mark.parametrize(
    "cell", ['36"" x 80"" x 1 3/4""', '36"" x 60"" V.I.F.', '36"" x 60"" fixed', "± 36 in x 60 in"]
)
def test_depths_and_words_that_change_no_size_do_not(cell: str) -> None:
    assert blocking(read(CELL, f'W1,Window,2,"{cell}"')) == []


def test_a_w_with_a_slash_is_no_width() -> None:
    line = read(CELL, 'W1,Window,2,"36"" x 60"" w/ 12"" arch"').lines[0]
    assert (line["width"], line["height"]) == ('36"', '60"')


def test_two_lengths_in_a_cell_of_widths_beside_a_height_are_asked_about() -> None:
    intake = read(IN, "W1,Window,2,2 x 36 in,60 in")
    assert (blocking(intake), choices(intake, "size_unreadable")[:2]) == (["size_unreadable"], ("2 in", "36 in"))
    line = read(IN, "W1,Window,2,2 x 36 in,60 in", size_unreadable="36 in").lines[0]
    assert (line["width"], line["height"], line["quantity"]) == ("36 in", "60 in", 2)


@pytest.mark.parametrize(
    ("row", "unit"), [('W1,Window,1,"1,200 x 1,500 mm"', "Size"), ('W1,Window,1,"1,200 x 1,500"', "Size (mm)")]
)
def test_a_comma_before_three_digits_is_asked_once(row: str, unit: str) -> None:
    head = f"Mark,Kind,Qty,{unit}"
    assert blocking(read(head, row)) == ["decimal_comma"]
    line = read(head, row, decimal_comma="thousands").lines[0]
    assert (line["width"], line["height"]) == ("1200 mm", "1500 mm")


def test_a_comma_before_three_digits_of_metres_is_decimal() -> None:
    """Read as a mark of thousands it would be an opening of a kilometre."""
    intake = read("Mark;Kind;Qty;Dimensions [m]", "W1;Window;1;1,260 x 1,385")
    assert blocking(intake) == [] and (intake.lines[0]["width"], intake.lines[0]["height"]) == ("1.260 m", "1.385 m")


def test_a_zero_sill_is_a_level() -> None:
    rows = [
        "Mark;Kind;Qty;Width;Sill height;Head height",
        "D1;Door;1;1,00 m;0,00 m;2,10 m",
        "D2;Door;1;1,00 m;0;2,10 m",
        "D3;Door;1;1,00 m;±0,00;2,10 m",
    ]
    intake = read(*rows)
    assert (blocking(intake), [line["height"] for line in intake.lines]) == ([], ["2100 mm"] * 3)


@pytest.mark.parametrize(
    ("heading", "row", "unit", "sizes"),
    [
        ("Width (in),Height (in)", "900,1500", "as_mm", ("900 mm", "1500 mm")),
        ("Width (mm),Height (mm)", "36,60", "as_in", ("36 in", "60 in")),
        ("Width (mm),Height (mm)", "1.200,1.500", "as_m", ("1.200 m", "1.500 m")),
        ("Width (ft),Height (ft)", "90,120", "as_in", ("90 in", "120 in")),
    ],
)
def test_sizes_in_a_unit_that_no_opening_has_block_and_offer_the_right_one(
    heading: str, row: str, unit: str, sizes: tuple[str, str]
) -> None:
    rows = (f"Mark,Kind,Qty,{heading}", f"W1,Window,1,{row}")
    assert blocking(read(*rows)) == ["size_out_of_band"]
    assert unit in choices(read(*rows), "size_out_of_band")
    line = read(*rows, size_out_of_band=unit).lines[0]
    assert (line["width"], line["height"]) == sizes
    assert blocking(read(*rows, size_out_of_band="as_read")) == []


def test_a_diameter_in_a_unit_that_no_opening_has() -> None:
    rows = ("Mark,Kind,Qty,Diameter (mm)", "W1,Window,1,36")
    assert read(*rows, size_out_of_band="as_in").lines[0]["diameter"] == "36 in"
    assert read(*rows, size_out_of_band="30 in").lines[0]["diameter"] == "30 in"


def test_a_small_side_is_asked_about_before_the_price_is_issued() -> None:
    intake = read(IN, "V1,Louvre,1,8 in,3 in")
    assert blocking(intake) == [] and "size_out_of_band" in {question.code for question in intake.questions}


@pytest.mark.parametrize("cell", ['36"" x 60"" TYP x 4', '36"" x 60"" (x4)'])
def test_a_count_beside_a_size_multiplies_when_a_person_says_so(cell: str) -> None:
    assert read(CELL, f'W1,Window,2,"{cell}"', count_beside_size="multiplied").lines[0]["quantity"] == 8


@pytest.mark.parametrize(
    "cell", ["36 in x 60 in (914 x 1524 mm)", '3\'-0"" x 5\'-0"" [914 x 1524]', "36 x 60 in [914 mm x 1524 mm]"]
)
def test_a_size_said_again_in_the_other_system_is_one_size(cell: str) -> None:
    intake = read(CELL, f'W1,Window,2,"{cell}"')
    assert blocking(intake) == [] and {"width", "height"} <= set(intake.lines[0])


@pytest.mark.parametrize("cell", ["36 in (914 mm)", '3\'-0"" [914]', "36 in / 914 mm", "36 in [915]"])
def test_a_length_said_again_in_the_other_system_is_one_length(cell: str) -> None:
    assert blocking(read(IN, f'W1,Window,2,"{cell}",60 in')) == []


@pytest.mark.parametrize("cell", ["36 in (900 mm)", '3\'-0"" [900]', "36 in / 38 in", "900 mm (914 mm)"])
def test_two_lengths_that_disagree_are_asked_about(cell: str) -> None:
    assert blocking(read(IN, f'W1,Window,2,"{cell}",60 in')) == ["size_unreadable"]


@pytest.mark.parametrize("cell", ["1200/1210", "900/1000"])
def test_two_lengths_with_a_slash_are_no_fraction(cell: str) -> None:
    rows = ("Mark,Kind,Qty,Width (mm),Height (mm)", f"W1,Window,2,{cell},1500")
    assert blocking(read(*rows)) == ["size_unreadable"]
    assert choices(read(*rows), "size_unreadable")[0] == f"{cell.partition('/')[0]} mm"


def test_fractions_of_an_inch_are_read() -> None:
    assert blocking(read(IN, "W1,Window,2,35 7/8 in,59 63/64 in")) == []


@pytest.mark.parametrize(
    ("row", "shape"), [("36 in,36 in,36 in", "round"), (",,36 in", "round"), ("36 in,60 in,", "rectangle")]
)
def test_a_diameter_beside_equal_sides_is_round(row: str, shape: str) -> None:
    intake = read(f"{IN},Diameter", f"W1,Window,2,{row}")
    assert (blocking(intake), intake.lines[0].get("shape", "rectangle")) == ([], shape)


def test_a_diameter_beside_other_sides_is_asked_about_with_a_way_out() -> None:
    rows = (f"{IN},Diameter", "W1,Window,2,36 in,48 in,36 in")
    assert blocking(read(*rows)) == ["shape_words"]
    assert read(*rows, shape_words="round").lines[0]["diameter"] == "36 in"
    assert blocking(read(*rows, shape_words="rectangle")) == []


def test_a_rough_size_that_answers_is_not_enlarged() -> None:
    """The rough opening of two leaves is given whole; what the basis of the table adds is for the sizes as drawn."""
    rows = ("Mark,Kind,Qty,Leaf W,Leaf H,Leaves", "D1,Door,4,36 in,84 in,1", "D2,Door,1,36 in,84 in,2")
    lines = read(*rows, leaves="76 in x 86 in", size_basis="4 in x 2 in").lines
    assert [(line["width"], line["height"]) for line in lines] == [("1016 mm", "2184.4 mm"), ("76 in", "86 in")]


@pytest.mark.parametrize(
    ("row", "code"),
    [
        ('W1,Window,"36"" x 60""",1,2,TYP x 4', "typical_count"),
        ('W1,Window,"36"" x 60"" x4",1,2,', "count_beside_size"),
    ],
)
def test_what_multiplies_counts_by_place_is_asked_about(row: str, code: str) -> None:
    rows = ("Mark,Kind,Size,North,South,Remarks", row)
    assert blocking(read(*rows)) == [code]
    assert [line["quantity"] for line in read(*rows, **{code: "multiplied"}).lines] == [4, 8]
    assert [line["quantity"] for line in read(*rows, **{code: "in_all"}).lines] == [1, 2]


@pytest.mark.parametrize(
    ("cell", "size"),
    [
        ("3-0/5-0", ("3' 0", "5' 0")),
        ("2-8 1/2 / 6-8", ("2' 8 1/2", "6' 8")),
        ('3\'-0""/5\'-0""', ("3'-0\"", "5'-0\"")),
    ],
)
def test_feet_and_inches_with_a_slash_between_are_width_and_height(cell: str, size: tuple[str, str]) -> None:
    """Common practice, no source."""
    intake = read("Mark,Kind,Qty,Size (ft-in)", f'W1,Window,2,"{cell}"')
    line = intake.lines[0]
    assert (line.get("width"), line.get("height")) == size
    assert blocking(intake) == []


@pytest.mark.parametrize("cell", ['36""/42""', "3-0/5-0/1-0", "3-0/5-0R", "3-0/5-0 (2-wide)"])
def test_other_slashes_and_what_stands_behind_are_asked_about(cell: str) -> None:
    assert blocking(read("Mark,Kind,Qty,Size (ft-in)", f'W1,Window,2,"{cell}"')) != []


@pytest.mark.parametrize(
    ("cell", "could_be"),
    [("361/2", ("36 1/2 in",)), ('601/2"', ("60 1/2 in",)), ("83/4", ("8 3/4 in",)), ("36 3/2", ())],
)
def test_a_part_of_more_than_an_inch_has_lost_its_space(cell: str, could_be: tuple[str, ...]) -> None:
    read = read_dimension(cell, "width", "in", "")
    assert read.found == {} and read.wrong["width"].could_be == could_be


def test_so_has_one_in_a_cell_of_width_and_height() -> None:
    assert "width" not in read_size("361/2 x 60 in", "in", "").found


@pytest.mark.parametrize("cell", ["36 1/2", "36-1/2", "7/8", "3'-4 3/8\"", "6'-8 0/4\""])
def test_parts_of_an_inch_are_read(cell: str) -> None:
    assert read_dimension(cell, "width", "in", "").wrong == {}


@pytest.mark.parametrize("cell", ["1 200", "1'200", "1\u00a0200", "1 200 mm"])
def test_thousands_of_millimetres_set_apart_are_read(cell: str) -> None:
    assert read_dimension(cell, "width", "mm", "").found["width"].text == "1200 mm"


def test_millimetres_in_brackets_are_no_count() -> None:
    assert read_dimension("48 in (1219)", "width", "", "").counts == ()
    assert [one.count for one in read_dimension("48 in (2)", "width", "", "").counts] == [2]
