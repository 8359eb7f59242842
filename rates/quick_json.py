"""The quick way to read a sound JSON document, with the strict reader's own outcome or none at all.

What the strict reader (rates.core.jsontext) keeps as it was written or refuses is looked for afterwards, in passes that
stay out of the interpreter: names given twice, numbers other than whole ones of up to 18 digits, escapes of control
characters, deep nesting. Wherever one of them could be, the answer is None and the strict reader has to read again.
"""

from __future__ import annotations

import re
from itertools import chain
from types import NoneType
from typing import Any

import orjson

from rates.core.jsontext import MOST_WHOLE_DIGITS

MINUS_ZERO = re.compile(rb"-0(?<=[\s:\[,]-0)")  # searched by its literal start
ESCAPES = re.compile(rb"\\[ubf]")
DIGITS = bytes(ord("0") if chr(i).isascii() and chr(i).isdigit() else ord(" ") for i in range(256))
LONG = b"0" * (MOST_WHOLE_DIGITS + 1)
PLAIN = {dict, list, str, int, bool, NoneType}


def read_plain(text: bytes, max_depth: int) -> dict[str, Any] | None:
    """The object that the strict reader would give, or None where that is not certain."""
    try:
        value = orjson.loads(text)
    except ValueError:
        return None
    if type(value) is not dict or ESCAPES.search(text) or MINUS_ZERO.search(text) or LONG in text.translate(DIGITS):
        return None
    # A name given twice is kept once: the value written again has fewer quotation marks. An escaped one stays escaped.
    if not is_plain(value, max_depth) or orjson.dumps(value).count(b'"') != text.count(b'"'):
        return None
    return value


def is_plain(value: object, max_depth: int) -> bool:
    """Whether there are no decimals, and no more than `max_depth` arrays and objects in each other."""
    level: list[Any] = [value]
    for _ in range(max_depth + 1):
        types = set(map(type, level))
        if not types <= PLAIN:
            return False
        if not types & {dict, list}:
            return True
        inside = [x.values() if type(x) is dict else x for x in level if type(x) is dict or type(x) is list]
        level = list(chain.from_iterable(inside))
    return False
