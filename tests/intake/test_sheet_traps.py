"""What spreadsheets and lists do to schedules, each shown by a small file of our own making (invented content)."""

from __future__ import annotations

import io
from collections.abc import Sequence

import pytest
import xlsxwriter

from estimating.intake.questions import Question
from estimating.intake.reading import Intake, Options, read_file
from rates.core.problems import Refused
from rates.core.tables import ACCESS
from rates.core.units import read_length
from tests.intake.workbooks import workbook

HEAD = ["MARK", "QTY", "WIDTH (IN)", "HEIGHT (IN)"]
Row = Sequence[object]


def csv(*rows: str) -> Intake:
    return read_file("\n".join(rows).encode())


def book(*rows: Row) -> bytes:
    return workbook({"Windows": rows})


def codes(intake: Intake) -> set[str]:
    return {question.code for question in intake.questions}


def asked(intake: Intake, code: str) -> Question:
    found = [question for question in intake.questions if question.code == code]
    assert found, (code, codes(intake))
    return found[0]


def answered(data: bytes, code: str, answer: str, options: Options | None = None) -> Intake:
    question = asked(read_file(data, options), code)
    return read_file(data, Options(answers={question.id: answer}))


def sizes(intake: Intake) -> list[tuple[str | None, str | None]]:
    return [(line.get("width"), line.get("height")) for line in intake.lines]


@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
def test_delimiters(delimiter: str) -> None:
    rows = [row.replace(",", delimiter) for row in ("TITLE", "MARK,QTY,W (MM),H (MM)", "W1,2,900,1200", "W2,1,600,600")]
    intake = csv(*rows)
    assert [(line["mark"], line["quantity"], line["width"]) for line in intake.lines] == [
        ("W1", 2, "900 mm"),
        ("W2", 1, "600 mm"),
    ]


@pytest.mark.parametrize("delimiter", [",", "\t"])
def test_a_list_without_counts_is_asked_once_and_priced_when_answered(delimiter: str) -> None:
    rows = ["MARK,SIZE,NOTE", "W1,36 in x 48 in,", "W2,30 in x 30 in,TYP x 4", "W3,30 in x 36 in,"]
    data = "\n".join(rows).replace(",", delimiter).encode()
    blocking = [q.code for q in read_file(data).questions if q.severity == "blocks_costing"]
    assert blocking == ["no_quantity_column"]
    intake = answered(data, "no_quantity_column", "each_line_is_one")
    assert [line["quantity"] for line in intake.lines] == [1, 4, 1]
    assert [q.code for q in intake.questions if q.open and q.severity == "blocks_costing"] == []


def test_questions_count_in_words_that_fit_and_offer_every_access() -> None:
    one, two = (
        csv("mark,quantity,width_in,height_in", "A,1,36,48"),
        csv("mark,quantity,width_in,height_in", "A,3,36,48", "B,1,30,48"),
    )
    assert asked(one, "access_missing").sentence.startswith("No access is given for 1 opening on 1 line. ")
    assert asked(two, "access_missing").sentence.startswith("No access is given for 4 openings on 2 lines. ")
    assert set(asked(one, "access_missing").choices) == set(ACCESS)


def test_columns_held_apart_by_spaces() -> None:
    intake = csv("MARK   QTY   SIZE", "W1     2     3'-0\" x 5'-0\"", "W2     1     2'-6\" x 4'-0\"")
    assert sizes(intake) == [("3'-0\"", "5'-0\""), ("2'-6\"", "4'-0\"")]


def test_a_list_pasted_from_a_drawing() -> None:
    intake = csv("W1 (2) 3'-0\" x 5'-0\"", "4 ea D1 3'-0\" x 6'-8\" pair", 'W-3: 36" x 48" QTY 3', "see A-801")
    assert [(line["mark"], line["quantity"], line["width"], line["height"]) for line in intake.lines] == [
        ("W1", 2, "3'-0\"", "5'-0\""),
        ("D1", 4, "3'-0\"", "6'-8\""),
        ("W-3", 3, '36"', '48"'),
    ]
    assert intake.notes == (("row 4", "see A-801"),)


