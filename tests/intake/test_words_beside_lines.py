"""Words beside lines: trades alone as remarks, headings, sizes of a basis, kinds of sill, notes about places.

Sources: common practice in schedules, none published; the expected values are what a reader of the sheet would say.
"""

from __future__ import annotations

import pytest

from estimating.intake.asking import BLOCKS_COSTING
from estimating.intake.marks import joined_words
from estimating.intake.named_lines import place_key
from estimating.intake.reading import Intake, Options, read_file
from estimating.intake.scope_columns import holds_initials
from estimating.intake.sill_words import read_sill
from estimating.intake.size_remarks import CHANGED, size_in_doubt, size_in_note
from tests.corpus.reader import read_bytes

HEAD = "Mark,Kind,Qty,Width,Height,Elevation,Level"
ROWS = "W1,Window,4,36 in,60 in,North,1{0}\nW2,Window,2,48 in,60 in,South,2{1}\nW3,Window,6,30 in,48 in,South,3{2}\n"


def blocking(intake: Intake) -> dict[str, list[str]]:
    """Code -> marks of the lines, for the questions that a price must wait for."""
    asked = [question for question in intake.questions if question.severity == BLOCKS_COSTING]
    return {question.code: [str(intake.lines[index]["mark"]) for index in question.lines] for question in asked}


def read_remark_of_second(remark: str, heading: str = "Remarks") -> dict[str, list[str]]:
    """The blocking questions of three plain lines, the second of which has a cell under a heading."""
    return blocking(read_bytes(f"{HEAD},{heading}\n{ROWS.format(',', ',' + remark, ',')}".encode()))


def read_note(note: str) -> dict[str, list[str]]:
    """The blocking questions of three plain lines over a note."""
    return blocking(read_bytes(f"{HEAD}\n{ROWS.format('', '', '')}\n{note}\n".encode()))


@pytest.mark.parametrize(
    "remark",
    ["mech to flash", "elec. to seal", "mech.", "glazier", "tenant", "BP-4", "AG", "as is", "threshold by floor trade"],
)
def test_a_trade_or_state_alone_is_scope(remark: str) -> None:
    assert read_remark_of_second(remark) == {"scope_words": ["W2"]}


@pytest.mark.parametrize("remark", ["in shaft wall", "at elevator shaft", "party wall", "shaft"])
def test_walls_of_shafts_and_between_parties_are_asked_about_as_interior(remark: str) -> None:
    assert read_remark_of_second(remark) == {"interior_words": ["W2"]}


@pytest.mark.parametrize("heading", ["Scope", "Status", "By us", "NIC"])
@pytest.mark.parametrize("cell", ["?", "Y?", "yes ??"])
def test_a_question_mark_about_scope_is_asked(heading: str, cell: str) -> None:
    assert "W2" in read_remark_of_second(cell, heading)["scope_words"]


@pytest.mark.parametrize("remark", ["stair", "galvanized", "none", "color by architect", "7 in off each corner"])
def test_places_finishes_and_parts_are_no_scope(remark: str) -> None:
    assert read_remark_of_second(remark) == {}


def test_two_elevations_in_a_cell_make_its_column_no_status() -> None:
    """N, S and E are elevations, and N/E two of them, however few of the cells are more than one letter."""
    rows = "".join(f"W{n},Window,2,36 in,60 in,{face}\n" for n, face in enumerate(["N", "S", "E", "N/E", "E", "S"]))
    intake = read_file(f"Mark,Kind,Qty,Width,Height,Elevation\n{rows}".encode())
    assert [line["elevation"] for line in intake.lines] == ["N", "S", "E", "N/E", "E", "S"]
    assert blocking(intake) == {"several_places": ["W3"]}


@pytest.mark.parametrize(
    "remark",
    [
        "see elev for qty", "count from plans", "for qty see elevs", "refer to plan for quantity", "typ all floors",
        "typ. at all elevs", "incl. in W1", "counted under W3", "in common RO w/ W3", "louver above", "w/ louver",
        "dup", "dup of W1", "counted above", "listed on door sched", "upper 2", "multiple", "several",
    ],
)  # fmt: skip
def test_counts_that_stand_elsewhere_or_hold_for_more_are_asked(remark: str) -> None:
    assert read_remark_of_second(remark) == {"count_words": ["W2"]}


@pytest.mark.parametrize(
    "remark",
    [
        "see plan",
        "see elev 3/A201",
        "incl. screen",
        "brick opening flashing",
        "see window sizes",
        "size on door",
        "various finishes", "plus trim", "sill ht = 30 in", "head ht: 84 in", "stud opening", "U = 0.29",
    ],
)  # fmt: skip
def test_drawings_and_parts_that_are_named_change_neither_count_nor_size(remark: str) -> None:
    assert read_remark_of_second(remark) == {}


