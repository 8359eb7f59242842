"""Storeys, elevations, buildings and units in words, and what multiplies a count."""

import re
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.intake.multipliers import per_of, times_of
from estimating.intake.place_headings import says_several
from estimating.intake.places_words import SEPARATORS, read_places
from tests.intake.harmless_texts import HARMLESS
from tests.intake.scope_texts import rows

STOREYS = [
    ("LEVELS 2 THRU 5", "Level 2|Level 3|Level 4|Level 5"),
    ("TYP FLOORS 2-5", "Floor 2|Floor 3|Floor 4|Floor 5"),
    ("2ND-5TH FLR", "Floor 2|Floor 3|Floor 4|Floor 5"),
    ("FLOORS 2 TO 4", "Floor 2|Floor 3|Floor 4"),
    ("L2, L3 & L4", "L2|L3|L4"),
    ("L2-L4", "L2|L3|L4"),
    ("L2", "L2"),
    ("Level 2", "Level 2"),
    ("LVL 3", "Level 3"),
    ("3rd floor", "Floor 3"),
    ("third floor", "Floor 3"),
    ("2 & 3 FLOORS", ""),
    ("Floors 2, 3 and 5", "Floor 2|Floor 3|Floor 5"),
    ("GROUND", "Ground"),
    ("Ground floor", "Ground"),
    ("basement", "Basement"),
    ("Roof", "Roof"),
    ("Mezz.", "Mezzanine"),
    ("penthouse", "Penthouse"),
    ("2", "2"),
    ("2-5", "2|3|4|5"),
    ("2, 3 & 5", "2|3|5"),
    ("2nd", "2"),
    ("1.OG", "1.OG"),
    ("1. OG", "1.OG"),
    ("OG 2", "2.OG"),
    ("1.-4. OG", "1.OG|2.OG|3.OG|4.OG"),
    ("1.OG bis 4.OG", "1.OG|2.OG|3.OG|4.OG"),
    ("1. Obergeschoss", "1.OG"),
    ("EG", "EG"),
    ("Erdgeschoss", "EG"),
    ("KG, EG, 1.OG", "KG|EG|1.OG"),
    ("1.UG", "1.UG"),
    ("DG", "Attic"),
    ("RDC", "RDC"),
    ("rez-de-chauss\u00e9e", "RDC"),
    ("R+1", "R+1"),
    ("R+1 \u00e0 R+4", "R+1|R+2|R+3|R+4"),
    ("1er \u00e9tage", "Etage 1"),
    ("niveau 2", "Niveau 2"),
    ("sous-sol", "Sous-sol"),
    ("Planta baja", "Planta baja"),
    ("PB", "Planta baja"),
    ("Planta 2", "Planta 2"),
    ("2\u00aa planta", "Planta 2"),
    ("Plantas 2 a 4", "Planta 2|Planta 3|Planta 4"),
    ("s\u00f3tano", "S\u00f3tano"),
]
ELEVATIONS = [
    ("North", "North"),
    ("NORTH ELEVATION", "North"),
    ("N. elev.", "North"),
    ("N.E. elevation", "Northeast"),
    ("north-east", "Northeast"),
    ("Nord", "North"),
    ("S\u00fcdansicht", "South"),
    ("Ostfassade", "East"),
    ("Ost", "East"),
    ("West", "West"),
    ("Nordwest", "Northwest"),
    ("fa\u00e7ade ouest", "West"),
    ("fa\u00e7ade est", "East"),
    ("Sud", "South"),
    ("fachada sur", "South"),
    ("alzado norte", "North"),
    ("este", "East"),
    ("oeste", "West"),
    ("N & S", "North|South"),
    ("N/S elevations", "North|South"),
    ("E elevation", "East"),
    ("front elevation", "Front"),
    ("REAR", "Rear"),
    ("left side elevation", "Left"),
    ("Right elevation", "Right"),
    ("Gartenseite", "Garden"),
    ("c\u00f4t\u00e9 rue", "Street"),
    ("ELEVATION A", "Elevation A"),
    ("NW", "Northwest"),
    ("all elevations", "All"),
    ("NORTH & SOUTH ELEVATIONS", "North|South"),
]
NAMED = [
    ("BLDG A & B", "building", "Building A|Building B"),
    ("BLDGS 1-4", "building", "Building 1|Building 2|Building 3|Building 4"),
    ("Building C", "building", "Building C"),
    ("Haus 3", "building", "Building 3"),
    ("b\u00e2timent B", "building", "Building B"),
    ("Bloque 2", "building", "Block 2"),
    ("Tower 1", "building", "Tower 1"),
    ("UNIT 2B", "unit", "Unit 2B"),
    ("UNIT TYPE A", "unit", "Unit A"),
    ("Apt. 12", "unit", "Unit 12"),
    ("Units 1, 2 & 4", "unit", "Unit 1|Unit 2|Unit 4"),
    ("Wohnung 3", "unit", "Unit 3"),
]
MULTIPLIERS = [
    ("(4) FLOORS", "places:4:floor"),
    ("4 floors", "places:4:floor"),
    ("4 BUILDINGS THUS", "places:4:building"),
    ("TYPICAL OF 4 UNITS", "places:4:unit"),
    ("UNIT TYPE A (4 UNITS)", "places:4:unit"),
    ("TYP x 4", "typical:4:"),
    ("per floor", "per::floor"),
    ("4/floor", "per:4:floor"),
    ("TYP FLRS", "per::floor"),
    ("TYPICAL FLOOR", "per::floor"),
    ("\u00e9tage courant", "per::floor"),
    ("Regelgeschoss", "per::floor"),
    ("planta tipo", "per::floor"),
    ("3 Wohnungen", "places:3:unit"),
]


