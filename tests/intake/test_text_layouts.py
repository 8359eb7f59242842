"""How pasted and hand-made texts are laid out: notes around tables, loose quotes, single spaces, columns of a drawing.

Every text is invented. What is expected stands in the text itself: openings, or a question about what is not clear.
"""

from __future__ import annotations

import pytest

from estimating.intake.asking import BLOCKS_COSTING
from estimating.intake.reading import Intake, read_file
from tests.intake.workbooks import workbook

ROWS = [
    ["Mark", "Kind", "Qty", "Width", "Height", "Elevation"],
    ["W1", "Window", "4", "36 in", "60 in", "North"],
    ["W2", "Window", "2", "48 in", "60 in", "South"],
    ["D1", "Door", "1", "40 in", "86 in", "South"],
]
READ = [("W1", 4, "36 in", "60 in"), ("W2", 2, "48 in", "60 in"), ("D1", 1, "40 in", "86 in")]


def lines(intake: Intake) -> list[tuple[object, ...]]:
    return [tuple(line.get(name) for name in ("mark", "quantity", "width", "height")) for line in intake.lines]


def blocking(intake: Intake) -> set[str]:
    return {question.code for question in intake.questions if question.open and question.severity == BLOCKS_COSTING}


def text(*rows: str) -> Intake:
    return read_file("\n".join(rows).encode())


@pytest.mark.parametrize("sign", [";", "|", ",", "\t", " | "])
@pytest.mark.parametrize("above", ["", "WINDOW SCHEDULE\n", "Hi Sam,\nhere are the openings; counts below.\n\n"])
@pytest.mark.parametrize(
    "below",
    [
        "\n\n1. Glazing per spec.\n2. See A-501.",
        "\n\n- tempered glass, low-e; argon\n- screens",
        "\n(1) insulated\n(2) clear",
    ],
)
def test_words_around_a_table_are_notes(sign: str, above: str, below: str) -> None:
    intake = read_file((above + "\n".join(sign.join(row) for row in ROWS) + below).encode())
    assert (lines(intake), blocking(intake)) == (READ, set())


@pytest.mark.parametrize(
    "block",
    [
        [["GL-1", "Insulated, clear", "1 in"], ["GL-2", "Obscure", "1 in"]],
        [["Color", "Count"], ["Bronze", "4"]],
        [["Rev", "Date", "Description"], ["1", "2026-03-14", "Addendum 1"]],
        [["Approved:", "____"]],
    ],
)
def test_a_small_table_below_the_lines_is_told_and_no_line(block: list[list[str]]) -> None:
    intake = read_file(workbook({"A-601": [*ROWS, [], *block]}))
    assert (lines(intake), blocking(intake)) == (READ, set())
    assert "rows_apart" in {question.code for question in intake.questions}


def test_words_of_scope_in_a_small_table_are_heard() -> None:
    intake = read_file(workbook({"A-601": [*ROWS, [], ["Item", "Remark"], ["Glazing", "W2 not in contract"]]}))
    assert lines(intake) == READ
    assert blocking(intake) == {"scope_words"}


@pytest.mark.parametrize(
    "row", [["W3", "Window", "2"], ["W2", "Window", "", "", "", "North"], ["X9", "Window", "1"], ["", "", "", "30 in"]]
)
def test_a_row_below_a_blank_one_that_may_be_an_opening_is_asked(row: list[str]) -> None:
    assert blocking(read_file(workbook({"A-601": [*ROWS, [], row]})))


def test_inch_marks_inside_quotes_are_read_and_told() -> None:
    intake = text("Mark,Kind,Qty,Size", 'W1,Window,4,"36" x 60""', 'W2,Window,2,"48"" x 60"""')
    assert lines(intake) == [("W1", 4, '36"', '60"'), ("W2", 2, '48"', '60"')]
    assert "loose_quotes" in {question.code for question in intake.questions}


def test_a_lone_quote_between_tabs_repeats_the_cell_above() -> None:
    intake = text("Mark\tKind\tQty\tSize", "W1\tDoor\t4\t36 in x 60 in", 'W2\t"\t2\t48 in x 60 in')
    assert [line["kind"] for line in intake.lines] == ["door", "door"]
    assert blocking(intake) == {"ditto"}


def test_single_spaces_hold_columns_apart_where_each_row_has_a_word_for_each_heading() -> None:
    intake = text("Mark Kind Qty R.O. Width R.O. Height", "W1 Window 4 36 in 60 in", "W2 Window 2 3'-0 1/2\" 5'-0\"")
    assert lines(intake) == [("W1", 4, "36 in", "60 in"), ("W2", 2, "3'-0 1/2\"", "5'-0\"")]
    assert blocking(intake) == set()


def test_single_spaces_without_headings_are_asked() -> None:
    assert blocking(text("W1 Window 4 36 in 60 in North", "W2 Window 2 48 in 60 in South")) == {"columns_unknown"}


def test_a_row_of_single_spaces_with_a_word_less_is_asked() -> None:
    intake = text("Mark Kind Qty Width Height", "W1 Window 4 36 in 60 in", "W2 Window 48 in 60 in")
    assert {"quantity_unknown", "size_unknown"} <= blocking(intake)


def test_columns_copied_from_a_drawing_keep_their_order() -> None:
    head = "MARK  QTY  R.O. WIDTH  R.O. HEIGHT  ELEVATION  REMARKS"
    intake = text(head, "W1  4   36 in   60 in  NORTH", "W2    2  48 in   60 in   EGRESS")
    assert lines(intake) == [("W1", 4, "36 in", "60 in"), ("W2", 2, "48 in", "60 in")]
    assert [line.get("elevation") for line in intake.lines] == ["NORTH", None]


def test_a_place_over_the_lines_of_a_list_is_theirs() -> None:
    intake = text("North elevation:", 'W1 (4) 36" x 60"', "South elevation:", 'W1 (3) 36" x 60"')
    assert [line["elevation"] for line in intake.lines] == ["North", "South"]


@pytest.mark.parametrize(("cell", "read"), [("213,5", "213.5 cm"), ("88,25", "88.25 cm"), ("1,213", None)])
def test_only_three_digits_behind_a_comma_are_in_doubt(cell: str, read: str | None) -> None:
    intake = text("Mark;Kind;Qty;Width (cm);Height (cm)", f"W1;Window;2;{cell};88", "W2;Window;1;90;150")
    assert intake.lines[0].get("width") == read
    assert blocking(intake) == (set() if read else {"decimal_comma"})