def test_the_unit_stands_in_the_heading() -> None:
    assert sizes(csv("MARK,QTY,WIDTH (MM),HEIGHT [cm]", "W1,1,900,120")) == [("900 mm", "120 cm")]


def test_a_unit_row_under_the_heading() -> None:
    assert sizes(csv("MARK,QTY,WIDTH,HEIGHT", ",,(mm),(mm)", "W1,1,900,1200")) == [("900 mm", "1200 mm")]


def test_a_title_declares_the_unit() -> None:
    rows = ("ALL DIMENSIONS IN MILLIMETERS,,,", "MARK,QTY,WIDTH,HEIGHT", "W1,1,900,1200")
    assert sizes(csv(*rows)) == [("900 mm", "1200 mm")]


def test_a_bare_number_without_any_unit_is_asked_about_once_for_its_column() -> None:
    data = b"MARK,QTY,WIDTH,HEIGHT\nW1,1,36,48 in\nW2,1,40,50 in\n"
    intake = read_file(data)
    question = asked(intake, "unit_unknown")
    assert question.severity == "blocks_costing" and question.cells == ("C2", "C3")
    assert sizes(answered(data, "unit_unknown", "in")) == [("36 in", "48 in"), ("40 in", "50 in")]


def formatted(*cells: tuple[int, int, float, str]) -> bytes:
    """One window whose numbers at (row, column) carry a number format."""
    held = io.BytesIO()
    with xlsxwriter.Workbook(held, {"in_memory": True}) as made:
        sheet = made.add_worksheet("Windows")
        sheet.write_row(0, 0, ["MARK", "QTY", "WIDTH", "HEIGHT (IN)"])
        sheet.write_row(1, 0, ["D1", 1, "36 in", 48])
        for row, column, number, shape in cells:
            sheet.write_number(row, column, number, made.add_format({"num_format": shape}))
    return held.getvalue()


@pytest.mark.parametrize(("shape", "read"), [('0" mm"', "900 mm"), ('0.0"mm"', "900 mm"), ('0\\"', '900 "')])
def test_a_number_format_that_shows_the_unit(shape: str, read: str) -> None:
    assert read_file(formatted((1, 2, 900, shape))).lines[0]["width"] == read


@pytest.mark.parametrize(
    ("size", "read"),
    [
        ("3'-0\" x 6'-8\"", ("3'-0\"", "6'-8\"")),
        ("3'-0\" X 6'-8\"", ("3'-0\"", "6'-8\"")),
        ("3’-0” × 6’-8”", ("3’-0”", "6’-8”")),
        ("3'-0\" by 6'-8\"", ("3'-0\"", "6'-8\"")),
        ("6'-8\" H x 3'-0\" W", ("3'-0\"", "6'-8\"")),
        ("3'-0''x6'-8''", ("3'-0''", "6'-8''")),
    ],
)
def test_two_sizes_in_one_cell(size: str, read: tuple[str, str]) -> None:
    assert sizes(read_file(book(["MARK", "QTY", "R.O. SIZE"], ["D1", 1, size]))) == [read]


def test_shorthand_only_where_the_column_is_declared_so() -> None:
    declared = read_file(book(["MARK", "QTY", "SIZE (FT-IN)"], ["D1", 1, "3068"]))
    assert sizes(declared) == [("3' 0\"", "6' 8\"")]
    data = book(["MARK", "QTY", "SIZE"], ["D1", 1, "3068"])
    assert asked(read_file(data), "unit_unknown").cells == ("Windows!C2",)
    assert sizes(answered(data, "unit_unknown", "ft_in")) == [("3' 0\"", "6' 8\"")]


def test_blank_means_unknown_and_zero_means_none() -> None:
    data = book(HEAD, ["W1", None, 36, 48], ["W2", 0, 36, 48])
    intake = read_file(data)
    assert "quantity" not in intake.lines[0] and intake.lines[1]["quantity"] == 0
    assert asked(intake, "quantity_unknown").cells == ("Windows!B2",)
    assert answered(data, "quantity_unknown", "4").lines[0]["quantity"] == 4


