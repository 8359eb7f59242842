"""JSON documents as bytes: written, compressed, digested and read back without changing a number.

What is stored begins with a byte that says how: compressed (Zstandard, RFC 8878), or as it is where it is short.
"""

from __future__ import annotations

import hashlib
import sys
import zlib
from typing import Any

import orjson

from rates.core.jsontext import NumberText, read_json

if sys.version_info >= (3, 14):
    from compression import zstd
else:
    from backports import zstd  # the same module for older Pythons

SHORT = 8 * 1024  # bytes that are not worth compressing
AS_IT_IS, COMPRESSED = b"=", b"z"
ZLIB = b"x"  # the first byte of what was stored once, as zlib writes it
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


def compress(data: bytes) -> bytes:
    """The bytes as they are stored."""
    return AS_IT_IS + data if len(data) <= SHORT else COMPRESSED + zstd.compress(data, 1)


def decompress(stored: bytes | memoryview) -> bytes:
    """The bytes that `compress` stored."""
    if stored[0] == ZLIB[0]:
        return zlib.decompress(stored)
    rest = stored[1:]
    return bytes(rest) if stored[0] == AS_IT_IS[0] else zstd.decompress(rest)


def pack(value: object) -> bytes:
    """The value as stored JSON; a space before it says that it holds numbers kept as text."""
    try:
        return compress(orjson.dumps(value, option=KEPT))
    except TypeError:  # a number that is no plain whole number
        return compress(b" " + write_json(value))


def unpack(stored: bytes | memoryview) -> Any:
    """What `pack` stored; read the quick way where every number in it is whole."""
    text = decompress(stored)
    return read_json(text) if text.startswith(b" ") else orjson.loads(text)
