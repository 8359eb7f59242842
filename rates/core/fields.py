"""One field table for every format: field -> reader, bounds, doc; all faults of a document at once.

A reader turns one raw value (from JSON, CSV, XLSX or a form) into one exact value, or notes a fault and gives None.
Its `schema` is the JSON Schema of what it accepts, from which the HTTP description of the big bodies is generated.
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from rates.core.exact import read_decimal
from rates.core.fraction import Fraction
from rates.core.problems import MOST_FAULTS, Problem, Unreadable, escape, more_faults
from rates.core.texts import clean_text as clean_text
from rates.core.texts import shown as shown

DECIMAL = r"^-?[0-9]{1,15}(\.[0-9]{1,12})?$"
ISO_DATE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", re.ASCII)
Faults = list[Problem]
Measure = Callable[[str], Fraction]


@dataclass(frozen=True)
class Reader:
    """Reads one value: `parse` raises Unreadable, `schema` describes what is accepted."""

    parse: Callable[[object], Any]
    schema: Mapping[str, Any]

    def read(self, raw: object, pointer: str, faults: Faults) -> Any:
        """The exact value, or None with a fault noted at `pointer`."""
        try:
            return self.parse(raw)
        except Unreadable as why:
            faults.append(Problem(pointer, why.code, why.detail))
            return None


def text(limit: int = 200, *, blank: bool = False) -> Reader:
    """Reader of trimmed text; blank text is a fault unless `blank`."""

    def parse(raw: object) -> str:
        value = clean_text(raw, limit)
        if not value and not blank:
            raise Unreadable("blank", "this may not be blank")
        return value

    return Reader(parse, {"type": "string", "maxLength": limit} | ({} if blank else {"minLength": 1}))


def number_text(raw: object) -> str:
    """A number's text from text or a JSON number; never from true, false or a float."""
    if isinstance(raw, str):
        return raw.strip()
    if isinstance(raw, int) and not isinstance(raw, bool):
        return str(raw)
    raise Unreadable("not_a_number", f"a number is expected, not {shown(raw)}")


def bound(value: Fraction, low: Fraction | int | None, high: Fraction | int | None, above: bool) -> None:
    """Raise Unreadable unless low ≤ value ≤ high (low < value where `above`)."""
    if low is not None and (value < low or (above and value == low)):
        raise Unreadable("too_small", f"must be {'more than' if above else 'at least'} {low}")
    if high is not None and value > high:
        raise Unreadable("too_large", f"must be at most {high}")


def decimal(low: int | None = 0, high: int | None = 10**9, *, above: bool = False, scale: int = 1) -> Reader:
    """Reader of an exact decimal as Fraction, divided by `scale` (100 for percentages)."""

    def parse(raw: object) -> Fraction:
        value = read_decimal(number_text(raw))
        bound(value, low, high, above)
        return value / scale

    title = "Percentage" if scale == 100 else "Decimal"
    return Reader(parse, {"title": title, "type": ["string", "number"], "pattern": DECIMAL})


def percent(high: int | None = 1000, *, above: bool = False) -> Reader:
    """Reader of a percentage ("12" for 12 %) as a rate (Fraction 12/100)."""
    return decimal(0, high, above=above, scale=100)


def whole(low: int = 0, high: int = 10**6) -> Reader:
    """Reader of a whole number as int."""

    def parse(raw: object) -> int:
        value = read_decimal(number_text(raw))
        if value.denominator != 1:
            raise Unreadable("not_whole", "a whole number is expected")
        bound(value, low, high, False)
        return int(value)

    return Reader(parse, {"type": ["integer", "string"], "minimum": low, "maximum": high, "pattern": "^[0-9]{1,15}$"})


def measure(
    read: Measure, *, low: Fraction | int = 0, above: bool = True, high: Fraction | None = None, title: str = "Length"
) -> Reader:
    """Reader of a length, area, volume or coverage (`title`) written as text with its unit; positive unless told."""

    def parse(raw: object) -> Fraction:
        value = read(number_text(raw))
        if value < low or (above and value == low):
            raise Unreadable("too_small", "must be more than 0" if above else "must not be negative")
        if high is not None and value > high:
            raise Unreadable("too_large", "this is out of any likely size")
        return value

    return Reader(parse, {"title": title, "type": ["string", "number"], "maxLength": 64})


def boolean() -> Reader:
    """Reader of true or false (in a sheet: the words)."""

    def parse(raw: object) -> bool:
        if isinstance(raw, bool):
            return raw
        word = raw.strip().lower() if isinstance(raw, str) else ""
        if word in ("true", "yes", "false", "no"):
            return word in ("true", "yes")
        raise Unreadable("not_true_or_false", f"true or false is expected, not {shown(raw)}")

    return Reader(parse, {"type": ["boolean", "string"]})


def date() -> Reader:
    """Reader of an ISO 8601 calendar date."""

    def parse(raw: object) -> datetime.date:
        word = raw.strip() if isinstance(raw, str) else ""
        if ISO_DATE.fullmatch(word):
            try:
                return datetime.date.fromisoformat(word)
            except ValueError:
                pass
        raise Unreadable("not_a_date", f"a date such as 2027-03-15 is expected, not {shown(raw)}")

    return Reader(parse, {"type": "string", "format": "date"})


def choice(*words: str) -> Reader:
    """Reader of one of a few words."""
    known = frozenset(words)

    def parse(raw: object) -> str:
        word = raw.strip().lower() if isinstance(raw, str) else ""
        if word not in known:
            raise Unreadable("unknown_choice", f"one of {', '.join(words)} is expected, not {shown(raw)}")
        return word

    return Reader(parse, {"type": "string", "enum": list(words)})