def test_titles_and_orders_of_sides_put_no_size_in_doubt() -> None:
    assert size_in_note("WINDOW SIZES") == size_in_note("Sizes are height x width.") == ""
    assert size_in_doubt("R.O. size") == size_in_doubt("clear anodized") == size_in_doubt("finish to match") == ""


def test_words_of_a_heading_are_said_of_the_lines_with_a_cell_under_it() -> None:
    assert read_remark_of_second("W3", "Mulled with") == {"count_words": ["W2"]}
    assert read_remark_of_second("x", "Arched") == {"shape_words": ["W2"]}
    assert read_remark_of_second("$640.00", "Ext. price") == read_remark_of_second("15", "SF") == {}


@pytest.mark.parametrize(
    ("note", "marks"),
    [
        ("LEVEL 3 FUTURE.", ["W3"]),
        ("Third floor openings by others.", ["W3"]),
        ("South side by owner except W2.", ["W3"]),
        ("All windows except W2 are existing to remain.", ["W1", "W2", "W3"]),
    ],
)
def test_a_note_about_places_is_asked_of_the_lines_there(note: str, marks: list[str]) -> None:
    assert read_note(note) == {"scope_words": marks}


def test_a_place_without_lines_is_asked_of_the_file() -> None:
    assert read_note("LEVEL 9 NOT IN CONTRACT.") == {"notes_words": []}
    assert read_note("12 windows in total") == read_note("Do not scale drawings.") == {}
    assert place_key("Level 03") == place_key("Floor 3") == place_key("L3") == "3" != place_key("Ground")


def test_scope_joined_to_a_mark_stays_in_it() -> None:
    assert [finding.topic for finding in joined_words("ALT-W6")] == ["alternate"]
    assert joined_words("W-101") == joined_words("HM-101") == joined_words("DR-EXT-1") == ()


def test_kinds_of_sill() -> None:
    assert read_sill("sloped 15 deg") == {"kind": "sloped", "angle_degrees": "15"}
    assert read_sill("pan") == {"kind": "pan"}
    assert read_sill("sloped") == {}
    assert read_sill("stone") is read_sill("5/A501") is None


def test_initials_are_no_trades() -> None:
    assert holds_initials("By", ["RS", "", "TS"])
    assert not holds_initials("By", ["RS", "GC"])
    assert not holds_initials("Remarks", ["RS"])


@pytest.mark.parametrize(
    ("note", "asked"),
    [
        ("Addendum 1: W1 qty now 6.", {"count_words": ["W1"]}),
        ('W2: R.O. height is 54"', {CHANGED: ["W2"]}),
        ("W2 is 3'-0\" x 4'-6\"", {CHANGED: ["W2"]}),
        ('Add 1/2" all around for shim space.', {"notes_words": []}),
        ('Add 6" lap at corners.', {}),
        ('W1 sill at 36" AFF', {}),
        ("See detail 5/A501 for W1 head flashing.", {}),
    ],
)
def test_a_note_that_gives_a_count_or_a_size_is_asked(note: str, asked: dict[str, list[str]]) -> None:
    assert read_note(note) == asked


def read_rows(*rows: str) -> list[tuple[object, ...]]:
    """Mark, kind, count, width, height and elevation of the lines of a text."""
    fields = ("mark", "kind", "quantity", "width", "height", "elevation")
    return [tuple(line.get(name) for name in fields) for line in read_bytes("\n".join(rows).encode()).lines]


@pytest.mark.parametrize("heading", ["Opening", "Item", "Unit"])
@pytest.mark.parametrize("style", ["Operation", "Style"])
def test_marks_stand_under_opening_where_type_holds_kinds(heading: str, style: str) -> None:
    lines = read_rows(
        f"{heading} | Type | Qty | Size | {style}",
        'W1 | Window | 3 | 36" x 60" | Fixed',
        'W2 | Door | 2 | 48" x 60" | Awning',
    )
    assert [line[:3] for line in lines] == [("W1", "window", 3), ("W2", "door", 2)]