@pytest.mark.parametrize(("text", "names"), STOREYS)
def test_storeys(text: str, names: str) -> None:
    said = read_places(text)
    assert "|".join(said.names("storey")) == names
    assert said.residue == "" or not names


@pytest.mark.parametrize(("text", "names"), ELEVATIONS)
def test_elevations(text: str, names: str) -> None:
    said = read_places(text)
    assert ("|".join(said.names("elevation")), said.residue, said.names("storey")) == (names, "", ())


@pytest.mark.parametrize(("text", "kind", "names"), NAMED)
def test_buildings_and_units(text: str, kind: str, names: str) -> None:
    said = read_places(text)
    assert ("|".join(said.names(kind)), said.residue) == (names, "")


@pytest.mark.parametrize(("text", "says"), MULTIPLIERS)
def test_multipliers_are_no_list_of_places(text: str, says: str) -> None:
    said = read_places(text)
    names = [f"{one.how}:{'' if one.count is None else one.count}:{one.per}" for one in said.multipliers]
    assert (names, said.residue, said.names("storey")) == ([says], "", ())


def test_the_letter_o_is_east_in_german_and_west_in_french_and_spanish() -> None:
    assert [place.could_be for place in read_places("O").places] == [("East", "West")]
    assert [place.could_be for place in read_places("NO").places] == [("Northeast", "Northwest")]


def test_typical_and_bare() -> None:
    assert read_places("TYP FLOORS 2-5").typical and not read_places("FLOORS 2-5").typical
    assert read_places("2-5").bare and not read_places("L2-L5").bare


def test_a_title_with_several_places() -> None:
    said = read_places("WINDOW SCHEDULE - BUILDING A - LEVEL 1 - NORTH")
    assert (said.names("building"), said.names("storey"), said.names("elevation")) == (
        ("Building A",),
        ("Level 1",),
        ("North",),
    )
    assert said.residue == "WINDOW SCHEDULE"


@pytest.mark.parametrize(
    "text",
    ["LEFT", "RH", "NIC", "fixed", "see plan", "W12", "lobby", "3'-0\" x 6'-8\"", "half round", "L 3'-0\"", "B 1,20"],
)
def test_no_places(text: str) -> None:
    assert read_places(text).places == ()


