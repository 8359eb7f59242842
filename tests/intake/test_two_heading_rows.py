"""Headings of two rows, in workbooks, in CSV and in text copied from a drawing: groups over sizes, places over counts.

Source: common practice in schedules, none published; invented content, read by hand.
"""

from __future__ import annotations

import pytest
from xlsxwriter.utility import xl_cell_to_rowcol
from xlsxwriter.worksheet import Worksheet

from tests.corpus.reader import read_bytes
from tests.intake.test_words_beside_lines import blocking
from tests.intake.workbooks import workbook

PASTED = """\
MARK  QTY  ROUGH OPENING      HEAD     TYPE
           WIDTH    HEIGHT    HEIGHT
A     4    3'-0"    5'-0"     7'-0"    SH
B          4'-0"    5'-0"     7'-0"    FX
"""
COUNTED = [("A", 4, "North"), ("A", 2, "South"), ("A", 1, "East"), ("B", 2, "North"), ("B", 3, "East")]


def counted(data: bytes, place: str = "elevation") -> list[tuple[object, object, object]]:
    """Mark, count and place of each line; nothing may be asked before costing."""
    intake = read_bytes(data)
    assert blocking(intake) == {}
    return [(line["mark"], line["quantity"], line[place]) for line in intake.lines]


def test_groups_over_sizes_in_pasted_text() -> None:
    intake = read_bytes(PASTED.encode())
    assert [(line["mark"], line["width"], line["height"]) for line in intake.lines] == [
        ("A", "3'-0\"", "5'-0\""),
        ("B", "4'-0\"", "5'-0\""),
    ]
    assert intake.lines[0]["quantity"] == 4
    assert blocking(intake) == {"quantity_unknown": ["B"]}


def test_a_group_over_two_headings_alone_in_pasted_text() -> None:
    text = (
        "MARK   QTY   R.O. SIZE              LEVEL   REMARKS\n"
        "             WIDTH      HEIGHT\n"
        "W1     4     3'-0\"      5'-0\"       1       TEMPERED\n"
        "W2     2     4'-0\"      5'-0\"       2\n"
    )
    intake = read_bytes(text.encode())
    assert [(line["width"], line["height"], line["storey"]) for line in intake.lines] == [
        ("3'-0\"", "5'-0\"", "1"),
        ("4'-0\"", "5'-0\"", "2"),
    ]
    assert blocking(intake) == {}


def test_elevations_by_their_letters_under_a_heading_of_counts() -> None:
    pasted = (
        "MARK    SIZE               COUNT\n"
        "                           N     S     E\n"
        "A       3'-0\" x 5'-0\"      4     2     1\n"
        "B       4'-0\" x 5'-0\"      2           3\n"
    )
    listed = "MARK,SIZE,QTY,,,REMARKS\n,,N,S,E,\nA,36 in x 60 in,4,2,1,\nB,48 in x 60 in,2,,3,\n"
    book = workbook(
        {"W": [("MARK", "SIZE", "QTY", None, None), (None, None, "N", "S", "E"),
               ("A", "36 in x 60 in", 4, 2, 1), ("B", "48 in x 60 in", 2, None, 3)]}
    )  # fmt: skip
    for data in (pasted.encode(), listed.encode(), book):
        assert counted(data) == COUNTED


@pytest.mark.parametrize("heading", ["QTY", "COUNT", "No. of openings"])
def test_storeys_by_ordinals_under_a_heading_of_counts(heading: str) -> None:
    text = f"MARK,SIZE,{heading},,\n,,1ST,2ND,3RD\nA,36 in x 60 in,4,2,1\nB,48 in x 60 in,2,,3\n"
    assert counted(text.encode(), "storey") == [
        ("A", 4, "1ST"), ("A", 2, "2ND"), ("A", 1, "3RD"), ("B", 2, "1ST"), ("B", 3, "3RD"),
    ]  # fmt: skip


SIZED = [("A", 4, "36 in", "60 in"), ("B", 2, "48 in", "60 in")]


def sized(*rows: str, merges: tuple[str, ...] = ()) -> list[tuple[object, ...]]:
    """Mark, count, width and height of each line of a sheet whose cells are set apart by bars."""
    cells = [[cell.strip() or None for cell in row.split("|")] for row in rows]

    def merge(sheets: dict[str, Worksheet]) -> None:
        for area in merges:
            row, column = xl_cell_to_rowcol(area.split(":")[0])
            sheets["W"].merge_range(area, cells[row][column])

    intake = read_bytes(workbook({"W": cells}, merge))
    assert blocking(intake) == {}
    return [tuple(line[name] for name in ("mark", "quantity", "width", "height")) for line in intake.lines]


@pytest.mark.parametrize("merges", [(), ("B1:C1", "D1:E1")])
def test_a_count_beside_a_group_of_sizes_is_none_of_the_group(merges: tuple[str, ...]) -> None:
    rows = ("| RO | | Glass | | |", "Tag | Width | Height | Width | Height | QTY | Head Ht")
    lines = ("A | 36 in | 60 in | 35 in | 59 in | 4 | 84 in", "B | 48 in | 60 in | 47 in | 59 in | 2 | 84 in")
    assert sized(*rows, *lines, merges=merges) == SIZED


@pytest.mark.parametrize("group", ["ROUGH OPENING (W x H)", "R.O. W x H", "RO (WIDTH x HEIGHT)"])
def test_the_order_of_a_group_is_no_size_in_each_of_its_columns(group: str) -> None:
    rows = (f"Mark | Qty | {group} |", "| | W | H", "A | 4 | 36 in | 60 in", "B | 2 | 48 in | 60 in")
    assert sized(*rows) == sized(*rows, merges=("C1:D1",)) == SIZED


@pytest.mark.parametrize("heading", ["QTY", "No. Req'd", "Count"])
@pytest.mark.parametrize("places", [("North", "South", "East"), ("Bldg A", "Bldg B", "Bldg C"), ("L1", "L2", "L3")])
def test_places_by_their_names_under_a_heading_of_counts(heading: str, places: tuple[str, ...]) -> None:
    text = f"MARK,SIZE,{heading},,\n,,{','.join(places)}\nA,36 in x 60 in,4,2,1\nB,48 in x 60 in,2,,3\n"
    intake = read_bytes(text.encode())
    assert blocking(intake) == {}
    assert [line["quantity"] for line in intake.lines] == [4, 2, 1, 2, 3]
