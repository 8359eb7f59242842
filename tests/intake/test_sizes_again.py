"""A side given once more in another unit, words that say a size is another one, and headings of drawings of types."""

from __future__ import annotations

import pytest

from estimating.intake.heading_words import read_heading_words
from tests.intake.test_rival_headings import blocking, read, values


@pytest.mark.parametrize(
    ("heads", "read_first"),
    [
        ("RO W (IN),RO H (IN),RO W (MM),RO H (MM)", "48 in"),
        ("Width (in),Height (in),Width (mm),Height (mm)", "48 in"),
        ("R/O W (in),R/O H (in),R/O W [mm],R/O H [mm]", "48 in"),
    ],
)
@pytest.mark.parametrize(("other", "asks"), [("1219", False), ("1220", False), ("1291", True)])
def test_inches_and_millimetres_beside_each_other_are_held_together(
    heads: str, read_first: str, other: str, asks: bool
) -> None:
    """48 in beside 1291 mm was read as 48 in, and the other column was only told to be unused."""
    intake = read(f"Mark,Kind,Qty,{heads}", "W1,Window,3,30,56,762,1422", f"W2,Window,4,60,48,1524,{other}")
    assert values(intake, "height")[1] == (read_first,)
    assert blocking(intake) == (["words_beside_size"] if asks else [])
    assert all(one.lines == (1,) for one in intake.questions if one.code == "words_beside_size")


def test_a_unit_size_in_millimetres_is_no_second_rough_opening() -> None:
    intake = read("Mark,Kind,Qty,R.O. W (in),R.O. H (in),Unit W (mm),Unit H (mm)", "W1,Window,3,30,56,740,1400")
    assert blocking(intake) == []


@pytest.mark.parametrize("cell", ['36"" x 60"" o.d.', '36"" x 60"" OD', '36"" x 60"" I.D.'])
def test_an_outside_dimension_in_the_cell_is_asked_about(cell: str) -> None:
    assert blocking(read("Mark,Kind,Qty,R.O. Size", f'W1,Window,2,"{cell}"')) == ["words_beside_size"]


@pytest.mark.parametrize(
    ("remark", "code"),
    [
        ("CLR", "size_basis_of_line"), ("clr.", "size_basis_of_line"), ("clear opg", "size_basis_of_line"),
        ("CLR OPNG", "size_basis_of_line"), ("clear size", "size_basis_of_line"), ("o.d.", "size_basis_of_line"),
        ("OD size", "size_basis_of_line"),
        ("thru 4", "count_words"), ("2 thru 4", "count_words"), ("up to 4", "count_words"),
    ],
)  # fmt: skip
def test_short_remarks_of_size_and_of_places_are_asked_before_costing(remark: str, code: str) -> None:
    rows = "W1,Window,2,36 in,60 in,{}", "W2,Window,2,36 in,61 in,"
    assert blocking(read("Mark,Kind,Qty,Width,Height,Remarks", rows[0].format(remark), rows[1])) == [code]


@pytest.mark.parametrize("remark", ["1", "clear glass", '"1,2"', "2 & 3", "clear"])
def test_numbers_of_notes_and_clear_glass_are_not(remark: str) -> None:
    assert blocking(read("Mark,Kind,Qty,Width,Height,Remarks", f"W1,Window,2,36 in,60 in,{remark}")) == []


@pytest.mark.parametrize("heading", ["Frame Elevation", "Frame Elev.", "Door Elev", "Elev. Type", "Elevation Type"])
def test_drawings_of_types_are_no_elevation_of_the_building(heading: str) -> None:
    """The 1 and 2 of frame types were elevations, and put out what the row NORTH says of its lines."""
    intake = read(
        f"Mark,Kind,Qty,Width,Height,{heading}", "NORTH", "W1,Window,2,36 in,60 in,2", "W2,Window,2,36 in,61 in,1"
    )
    assert values(intake, "elevation") == [("North",), ("North",)]


@pytest.mark.parametrize(
    ("heading", "basis"),
    [("Rough Width", "rough"), ("Clear Width", "clear"), ("Rough Height", "rough"), ("Clear Ht", "clear")],
)
def test_rough_and_clear_before_a_side_are_its_basis(heading: str, basis: str) -> None:
    assert read_heading_words(heading).basis == basis
