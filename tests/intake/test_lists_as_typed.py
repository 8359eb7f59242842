"""Lists as offices type them whose columns, titles and signs change a count, a place, a side or a method.

Sources: common practice in schedules, none published; what is asked is what a reader of the sheet would ask.
"""

from __future__ import annotations

import pytest

from estimating.intake.asking import BLOCKS_COSTING
from tests.corpus.reader import read_bytes
from tests.intake.test_words_beside_lines import blocking


def asked(*rows: str) -> dict[str, list[str]]:
    """The blocking questions of a text: code -> marks."""
    return blocking(read_bytes("\n".join(rows).encode()))


def asked_each(*rows: str) -> list[tuple[str, list[object]]]:
    """The blocking questions of a text one by one, each with its marks."""
    intake = read_bytes("\n".join(rows).encode())
    costing = [one for one in intake.questions if one.severity == BLOCKS_COSTING]
    return [(one.code, [intake.lines[index]["mark"] for index in one.lines]) for one in costing]


def values(name: str, *rows: str) -> list[object]:
    """One field of each line of a text."""
    return [line.get(name) for line in read_bytes("\n".join(rows).encode()).lines]


@pytest.mark.parametrize(
    "rows",
    [
        ("Type,# of units,Mark,Windows per unit,RO W,RO H", "King,40,W1,1,60 in,66 in", "Suite,8,W2,2,72 in,66 in"),
        ("Mark,Width,Height,Windows per unit,Unit count", "W1,36 in,60 in,2,10", "W2,48 in,60 in,1,10"),
        ("Mark,Qty,RO W,RO H,Units per opening", "W1,4,72 in,60 in,2", "W2,6,36 in,60 in,1"),
        ("Mark,Qty,RO W,RO H,# per RO", "W1,4,72 in,60 in,2", "W2,6,36 in,60 in,1"),
        ("Mark,Qty,RO W,RO H,No. wide,No. high", "W1,4,72 in,60 in,2,1", "W2,6,36 in,60 in,1,1"),
        ("Mark,Qty,Dwg qty,W,H", "W1,4,6,36 in,60 in", "W2,4,4,36 in,60 in"),
        ("Mark,Qty,Width (ea leaf),Height", "D1,2,36 in,84 in", "D2,1,36 in,84 in"),
    ],
)  # fmt: skip
def test_a_second_column_of_counts_is_asked_whatever_its_heading_may_mean_besides(rows: tuple[str, ...]) -> None:
    assert "columns_of_numbers" in asked(*rows)


@pytest.mark.parametrize("heading", ["Qty (pairs)", "Pair qty", "Qty (dz)", "Mulled qty", "Ganged units"])
def test_counts_of_pairs_dozens_and_sets_are_asked(heading: str) -> None:
    assert asked(f"Mark,{heading},W,H", "D1,2,72 in,84 in", "D2,1,72 in,84 in")


@pytest.mark.parametrize(
    "title", ["UNIT TYPE A", "Type B apartment - windows", "TYPE A UNIT (12 TOTAL)", "Typical guest room"]
)
def test_a_title_of_one_type_of_unit_is_asked_how_often_it_counts(title: str) -> None:
    assert asked(title, "Mark,Kind,Qty,W,H", "W1,Window,4,36 in,60 in") == {"quantity_per": ["W1"]}


@pytest.mark.parametrize("title", ["SCHEDULE OF UNIT TYPES", "WINDOW SCHEDULE", "ALL APARTMENT TYPES"])
def test_a_title_of_all_types_is_not(title: str) -> None:
    assert asked(title, "Mark,Kind,Qty,W,H", "W1,Window,4,36 in,60 in") == {}


def test_a_list_of_revised_items_only_is_asked_about() -> None:
    rows = ("WINDOW SCHEDULE - ADDENDUM 2 - REVISED ITEMS ONLY", "Mark,Qty,W,H", "W1,4,36 in,60 in")
    assert "notes_words" in asked(*rows)


def test_two_storeys_in_a_heading_are_two() -> None:
    rows = ("Mark,Kind,W,H,Ground & 2nd Floor,3rd Floor", "W1,Window,36 in,60 in,4,2")
    assert values("storey", *rows) == ["Ground", "Floor 2", "3rd Floor"]
    assert asked(*rows) == {"typical_storeys": ["W1", "W1"]}


