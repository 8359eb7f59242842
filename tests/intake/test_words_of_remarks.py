"""Remarks that change a line without a word of scope: parts of counts, places, depths, access, sides, sill, method.

Sources: common practice in schedules, none published; the expected questions are what a reader of the sheet would ask.
"""

from __future__ import annotations

import pytest

from estimating.intake.asking import BLOCKS_ISSUE
from tests.corpus.reader import read_bytes
from tests.intake.test_words_beside_lines import HEAD, ROWS, blocking, read_remark_of_second


def before_issue(remark: str) -> dict[str, list[str]]:
    """The questions before issue of the second of three plain lines, access_missing aside: code -> choices."""
    cell = '"' + remark.replace('"', '""') + '"'
    intake = read_bytes(f"{HEAD},Remarks\n{ROWS.format(',', ',' + cell, ',')}".encode())
    asked = [one for one in intake.questions if one.severity == BLOCKS_ISSUE and one.code != "access_missing"]
    assert all(one.lines == (1,) for one in asked)
    return {one.code: list(one.choices) for one in asked}


def quoted(remark: str) -> str:
    """A remark as a cell of CSV."""
    return '"' + remark.replace('"', '""') + '"'


@pytest.mark.parametrize(
    "remark",
    [
        "2/3", "1/2", "50%", "10+/-", "10 ±", "~10", "-1", "2/rm", "2 per rm", "4N 2S", "N=2 S=2", "4 @ N",
        "2 on N, 2 on S",
        "half LH", "1 of each hand", "balance at north", "remainder", "counted once", "incl. above", "no. = 4", "dble",
        "north & south", "N & S", "E/W", "2nd & 3rd flr", "2nd flr only", "north only", "north", "at roof",
        "units 101-104", "rooms 201 & 202", "101 & 102", "bays 1-4", "types A,B", "bldg A & B", "w/ W1 above",
        "above W1",
        "3W x 2H", "2W", "2nd & 3rd", "2nd and 3rd flrs", "L2+", "L2 & up", "3rd and up", "typ. bays 2-9",
        "see count on A201", "use 3", "s/b 3", "should be 3", "count = 3", "qty: 3", "changed from 1 to 3",
    ],
)  # fmt: skip
def test_a_part_of_a_count_and_places_are_asked_before_costing(remark: str) -> None:
    codes = read_remark_of_second(quoted(remark))
    assert codes.keys() & {"count_words", "size_in_words"} and all(marks == ["W2"] for marks in codes.values())


@pytest.mark.parametrize(
    ("remark", "code"),
    [
        ("now W5", "delta_words"), ("was W2", "delta_words"), ("renumbered W7", "delta_words"),
        ("N/U", "scope_words"), ("NR", "scope_words"), ("?", "scope_words"), ("EC", "scope_words"),
        ("b.o.", "scope_words"),
        ("owner furn", "scope_words"), ("panelized", "scope_words"), ("in CW", "scope_words"),
        ("close opng", "scope_words"),
        ("brick in", "scope_words"), ("defer", "scope_words"), ("VMU", "scope_words"), ("smoke", "fire_rated"),
        ("3-sided", "sides_unknown"), ("sill only", "sides_unknown"), ("head flashing only", "sides_unknown"),
        ("no bottom", "sides_unknown"), ("top & sides", "sides_unknown"), ("2 jambs", "sides_unknown"),
        ("tape at sill", "method_unknown"), ("self-adhered", "method_unknown"), ("no tape", "method_unknown"),
        ('24" dia', "shape_words"), ("seg", "shape_words"),
        ('+2"', "words_beside_size"), ("-0'-1\"", "words_beside_size"), ('1" wider', "words_beside_size"),
        ('+ 1/2" ea side', "words_beside_size"), ("taller", "words_beside_size"), ("widened", "words_beside_size"),
        ('12" transom', "words_beside_size"), ('RO = unit + 1/2"', "words_beside_size"),
        ("RO per mfr", "words_beside_size"),
        ("net", "size_basis_of_line"), ("B.M. size", "size_basis_of_line"),
    ],
)  # fmt: skip
def test_words_that_decide_scope_sides_method_shape_or_size_are_asked_before_costing(remark: str, code: str) -> None:
    assert read_remark_of_second(quoted(remark)) == {code: ["W2"]}


