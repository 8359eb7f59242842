"""The texts of a workbook that stand in parts of their own: shared strings, comments, page headers and footers."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Callable

from rates.core.grid import column_number
from rates.sheets.workbook_package import Package
from rates.sheets.workbook_styles import is_on
from rates.sheets.workbook_xml import local, parse

MOST_CELL_CHARACTERS = 4_000
MOST_COMMENTS = 5_000
Text = tuple[str, str]  # a text, and what of it is struck through
_REF = re.compile(r"([A-Z]{1,3})([0-9]{1,7})", re.ASCII)
_ESCAPE = re.compile("_x([0-9A-Fa-f]{4})_")  # of a character, ECMA-376 part 1, 22.9.2.19
_CODES = re.compile(r'&(?:"[^"]*"|K[0-9A-F]{6}|[0-9]{1,3}|[A-Z])', re.ASCII)  # ECMA-376 part 1, 18.3.1.46


def clean(text: str) -> str:
    """A cell's text with single spaces, cut where it is longer than any schedule's cell; its lines stay apart."""
    if "\n" not in text:
        return " ".join(text[:MOST_CELL_CHARACTERS].split())
    lines = (" ".join(line.split()) for line in text[:MOST_CELL_CHARACTERS].splitlines())
    return "\n".join(line for line in lines if line)


def plain_text(raw: str) -> str:
    """A text with its escaped characters as themselves, but for those that no text holds."""
    return _ESCAPE.sub(unescaped, raw) if "_x" in raw else raw


def unescaped(match: re.Match[str]) -> str:
    """The character of an escape where it is one of text, else the escape as it stands."""
    character = chr(int(match[1], 16))
    return character if character.isprintable() or character in "\t\r\n" else match[0]


class Runs:
    """Collects texts made of runs, apart what is struck through in them; phonetic hints are left out."""

    def __init__(self, tidy: Callable[[str], str] = clean) -> None:
        self.found: list[Text] = []
        self._tidy = tidy
        self._all: list[str] = []
        self._struck: list[str] = []
        self._in_text = self._in_hint = self._strike = False

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        """An element begins."""
        if tag == "t":
            self._in_text = True
        elif tag == "rPh":
            self._in_hint = True
        elif tag == "r":
            self._strike = False
        elif tag == "strike":
            self._strike = is_on(attributes)

    def end(self, tag: str) -> None:
        """An element ends."""
        if tag == "t":
            self._in_text = False
        elif tag == "rPh":
            self._in_hint = False
        elif tag == "r":
            self._strike = False

    def text(self, part: str) -> None:
        """Characters."""
        if self._in_text and not self._in_hint:
            self._all.append(part)
            if self._strike:
                self._struck.append(part)

    def close(self) -> None:
        """A text is whole; one that is struck through in part keeps the rest alone."""
        whole, struck = plain_text("".join(self._all)), plain_text("".join(self._struck))
        self._all.clear()
        self._struck.clear()
        kept = whole.replace(struck, " ", 1) if struck.strip() and struck.strip() != whole.strip() else whole
        self.found.append((self._tidy(kept), self._tidy(struck)))


def read_strings(package: Package, tidy: Callable[[str], str]) -> list[Text]:
    """The shared strings."""
    runs = Runs(tidy)

    def end(name: str) -> None:
        runs.end(local(name))
        if local(name) == "si":
            runs.close()

    if package.has("xl/sharedStrings.xml"):
        parse(package.read("xl/sharedStrings.xml"), lambda name, given: runs.start(local(name), given), end, runs.text)
    return runs.found


def read_comments(package: Package, sheet: str) -> tuple[tuple[int, int, str], ...]:
    """(row from 1, column from 0, text) of the comments on a sheet's cells."""
    return tuple(
        c for target in targets_of(package, sheet, "/comments")[:10] for c in comments_of(package.read(target))
    )


def read_boxes(package: Package, sheet: str) -> tuple[str, ...]:
    """The texts of the boxes that lie over a sheet, a paragraph each (ECMA-376 part 1, 20.5)."""
    found: list[str] = []
    parts: list[str] = []
    inside = [False]

    def start(name: str, _: dict[str, str]) -> None:
        inside[0] = inside[0] or local(name) == "t"

    def end(name: str) -> None:
        if local(name) == "t":
            inside[0] = False
        elif local(name) == "p" and (text := clean("".join(parts))):
            found.append(text)
            parts.clear()

    def text(part: str) -> None:
        if inside[0]:
            parts.append(part)

    for target in targets_of(package, sheet, "/drawing")[:10]:
        parse(package.read(target), start, end, text)
    return tuple(found[:MOST_COMMENTS])


def targets_of(package: Package, sheet: str, kind: str) -> list[str]:
    """The parts of one kind that a sheet names."""
    folder, name = posixpath.split(sheet)
    relations = f"{folder}/_rels/{name}.rels"
    targets: list[str] = []

    def relation(name: str, given: dict[str, str]) -> None:
        if local(name) == "Relationship" and given.get("Type", "").endswith(kind):
            target = given.get("Target", "")
            targets.append(target.lstrip("/") if target.startswith("/") else posixpath.normpath(f"{folder}/{target}"))

    if package.has(relations):
        parse(package.read(relations), relation)
    return [target for target in targets if package.has(target)]


def comments_of(data: bytes) -> list[tuple[int, int, str]]:
    """The comments of one part, in its order."""
    found: list[tuple[int, int, str]] = []
    runs, refs = Runs(), [""]

    def start(name: str, given: dict[str, str]) -> None:
        if local(name) == "comment":
            refs[0] = given.get("ref", "")
        runs.start(local(name), given)

    def end(name: str) -> None:
        runs.end(local(name))
        if local(name) != "comment":
            return
        runs.close()
        match = _REF.fullmatch(refs[0])
        if match and len(found) < MOST_COMMENTS:
            found.append((int(match[2]), column_number(match[1]), runs.found[-1][0]))

    parse(data, start, end, runs.text)
    return found


def page_texts(raw: str) -> list[str]:
    """What a page's header or footer says, without its codes for place, font and numbers of pages."""
    parts = re.split(r"&[LCR]", raw[:MOST_CELL_CHARACTERS])
    texts = (clean(_CODES.sub(" ", part.replace("&&", "\0")).replace("\0", "&")) for part in parts)
    return [text for text in texts if any(c.isalpha() for c in text)]
