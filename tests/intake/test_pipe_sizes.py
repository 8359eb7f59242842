"""Nominal pipe sizes in all the ways in which they are written: one known size, exactly, or a question."""

import pytest

from estimating.intake.pipe_sizes import nominal_heading, outside_diameter
from estimating.intake.reading import Intake, Options, read_file

# Outside diameters: ASME B36.10M, from memory.
KNOWN = [
    ("NPS 1/8", "0.405"), ("NPS 1/2", "0.840"), ("NPS 3/4", "1.050"), ("NPS 1", "1.315"), ("NPS 1-1/4", "1.660"),
    ("NPS 1 1/4", "1.660"), ("NPS 1.25", "1.660"), ("NPS 1¼", "1.660"), ("NPS 2½", "2.875"), ("NPS 2.5", "2.875"),
    ("NPS 2-1/2", "2.875"), ("NPS 3-1/2", "4.000"), ("NPS 4", "4.500"), ("nps4", "4.500"), ("NPS-4", "4.500"),
    ("NPS 4 SCH 40", "4.500"), ('4" SCH 40', "4.500"), ("NPS 5", "5.563"), ("NPS 12", "12.750"), ("NPS 14", "14.000"),
    ("NPS 22", "22.000"), ("NPS 48", "48.000"), ('2.5" NPS', "2.875"), ('1/2" NPS', "0.840"), ("1-1/2 NPS", "1.900"),
    ("4 in NPS", "4.500"), ('4" nominal', "4.500"), ('nominal 4"', "4.500"), ('1 1/4" IPS', "1.660"),
    ("DN 15", "0.840"), ("DN 65", "2.875"), ("DN100", "4.500"), ("DN 350", "14.000"), ("4 in", "4.500"),
    ("100 mm", "4.500"),
]  # fmt: skip
UNKNOWN = [
    "NPS 7", "NPS 5/8", "NPS 2.6", "NPS 21/2", "NPS 1/0", "NPS 0", "NPS 38", "DN 110", "DN 40/50", "DN 101",
    "NPS 4 & NPS 2", "NPS 1/2 - 3/4", "NPS 4 in 6\" sleeve", "2.125 in", "110 mm", "pipe", "",
]  # fmt: skip
CELLS_OF_TWO = ["NPS 4 & NPS 2", "NPS 1/2 - 3/4", 'NPS 4 in 6"" sleeve', 'NPS 4 / 6"" sleeve', "DN 40/50", "NPS 4 + 2"]


def read(*rows: str) -> Intake:
    return read_file("\n".join(rows).encode())


@pytest.mark.parametrize(("text", "inches"), KNOWN)
def test_one_known_size_has_the_outside_diameter_of_the_standard(text: str, inches: str) -> None:
    assert outside_diameter(text) == f"{inches} in"


@pytest.mark.parametrize("text", UNKNOWN)
def test_what_is_no_one_known_size_has_none(text: str) -> None:
    assert outside_diameter(text) is None


@pytest.mark.parametrize("cell", CELLS_OF_TWO)
def test_two_sizes_in_a_cell_of_a_pipe_are_asked_about(cell: str) -> None:
    intake = read("Mark,Kind,Qty,Size", f'P1,Pipe,1,"{cell}"')
    assert [q.code for q in intake.questions if q.severity == "blocks_costing"] == ["size_unreadable"]
    assert "diameter" not in intake.lines[0]


@pytest.mark.parametrize(
    ("heading", "kind"),
    [("Pipe Size (NPS)", "NPS"), ("NPS", "NPS"), ("DN", "DN"), ("Nominal pipe size", "NPS"), ("Pipe nom. dia.", "NPS"),
     ("Nominal size", ""), ("Diameter", ""), ("Nominal width", "")],
)  # fmt: skip
def test_headings_of_nominal_sizes(heading: str, kind: str) -> None:
    assert nominal_heading(heading) == kind


def test_bare_numbers_under_a_heading_of_nominal_sizes_are_nominal() -> None:
    intake = read(
        "Mark,Kind,Qty,Pipe Size (NPS)",
        "P1,Pipe,1,4",
        "P2,Pipe,1,1/2",
        "P3,Pipe,1,1-1/2",
        "P4,Pipe,1,2.5",
        "P5,Pipe,1,7",
    )
    assert [line.get("diameter") for line in intake.lines] == ["4.500 in", "0.840 in", "1.900 in", "2.875 in", None]
    assert {q.code for q in intake.questions if q.severity == "blocks_costing"} == {"size_unreadable"}


@pytest.mark.parametrize(("heading", "cell"), [("Dia.", '2"" OD'), ("O.D.", "2 in"), ("Size", '2"" O.D.')])
def test_an_outside_diameter_on_a_line_without_a_kind_is_a_pipe(heading: str, cell: str) -> None:
    intake = read(f"Mark,Service,Qty,{heading}", f'P1,Water,1,"{cell}"')
    assert (intake.lines[0]["kind"], intake.lines[0]["shape"]) == ("pipe", "pipe")
    assert not {q.code for q in intake.questions} & {"kind_missing", "size_out_of_band", "pipe_size"}


def test_a_kind_that_is_answered_pipe_makes_a_round_opening_one() -> None:
    data = b"Mark,Qty,Diameter\nP1,1,6 in\n"
    question = next(q for q in read_file(data).questions if q.code == "kind_missing")
    line = read_file(data, Options(answers={question.id: "pipe"})).lines[0]
    assert (line["kind"], line["shape"], line["diameter"]) == ("pipe", "pipe", "6 in")


def test_common_pipes_are_no_unlikely_sizes_and_windows_of_their_size_are() -> None:
    pipes = read("Mark,Kind,Qty,Size", "P1,Pipe,1,NPS 1/2", "P2,Pipe,1,DN 50")
    assert "size_out_of_band" not in {q.code for q in pipes.questions}
    assert "size_out_of_band" in {q.code for q in read("Mark,Kind,Qty,Diameter", "W1,Window,1,0.84 in").questions}


def test_a_size_that_is_not_nominal_is_asked_about_by_itself() -> None:
    data = b"Mark,Kind,Qty,Diameter\nP1,Pipe,1,4 in\nP2,Pipe,1,2.125 in\n"
    question = next(q for q in read_file(data).questions if q.code == "pipe_size")
    intake = read_file(data, Options(answers={question.id: "nominal"}))
    assert intake.lines[0]["diameter"] == "4.500 in"
    assert [(q.code, list(q.lines)) for q in intake.questions if q.severity == "blocks_costing" and q.open] == [
        ("size_unreadable", [1])
    ]