@pytest.mark.parametrize(
    ("heading", "row"),
    [
        ("Mark | Kind | W | H | N | S | E | W", 'A | Window | 36" | 60" | 4 | 3 | 1 | 2'),
        ("Mark | Kind | H | W | N | S | E | W", 'A | Window | 60" | 36" | 4 | 3 | 1 | 2'),
        ("Mark | Kind | N | S | E | W | W | H", 'A | Window | 4 | 3 | 1 | 2 | 36" | 60"'),
        ("Mark | Kind | N | S | E | W | Width | Height", 'A | Window | 4 | 3 | 1 | 2 | 36" | 60"'),
    ],
)
def test_a_w_beside_an_h_is_the_width(heading: str, row: str) -> None:
    lines = read_rows(heading, row)
    assert [line[2] for line in lines] == [4, 3, 1, 2]
    assert {(str(line[3]), str(line[4])) for line in lines} == {('36"', '60"')}
    assert [str(line[5]).lower() for line in lines] == ["north", "south", "east", "west"]


def test_a_kind_over_aligned_columns_holds_after_a_subtotal() -> None:
    lines = read_rows(
        "Exterior windows",
        "Mark   Qty   Width   Height",
        'W1     4     36"     60"',
        'W2     4     48"     60"',
        "Sub-total  8",
        "",
        "Exterior doors",
        "Mark   Qty   Width   Height",
        'D3     3     40"     86"',
        "Sub-total  3",
    )
    assert [line[:3] for line in lines] == [("W1", "window", 4), ("W2", "window", 4), ("D3", "door", 3)]


@pytest.mark.parametrize("others", [(), ("W2: 1 windows 4'-0\" x 5'-0\", east", "W3: 4 windows 4'-0\" x 6'-0\", east")])
def test_a_list_may_begin_with_a_place_and_floors(others: tuple[str, ...]) -> None:
    intake = read_bytes("\n".join(("W1: 2 windows 3'-0\" x 5'-0\", north, typ floors 2-5", *others)).encode())
    assert [line["mark"] for line in intake.lines] == ["W1"] * 4 + ["W2", "W3"][: len(others)]
    assert blocking(intake) == {"typical_storeys": ["W1"] * 4}


@pytest.mark.parametrize("cell", ['4"', "4 in", "100 mm"])
def test_one_length_of_a_pipe_is_a_diameter_nominal_or_outside(cell: str) -> None:
    intake = read_bytes(f"Mark | Kind | Qty | Size\nP1 | Pipe | 3 | {cell}\n".encode())
    assert blocking(intake) == {"pipe_size": ["P1"]}


@pytest.mark.parametrize(
    ("answer", "outside"),
    [("4 in", "4 in"), ("Ø4 in", "4 in"), ("4 in dia", "4 in"), ("4.5 in OD", "4.5 in"), ("NPS 4", "4.500 in")],
)
@pytest.mark.parametrize("cell", ["TBD", '4" / 5"'])
def test_a_pipe_without_a_size_takes_one_length(answer: str, outside: str, cell: str) -> None:
    data = f"Mark | Kind | Qty | Size\nP1 | Pipe | 3 | {cell}\n".encode()
    asked = next(q for q in read_bytes(data).questions if q.code in ("size_unknown", "size_unreadable"))
    intake = read_file(data, Options(answers={asked.id: answer}))
    assert intake.lines[0]["diameter"] == outside
    assert not [q for q in intake.questions if q.id == asked.id and q.open]


@pytest.mark.parametrize("cell", ["1 a 4", "1ª a 4ª", "1.ª-4.ª", "1er au 4e", "1 à 4", "1 bis 4"])
def test_a_run_of_storeys_in_other_languages_is_asked(cell: str) -> None:
    intake = read_bytes(f"{HEAD}\nV1,Window,10,36 in,60 in,North,{cell}\n".encode())
    assert [line["storey"] for line in intake.lines] == ["1", "2", "3", "4"]
    assert blocking(intake) == {"typical_storeys": ["V1"] * 4}


def test_a_trade_that_seals_its_own_work_is_scope() -> None:
    rows = ("P1,Pipe,4,4 in OD", "ELECTRICAL (SEALS OWN WORK)", "P2,Conduit,12,1 in OD")
    assert blocking(read_bytes("\n".join(("Mark,Kind,Qty,Size", *rows)).encode())) == {"scope_words": ["P2"]}


def test_phases_are_asked_about_where_there_are_several() -> None:
    text = "Mark,Kind,Qty,Size,Phase\nW1,Window,3,36 in x 60 in,1\nW2,Window,2,36 in x 48 in,{}\n"
    several, one = (read_file(text.format(phase).encode()) for phase in (2, 1))
    assert [q.code for q in several.questions if q.severity == "blocks_costing"] == ["scope_words"]
    assert [q.code for q in one.questions if q.severity == "blocks_costing"] == []
    assert [line["phase"] for line in several.lines] == ["1", "2"]
    assert not any("building" in line for line in several.lines)
