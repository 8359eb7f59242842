"""Schedules as spreadsheets and programs write them: told by content, read alike, every cell known by its place."""

from __future__ import annotations

import json

import pytest

from estimating.core.kind_reading import kind_fields
from estimating.core.schedule_lines import LINE_FIELDS
from estimating.intake.columns import LENGTHS, known_paths, read_heading
from estimating.intake.csv_rows import read_csv
from estimating.intake.schedule_files import read_schedule, scan_schedule
from rates.core.problems import Refused

LINE = {"mark": "W1", "quantity": 4, "width": "4835 mm"}


def rows(text: str | bytes) -> list[dict[str, object]]:
    """The lines of a schedule as a program writes it."""
    page = scan_schedule(text.encode() if isinstance(text, str) else text, "schedule", strict=True)
    assert page.problems == () and isinstance(page.rows, list)
    return page.rows


@pytest.mark.parametrize(
    "text",
    [
        "mark,count,width_mm\nW1,4,4835\n",
        "mark,count,width_mm\nW1,4,4835",
        "mark,count,width_mm\r\nW1,4,4835\r\n",
        "mark,count,width_mm\rW1,4,4835\r",
        "\ufeffmark,count,width_mm\nW1,4,4835\n",
        "mark;count;width_mm\nW1;4;4835\n",
        "mark\tcount\twidth_mm\nW1\t4\t4835\n",
        '"mark","count","width_mm"\n"W1","4","4835"\n',
        "\n\nmark,count,width_mm\n\n,,\nW1,4,4835\n\n  \n",
        "width_mm,mark,quantity\n4835,W1,4\n",
        "mark,quantity,width\nW1,4,4835 mm\n",
        "mark,count,width_in\nW1,4,4835 mm\n",
        "mark,count,width_mm,note,\nW1,4,4835,,\n",
        '[{"mark": "W1", "quantity": 4, "width": "4835 mm"}]',
        '\ufeff  [{"mark": "W1", "quantity": 4, "width": "4835 mm"}]',
        '{"openings": [{"mark": "W1", "quantity": 4, "width": "4835 mm"}]}',
    ],
)
def test_one_line_in_every_form(text: str) -> None:
    assert [dict(row) for row in rows(text)] == [LINE]


def test_headings_in_a_persons_hand_are_read_alike() -> None:
    text = b" Mark , QUANTITY , Width (mm) , Height (mm) \n W1 , 4 , 4835 , 2100 \n"
    (row,) = read_schedule(text, "schedule").rows
    assert dict(row) == LINE | {"height": "2100 mm"}


@pytest.mark.parametrize(
    ("heading", "cell", "field", "value"),
    [
        ("width_mm", "4835", "width", "4835 mm"),
        ("width_cm", "483.5", "width", "483.5 cm"),
        ("width_m", "4.835", "width", "4.835 m"),
        ("width_in", "36", "width", "36 in"),
        ("width_in", "36 1/2", "width", "36 1/2 in"),
        ("width_in", "36-1/2", "width", "36-1/2 in"),
        ("width_ft", "3.5", "width", "3.5 ft"),
        ("width_in", "3'-4\"", "width", "3'-4\""),
        ("width_ft_in", "6-8", "width", "6' 8"),
        ("width_ft_in", "7-0-1/2", "width", "7' 0-1/2"),
        ("height_above_grade_m", "-3.0", "height_above_grade", "-3.0 m"),
        ("storey_elev_m", "4.267", "storey_elevation", "4.267 m"),
        ("treated_depth_in", "6", "treated_depth", "6 in"),
        ("lap_on_pipe_in", "2", "lap_on_pipe", "2 in"),
        ("count", "12", "quantity", 12),
        ("count", "1.5", "quantity", "1.5"),
        ("is_external", "True", "external", "True"),
        ("external", "no", "external", "no"),
        ("sides", "jambs, head", "sides", "jambs, head"),
        ("storey", "01", "storey", "01"),
        ("mark", "=W1+1", "mark", "=W1+1"),
        ("mark", "01", "mark", "01"),
        ("note", "a b", "note", "a b"),
        ("sill.kind", "sloped", "sill", {"kind": "sloped"}),
        ("excluded.reason", "by others", "excluded", {"reason": "by others"}),
        ("source.sheet", "A6.1", "source", {"sheet": "A6.1"}),
        ("method_override.by", "the principal", "method_override", {"by": "the principal"}),
        ("points_in", "0,0; 40,0; 40,30", "points", [["0 in", "0 in"], ["40 in", "0 in"], ["40 in", "30 in"]]),
    ],
)
def test_a_cell_becomes_what_json_would_hold(heading: str, cell: str, field: str, value: object) -> None:
    text = f'{heading},kind\n"{cell.replace(chr(34), chr(34) * 2)}",door\n'
    (row,) = read_csv(text.encode()).rows
    assert row == {field: value, "kind": "door"}