def test_float_noise_in_a_cell_is_rounded_and_told() -> None:
    intake = csv("MARK,QTY,WIDTH_M,HEIGHT_M".lower(), "W1,1,2.419999999999998,1.2", "W2,1,2.42,1.2")
    assert sizes(intake) == [("2.42 m", "1.2 m"), ("2.42 m", "1.2 m")]
    assert intake.read(0)["fields"]["width"]["written"] == "2.419999999999998"


def test_a_snapped_length_is_told() -> None:
    intake = csv("MARK,QTY,WIDTH,HEIGHT", "W1,1,6.6667',4'")
    assert intake.read(0)["fields"]["width"]["written"] == "6.6667'"


def test_a_size_that_a_spreadsheet_turned_into_a_date_is_asked_about() -> None:
    data = formatted((1, 3, 46181, "d-mmm"))  # 8 June 2026
    intake = read_file(data)
    question = asked(intake, "size_unreadable")
    assert question.choices == ("6'-8\"", "8'-6\"", "set_aside") and question.cells == ("Windows!D2",)
    assert sizes(answered(data, "size_unreadable", "6'-8\"")) == [("36 in", "6'-8\"")]


def test_decimal_comma_and_thousands_are_not_told_apart_by_guessing() -> None:
    data = b"MARK;QTY;WIDTH (MM);HEIGHT (MM)\nW1;1;1,200;1500\n"
    question = asked(read_file(data), "decimal_comma")
    assert (question.choices, question.cells) == (("decimal", "thousands"), ("C2",))
    assert question.severity == "blocks_costing" and "width" not in read_file(data).lines[0]
    assert read_length(answered(data, "decimal_comma", "thousands").lines[0]["width"]) == read_length("1200 mm")
    assert read_length(answered(data, "decimal_comma", "decimal").lines[0]["width"]) == read_length("1.200 mm")


def test_typ_times_four_expands_and_keeps_the_original() -> None:
    intake = read_file(book(HEAD, ["W1", "TYP x 4", 36, 48]))
    assert intake.lines[0]["quantity"] == 4
    assert intake.read(0)["fields"]["quantity"]["written"] == "TYP x 4"


def test_a_count_beside_typ_is_asked_about() -> None:
    data = book(HEAD, ["W1", "3 TYP x 4", 36, 48])
    assert read_file(data).lines[0]["quantity"] == 12
    assert asked(read_file(data), "typical_count").choices == ("multiplied", "in_all")
    assert answered(data, "typical_count", "in_all").lines[0]["quantity"] == 3
    assert answered(data, "typical_count", "multiplied").lines[0]["quantity"] == 12


@pytest.mark.parametrize("storeys", ["2-4", "LEVELS 2 THRU 4", "2ND-4TH FLOOR", "L2, L3 & L4"])
def test_typical_floors_expand_and_keep_the_original(storeys: str) -> None:
    data = book([*HEAD, "LEVEL"], ["W1", 5, 36, 48, storeys])
    intake = read_file(data)
    assert [line["quantity"] for line in intake.lines] == [5, 5, 5]
    assert intake.read(2)["fields"]["storey"]["written"] == storeys
    together = answered(data, "typical_storeys", "on_all")
    assert [(line["quantity"], line["storey"]) for line in together.lines] == [(5, storeys)]


def test_merged_cells_say_their_word_for_each_row() -> None:
    held = io.BytesIO()
    with xlsxwriter.Workbook(held, {"in_memory": True}) as made:
        sheet = made.add_worksheet("Windows")
        sheet.write_row(0, 0, ["LEVEL", *HEAD])
        for r in range(1, 4):
            sheet.write_row(r, 1, [f"W{r}", 2, 36, 48])
        sheet.merge_range("A2:A4", "Level 2")
    assert [line["storey"] for line in read_file(held.getvalue()).lines] == ["Level 2"] * 3


