"""Cell text made comparable, character for character, so that what is found can be cut out of the text as written.

Accents, case, curly quotes, primes, dashes and odd spaces are unified; the length never changes after `compose`.
"""

from __future__ import annotations

import unicodedata
from functools import lru_cache

_SAME = {
    **dict.fromkeys("\u2019\u2018\u201a\u201b\u02bc\u02b9\u2032\u00b4`\u2035\uff07", "'"),
    **dict.fromkeys("\u201c\u201d\u201e\u201f\u2033\u02ba\u3003\u2036\uff02", '"'),
    **dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2015\u2212\u00ad", "-"),
    **dict.fromkeys("\u00a0\u1680\u202f\u205f\u3000\u200b\ufeff\t\n\r\v\f", " "),
    **{chr(code): " " for code in range(0x2000, 0x200B)},
    **dict.fromkeys("\u00d7\u2715\u2716\u2a09\u2a2f", "x"),
    **dict.fromkeys("\u2044\u2215", "/"),
    **dict.fromkeys("\u2300\u2205\u03a6\u03c6\u00d8\u00f8", "ø"),
    **dict.fromkeys("\u2206\u25b3\u25b2\u0394", "△"),
    "\u00ba": "°", "\u00aa": "a",
}  # fmt: skip


def compose(text: str) -> str:
    """The text with letters and their accents as one character each."""
    return unicodedata.normalize("NFC", text)


@lru_cache(maxsize=4096)
def fold_char(char: str) -> str:
    """One character in its plain form; never more or less than one."""
    if char in _SAME:
        return _SAME[char]
    lower = char.lower() if len(char.lower()) == 1 else char
    parts = unicodedata.normalize("NFD", lower)
    return parts[0] if len(parts) > 1 and all(unicodedata.combining(part) for part in parts[1:]) else lower


def fold(text: str) -> str:
    """A composed text in plain characters: lower case, no accents, one kind of quote, dash, space and times sign."""
    return "".join(map(fold_char, text))