@pytest.mark.parametrize(
    ("remark", "first"),
    [
        ('recessed 4"', '4"'), ('wall 12" thick', '12"'), ('12" wall', '12"'), ('8" CMU wall', '8"'),
        ('return 8"', '8"'),
        ('6" deep', '6"'), ("reveal 200 mm", "200 mm"),
    ],
)  # fmt: skip
def test_a_depth_in_words_is_asked_before_issue(remark: str, first: str) -> None:
    """Depth is a factor of the takeoff as access is, neither count nor size of the opening."""
    assert before_issue(remark) == {"depth_words": [first, "as_drawn"]}
    assert read_remark_of_second(quoted(remark)) == {}


@pytest.mark.parametrize(
    ("remark", "first"),
    [
        ("lift req'd", "lift"), ("from swing stage", "swing_stage"), ("stepladder", "step_ladder"),
        ("boom lift", "lift"),
        ("scaffold req'd", "ground"),
    ],
)  # fmt: skip
def test_an_access_in_words_is_asked_before_issue(remark: str, first: str) -> None:
    asked = before_issue(remark)
    assert list(asked) == ["access_unknown"] and asked["access_unknown"][0] == first


@pytest.mark.parametrize(
    "remark", ["sloped sill 15 deg", "sill pan", "w/ back dam", "end dams", "w/ upturn at sill", "slp sill"]
)
def test_a_sill_in_words_is_asked_before_issue(remark: str) -> None:
    assert list(before_issue(remark)) == ["sill_unknown"]


@pytest.mark.parametrize("said", ["sloped 15 degrees", "Sloped sill 15°", "sill.kind=sloped, sill.angle_degrees=15"])
def test_a_sloped_sill_is_answered_with_its_angle(said: str) -> None:
    """A person had to write names of fields, which the question itself spelled out."""
    text = b"mark,qty,width,height,notes\nA,2,48 in,48 in,w/ sloped sill\n"
    question = next(q for q in read_bytes(text).questions if q.code == "sill_unknown")
    assert "sill.kind" not in question.sentence
    line = read_bytes(text, {question.id: said}).lines[0]
    assert line["sill"] == {"kind": "sloped", "angle_degrees": "15"}


@pytest.mark.parametrize(
    "remark",
    [
        "see plan", "VIF", "see door schedule", "LH", "DH", "S side", "at stair 2", "south stair", "2nd", "south",
        "level 2",
        "3/4/26", "RFI 12", "OK", "new", "6", "1, 3", "see 3/A501", "glazing tape", "lift & slide", '1 3/4" thick door',
        'louver 6" deep', "rev 2", "cloud 3", "match W1", "no bottom rail", '1/2" shim', "grids A-D", "@ 4'-0\" o.c.",
    ],
)  # fmt: skip
def test_other_remarks_are_not_asked_about(remark: str) -> None:
    """What names a drawing, a hand, hardware or the line's own place changes nothing; a bare number is a note's."""
    assert read_remark_of_second(quoted(remark)) == before_issue(remark) == {}


def test_a_depth_or_access_that_the_line_has_is_not_asked() -> None:
    rows = (
        'Mark,Kind,Qty,Width,Height,Depth,Access,Remarks\nW1,Window,4,36 in,60 in,12 in,lift,"lift, wall 12"" thick"\n'
    )
    codes = {one.code for one in read_bytes(rows.encode()).questions if one.severity != "to_know"}
    assert not codes & {"depth_words", "access_unknown", "access_missing"}


def test_an_access_that_denies_the_column_is_asked() -> None:
    rows = "Mark,Kind,Qty,Width,Height,Access,Remarks\nW1,Window,4,36 in,60 in,ground,lift req'd\n"
    assert [one.choices[0] for one in read_bytes(rows.encode()).questions if one.code == "access_unknown"] == ["lift"]


