"""JSON text read strictly (RFC 8259), numbers kept as written, every fault with its line and column.

The C scanner of the standard library reads a sound document in one go. Only where it, or a check after it, finds
something does a search go through the text, leaving each part that is sound to the C scanner again.
"""

from __future__ import annotations

import json
import re
from bisect import bisect_left
from typing import Any

from rates.core.jsonplaces import Lines, each_member, skip_space, skip_value
from rates.core.jsonplaces import locate as locate
from rates.core.problems import MOST_FAULTS, Problem, Refused, escape

MOST_WHOLE_DIGITS = 18
MOST_NUMBER_CHARACTERS = 64
# Nearer the root, a part is first tried whole; deeper, it is walked, so that no text is read more than this many times.
_TRIED_WHOLE = 4
_ESCAPES = re.compile(
    r"\\u[dD][89abAB][0-9a-fA-F]{2}\\u[dD][c-fC-F][0-9a-fA-F]{2}|\\(u[0-9a-fA-F]{4}|[bf])|\\.", re.DOTALL
)
_EXPONENT = re.compile(r"(-?)([0-9]+)(?:\.([0-9]+))?[eE]([+-]?[0-9]+)")
_BAD_ESCAPE = re.compile(r"u00(?:0[0-8bcefBCEF]|1.)|u[dD][89a-fA-F]..|[bf]")
_CONTROL = "The text holds a control character or half of a surrogate pair."


class NumberText(str):
    """A JSON number that is no plain whole number of up to 18 digits, as it was written, an exponent written out."""

    __slots__ = ()

    def __repr__(self) -> str:
        return f"NumberText({str.__repr__(self)})"


class _Suspect(Exception):
    """Something in this part of the text is at fault."""

    def __init__(self, code: str, detail: str) -> None:
        super().__init__(detail)
        self.code = code
        self.detail = detail


def _whole(token: str) -> int | NumberText:
    return int(token) if len(token) <= MOST_WHOLE_DIGITS else _number(token)


def _number(token: str) -> int | NumberText:
    if len(token) > MOST_NUMBER_CHARACTERS:
        raise _Suspect("number_too_long", f"The number has more than {MOST_NUMBER_CHARACTERS} characters.")
    if len(token) == MOST_WHOLE_DIGITS + 1 and token[0] == "-" and token[1:].isdigit():
        return int(token)
    return NumberText(_without_exponent(token))


def _without_exponent(token: str) -> str:
    """The number as a plain decimal, as programs may write 0.00001 as 1e-05; as it stands where that would be long."""
    match = _EXPONENT.fullmatch(token)
    if match is None or abs(int(match[4][:4])) > MOST_NUMBER_CHARACTERS or len(match[4]) > 4:
        return token
    sign, whole, places, shift = match[1], match[2], match[3] or "", int(match[4])
    point = len(whole) + shift
    digits = (whole + places).rjust(len(whole + places) - min(point - 1, 0), "0")
    point = max(point, 1)
    digits = digits.ljust(point, "0")
    left, right = digits[:point].lstrip("0") or "0", digits[point:]
    return f"{sign}{left}.{right}" if right else f"{sign}{left}"


def _no_number(token: str) -> object:
    raise _Suspect("not_finite", f"{token} is not a number in JSON.")


