"""Rows of words between the lines: what they end of the headings above them, and what they leave standing.

Source: common practice in schedules, none published; invented content. What is expected is what a reader of the sheet
would say.
"""

from __future__ import annotations

import pytest

from tests.corpus.reader import read_bytes
from tests.intake.test_lists_as_typed import asked, asked_each, values
from tests.intake.test_words_beside_lines import blocking

HEAD = "Mark,Kind,Qty,W,H"


def lines(*rows: str) -> list[str]:
    """Rows under a heading; a mark alone is a window of two."""
    return [
        HEAD,
        *(f"{row},Window,2,36 in,60 in" if row.startswith("W") and row[1:].isdigit() else row for row in rows),
    ]


@pytest.mark.parametrize("remark", ["Field Verify", "VERIFY", "See Spec", "Prefinished", "V.I.F.", "Hold"])
@pytest.mark.parametrize("kind", ["DOORS", "LOUVERS", "WINDOWS"])
def test_a_remark_of_its_own_row_ends_no_kind(remark: str, kind: str) -> None:
    rows = ("Mark,Qty,W,H", kind, "A1,2,36 in,60 in", remark, "A2,2,36 in,60 in")
    assert values("kind", *rows) == [{"DOORS": "door", "LOUVERS": "louvre", "WINDOWS": "window"}[kind]] * 2


@pytest.mark.parametrize("between", ["INTERIOR", "EXTERIOR", "EXISTING", "NEW"])
def test_words_of_scope_alone_end_no_kind(between: str) -> None:
    rows = ("Mark,Qty,W,H", "DOORS", "A1,2,36 in,60 in", between, "A2,2,36 in,60 in")
    assert values("kind", *rows) == ["door", "door"]


@pytest.mark.parametrize("heading", ["STOREFRONT", "PENETRATIONS", "HARDWARE"])
def test_the_name_of_another_thing_does(heading: str) -> None:
    rows = ("Mark,Qty,W,H", "DOORS", "A1,2,36 in,60 in", heading, "A2,2,36 in,60 in")
    assert values("kind", *rows) == ["door", None]


@pytest.mark.parametrize("remark", ["Field Verify", "Verify sizes", "see general notes"])
@pytest.mark.parametrize(
    ("heading", "code"), [("ALTERNATE 1", "alternate_words"), ("EXISTING", "scope_words"), ("UNIT A x 4", "multiplier")]
)
def test_a_remark_of_its_own_row_ends_no_words_over_lines(remark: str, heading: str, code: str) -> None:
    assert asked(*lines("W1", heading, "W2", remark, "W3"))[code] == ["W2", "W3"]


@pytest.mark.parametrize("ours", ["BASE BID", "NEW WORK", "EXTERIOR", "Exterior windows", "In contract"])
@pytest.mark.parametrize(
    ("heading", "code"),
    [("ALTERNATE 1", "alternate_words"), ("EXISTING TO REMAIN", "scope_words"), ("INTERIOR", "interior_words")],
)
def test_a_heading_of_what_is_in_the_work_ends_words_that_put_lines_out(ours: str, heading: str, code: str) -> None:
    assert asked(*lines(heading, "W1", ours, "W2")) == {code: ["W1"]}


@pytest.mark.parametrize("heading", ["TYPICAL FLOOR x 4", "TYP. FLOOR (x4)", "TYPICAL LEVEL x4"])
@pytest.mark.parametrize("storey", ["ROOF", "LEVEL 6", "PENTHOUSE", "GROUND FLOOR"])
def test_another_storey_ends_the_times_of_typical_floors(heading: str, storey: str) -> None:
    assert asked_each(*lines(heading, "W1", storey, "W2")) == [("multiplier", ["W1"])]


def test_typical_floors_are_not_on_the_storey_above_them() -> None:
    rows = lines("GROUND FLOOR", "W1", "TYPICAL FLOOR x 4", "W2", "ROOF", "W3")
    assert values("storey", *rows) == ["GROUND FLOOR", "TYPICAL FLOOR x 4", "ROOF"]


def test_a_place_within_another_ends_with_it_and_the_next_is_asked_for() -> None:
    rows = lines("LEVEL 1", "NORTH", "W1", "SOUTH", "W2", "LEVEL 2", "W3", "NORTH", "W4")
    assert values("elevation", *rows) == ["North", "South", None, "North"]
    assert values("storey", *rows) == ["LEVEL 1", "LEVEL 1", "LEVEL 2", "LEVEL 2"]
    found = [one for one in read_bytes("\n".join(rows).encode()).questions if one.code == "place_blank"]
    assert [(one.severity, one.lines, one.choices) for one in found] == [
        ("blocks_issue", (2,), ("as_above", "as_drawn"))
    ]


def test_storeys_within_elevations_stay_in_theirs() -> None:
    rows = lines("NORTH", "LEVEL 1", "W1", "LEVEL 2", "W2", "SOUTH", "LEVEL 1", "W3")
    assert values("elevation", *rows) == ["North", "North", "South"]
    assert values("storey", *rows) == ["LEVEL 1", "LEVEL 2", "LEVEL 1"]


@pytest.mark.parametrize(
    ("heading", "codes"), [("WINDOWS (4)", []), ("NORTH ELEVATION (4)", []), ("UNIT A (4)", ["multiplier"])]
)
def test_a_number_behind_a_kind_that_the_lines_add_up_to_is_their_total(heading: str, codes: list[str]) -> None:
    assert list(asked(*lines(heading, "W1", "W2"))) == codes


def test_one_that_they_do_not_add_up_to_is_asked_about() -> None:
    assert blocking(read_bytes("\n".join(lines("WINDOWS (5)", "W1", "W2")).encode())) == {"multiplier": ["W1", "W2"]}


def test_a_total_of_the_lines_below_a_heading_agrees_though_others_have_none() -> None:
    """By hand: 2 and 2 on level 1 without a total, 4 on level 2, of which 2 are north; 8 in all."""
    rows = lines("LEVEL 1", "W1", "W2", "LEVEL 2", "NORTH", "W3", "Subtotal,,2,,", "SOUTH", "W4", "Total level 2,,{},,")
    text = "\n".join((*rows, "Total,,8,,"))
    assert blocking(read_bytes(text.format(4).encode())) == {}
    assert list(blocking(read_bytes(text.format(5).encode()))) == ["total_mismatch"]


def test_the_last_total_is_of_all_lines_unless_it_says_otherwise() -> None:
    rows = "\n".join(lines("LEVEL 1", "W1", "W2", "LEVEL 2", "W3"))
    assert list(blocking(read_bytes(f"{rows}\nTotal,,2,,".encode()))) == ["total_mismatch"]
    assert blocking(read_bytes(f"{rows}\nSubtotal,,2,,".encode())) == {}


@pytest.mark.parametrize("common", ["COMMON AREAS", "LOBBY", "CLUBHOUSE"])
def test_what_is_of_no_unit_type_ends_it_and_its_units_are_no_total(common: str) -> None:
    rows = lines("UNIT TYPE A (12 UNITS)", "W1", "UNIT TYPE B", "W2", common, "W3")
    assert asked_each(*rows) == [("multiplier", ["W1"]), ("quantity_per", ["W2"])]


@pytest.mark.parametrize("room", ["Kitchen", "MASTER BEDROOM", "Bath 2", "Bed #3"])
def test_a_room_of_a_unit_ends_no_multiplier(room: str) -> None:
    assert asked_each(*lines("UNIT B x 8", "W1", room, "W2")) == [("multiplier", ["W1", "W2"])]