def test_a_heading_repeated_on_each_page_is_no_line() -> None:
    head = "MARK,QTY,WIDTH (IN),HEIGHT (IN)"
    assert [line["mark"] for line in csv(head, "W1,1,36,48", head, "W2,1,36,48").lines] == ["W1", "W2"]


def test_several_tables_on_one_sheet() -> None:
    intake = csv(
        "WINDOWS,,,", "MARK,QTY,WIDTH (IN),HEIGHT (IN)", "W1,1,36,48", ",,,", "DOORS,,,",
        "DOOR NO.,SIZE,QTY,", "D1,3'-0\" x 7'-0\",2,",
    )  # fmt: skip
    assert [(line["mark"], line["kind"], line["quantity"]) for line in intake.lines] == [
        ("W1", "window", 1),
        ("D1", "door", 2),
    ]


def test_counts_by_elevation_against_the_schedules_total() -> None:
    data = b"MARK,WIDTH (IN),HEIGHT (IN),NORTH,SOUTH,TOTAL QTY\nW1,36,48,3,2,5\nW2,36,60,1,1,4\n"
    intake = read_file(data)
    assert [(line["mark"], line["elevation"], line["quantity"]) for line in intake.lines] == [
        ("W1", "North", 3),
        ("W1", "South", 2),
        ("W2", "North", 1),
        ("W2", "South", 1),
    ]
    question = asked(intake, "total_against_places")
    assert question.cells == ("F3",) and question.severity == "blocks_costing"
    assert answered(data, "total_against_places", "places_are_right").lines == intake.lines


def test_a_totals_row_that_disagrees_is_asked_about_and_is_no_opening() -> None:
    intake = csv("MARK,QTY,WIDTH (IN),HEIGHT (IN)", "W1,2,36,48", "W2,3,36,60", "TOTAL,6,,")
    assert len(intake.lines) == 2
    question = asked(intake, "total_mismatch")
    assert "6" in question.sentence and "5" in question.sentence and question.cells == ("B4",)


def test_section_headings_give_the_storey_and_say_so() -> None:
    intake = csv("MARK,QTY,WIDTH (IN),HEIGHT (IN)", "LEVEL 1,,,", "W1,2,36,48", "LEVEL 2,,,", "W2,3,36,60")
    assert [line["storey"] for line in intake.lines] == ["LEVEL 1", "LEVEL 2"]
    assert "section_place" in codes(intake)


def test_nominal_sizes_are_not_taken_for_rough_ones() -> None:
    data = b"MARK,QTY,NOMINAL WIDTH (IN),NOMINAL HEIGHT (IN)\nW1,1,36,48\n"
    assert asked(read_file(data), "size_basis").severity == "blocks_costing"
    assert sizes(answered(data, "size_basis", "1/2 in")) == [("927.1 mm", "1231.9 mm")]  # 36.5 and 48.5 in


def test_a_mark_keeps_its_zeros() -> None:
    assert [line["mark"] for line in csv("MARK,QTY,W (IN),H (IN)", "01,1,36,48", "1,1,40,50").lines] == ["01", "1"]


def test_curtain_walls_are_asked_about_and_excluded_with_a_reason() -> None:
    data = b"MARK,QTY,WIDTH (IN),HEIGHT (IN),TYPE\nCW1,1,120,96,curtain wall by others\nW1,1,36,48,window\n"
    assert asked(read_file(data), "scope_words").severity == "blocks_costing"
    intake = answered(data, "scope_words", "set_aside")
    assert intake.lines[0]["excluded"] == {"reason": "curtain wall by others"}
    assert "excluded" not in answered(data, "scope_words", "as_drawn").lines[0]


def test_a_cell_with_a_formulas_beginning_is_text() -> None:
    intake = csv("MARK,QTY,WIDTH (IN),HEIGHT (IN),REMARKS", '=HYPERLINK("x"),1,36,48,+1')
    assert intake.lines[0]["mark"].startswith("=HYPERLINK")


def test_no_heading_is_refused_with_what_is_needed() -> None:
    with pytest.raises(Refused) as refused:
        csv("a,b,c", "1,2,3")
    assert [problem.code for problem in refused.value.problems] == ["no_heading"]
