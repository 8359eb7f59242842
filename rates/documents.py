"""JSON documents as bytes: written, compressed, digested and read back without changing a number."""

from __future__ import annotations

import hashlib
import zlib
from typing import Any

import orjson

from rates.core.jsontext import NumberText, read_json

KEPT = orjson.OPT_PASSTHROUGH_SUBCLASS  # so that a number kept as text is written as the number it was


def _keep_number(value: object) -> object:
    if isinstance(value, NumberText):
        return orjson.Fragment(str(value).encode())
    raise TypeError(f"{type(value).__name__} has no place in a JSON document")


def write_json(value: object) -> bytes:
    """The value as compact UTF-8 JSON."""
    return orjson.dumps(value, default=_keep_number, option=KEPT)


def write_sorted(value: object) -> bytes:
    """The value as compact UTF-8 JSON with sorted names: equal documents give equal bytes."""
    return orjson.dumps(value, default=_keep_number, option=KEPT | orjson.OPT_SORT_KEYS)


def digest(value: object) -> str:
    """SHA-256 of the sorted JSON, in hexadecimal."""
    return hashlib.sha256(write_sorted(value)).hexdigest()


def pack(value: object) -> bytes:
    """The value as compressed JSON, as it is stored; a space before it says that it holds numbers kept as text."""
    try:
        return zlib.compress(orjson.dumps(value, option=KEPT), 1)
    except TypeError:  # a number that is no plain whole number
        return zlib.compress(b" " + write_json(value), 1)


def unpack(stored: bytes | memoryview) -> Any:
    """What `pack` stored; read the quick way where every number in it is whole."""
    text = zlib.decompress(stored)
    return read_json(text) if text.startswith(b" ") else orjson.loads(text)


def unpack_bytes(stored: bytes | memoryview) -> bytes:
    """The JSON text that `pack` stored."""
    return zlib.decompress(stored)