@pytest.mark.parametrize("section", ["NORTH & SOUTH ELEVATIONS", "BUILDINGS C & D"])
def test_several_places_over_lines_are_asked(section: str) -> None:
    rows = ("Mark,Kind,Qty,W,H", "BUILDING B", "W9,Window,1,36 in,60 in", section, "W1,Window,4,36 in,60 in")
    assert asked(*rows) == {"several_places": ["W1"]}


@pytest.mark.parametrize("cell", ["Front and back", "L/R", "F/B", "Sides", "Both ends", "Left & Right", "Front / Rear"])
def test_several_sides_in_a_cell_are_asked(cell: str) -> None:
    assert asked("Mark,Kind,Qty,W,H,Elevation", f"W1,Window,4,36 in,60 in,{cell}") == {"several_places": ["W1"]}


@pytest.mark.parametrize("cell", ["2~5", "2 ~ 5", "2..5", "L2 L3"])
def test_runs_of_storeys_are_asked(cell: str) -> None:
    rows = ("Mark,Kind,Qty,W,H,Level", f"W1,Window,4,36 in,60 in,{cell}", "W2,Window,4,36 in,60 in,1")
    assert asked(*rows) == {"several_places": ["W1"]}


def test_a_storey_typical_of_a_run_is_no_multiplier() -> None:
    """TYP 2-5 are four storeys: twice the counts would be an answer that the sheet does not give."""
    rows = ("Mark,Kind,Qty,W,H", "LEVEL 2 (TYP 2-5)", "W1,Window,4,36 in,60 in")
    assert asked(*rows) == {"count_words": ["W1"]}


def test_a_double_sign_is_another_sign() -> None:
    rows = (
        "Mark,Kind,Qty,W,H",
        "W1*,Window,4,36 in,60 in",
        "W2**,Window,2,48 in,60 in",
        "* by others",
        "** 2 per floor",
    )
    assert asked(*rows) == {"scope_words": ["W1*"], "count_words": ["W2**"]}


@pytest.mark.parametrize("heading", ["Wall", "Location"])
def test_walls_outside_and_inside_are_no_elevations(heading: str) -> None:
    rows = (f"Mark,Kind,Qty,W,H,{heading}", "W1,Window,4,36 in,60 in,Ext", "W2,Window,2,48 in,60 in,Int.")
    assert values("elevation", *rows) == [None, None] and values("external", *rows) == [True, False]
    assert asked(*rows) == {"interior_words": ["W2"]}


def test_letters_of_outside_and_inside_are_no_states() -> None:
    rows = ("Mark,Kind,Qty,W,H,I/E", "W1,Window,4,36 in,60 in,E", "W2,Window,2,48 in,60 in,I")
    assert asked(*rows) == {"interior_words": ["W2"]}


def test_a_system_of_no_method_is_a_type_whose_words_are_heard() -> None:
    rows = ("Mark,Kind,Qty,W,H,System", "1,Window,6,60 in,72 in,Punched", "2,Window,2,144 in,120 in,Storefront")
    assert asked(*rows) == {"scope_words": ["2"]}


def test_a_column_of_flashing_that_names_methods_gives_them() -> None:
    methods = ("Fluid", "SAF", "None", "By others", "Sheet metal")
    lines = (f"W{n},Window,2,36 in,60 in,{cell}" for n, cell in enumerate(methods, 1))
    rows = ("Mark,Kind,Qty,W,H,Flashing", *lines)
    assert values("method", *rows) == ["fluid", "tape", None, None, None]
    assert asked(*rows) == {"scope_words": ["W3", "W4"], "method_unknown": ["W5"]}


@pytest.mark.parametrize(
    ("head", "sill", "doubted"), [("84 in", "36 in", False), ("84 in", "24 in", True), ("86 in", "36 in", False)]
)
def test_a_height_that_sill_and_head_deny_is_asked(head: str, sill: str, doubted: bool) -> None:
    rows = ("Mark,Kind,Qty,W,H,Head ht,Sill ht", f"W1,Window,4,36 in,48 in,{head},{sill}")
    assert asked(*rows) == ({"words_beside_size": ["W1"]} if doubted else {})


