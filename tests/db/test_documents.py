"""What is stored comes back byte for byte, short or long, whatever it begins with."""

from __future__ import annotations

import zlib

import orjson
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.outputs.takeoff_rows import opening_rows
from rates.core.jsontext import NumberText
from rates.documents import AS_IT_IS, SHORT, compress, decompress, pack, unpack


@given(st.binary(max_size=300))
def test_short_bytes_are_kept_as_they_are(data: bytes) -> None:
    assert compress(data) == AS_IT_IS + data
    assert decompress(compress(data)) == decompress(memoryview(compress(data))) == data


@pytest.mark.parametrize("start", [b"", b"=", b"z", b"\x28\xb5\x2f\xfd", b"x\x9c"])
@pytest.mark.parametrize("size", [SHORT - 5, SHORT, SHORT + 1, 10 * SHORT])
def test_long_bytes_are_compressed(start: bytes, size: int) -> None:
    data = start + b"W1,36 in,48 in\n" * (size // 15)
    kept = compress(data)
    assert decompress(kept) == decompress(memoryview(kept)) == data
    assert len(kept) == len(data) + 1 if len(data) <= SHORT else len(kept) < len(data) / 10


def test_what_was_stored_as_zlib_writes_it_is_still_read() -> None:
    old = zlib.compress(orjson.dumps({"rows": ["W1"] * 3000}), 1)
    assert unpack(old) == unpack(memoryview(old)) == {"rows": ["W1"] * 3000}
    assert decompress(zlib.compress(b"")) == b""


def test_a_stretch_of_lines_is_read_as_it_was_stored_once() -> None:
    line = [1, "W1", 2, "N", None, 0, "60", "12.00", []]
    shared = {"kind": "window", "not_priced": None}
    assert opening_rows({"shared": [shared], "lines": [line]}) == opening_rows(
        {"shared": {"0": shared}, "lines": [line]}
    )


@pytest.mark.parametrize("count", [1, 5000])
def test_a_number_stays_what_was_written(count: int) -> None:
    value = {"rows": [{"width": NumberText("1.50"), "count": 3, "id": NumberText("123456789012345678901")}] * count}
    back = unpack(pack(value))
    assert back == value and {type(v) for v in back["rows"][0].values()} == {NumberText, int}
    plain = {"rows": [{"width": "1.50", "count": 3, "at": None, "is": True}] * count}
    assert unpack(pack(plain)) == plain and decompress(pack(plain)) == orjson.dumps(plain)
