"""Text as it may be taken and as a fault may quote it."""

from __future__ import annotations

import unicodedata

from rates.core.jsontext import NumberText
from rates.core.problems import Unreadable

type_name = {str: "text", int: "a number", bool: "true or false", dict: "an object", list: "a list", type(None): "null"}
BIDI = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


def shown(raw: object, limit: int = 40) -> str:
    """A raw value as a fault quotes it: short, printable."""
    text = raw if isinstance(raw, str) else type_name.get(type(raw), "a value")
    clean = "".join(c if c.isprintable() else "?" for c in text[:limit])
    return f'"{clean}{"…" if len(text) > limit else ""}"' if is_text(raw) else clean


def quoted(text: str) -> str:
    """A text between quotation marks: curly ones where it holds both of the plain ones, as feet and inches do."""
    plain = repr(text)
    if "\\'" not in plain:
        return plain
    within = plain[1:-1].replace("\\'", "'")
    return f"“{within}”"


def is_text(raw: object) -> bool:
    """Whether a raw value is text; a JSON number that is kept as it was written is none."""
    return isinstance(raw, str) and type(raw) is not NumberText


def counted(count: int, noun: str) -> str:
    """A count with its noun, in the plural where it is not one: "1 line", "1,200 lines"."""
    return f"{count:,} {noun}" if count == 1 else f"{count:,} {noun}s"


def clean_text(raw: object, limit: int) -> str:
    """Trimmed text without control or direction characters."""
    if not isinstance(raw, str) or type(raw) is NumberText:
        raise Unreadable("not_text", f"text is expected, not {shown(raw)}")
    if len(raw) > limit:
        raise Unreadable("too_long", f"at most {limit} characters are taken; this has {len(raw)}")
    if not raw.isprintable() and any(unicodedata.category(c) in ("Cc", "Cs") or c in BIDI for c in raw):
        raise Unreadable("control_character", "control and text-direction characters are not taken")
    return raw.strip()