PIECES = st.sampled_from(
    [text for text, _ in STOREYS + ELEVATIONS] + [text for text, _ in rows()] + HARMLESS.split("\n")
)


@given(st.lists(PIECES, max_size=4), st.sampled_from([" ", ", ", "", "\n"]))
def test_nothing_vanishes(parts: list[str], between: str) -> None:
    kept_whole(between.join(parts))


@given(st.text(max_size=30))
def test_any_text_is_read_and_nothing_vanishes(text: str) -> None:
    kept_whole(text)


def kept_whole(text: str) -> None:
    said = read_places(text)
    assert marks("".join(said.consumed) + said.residue) == marks(unicodedata.normalize("NFC", text))


def marks(text: str) -> list[str]:
    """The characters that may not be lost: all but spaces, and signs that say nothing by themselves."""
    return sorted(char for char in re.sub(r"\s", "", text) if char not in SEPARATORS)


TIMES = [
    ("Level 2 (x4)", 4),
    ("Level 2 x4", 4),
    ("UNIT TYPE A - 12 UNITS", 12),
    ("UNIT TYPE B x 8", 8),
    ("BLOCK C (8 NO.)", 8),
    ("House type 3 - 14 no.", 14),
    ("BLDG A OF 3 IDENTICAL", 3),
    ("Each of 4 stair towers", 4),
    ("Warehouse, 14 bays alike", 14),
    ("Unit A (12 units)", 12),
    ("NOTE: Multiply all quantities by 3.", 3),
    ("Type A apartments (6 thus)", 6),
    ("Windows (12)", 12),
    ("24 x 36", None),
    ("Sheet 1 of 3", None),
    ("NORTH ELEVATION - 6 OPENINGS", None),
    ("RO 36x60", None),
    ("Level 2", None),
]


@pytest.mark.parametrize(("text", "times"), TIMES)
def test_what_a_title_multiplies_by(text: str, times: int | None) -> None:
    assert times_of(text) == times


@pytest.mark.parametrize(
    ("heading", "per"),
    [
        ("Qty per dwelling", "unit"),
        ("Qty/Flr", "floor"),
        ("Qty per unit", "unit"),
        ("Qty ea. stair", "unit"),
        ("Qty", ""),
    ],
)
def test_what_a_heading_counts_for_each_of(heading: str, per: str) -> None:
    assert per_of(heading) == per


SEVERAL = {
    "elevation": "N x2|N&S|N, S, E|N/S|All sides|each elev.|N (ea. of 3 bays)|N-4, S-2|Front / rear|all|typ",
    "building": "A, B|A-C|all|A (x3)|3 bldgs|1-3|A & B",
    "storey": "ALL|TYP|even|2 (typ of 3)|each|1 to roof|2..5|3 floors|1-3|2-4|L1 - L3|2, 3|upper floors|ETAGE COURANT",
}
ONE = {
    "elevation": "N|S|North|NE|N (NIC on S)|A|Front|E1|E-2|Courtyard|North wing|North-East|Side 2|A-A|Street side",
    "building": "A|1|Building 1|Bldg A|Tower 2|Main|Annex|A1|B-2|North Wing|Gym|10A",
    "storey": "1|L2|Level 2|EG|1.OG|R+1|Ground|2nd|Mezz.|P1|01|Roof|PB|Planta 2|Lower Level|1.5|-1|2A|Upper level",
}


@pytest.mark.parametrize(
    ("kind", "cell"), [(kind, cell) for kind, cells in SEVERAL.items() for cell in cells.split("|")]
)
def test_cells_that_stand_for_several_places(kind: str, cell: str) -> None:
    assert says_several(cell, kind)


@pytest.mark.parametrize(("kind", "cell"), [(kind, cell) for kind, cells in ONE.items() for cell in cells.split("|")])
def test_cells_of_one_place(kind: str, cell: str) -> None:
    assert not says_several(cell, kind)


def test_plural_words_of_elevations_hold_no_letter() -> None:
    assert read_places("Elevations - NIC").places == ()
