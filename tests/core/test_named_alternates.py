"""Named alternates, buildings and phases on schedule lines: what is read, what stays as it was, CSV as JSON."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.core.job import read_request
from estimating.core.schedule import Schedule, read_schedule
from estimating.core.scope import scope_of
from estimating.intake.schedule_files import read_schedule as read_file
from rates.core.fields import Faults
from rates.core.problems import Refused
from tests.core.invented import Document, built, costed, opening, request, sources


def schedule(*lines: Document) -> Schedule:
    """The schedule of lines that are sound."""
    faults: Faults = []
    found = read_schedule(lines, "in", only_external=False, pointer="/openings", faults=faults)
    assert found is not None, faults
    return found


def faults_of(*lines: Document) -> list[tuple[str, str]]:
    """(pointer, code) of each fault."""
    faults: Faults = []
    read_schedule(lines, "in", only_external=False, pointer="/openings", faults=faults)
    return [(fault.pointer, fault.code) for fault in faults]


def named(name: str, kind: str = "add", *replaces: str) -> Document:
    """An alternate as an object."""
    return {"name": name, "kind": kind} | ({"replaces": list(replaces)} if replaces else {})


def test_an_add_and_a_substitute_stand_out_of_the_base_and_a_deduct_in_it() -> None:
    found = schedule(
        opening("A", 5),
        opening("B", 2, alternate="1"),
        opening("C", 3, alternate=named("2")),
        opening("D", 4, alternate=named("3", "deduct")),
        opening("E", 5, alternate=named("4", "substitute", "A")),
    )
    assert [line.priced for line in found.lines] == [True, False, False, True, False]
    assert [line.alternate_name for line in found.lines] == [None, "1", "2", "3", "4"]
    scope = scope_of(found.lines)
    assert (scope.in_file, scope.priced, scope.alternates) == (19, 9, (("1", 2), ("2", 3), ("4", 5)))


@pytest.mark.parametrize(
    ("alternate", "fault"),
    [
        ({"kind": "add"}, ("/openings/1/alternate/name", "missing")),
        ({"name": "1", "kind": "option"}, ("/openings/1/alternate/kind", "unknown_choice")),
        ({"name": "1", "kind": "substitute"}, ("/openings/1/alternate/replaces", "missing")),
        (named("1", "deduct", "A"), ("/openings/1/alternate/replaces", "not_for_alternate")),
        (named("1", "substitute", "Z"), ("/openings/1/alternate/replaces", "unknown_mark")),
        (named("1", "substitute", "B"), ("/openings/1/alternate/replaces", "unknown_mark")),  # itself is no base line
        (named("1") | {"price": "5"}, ("/openings/1/alternate/price", "unknown_field")),
    ],
)
def test_an_alternate_that_says_too_little_or_too_much_is_refused(alternate: Document, fault: tuple[str, str]) -> None:
    assert faults_of(opening("A"), opening("B", alternate=alternate)) == [fault]


def test_one_alternate_is_of_one_kind() -> None:
    lines = (opening("A", alternate="1"), opening("B", alternate=named("1", "deduct")))
    assert faults_of(*lines) == [("/openings/1/alternate", "alternate_of_two_kinds")]


def digest(*lines: Document) -> str:
    """The input digest of a request of these lines."""
    return read_request(request(*lines), sources()).input_digest


def test_a_number_and_an_add_of_that_name_are_the_same_and_nothing_else_is() -> None:
    assert digest(opening("A"), opening("B", alternate="1")) == digest(opening("A"), opening("B", alternate=named("1")))
    plain = digest(opening("A"))
    others = [
        digest(opening("A", alternate=named("1", "deduct"))),
        digest(opening("A", building="East wing")),
        digest(opening("A", phase="2")),
    ]
    assert len({plain, *others}) == 4
    assert digest(opening("A", building="", phase=" ")) == plain


@settings(max_examples=20, deadline=None)
@given(building=st.sampled_from(["", "East", "East wing"]), phase=st.sampled_from(["", "1", "2"]))
def test_building_phase_and_a_deduct_move_no_figure(building: str, phase: str) -> None:
    plain = [opening(mark, 3, elevation="North", storey=mark) for mark in "AB"]
    placed = [plain[0] | {"building": building, "phase": phase}, plain[1] | {"alternate": named("1", "deduct")}]
    assert built(costed(request(*plain))) == built(costed(request(*placed)))


CSV = """mark,quantity,width_in,height_in,kind,access,elevation,building,phase,sill.kind,sill.back_dam_in,alternate,\
alternate.kind,alternate.replaces
A,5,48,48,window,ground,North,East wing,1,pan,3,,,
B,2,40,48,window,ground,North,East wing,2,,,1,,
C,3,36,48,window,ground,North,West wing,2,,,2,deduct,
D,5,48,50,window,ground,North,West wing,2,,,3,substitute,A; C
"""
LINES: list[Document] = [
    opening("A", 5, building="East wing", phase="1", sill={"kind": "pan", "back_dam": "3 in"}),
    opening("B", 2, width="40 in", height="48 in", building="East wing", phase="2", alternate=named("1")),
    opening("C", 3, width="36 in", height="48 in", building="West wing", phase="2", alternate=named("2", "deduct")),
    opening("D", 5, width="48 in", height="50 in", building="West wing", phase="2")
    | {"alternate": named("3", "substitute", "A", "C")},
]


def test_the_same_lines_by_csv_and_by_json_are_the_same_schedule() -> None:
    said: list[Any] = [line | {"kind": "window", "elevation": "North"} for line in LINES]
    rows = read_file(CSV.encode(), "lines.csv").rows
    assert schedule(*rows) == schedule(*said)
    assert digest(*rows) == digest(*said)


def test_a_name_in_two_columns_is_refused() -> None:
    with pytest.raises(Refused):
        read_file(b"mark,quantity,width_in,height_in,alternate,alternate.name\nA,1,48,48,1,2\n", "lines.csv")
