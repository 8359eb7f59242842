"""The characters of a text file: UTF-8, UTF-16, or one of the older encodings, told by what its bytes would say.

An older encoding is taken where its signs stand where such signs stand (a letter among letters, a quote behind a digit)
and no other encoding does as well; else it is asked about, with what a line would read in each.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

OLDER = ("cp1252", "mac_roman", "cp850")  # western: of spreadsheets, of older Macs, of older command lines
MOST_SEEN = 4_000
LETTERS = frozenset("äöüÄÖÜßéèêëàâáãîïíìôóòõûúùçñÑÉÈÊÀÂÁÇÍÓÚøåÅæœ")
BEHIND_DIGITS = frozenset("”’″′°²³½¼¾×–—Øø±\u00a0®©ª")
LOOSE = frozenset("“”‘’…•†°½¼¾×–—·Ø¿¡€£§«»´\u00a0®™")
_LINE_END = re.compile("\r\n?|\n")


@dataclass(frozen=True)
class Decoded:
    """A text with LF line ends. encoding: its name; could_be: encoding -> a line as it reads, where in doubt."""

    text: str
    encoding: str
    could_be: tuple[tuple[str, str], ...] = ()


def decode_any(data: bytes, chosen: str = "") -> Decoded | None:
    """The text of bytes, in the encoding that an answer chose or that fits best; None where none fits."""
    plain = decode_unicode(data)
    if plain is not None:
        return plain
    texts = {name: text for name in OLDER if (text := decode_older(data, name)) is not None}
    if chosen in texts:
        return Decoded(unify(texts[chosen]), chosen)
    if not texts:
        return None
    fits = {name: fit(text) for name, text in texts.items()}
    best = max(fits.values())
    if best < 0:
        return None
    names = [name for name in texts if fits[name] == best]
    samples: dict[str, str] = {}
    for name in names:
        samples.setdefault(sample(texts[name]), name)
    could_be = tuple((name, line) for line, name in samples.items()) if len(samples) > 1 else ()
    return Decoded(unify(texts[names[0]]), names[0], could_be)


def decode_unicode(data: bytes) -> Decoded | None:
    """The text where it is UTF-8 or UTF-16, with its mark or without."""
    try:
        if data.startswith((b"\xff\xfe", b"\xfe\xff")):
            return Decoded(unify(data.decode("utf-16")), "utf-16")
        if (order := byte_order(data)) is not None:
            return Decoded(unify(data.decode(order)), order)
        return Decoded(unify(data.decode("utf-8").removeprefix("\ufeff")), "utf-8")
    except UnicodeDecodeError:
        return None


def byte_order(data: bytes) -> str | None:
    """UTF-16 without a mark: every other byte of plain text is 0."""
    head = data[:MOST_SEEN]
    if len(head) < 8 or len(head) % 2:
        return None
    even, odd = head[::2].count(0), head[1::2].count(0)
    half = len(head) // 2
    if odd > half * 0.7 and even < half * 0.05:
        return "utf-16-le"
    return "utf-16-be" if even > half * 0.7 and odd < half * 0.05 else None


def decode_older(data: bytes, name: str) -> str | None:
    """The text in an older encoding; None where it would hold what no text holds."""
    try:
        text = data.decode(name)
    except UnicodeDecodeError:
        return None
    strange = [c for c in set(text) if ord(c) > 127 and unicodedata.category(c) in ("Cc", "Cn", "Co")]
    return None if strange else text


def fit(text: str) -> int:
    """How many signs outside ASCII stand where such a sign would, less twice those that do not."""
    points = 0
    for match in re.finditer(r"[^\x00-\x7f]", text):
        at, sign = match.start(), match[0]
        before, behind = text[at - 1 : at], text[at + 1 : at + 2]
        if sign in LETTERS and (before.isalpha() or behind.isalpha()):
            points += 1
        elif sign in BEHIND_DIGITS and (before.isdigit() or behind.isdigit()) and not before.isalpha():
            points += 1
        elif sign in LOOSE and not (before.isalpha() and behind.isalpha()):
            points += 0
        else:
            points -= 2
    return points


def sample(text: str) -> str:
    """The lines that hold signs outside ASCII, as a person reads them."""
    lines = [" ".join(line.split())[:60] for line in text.split("\n") if not line.isascii()]
    return " / ".join(lines[:2])


def unify(text: str) -> str:
    """LF line ends."""
    return _LINE_END.sub("\n", text)
