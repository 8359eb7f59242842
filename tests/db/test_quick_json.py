"""The quick reader gives what the strict one gives, or nothing."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rates.core.jsontext import NumberText, read_json
from rates.core.problems import Refused
from rates.quick_json import read_plain

DEPTH = 6
TEXTS = st.one_of(
    st.text(max_size=8), st.sampled_from(["", "3'-0\"", "\\", '\\"', "a\nb", "\t", "/", "-0", "1.5", "\x7f", "\u2028"])
)
SCALARS = st.one_of(
    st.none(), st.booleans(), st.integers(), st.integers(-(10**25), 10**25), st.floats(allow_nan=False), TEXTS
)
VALUES = st.recursive(
    SCALARS, lambda inner: st.lists(inner, max_size=4) | st.dictionaries(TEXTS, inner, max_size=4), max_leaves=12
)
DOCUMENTS = st.dictionaries(TEXTS, VALUES, max_size=5)
HARD = [
    b"{}",
    b' {"a": 1} ',
    b'\xef\xbb\xbf{"a": 1}',
    b'{"a": 1, "a": 1}',
    b'{"a": {"b": "x", "b": "x"}}',
    b'{"a": [{"b": 1, "b": 2}], "c": "\\""}',
    b'{"\\u0061": 1, "a": 2}',
    b'{"a\\/": 1, "a/": 2}',
    b'{"a": 1.0}',
    b'{"a": 1e3}',
    b'{"a": -0}',
    b'{"a": 123456789012345678}',
    b'{"a": 1234567890123456789}',
    b'{"a": -123456789012345678}',
    b'{"a": 98765432109876543210}',
    b'{"a": "1234567890123456789"}',
    b'{"a": "\\u0000"}',
    b'{"a": "\\ud800"}',
    b'{"a": "\\u00e9"}',
    b'{"a": "\\b"}',
    b'{"a": "\xff"}',
    b'{"a": NaN}',
    b'{"a": Infinity}',
    b'{"a": 01}',
    b'{"a": 1,}',
    b'{"a": 1} x',
    b"[1, 2]",
    b'"a"',
    b"1",
    b"",
    b'{"a": [[[[[1]]]]]}',
    b'{"a": [[[[[[1]]]]]]}',
    b'{"a": ' + b"[" * 3000 + b"]" * 3000 + b"}",
    b'{"a": "\n"}',
    b"{'a': 1}",
]


def strict(text: bytes) -> Any:
    """What the strict reader gives, None where it refuses."""
    try:
        return read_json(text, max_depth=DEPTH)
    except Refused:
        return None


def same(a: Any, b: Any) -> bool:
    """Equal in value and in type, down to the last number."""
    if type(a) is not type(b):
        return False
    if isinstance(a, dict):
        return list(a) == list(b) and all(same(a[name], b[name]) for name in a)
    if isinstance(a, list):
        return len(a) == len(b) and all(map(same, a, b))
    return bool(a == b)


def check(text: bytes) -> bool:
    """Whether the quick reader gave something, which must then be what the strict one gives."""
    found = read_plain(text, DEPTH)
    assert found is None or same(found, strict(text)), text
    return found is not None


@given(DOCUMENTS, st.sampled_from([(",", ":"), (", ", ": "), (" ,\n", " :\t")]), st.booleans())
def test_any_document(document: dict[str, Any], separators: tuple[str, str], ascii: bool) -> None:
    text = json.dumps(document, separators=separators, ensure_ascii=ascii)
    check(text.encode(errors="surrogatepass"))


@given(DOCUMENTS, st.data())
def test_any_damage(document: dict[str, Any], data: st.DataObject) -> None:
    text = bytearray(json.dumps(document).encode())
    at = data.draw(st.integers(0, len(text) - 1))
    text[at : at + data.draw(st.integers(0, 3))] = data.draw(
        st.sampled_from([b"", b'"', b"\\", b"0", b".", b",", b"{"])
    )
    check(bytes(text))


@given(st.lists(st.tuples(st.sampled_from("abc"), st.sampled_from(['"x"', "1", '{"a":1,"a":1}', '"\\""'])), max_size=5))
def test_a_name_given_twice_is_never_passed_over(members: list[tuple[str, str]]) -> None:
    text = "{" + ",".join(f'"{name}":{value}' for name, value in members) + "}"
    twice = len({name for name, _ in members}) < len(members) or any("a" in value for _, value in members)
    assert check(text.encode()) is not twice


@pytest.mark.parametrize("text", HARD, ids=lambda text: repr(text[:30]))
def test_hard_cases(text: bytes) -> None:
    check(text)


@pytest.mark.parametrize(
    "text",
    [
        b"{}",
        b'{"openings": [{"mark": "W1", "quantity": 2, "width": "36.25 in", "height": "3\'-0\\""}], "metric": false}',
        b'{"a": 123456789012345678, "b": [null, true, -7]}',
        b'{"a": [[[[[1]]]]]}',
    ],
)
def test_sound_documents_are_read(text: bytes) -> None:
    assert check(text)


def test_numbers_kept_as_text_are_left_to_the_strict_reader() -> None:
    assert read_plain(b'{"a": 1.50}', DEPTH) is None
    assert strict(b'{"a": 1.50}') == {"a": NumberText("1.50")}