@pytest.mark.parametrize(
    ("heading", "cell", "width", "height"),
    [
        ("size", "3'-0\" x 6'-8\"", "3'-0\"", "6'-8\""),
        ("size", "3'-0\" X 6'-8\"", "3'-0\"", "6'-8\""),
        ("size", "3'-0\" × 6'-8\"", "3'-0\"", "6'-8\""),
        ("size", "3'-0\" by 6'-8\"", "3'-0\"", "6'-8\""),
        ("size_mm", "900x2100", "900 mm", "2100 mm"),
        ("size_ft_in", "3-0 x 6-8", "3' 0", "6' 8"),
        ("size_ft_in", "3068", "3' 0\"", "6' 8\""),
    ],
)
def test_width_and_height_in_one_cell(heading: str, cell: str, width: str, height: str) -> None:
    text = f'{heading},mark,count\n"{cell.replace(chr(34), chr(34) * 2)}",D1,1\n'
    assert rows(text) == [{"width": width, "height": height, "mark": "D1", "quantity": 1}]


def test_quoted_cells_hold_delimiters_quotes_and_line_ends() -> None:
    text = 'mark,count,width,note\n"W,1",2,"3\'-4""","first\nsecond, ""third"""\nW2,1,48",\n'
    assert rows(text) == [
        {"mark": "W,1", "quantity": 2, "width": "3'-4\"", "note": 'first\nsecond, "third"'},
        {"mark": "W2", "quantity": 1, "width": '48"'},
    ]


def test_a_blank_cell_is_unknown_and_a_nought_is_kept() -> None:
    text = "mark,count,is_external,treated_depth_in,sill.kind\nW1,0,,0,\n"
    assert rows(text) == [{"mark": "W1", "quantity": 0, "treated_depth": "0 in"}]


def test_a_whole_request_keeps_what_stands_beside_its_openings() -> None:
    page = read_schedule(b'{"work_date": "2027-03-15", "openings": []}', "request.json")
    assert (page.rows, page.request) == ([], {"work_date": "2027-03-15"})
    assert read_schedule(b"[]", "schedule.json").request is None
    assert read_schedule(b'{"openings": []}', "schedule.json").request is None


def test_every_field_of_a_line_has_a_column() -> None:
    fields = {field.name for field in (*LINE_FIELDS, *kind_fields(None))}
    assert {path[0] for path in known_paths().values()} == fields | {"size"}
    for name, path in known_paths().items():
        column = read_heading(name)
        assert column is not None and column.path == path
    assert set(LENGTHS) - {"size"} <= set(known_paths())


@pytest.mark.parametrize("name", sorted({*LENGTHS}))
@pytest.mark.parametrize("unit", ["mm", "cm", "m", "in", "ft", "ft_in"])
def test_every_length_takes_its_unit_from_the_heading(name: str, unit: str) -> None:
    column = read_heading(f"{name}_{unit}")
    assert column is not None and column.path == tuple(name.split("."))


@pytest.mark.parametrize("heading", ["quantity_mm", "mark_in", "wide", "width_yd", "sill", "source", "", "openings"])
def test_other_headings_are_not_known(heading: str) -> None:
    assert read_heading(heading) is None