@dataclass(frozen=True)
class ListOf:
    """Reader of a list; gives a tuple."""

    item: Any
    low: int = 0
    high: int = 1000

    @property
    def schema(self) -> Mapping[str, Any]:
        return {"type": "array", "items": self.item.schema, "minItems": self.low, "maxItems": self.high}

    def read(self, raw: object, pointer: str, faults: Faults) -> Any:
        """A tuple of what each item gave (None for an item at fault), or None where it is no such list."""
        if not isinstance(raw, Sequence) or isinstance(raw, str):
            faults.append(Problem(pointer, "not_a_list", f"a list is expected, not {shown(raw)}"))
            return None
        if not self.low <= len(raw) <= self.high:
            faults.append(
                Problem(pointer, "wrong_count", f"{self.low} to {self.high} entries are taken, not {len(raw)}")
            )
            return None
        values = []
        for i, item in enumerate(raw):
            if len(faults) > 2 * MOST_FAULTS:
                faults.append(more_faults(pointer, len(raw) - i))
                return None
            values.append(self.item.read(item, f"{pointer}/{i}", faults))
        return tuple(values)


@dataclass(frozen=True)
class MapOf:
    """Reader of an object whose names are free text or one of `names`; gives a tuple of (name, value)."""

    value: Any
    names: tuple[str, ...] | None = None
    high: int = 200

    @property
    def schema(self) -> Mapping[str, Any]:
        names = {"propertyNames": {"type": "string", "enum": list(self.names)}} if self.names else {}
        return {"type": "object", "additionalProperties": self.value.schema, "maxProperties": self.high} | names

    def read(self, raw: object, pointer: str, faults: Faults) -> Any:
        """A tuple of (name, value) in the order written, or None with the faults noted."""
        if not isinstance(raw, Mapping):
            faults.append(Problem(pointer, "not_an_object", f"an object is expected, not {shown(raw)}"))
            return None
        if len(raw) > self.high:
            faults.append(Problem(pointer, "wrong_count", f"at most {self.high} names are taken"))
            return None
        before = len(faults)
        values = []
        for name, item in raw.items():
            at = pointer + escape(name)
            if self.names and name not in self.names:
                faults.append(Problem(at, "unknown_choice", f"one of {', '.join(self.names)} is expected"))
            elif not self.names and not (name.isprintable() and 0 < len(name.strip()) <= 80):
                faults.append(Problem(at, "bad_name", "a name of 1 to 80 printable characters is expected"))
            else:
                values.append((name.strip(), self.value.read(item, at, faults)))
        return tuple(values) if len(faults) == before else None


def note_unknown(names: Sequence[str], known: Sequence[str], pointer: str, faults: Faults) -> None:
    """Notes names that are no fields: each, as long as there is room for it; the others as one."""
    named = names[: max(0, MOST_FAULTS - len(faults))]
    detail = f"no such field; known here: {', '.join(known)}" if names else ""
    faults.extend(Problem(pointer + escape(name), "unknown_field", detail) for name in named)
    if len(named) < len(names):
        faults.append(more_faults(pointer, len(names) - len(named)))


@dataclass(frozen=True)
class Field:
    """One named field of a record: how it is read, whether it must be there, what stands when it is not."""

    name: str
    reader: Any
    doc: str
    required: bool = False
    default: Any = None


@dataclass(frozen=True)
class Record:
    """Reader of an object with named fields; gives build(**values).

    `check` sees what was built; `check_values` sees values by name, None where unreadable; `title` names its schema.
    """

    build: Callable[..., Any]
    fields: tuple[Field, ...]
    check: Callable[[Any, str, Faults], None] | None = None
    check_values: Callable[[dict[str, Any], str, Faults], None] | None = None
    title: str = ""
    by_name: Mapping[str, Field] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "by_name", {f.name: f for f in self.fields})

    @property
    def schema(self) -> Mapping[str, Any]:
        return ({"title": self.title} if self.title else {}) | {
            "type": "object",
            "properties": {f.name: dict(f.reader.schema) | {"description": f.doc} for f in self.fields},
            "required": [f.name for f in self.fields if f.required],
            "additionalProperties": False,
        }

    def read(self, raw: object, pointer: str, faults: Faults) -> Any:
        """The built record, or None with every fault of it noted."""
        if not isinstance(raw, Mapping):
            faults.append(Problem(pointer, "not_an_object", f"an object is expected, not {shown(raw)}"))
            return None
        before = len(faults)
        values = self.values(raw, pointer, faults)
        if self.check_values is not None:
            self.check_values(values, pointer, faults)
        if len(faults) > before:
            return None
        built = self.build(**values)
        if self.check is not None:
            self.check(built, pointer, faults)
        return built if len(faults) == before else None

    def values(self, raw: Mapping[str, object], pointer: str, faults: Faults) -> dict[str, Any]:
        """Every field's value by name (its default where absent or null), faults noted."""
        note_unknown([name for name in raw if name not in self.by_name], tuple(self.by_name), pointer, faults)
        values: dict[str, Any] = {}
        for f in self.fields:
            item = raw.get(f.name)
            if item is not None:
                values[f.name] = f.reader.read(item, pointer + escape(f.name), faults)
            else:
                values[f.name] = f.default
                if f.required:
                    detail = f"{f.name} is needed: {f.doc}" if f.doc else f"{f.name} is needed"
                    faults.append(Problem(pointer + escape(f.name), "missing", detail))
        return values
