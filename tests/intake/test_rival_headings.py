"""Two columns that one field could be read from: the better one is taken, or a question before costing says so.

Found by lists made up from parts whose truth is known. Common practice, no source.
"""

from __future__ import annotations

from typing import Any

import pytest

from estimating.intake.reading import Intake, read_file


def read(*rows: str) -> Intake:
    return read_file("\n".join(rows).encode())


def blocking(intake: Intake) -> list[str]:
    return [one.code for one in intake.questions if one.severity == "blocks_costing" and one.open]


def values(intake: Intake, *names: str) -> list[tuple[Any, ...]]:
    return [tuple(line.get(name) for name in names) for line in intake.lines]


@pytest.mark.parametrize("mark", ["DR", "Dr.", "WIN", "Wdw", "Door"])
def test_storeys_beside_a_size_are_no_counts(mark: str) -> None:
    """Four and three openings were read where each line is one, on levels 4 and 3, and nothing was asked."""
    intake = read(f"{mark},R.O. Size,Flr,Face", "D1,3'-0 x 7'-10,4,North", "D2,2'-0 x 7'-10,3,East")
    assert values(intake, "mark", "storey", "quantity") == [("D1", "4", None), ("D2", "3", None)]
    assert "no_quantity_column" in blocking(intake)


@pytest.mark.parametrize("sign", [",", "\t", "    "])
def test_numbers_under_a_heading_of_storeys_count_nothing_where_the_mark_has_no_heading(sign: str) -> None:
    rows = (("Blorp", "Size", "Level"), ("D1", "3'-0\" x 7'-10\"", "4"), ("D2", "2'-0\" x 7'-10\"", "3"))
    said = [sign.join(f'"{c.replace(chr(34), chr(34) * 2)}"' if sign == "," else c for c in row) for row in rows]
    intake = read(*said)
    assert [count for (count,) in values(intake, "quantity") if count] == []
    assert {"columns_unknown", "no_quantity_column"} & set(blocking(intake))
    offered = [choice for one in intake.questions if one.code == "columns_unknown" for choice in one.choices]
    assert not any("quantity" in choice for choice in offered)


@pytest.mark.parametrize(
    ("upper", "lower"),
    [
        ("Mark,Qty,Door,,R.O.,", ",,W (mm),H (mm),W (mm),H (mm)"),
        ("Mark,Qty,Mfr. Size,,R/O,", ",,Width (mm),Height (mm),Width (mm),Height (mm)"),
        ("", "Mark,Qty,Door W (mm),Door H (mm),R.O. W (mm),R.O. H (mm)"),
        ("", "Mark,Qty,Width (mm),Height (mm),Rough Width (mm),Rough Height (mm)"),
    ],
)
def test_rough_openings_go_before_sizes_whose_basis_no_word_says(upper: str, lower: str) -> None:
    """The leaf on the left was priced, and that the rough opening stood beside it was only told."""
    intake = read(*filter(None, (upper, lower)), "W1,12,711,1524,762,1575", "W2,4,870,1727,921,1778")
    assert values(intake, "width", "height") == [("762 mm", "1575 mm"), ("921 mm", "1778 mm")]


@pytest.mark.parametrize("mark", ["Sym.", "Symbol", "Type", "Window Type", "Type Mark", "WIN"])
@pytest.mark.parametrize("other", ["Storefront Type", "Frame Type", "Panel Type"])
def test_the_type_of_a_part_is_no_mark(mark: str, other: str) -> None:
    intake = read(f"{mark},R.O. W,R.O. H,{other},Qty", "1,48 in,60 in,SF2,3", "2,36 in,60 in,SF1,2")
    assert values(intake, "mark") == [("1",), ("2",)]


def test_a_column_of_kinds_under_type_is_no_mark() -> None:
    """Casement window, Wdw and Awning window were the marks, where W-1 stood under WIN and was not used."""
    rows = ("W-1,4 ft x 5 ft,A,12,Casement window", "W-2,5 ft x 5 ft,A,3,Wdw", "W-3,5 ft x 6 ft,A,1,Awning window")
    for head in ("WIN", "Blorp"):
        intake = read(f"{head},Rough Opng,Panel Type,Qty,Type", *rows)
        assert values(intake, "mark", "kind") == [("W-1", "window"), ("W-2", "window"), ("W-3", "window")]