@pytest.mark.parametrize(
    ("pointer", "place"),
    [
        ("/openings/0", (2, 1)),
        ("/openings/0/mark", (2, 1)),
        ("/openings/0/quantity", (2, 9)),
        ("/openings/0/sill/kind", (2, 11)),
        ("/openings/0/sill", (2, 11)),
        ("/openings/0/sill/angle_degrees", (2, 11)),
        ("/openings/0/height", (2, 1)),
        ("/openings/1/mark", (4, 1)),
        ("/openings/1/quantity", (5, 7)),
        ("/openings/7/mark", (1, 1)),
        ("/openings", (1, 1)),
        ("/work_date", (1, 1)),
    ],
)
def test_a_pointer_is_found_in_the_csv(pointer: str, place: tuple[int, int]) -> None:
    text = 'mark,quantity,sill.kind\n"W,""1",4,pan\n\n"W\n two",5,flat\n'
    assert scan_schedule(text.encode(), "schedule.csv", strict=True).places([pointer]) == {pointer: place}


@pytest.mark.parametrize(
    ("text", "pointer", "place"),
    [
        ('[\n {"mark": "W1",\n  "quantity": 4}\n]', "/openings/0/quantity", (3, 15)),
        ('{"openings": [\n {"mark": "W1"}\n]}', "/openings/0/mark", (2, 11)),
        ('[\n {"mark": "W1"}\n]', "/openings/0/quantity", (2, 2)),
        ('\ufeff[{"mark": "W1"}]', "/openings/0/mark", (1, 11)),
    ],
)
def test_a_pointer_is_found_in_the_json(text: str, pointer: str, place: tuple[int, int]) -> None:
    assert read_schedule(text.encode(), "schedule.json").places([pointer]) == {pointer: place}


def test_a_page_with_faults_is_refused_with_all_of_them_and_scanned_with_what_can_be_read() -> None:
    data = b"mark,count,colour\nW1,1,red\nW2,2\nW3,3,blue\n"
    page = scan_schedule(data, "schedule.csv", strict=True)
    assert [(p.code, p.line, p.column) for p in page.problems] == [
        ("unknown_column", 1, 12),
        ("ragged_row", 3, 5),
    ]
    with pytest.raises(Refused) as refused:  # a person's content is asked about: no sizes are given
        read_schedule(data, "schedule.csv")
    assert [(p.code, p.line) for p in refused.value.problems] == [("size_unknown", 2)]
    assert page.rows == [{"mark": "W1", "quantity": 1}, {"mark": "W3", "quantity": 3}]
    assert page.places(["/openings/1/mark"]) == {"/openings/1/mark": (4, 1)}


def test_a_long_schedule_is_read_and_one_line_too_many_is_not() -> None:
    heading, line = "mark,count\n", "W1,1\n"
    assert len(rows(heading + 200_000 * line)) == 200_000
    page = scan_schedule((heading + 200_001 * line).encode(), "schedule.csv", strict=True)
    assert [(p.code, p.line, p.column) for p in page.problems] == [("too_many_lines", 200_002, 1)]


@pytest.mark.parametrize(
    "data",
    [
        b'"' * 1_000_001,
        b'"a",' * 300_000,
        b"mark,count\n" + b'"x,' * 300_000,
        b"mark,count\n" + b"  ," * 300_000 + b'"x',
        b"," * 1_000_000,
        b'"a""' * 200_000,
        b'"\n' * 100_000,
        b"mark,count\n" + b'"x' * 200_000,
        b"mark\n" + b"\0" * 300_000,
        b"\xff" * 100_000,
        b"[" * 100_000,
        b'{"a":' * 50_000,
        b"9" * 1_000_000,
        b"[" + b"9" * 1_000_000 + b"]",
    ],
)
def test_hostile_bytes_give_a_bounded_answer(data: bytes) -> None:
    page = scan_schedule(data, "hostile")
    assert 0 < len(page.problems) <= 1_001
    assert all(problem.line and problem.column and len(problem.detail) < 600 for problem in page.problems)


def test_a_json_schedule_reads_back_from_its_rows() -> None:
    text = "mark,count,width_mm,sill.kind\nW1,2,900,pan\n"
    assert rows(json.dumps(rows(text))) == rows(text)