@pytest.mark.parametrize(("size", "depth"), [("36 in x 60 in x 8 in", ["8 in"]), ("36 in x 84 in x 1 3/4 in", [])])
def test_a_third_dimension_may_be_the_depth_of_the_wall(size: str, depth: list[str]) -> None:
    intake = read_bytes(f"Mark,Kind,Qty,Size\nW1,Window,2,{size}\n".encode())
    assert [one.choices[0] for one in intake.questions if one.code == "depth_words"] == depth


def test_remarks_may_stand_under_an_abbreviation() -> None:
    assert asked("Mark,Kind,Qty,W,H,CMTS", "W1,Window,4,36 in,60 in,now W5") == {"delta_words": ["W1"]}


@pytest.mark.parametrize(
    ("cell", "code"),
    [
        ("36 in max", "words_beside_size"), ("36 in min", "words_beside_size"), ("<36 in", "words_beside_size"),
        ("36 in avg", "words_beside_size"), ("varies 36 to 40 in", "words_beside_size"),
        ("36 in ea", "words_beside_size"),
        ("60 in AFF", "words_beside_size"), ("~36 in", "to_verify"), ("36 in +/-", "to_verify"),
        ("36 in?", "to_verify"),
        ("36 in", ""), ("36 in clear anodized", ""),
    ],
)  # fmt: skip
def test_words_beside_a_length_that_may_change_it_are_asked(cell: str, code: str) -> None:
    """A limit or one of several is no size; one that is about so is given, and verified before a quote."""
    intake = read_bytes(f"Mark,Kind,Qty,W,H\nW1,Window,4,{cell},60 in\n".encode())
    assert [one.code for one in intake.questions if one.code in ("words_beside_size", "to_verify")] == [code] * bool(
        code
    )


@pytest.mark.parametrize(
    ("cell", "others"), [("W14A-D", "W15A"), ("W15(A-C)", "W16"), ("101-104", "105"), ("W1 w/ T1", "W2"), ("A-D", "E")]
)
def test_ranges_of_letters_and_numbers_are_several_marks(cell: str, others: str) -> None:
    rows = ("Mark,Kind,Qty,W,H", f"{cell},Window,1,36 in,60 in", f"{others},Window,1,36 in,60 in")
    assert asked(*rows) == {"several_marks": [cell]}


@pytest.mark.parametrize("marks", [("101-01", "101-02"), ("1-01", "1-02"), ("W44E", "W45"), ("N-1", "S-1")])
def test_numbers_of_floor_and_door_are_single_marks(marks: tuple[str, str]) -> None:
    assert asked("Mark,Kind,Qty,W,H", *(f"{mark},Window,1,36 in,60 in" for mark in marks)) == {}


def test_a_blank_place_below_one_is_asked_before_issue() -> None:
    rows = (
        "Level,Mark,Kind,Qty,W,H",
        "1,W1,Window,4,36 in,60 in",
        ",W2,Window,2,36 in,48 in",
        "2,W3,Window,1,36 in,60 in",
    )
    found = [one for one in read_bytes("\n".join(rows).encode()).questions if one.code == "place_blank"]
    assert [(one.severity, one.lines, one.choices) for one in found] == [
        ("blocks_issue", (1,), ("as_above", "as_drawn"))
    ]


def test_a_state_that_is_not_known_is_asked() -> None:
    rows = ("Mark,Kind,Qty,W,H,Status", "W1,Window,4,36 in,60 in,In progress", "W2,Window,4,36 in,60 in,Approved")
    assert asked(*rows) == {"scope_words": ["W1"]}


def test_one_kind_is_enough_under_a_heading_of_kinds() -> None:
    cells = ("Dr", "Vent", "Misc", "Panel", "CW")
    rows = ("Mark,Kind,Qty,W,H", *(f"A{n},{cell},4,36 in,60 in" for n, cell in enumerate(cells, 1)))
    assert values("kind", *rows)[0] == "door"
    assert asked(*rows) == {"scope_words": ["A5"]}


def test_a_place_ends_what_multiplies_another_of_its_kind() -> None:
    sections = ("UNIT A X 2", "UNIT B", "UNIT C - QTY 4", "UNIT D")
    lines = (row for n, section in enumerate(sections, 1) for row in (section, f"W{n},Window,4,36 in,60 in"))
    assert [marks for code, marks in asked_each("Mark,Kind,Qty,W,H", *lines) if code == "multiplier"] == [
        ["W1"],
        ["W3"],
    ]