def test_a_mark_that_another_column_may_hold_is_asked_about() -> None:
    intake = read("Blorp,Qty,R.O. W,R.O. H,Storefront Type", "W1,2,24 in,66 in,SF1", "W2,6,25 in,70 in,SF2")
    assert "columns" in blocking(intake)
    doors = read("Door,R.O. W,R.O. H,Number", "101,60 in,88 in,02", "102,36 in,86 in,03", "103,30 in,94 in,04")
    assert "columns" in blocking(doors)


@pytest.mark.parametrize("heading", ["Amt", "AMT.", "Amount"])
@pytest.mark.parametrize("counts", [("12.0", "1.0"), ("12", "1")])
def test_an_amount_is_the_count_where_nothing_else_is(heading: str, counts: tuple[str, str]) -> None:
    intake = read(
        f"Mark,Kind,R.O. W,R.O. H,{heading}", *(f"W{n},Window,36 in,{50 + int(float(n))} in,{n}" for n in counts)
    )
    assert values(intake, "quantity") == [(12,), (1,)]


PARTS = "Sash Qty;Panel Qty;Frame Qty;Anchor Qty;Tube Qty;Mull Qty;No. of Lites;LH Qty;Balance;Prev Qty;Qty Change"


@pytest.mark.parametrize("heading", PARTS.split(";"))
def test_counts_of_parts_and_of_before_are_no_counts_of_openings_in_silence(heading: str) -> None:
    alone = read(f"Mark,Kind,{heading},R.O. W,R.O. H", "W1,Window,7,36 in,60 in", "W2,Window,5,36 in,61 in")
    assert blocking(alone)
    beside = read(f"Mark,Kind,{heading},Quan.,R.O. W,R.O. H", "W1,Window,7,2,36 in,60 in", "W2,Window,5,3,36 in,61 in")
    assert values(beside, "quantity") == [(2,), (3,)]


@pytest.mark.parametrize("heading", ["Bid Qty", "Field Count", "Our count", "Door Qty", "Window Qty", "Qty (verified)"])
def test_words_that_leave_a_count_the_openings_are_not_asked_about(heading: str) -> None:
    intake = read(f"Mark,Kind,{heading},R.O. W,R.O. H", "W1,Window,7,36 in,60 in", "W2,Window,5,36 in,61 in")
    assert (values(intake, "quantity"), blocking(intake)) == ([(7,), (5,)], [])


@pytest.mark.parametrize("heading", ["Frame Face", "Face", "Side"])
def test_lengths_are_no_elevation(heading: str) -> None:
    """2" under FRAME FACE was the elevation of the lines, and put out what the row NORTH says of them."""
    rows = ("NORTH", 'W1,Window,7,36 in,60 in,"2"""', 'W2,Window,5,36 in,61 in,"2 1/4"""')
    intake = read(f"Mark,Kind,Qty,R.O. W,R.O. H,{heading}", *rows)
    assert values(intake, "elevation") == [("North",), ("North",)]


@pytest.mark.parametrize("heading", ["North", "No. of Floors", "# of Levels"])
def test_one_place_beside_a_column_of_elevations_and_numbers_of_floors_are_no_counts(heading: str) -> None:
    """North over 7 and 3 was their count and their place, where FACADE says that both are on the south."""
    rows = "D1,Door,40 in,84 in,7,South", "D2,Door,36 in,84 in,3,South"
    intake = read(f"Mark,Kind,R.O. W,R.O. H,{heading},Facade", *rows)
    assert values(intake, "elevation") == [("South",), ("South",)]
    assert blocking(intake)


@pytest.mark.parametrize("heads", ["Frame Face,Elevation", "Elevation,Frame Face", "Face Width,Side"])
def test_the_face_of_a_frame_takes_no_elevation_from_its_column(heads: str) -> None:
    cells = {"Frame Face": '"2"""', "Face Width": '"2"""', "Elevation": "N", "Side": "N"}
    row = ",".join(cells[head] for head in heads.split(","))
    intake = read(f"Mark,Kind,Qty,R.O. W,R.O. H,{heads}", f"W1,Window,7,36 in,60 in,{row}")
    assert values(intake, "elevation") == [("N",)]
