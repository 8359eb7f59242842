"""Tables and paragraphs of 80 columns, JSON that reads line by line, progress that keeps quiet at first."""

from __future__ import annotations

import io
import json
import time

import pytest

from estimating.outputs.printed_json import print_json
from estimating.outputs.progress import Progress
from estimating.outputs.text_table import group_thousands, paragraph, table


@pytest.mark.parametrize(
    ("amount", "grouped"),
    [
        ("0.00", "0.00"),
        ("999.99", "999.99"),
        ("1000", "1,000"),
        ("1234567.50", "1,234,567.50"),
        ("-1234.5", "-1,234.5"),
        ("-0.50", "-0.50"),
        ("1234567", "1,234,567"),
        ("12.0025", "12.0025"),
        ("-", "-"),
    ],
)
def test_thousands_are_grouped_and_no_digit_is_changed(amount: str, grouped: str) -> None:
    assert group_thousands(amount) == grouped


def test_a_table_aligns_wraps_and_fits() -> None:
    rows = [("a long title that wraps " * 4, "1.00"), ("short", "1,000.00"), ("", "")]
    lines = table(("title", "amount"), rows, "lr")
    assert max(len(line) for line in lines) <= 80
    assert lines[0].split() == ["title", "amount"] and set(lines[1].strip()) == {"-"}
    assert lines[-2].endswith("1,000.00") and lines[2].endswith("1.00")
    assert lines[3].startswith("  ") and "1.00" not in lines[3]
    narrow = table(("a", "b"), [("x", "y")], "lr")
    assert narrow == ["  a  b", "  ----", "  x  y"]


def test_a_word_longer_than_its_column_is_broken() -> None:
    lines = table(("title", "amount"), [("x" * 200, "1.00")], "lr")
    assert max(len(line) for line in lines) <= 80
    assert sum(line.count("x") for line in lines) == 200


def test_a_paragraph_hangs() -> None:
    lines = paragraph("word " * 30, "  - ", "    ")
    assert lines[0].startswith("  - word") and all(line.startswith("    word") for line in lines[1:])
    assert max(len(line) for line in lines) <= 80


def test_json_has_one_list_item_a_line_and_reads_back() -> None:
    value = {
        "a": [{"x": 1}, {"x": "é"}],
        "b": {"c": "2", "d": None},
        "e": [],
        "f": {"g": 1, "items": [{"h": "3"}, {"h": "4"}]},
        "i": True,
    }
    text = print_json(value)
    assert json.loads(text) == value and list(json.loads(text)) == list(value)
    assert text.isascii()
    assert text.splitlines() == [
        "{",
        ' "a": [',
        '  {"x": 1},',
        '  {"x": "\\u00e9"}',
        " ],",
        ' "b": {"c": "2", "d": null},',
        ' "e": [],',
        ' "f": {',
        '  "g": 1,',
        '  "items": [',
        '   {"h": "3"},',
        '   {"h": "4"}',
        "  ]",
        " },",
        ' "i": true',
        "}",
    ]


def test_short_work_says_nothing() -> None:
    stream = io.StringIO()
    with Progress(stream, terminal=True) as progress:
        progress(0, 3, "reading")
    assert stream.getvalue() == ""


@pytest.mark.parametrize("terminal", [False, True])
def test_long_work_says_each_step_after_a_while(terminal: bool) -> None:
    stream = io.StringIO()
    with Progress(stream, terminal=terminal, patience=0.05) as progress:
        progress(0, 3, "reading")
        assert stream.getvalue() == ""
        wait_for(stream, "reading (1 of 3)")
        progress(1, 3, "costing")
        wait_for(stream, "costing (2 of 3)")
    if terminal:
        assert stream.getvalue().endswith("\r\x1b[K"), "the line is cleared at the end"
        assert "\n" not in stream.getvalue()
    else:
        assert stream.getvalue() == "reading (1 of 3) …\ncosting (2 of 3) …\n"


def wait_for(stream: io.StringIO, text: str) -> None:
    """Return once the stream holds the text; fails after ten seconds."""
    until = time.monotonic() + 10
    while text not in stream.getvalue():
        assert time.monotonic() < until, stream.getvalue()
        time.sleep(0.005)


def test_progress_ends_with_the_work_even_if_it_fails_and_survives_a_closed_stream() -> None:
    stream = io.StringIO()
    with pytest.raises(RuntimeError), Progress(stream, terminal=False, patience=0.01) as progress:
        stream.close()
        progress(0, 1, "reading")
        time.sleep(0.05)
        raise RuntimeError
