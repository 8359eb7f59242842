"""Where the parts of a JSON text stand: its members one by one, and the line and column of each."""

from __future__ import annotations

import json
import re
from bisect import bisect_left
from collections.abc import Callable, Iterable
from itertools import count

from rates.core.problems import escape

# Numbers stay text here: a place is wanted, and int() of a million digits takes minutes.
_SKIPPER = json.JSONDecoder(parse_int=str, parse_float=str, parse_constant=str)
_PLAIN_MEMBER = re.compile(
    r'"([^"\\]*)"[ \t\n\r]*:[ \t\n\r]*(?:"[^"\\]*"|-?[0-9.eE+-]+|true|false|null)[ \t\n\r]*,[ \t\n\r]*(?=")'
)
_SPACE = re.compile(r"[ \t\n\r]*")

# Three for each line that a schedule may have: past them stands what nobody looks for in a sound document
MOST_MEMBERS = 300_000
Visit = Callable[[str | int, int, int], int]


class _Enough(Exception):
    """No further part of the text is looked at."""


class Lines:
    """The lines of a text, for turning offsets into places."""

    def __init__(self, text: str) -> None:
        self._ends = [match.start() for match in re.finditer("\n", text)]

    def place(self, offset: int) -> tuple[int, int]:
        """Line and column of the character at this offset, both from 1; a line ends at its line feed."""
        before = bisect_left(self._ends, offset)
        return before + 1, offset - (self._ends[before - 1] if before else -1)


def skip_space(text: str, start: int) -> int:
    """The offset of the first character at or after start that is no JSON white space."""
    match = _SPACE.match(text, start)
    return match.end() if match else start


def skip_value(text: str, start: int) -> int:
    """The offset after the value that begins at start. JSONDecodeError where none does; RecursionError if very deep."""
    return _SKIPPER.raw_decode(text, start)[1]


def each_member(text: str, start: int, visit: Visit, passed: Callable[[str], bool] | None = None) -> int:
    """The offset after the object or array at start, once visit has seen each member.

    visit(name or index, offset of the name or the value, offset of the value) gives the offset after the value. It
    need not see a member with a plain value and other members behind it, where its name is `passed`.
    JSONDecodeError at the first place that breaks the grammar.
    """
    named = text[start] == "{"
    closing = "}" if named else "]"
    at = skip_space(text, start + 1)
    if text[at : at + 1] == closing:
        return at + 1
    index = 0
    while True:
        if passed is not None and named:
            while (plain := _PLAIN_MEMBER.match(text, at)) and passed(plain[1]):
                at = plain.end()
        step, value = _read_name(text, at) if named else (index, at)
        at = skip_space(text, visit(step, at, value))
        if text[at : at + 1] == closing:
            return at + 1
        if text[at : at + 1] != ",":
            raise json.JSONDecodeError("Expecting ',' delimiter", text, at)
        at = skip_space(text, at + 1)
        index += 1


def _read_name(text: str, at: int) -> tuple[str, int]:
    if text[at : at + 1] != '"':
        raise json.JSONDecodeError("Expecting property name enclosed in double quotes", text, at)
    name, end = _SKIPPER.raw_decode(text, at)
    colon = skip_space(text, end)
    if text[colon : colon + 1] != ":":
        raise json.JSONDecodeError("Expecting ':' delimiter", text, colon)
    return str(name), skip_space(text, colon + 1)


def locate(text: str, pointers: Iterable[str]) -> dict[str, tuple[int, int]]:
    """Line and column (from 1) of the value at each RFC 6901 pointer, or of its nearest ancestor that exists.

    The text is one that read_json took; it is scanned once, and no further than the last pointer or MOST_MEMBERS go. A
    leading byte order mark counts as no column.
    """
    text = text.removeprefix("\ufeff")
    asked = list(pointers)
    wanted = {prefix for pointer in asked for prefix in _prefixes(pointer)}
    parents = {pointer.rpartition("/")[0] for pointer in wanted if pointer}
    found = {"": skip_space(text, 0)}
    members = count()

    def descend(pointer: str, start: int) -> int:
        if pointer not in parents or text[start : start + 1] not in ("{", "["):
            return skip_value(text, start)

        def visit(step: str | int, _: int, value: int) -> int:
            if len(found) == len(wanted) or next(members) >= MOST_MEMBERS:
                raise _Enough
            inner = pointer + escape(step)
            if inner not in wanted:
                return skip_value(text, value)
            found.setdefault(inner, value)
            return descend(inner, value)

        def passed(name: str) -> bool:
            if next(members) >= MOST_MEMBERS:
                raise _Enough
            return pointer + escape(name) not in wanted

        return each_member(text, start, visit, passed)

    try:
        descend("", found[""])
    except (json.JSONDecodeError, RecursionError, _Enough):
        pass  # all are found; or it is not a text that read_json took: the ancestors found so far still answer
    lines = Lines(text)
    return {pointer: lines.place(next(found[p] for p in _prefixes(pointer) if p in found)) for pointer in asked}


def _prefixes(pointer: str) -> list[str]:
    """The pointer and those of its ancestors, nearest first, the whole document last."""
    steps = pointer.split("/")
    return ["/".join(steps[:count]) for count in range(len(steps), 1, -1)] + [""]