@pytest.mark.parametrize(
    ("remark", "code"),
    [
        ("Nord und Süd", "count_words"), ("nur Nordseite", "count_words"), ("Hälfte", "count_words"),
        ("Rest Süd", "count_words"), ("mehrere", "count_words"), ("schon gezählt", "count_words"),
        ("jetzt F5", "delta_words"), ("ehemals F2", "delta_words"), ("Bauherr", "scope_words"),
        ("nur Brüstung", "sides_unknown"), ("dreiseitig", "sides_unknown"), ("Flüssigkunststoff", "method_unknown"),
        ("façade nord uniquement", "count_words"), ("R+1 et R+2", "count_words"), ("moitié", "count_words"),
        ("plusieurs", "count_words"), ("déjà compté", "count_words"), ("devient F5", "delta_words"),
        ("ancien F2", "delta_words"), ("sans linteau", "sides_unknown"), ("appui seul", "sides_unknown"),
        ("bande adhésive", "method_unknown"), ("solo fachada norte", "count_words"), ("plantas 1 y 2", "count_words"),
        ("mitad", "count_words"), ("aprox. 10", "count_words"), ("ya contado", "count_words"),
        ("ahora V5", "delta_words"),
        ("sustituye a V3", "delta_words"), ("3 lados", "sides_unknown"), ("cinta adhesiva", "method_unknown"),
        ("Wand 30 cm", "depth_words"), ("en retrait de 10 cm", "depth_words"), ("muro 30 cm", "depth_words"),
        ("Wandstärke 36,5 cm", "depth_words"),
    ],
)  # fmt: skip
def test_the_same_in_german_french_and_spanish(remark: str, code: str) -> None:
    assert code in {**read_remark_of_second(quoted(remark)), **before_issue(remark)}


@pytest.mark.parametrize("remark", ["octagon 24", "octagonal 36 in"])
def test_a_shape_is_no_month(remark: str) -> None:
    assert read_remark_of_second(remark) == {"shape_words": ["W2"]}
    assert read_remark_of_second("Oct 12") == read_remark_of_second("dated September 3") == {}


def test_lines_of_a_program_are_heard_alike() -> None:
    rows = (
        "mark,quantity,width,height,elevation,storey,note", "W1,4,36 in,60 in,N & S,1,",
        "W2,4,36 in,60 in,North,Ea. Flr,",
        "W3,4,36 in,60 in,North,2,2/3", "W4-W6,4,36 in,60 in,North,1,", "W7,4,36 in,60 in,North,1,sill only",
        "W8,4,36 in,60 in,North,1,tape at sill", "W9,4,36 in,60 in,North,1,see plan",
    )  # fmt: skip
    asked = {"count_words": ["W1", "W2", "W3", "W4-W6"], "sides_unknown": ["W7"], "method_unknown": ["W8"]}
    assert blocking(read_bytes("\n".join(rows).encode())) == asked


def test_numbers_of_notes_under_a_key_are_no_share() -> None:
    assert read_remark_of_second("2/3", "Keynotes") == {}


@pytest.mark.parametrize("remark", ["use 2", "should be 2", "changed from 1 to 2", "use 3 fasteners", "2 & 3"])
def test_the_line_s_own_count_said_again_is_not_asked_about(remark: str) -> None:
    assert read_remark_of_second(quoted(remark)) == {}


@pytest.mark.parametrize("remark", ["B/O", "canc.", "no AVB"])
def test_abbreviations_of_scope_are_asked_before_costing(remark: str) -> None:
    assert read_remark_of_second(remark) == {"scope_words": ["W2"]}


@pytest.mark.parametrize("mark", ["(E)W2", "W2(E)", "(EX)W2", "W2[E]", "W2(NIC)", "W2(ALT)"])
def test_words_in_brackets_joined_to_a_mark_are_asked_before_costing(mark: str) -> None:
    intake = read_bytes(f"{HEAD}\n{ROWS.format('', '', '')}".replace("W2,", f"{mark},").encode())
    assert blocking(intake).keys() & {"scope_words", "alternate_words"}


@pytest.mark.parametrize("mark", ["(N)W2", "W2(A)", "W2(L)"])
def test_other_letters_in_brackets_are_not(mark: str) -> None:
    assert blocking(read_bytes(f"{HEAD}\n{ROWS.format('', '', '')}".replace("W2,", f"{mark},").encode())) == {}