def _members(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    members = dict(pairs)
    if len(members) != len(pairs):
        raise _Suspect("duplicate_key", "The object has a name twice.")
    return members


_STRICT = json.JSONDecoder(object_pairs_hook=_members, parse_int=_whole, parse_float=_number, parse_constant=_no_number)


def read_json(text: str | bytes, *, max_depth: int = 64) -> object:
    """The value of a JSON text: dict, list, str, int, NumberText, bool or None.

    Bytes are UTF-8, a byte order mark is skipped. Refused with every fault, each with pointer, line and column:
    not_utf8, not_json (only the first of these can be found), duplicate_key, not_finite, number_too_long, too_deep
    (over max_depth arrays and objects in each other) and control_character (\\u0000 and the like, lone surrogates).
    """
    plain = decode(text)
    try:
        value = _STRICT.decode(plain)
    except (json.JSONDecodeError, _Suspect, RecursionError):
        raise Refused(_report(plain, max_depth)) from None
    if bad_escapes(plain) or is_deeper(value, max_depth):
        raise Refused(_report(plain, max_depth))
    return value


def decode(text: str | bytes) -> str:
    """The text without its byte order mark. Refused: not_utf8, with the place of the first bad byte."""
    try:
        plain = text.decode("utf-8") if isinstance(text, bytes) else text
        if not plain.isascii() and not isinstance(text, bytes):
            plain.encode("utf-8")
    except UnicodeDecodeError as error:
        before = bytes(text[: error.start] if isinstance(text, bytes) else b"").decode("utf-8")
        raise _not_utf8(before) from None
    except UnicodeEncodeError as error:
        raise _not_utf8(str(text)[: error.start]) from None
    return plain.removeprefix("\ufeff")


def _not_utf8(before: str) -> Refused:
    before = before.removeprefix("\ufeff")
    line, column = before.count("\n") + 1, len(before) - before.rfind("\n")
    return Refused([Problem("", "not_utf8", "The text is not valid UTF-8 here.", line=line, column=column)])


def bad_escapes(text: str) -> list[int]:
    """Where the text escapes a control character (other than tab, line feed, return) or half of a surrogate pair."""
    if not re.search(r"\\[ubf]", text):
        return []
    found = (match for match in _ESCAPES.finditer(text) if match[1])
    return [match.start() for match in found if _BAD_ESCAPE.match(match[1])]


def is_deeper(value: object, most: int) -> bool:
    """Whether more than `most` arrays and objects stand in each other; counts level by level, without recursion."""
    level = [value] if isinstance(value, (dict, list)) else []
    for _ in range(most):
        if not level:
            return False
        inside = [item.values() if type(item) is dict else item for item in level]
        level = [v for items in inside for v in items if type(v) is dict or type(v) is list]
    return bool(level)


class _Enough(Exception):
    """The search ends here."""


class _Search:
    """The faults of one text, gathered in its order."""

    def __init__(self, text: str, max_depth: int) -> None:
        self._text = text
        self._max_depth = max_depth
        self._escapes = bad_escapes(text)
        self._lines = Lines(text)
        self.faults: list[Problem] = []

    def run(self) -> None:
        """Finds every fault up to the first that hides what follows: broken grammar, or too deep a nesting."""
        try:
            end = skip_space(self._text, self._value("", skip_space(self._text, 0), 0))
            if end < len(self._text):
                raise json.JSONDecodeError("Extra data", self._text, end)
        except json.JSONDecodeError as error:
            code = "control_character" if error.msg.startswith("Invalid control") else "not_json"
            self._note("", code, f"This is not JSON: {error.msg}.", error.pos)
        except _Enough:
            pass

    def _note(self, pointer: str, code: str, detail: str, offset: int) -> None:
        line, column = self._lines.place(offset)
        self.faults.append(Problem(pointer, code, detail, line=line, column=column))
        if len(self.faults) == MOST_FAULTS:
            more = f"The text may have more faults; the first {MOST_FAULTS} are listed."
            self.faults.append(Problem("", "more_faults", more, line=line, column=column))
            raise _Enough

    def _value(self, pointer: str, start: int, depth: int) -> int:
        """The offset after the value at start, its faults noted."""
        nests = self._text[start : start + 1] in ("{", "[")
        if nests and depth >= self._max_depth:
            detail = f"More than {self._max_depth} arrays and objects stand in each other."
            self._note(pointer, "too_deep", detail, start)
            raise _Enough
        if not nests:
            return self._scalar(pointer, start)
        if depth < _TRIED_WHOLE:
            end = self._end_if_sound(start, depth)
            if end is not None:
                return end
        return self._members(pointer, start, depth)

    def _end_if_sound(self, start: int, depth: int) -> int | None:
        try:
            value, end = _STRICT.raw_decode(self._text, start)
        except (json.JSONDecodeError, _Suspect, RecursionError):
            return None
        sound = not self._escaped(start, end) and not is_deeper(value, self._max_depth - depth)
        return end if sound else None

    def _scalar(self, pointer: str, start: int) -> int:
        try:
            end = _STRICT.raw_decode(self._text, start)[1]
        except _Suspect as fault:
            self._note(pointer, fault.code, fault.detail, start)
            return skip_value(self._text, start)
        if self._escaped(start, end):
            self._note(pointer, "control_character", _CONTROL, start)
        return end

    def _members(self, pointer: str, start: int, depth: int) -> int:
        seen: set[str | int] = set()

        def visit(step: str | int, name: int, value: int) -> int:
            inner = pointer + escape(step)
            if step in seen:
                self._note(inner, "duplicate_key", "The object has this name twice.", name)
            if self._escaped(name, value):
                self._note(pointer, "control_character", _CONTROL, name)
            seen.add(step)
            return self._value(inner, value, depth + 1)

        return each_member(self._text, start, visit)

    def _escaped(self, start: int, end: int) -> bool:
        return bisect_left(self._escapes, start) < bisect_left(self._escapes, end)


def _report(text: str, max_depth: int) -> list[Problem]:
    search = _Search(text, max_depth)
    search.run()
    return search.faults
