"""JSON read strictly: numbers as written, every fault with its place, hostile text refused quickly."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rates.core.jsontext import NumberText, locate, read_json
from rates.core.problems import MOST_FAULTS, Problem, Refused


def faults(text: str | bytes) -> list[tuple[str, str, int | None, int | None]]:
    with pytest.raises(Refused) as caught:
        read_json(text)
    return [(p.pointer, p.code, p.line, p.column) for p in caught.value.problems]


def test_keeps_numbers_as_they_were_written() -> None:
    value = read_json('{"a": 1.50, "b": [1, -7, 1e400, 123456789012345678, -123456789012345678, 1234567890123456789]}')
    assert value == {
        "a": NumberText("1.50"),
        "b": [
            1,
            -7,
            NumberText("1e400"),
            123456789012345678,
            -123456789012345678,
            NumberText("1234567890123456789"),
        ],
    }
    assert repr(value["a"]) == "NumberText('1.50')" != repr("1.50")
    assert [type(v) for v in value["b"]] == [int, int, NumberText, int, int, NumberText]


@pytest.mark.parametrize(
    ("source", "text", "value"),
    [
        ("RFC 8259 section 3", "true", True),
        ("RFC 8259 section 3", " null\r\n", None),
        ("RFC 8259 section 7, an escaped pair", '"\\ud83d\\ude00"', "\U0001f600"),
        ("RFC 8259 section 7, an escaped backslash", '"\\\\u0000 \\\\b"', "\\u0000 \\b"),
        ("RFC 8259 section 7, the escapes of a note", '"a\\tb\\nc\\u000d\\/"', "a\tb\nc\r/"),
        ("RFC 8259 section 8.1, a mark may be ignored", "\ufeff[1]", [1]),
    ],
)
def test_reads_sound_text(source: str, text: str, value: object) -> None:
    assert read_json(text) == value, source
    assert read_json(text.encode()) == value, source


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ('{"a": 1,\n  "a": 2}', [("/a", "duplicate_key", 2, 3)]),
        ('{"a": 1, "\\u0061": 2}', [("/a", "duplicate_key", 1, 10)]),
        (
            '[{"b/c": {"~": NaN}},\n Infinity, -Infinity]',
            [("/0/b~1c/~0", "not_finite", 1, 16), ("/1", "not_finite", 2, 2), ("/2", "not_finite", 2, 12)],
        ),
        (
            '{"x": "\\u0000",\n "y": "\\ud800z", "z": "\\b"}',
            [("/x", "control_character", 1, 7), ("/y", "control_character", 2, 7), ("/z", "control_character", 2, 23)],
        ),
        ('{"\\u0000": 1}', [("", "control_character", 1, 2)]),
        ('["\\ude00\\ud83d"]', [("/0", "control_character", 1, 2)]),
        ('["a\x00b"]', [("", "control_character", 1, 4)]),
        ('["a\nb"]', [("", "control_character", 1, 4)]),
        ("", [("", "not_json", 1, 1)]),
        ("   ", [("", "not_json", 1, 4)]),
        ("{} x", [("", "not_json", 1, 4)]),
        ('{"a" 1}', [("", "not_json", 1, 6)]),
        ('{"a": 1,}', [("", "not_json", 1, 9)]),
        ("[1,\n2,\n]", [("", "not_json", 3, 1)]),
        ("[1 2]", [("", "not_json", 1, 4)]),
        ("[01]", [("", "not_json", 1, 3)]),
        ("[.5]", [("", "not_json", 1, 2)]),
        ("[+1]", [("", "not_json", 1, 2)]),
        ("{'a': 1}", [("", "not_json", 1, 2)]),
        ('["abc', [("", "not_json", 1, 2)]),
        ('["\\x"]', [("", "not_json", 1, 3)]),
        ("// note\n1", [("", "not_json", 1, 1)]),
        (
            '{"a": 1, "a": NaN, "b" 3}',
            [("/a", "duplicate_key", 1, 10), ("/a", "not_finite", 1, 15), ("", "not_json", 1, 24)],
        ),
        (b'{"a":\n "\xff"}', [("", "not_utf8", 2, 3)]),
        (b"\xef\xbb\xbf[\xc3\x28]", [("", "not_utf8", 1, 2)]),
        ("[1]".encode("utf-16"), [("", "not_utf8", 1, 1)]),
        ('["é", "\ud800"]', [("", "not_utf8", 1, 8)]),
    ],
)
def test_names_every_fault_with_its_place(text: str | bytes, found: list[tuple[str, str, int, int]]) -> None:
    assert faults(text) == found


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("1" * 10**6, "number_too_long"),
        ("[-0." + "1" * 10**6 + "]", "number_too_long"),
        ("[" * 100_000, "too_deep"),
        ("[" * 100_000 + "]" * 100_000, "too_deep"),
        ('{"a":' * 100_000 + "1" + "}" * 100_000, "too_deep"),
        ("[" * 65 + "]" * 65, "too_deep"),
        ('"' + '\\"' * 500_000, "not_json"),
        ("[" + '"' * 999_999, "not_json"),
        ("[" + "," * 10**6, "not_json"),
        (" " * 10**6 + "]", "not_json"),
        ("\\u" * 500_000, "not_json"),
    ],
)
def test_hostile_text_is_refused(text: str, code: str) -> None:
    assert [fault[1] for fault in faults(text)] == [code]


def test_nesting_up_to_the_limit_is_taken() -> None:
    assert read_json("[" * 64 + "]" * 64) is not None
    assert read_json("[[]]", max_depth=2) == [[]]
    with pytest.raises(Refused):
        read_json("[[[]]]", max_depth=2)


def test_a_text_full_of_faults_names_a_bounded_number() -> None:
    found = faults("[" + ",".join(["NaN"] * 5000) + "]")
    assert [code for _, code, _, _ in found] == ["not_finite"] * MOST_FAULTS + ["more_faults"]


def test_a_fault_is_a_problem_of_the_request_until_the_caller_says_otherwise() -> None:
    with pytest.raises(Refused) as caught:
        read_json("[NaN]")
    assert caught.value.problems == (Problem("/0", "not_finite", "NaN is not a number in JSON.", line=1, column=2),)


TEXT = """{
  "openings": [
    {"mark": "W1", "width": "36 in"},
    {"mark": "W2", "a/b": {"~": [1, 2]}}
  ],
  "crew": 1
}"""


def test_locates_values_and_the_nearest_ancestor_of_missing_ones() -> None:
    assert locate(
        TEXT,
        [
            "",
            "/openings",
            "/openings/0/width",
            "/openings/1/a~1b/~0/1",
            "/crew",
            "/openings/1/height",
            "/openings/7/x",
            "/gone",
        ],
    ) == {
        "": (1, 1),
        "/openings": (2, 15),
        "/openings/0/width": (3, 29),
        "/openings/1/a~1b/~0/1": (4, 37),
        "/crew": (6, 11),
        "/openings/1/height": (4, 5),
        "/openings/7/x": (2, 15),
        "/gone": (1, 1),
    }


def test_locating_in_a_text_that_breaks_off_answers_with_what_stands() -> None:
    assert locate('{"a": 1,\n "b" 2}', ["/a", "/b"]) == {"/a": (1, 7), "/b": (1, 1)}
    assert locate("", ["/a"]) == {"/a": (1, 1)}
    assert locate("\ufeff [1]", ["/0"]) == {"/0": (1, 3)}


VALUES = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(10**17), 10**17)
    | st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs"])),
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(st.text(st.characters(codec="ascii", min_codepoint=32)), inner, max_size=4)
    ),
    max_leaves=20,
)


@given(VALUES, st.booleans(), st.sampled_from([None, 1]))
def test_what_the_standard_library_writes_reads_back_equal(value: object, ascii_only: bool, indent: int | None) -> None:
    assert read_json(json.dumps(value, ensure_ascii=ascii_only, indent=indent)) == value


def _pointers(value: object, pointer: str = "") -> list[tuple[str, object]]:
    steps = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    inner = [(pointer + "/" + str(step).replace("~", "~0").replace("/", "~1"), item) for step, item in steps]
    return [(pointer, value)] + [found for at, item in inner for found in _pointers(item, at)]


@given(VALUES, st.sampled_from([None, 1]))
def test_a_value_really_stands_where_it_is_located(value: object, indent: int | None) -> None:
    text = json.dumps(value, indent=indent)
    lines = text.split("\n")
    parts = _pointers(value)
    places = locate(text, [pointer for pointer, _ in parts])
    for pointer, part in parts:
        line, column = places[pointer]
        rest = "\n".join(lines[line - 1 :])[column - 1 :]
        assert json.JSONDecoder().raw_decode(rest)[0] == part


@given(st.text(alphabet='{}[]:,"\\u0d8eN \n1-.a', max_size=40))
def test_any_text_is_read_or_refused_with_a_place(text: str) -> None:
    try:
        read_json(text)
    except Refused as refusal:
        assert refusal.problems
        assert all(p.line and p.column and p.line <= text.count("\n") + 1 for p in refusal.problems)
    else:
        json.loads(text)


def test_a_schedule_of_100_000_lines_is_read_and_its_last_line_found() -> None:
    line = {"mark": "W1", "kind": "window", "quantity": 3, "width": "3'-0\"", "height": "6'-8\"", "elevation": "N"}
    text = json.dumps({"openings": [line] * 100_000})
    read = read_json(text)
    assert isinstance(read, dict) and len(read["openings"]) == 100_000
    assert locate(text, ["/openings/99999/mark"]) == {"/openings/99999/mark": (1, text.rindex('"W1"') + 1)}