def test_a_place_of_another_kind_does_not() -> None:
    rows = ("Mark,Kind,Qty,W,H", "UNIT A X 2", "NORTH", "W1,Window,4,36 in,60 in", "SOUTH", "W2,Window,4,36 in,60 in")
    assert asked_each(*rows) == [("multiplier", ["W1", "W2"])]


def test_a_heading_of_no_kind_ends_the_kind_above_it() -> None:
    rows = (
        "Mark,Qty,Size",
        "DOORS",
        "D1,1,36 in x 84 in",
        "PENETRATIONS",
        "P1,6,12 in x 8 in",
        "DOORS",
        "D2,1,40 in x 84 in",
    )
    assert values("kind", *rows) == ["door", None, "door"]


@pytest.mark.parametrize(
    "rows",
    [
        ("Mark,Kind,Qty,W,H", "W2,Window,2,48 in,60 in", "REV 1", "W2,Window,3,48 in,60 in"),
        ("Mark,Kind,Qty,W,H,Rev", "W2,Window,2,48 in,60 in,0", "W2,Window,3,48 in,60 in,1"),
    ],
)
def test_a_mark_of_two_revisions_is_asked_before_costing(rows: tuple[str, ...]) -> None:
    assert asked(*rows) == {"duplicate_line": ["W2"]}


@pytest.mark.parametrize("words", ["FS", "F.S.", "clr"])
def test_abbreviations_of_another_basis_beside_a_size_are_asked(words: str) -> None:
    assert asked("Mark,Kind,Qty,Size", f"W1,Window,2,36 in x 60 in {words}") == {"size_basis_of_line": ["W1"]}


@pytest.mark.parametrize(
    ("note", "severity"),
    [
        ("Quantities for north elevation only", "blocks_costing"), ("South elev. similar", "blocks_costing"),
        ("Partial list", "blocks_costing"), ("Counts are half of building", "blocks_costing"),
        ("Dims are to inside of frame", "blocks_costing"), ("All work from swing stage", "blocks_issue"),
        ("Flashing tape at all heads", "blocks_issue"), ("Add 2 coats", ""), ("Scaffold stays until July", ""),
    ],
)  # fmt: skip
def test_notes_about_all_lines_are_asked(note: str, severity: str) -> None:
    intake = read_bytes(f"Mark,Kind,Qty,W,H\nW1,Window,4,36 in,60 in\n{note}\n".encode())
    assert [one.severity for one in intake.questions if one.code == "notes_words"] == [severity] * bool(severity)


@pytest.mark.parametrize("note", ["Add 2 W1 at stair tower", "Delete (1) W1"])
def test_a_note_that_adds_to_a_mark_is_asked(note: str) -> None:
    assert "W1" in str(asked("Mark,Kind,Qty,W,H", "W1,Window,4,36 in,60 in", note))


@pytest.mark.parametrize("heading", ["", "Field info"])
def test_a_column_that_no_field_has_is_heard_as_remarks_are(heading: str) -> None:
    cells = ("north & south", "now W5", "tape", "sill only", "N")
    rows = (f"Mark,Kind,Qty,W,H,{heading}", *(f"W{n},Window,4,36 in,60 in,{cell}" for n, cell in enumerate(cells, 1)))
    assert asked(*rows) == {
        "count_words": ["W1"],
        "delta_words": ["W2"],
        "method_unknown": ["W3"],
        "sides_unknown": ["W4"],
    }


@pytest.mark.parametrize(
    "cell", ["301-304", "all guest rooms", "ea", "Units 1A-1D", "stairs 1 & 2", "North and South stairs"]
)
@pytest.mark.parametrize("heading", ["Rooms", "Location"])
def test_several_rooms_in_a_cell_are_asked(heading: str, cell: str) -> None:
    rows = (f"Mark,Kind,Qty,W,H,{heading}", f"W1,Window,1,36 in,60 in,{cell}", "W2,Window,1,36 in,60 in,Lobby 101")
    assert asked(*rows) == {"several_places": ["W1"]}
