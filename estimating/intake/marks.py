"""The mark of a line, apart from what else its cell says: several marks, a sign explained elsewhere, words, TYP x 4."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache

from estimating.intake.cells import blank
from estimating.intake.expansion import split_typical
from estimating.intake.scope_words import Finding, read_words

MOST_MARKS = 200
SIGNS = "*†‡#^§+~¹²³⁴⁵⁶⁷⁸⁹°△▲●○◊"
DITTO = frozenset(
    {'"', "''", "”", "″", "〃", "do", "do.", "ditto", "dto", "dto.", "idem", "id.", "same", "-do-", '- " -', "as above"}
)
_MARK = r"(?:[A-Za-z]{1,5}[-. ]?)?[0-9]{1,5}[A-Za-z]{0,2}|[A-Z]{1,2}"
_JOINED = r"\s*(?:,|&|\+|\bw/|/|;|\band\b|\bund\b|\bet\b|\by\b|\bwith\b)\s*"
_SEVERAL = re.compile(rf"(?:{_MARK})(?:{_JOINED}(?:{_MARK}))+")
_PART = re.compile(_JOINED)
_RANGE = re.compile(
    r"([A-Za-z]{0,5}[-. ]?)([0-9]{1,4})\s*(?:-|–|—|\.\.|to|thru|through|bis|à|a)\s*([A-Za-z]{0,5}[-. ]?)([0-9]{1,4})",
    re.IGNORECASE,
)
_SHORT = re.compile(r"([A-Za-z]{1,5}[-. ]?)([0-9]{1,4})\s?[-–]\s?([0-9]{1,4})")
_NUMBERS = re.compile(r"()([0-9]{2,4})\s?[-–]\s?([0-9]{2,4})")
_LETTERS = re.compile(r"([A-Za-z]{0,5}[-. ]?[0-9]{0,4})\s?\(?([A-Z])\s?(?:[-–]|to|thru)\s?([A-Z])\)?")
MOST_SHORT = 50
_COUNTED = tuple(
    re.compile(pattern)
    for pattern in (
        rf"(?P<mark>{_MARK})\s+[x×]\s*(?P<count>[0-9]{{1,4}})",
        rf"(?P<mark>{_MARK})\s*[(\[]\s*(?P<count>[0-9]{{1,4}})\s*[)\]]",
        rf"[(\[]\s*(?P<count>[0-9]{{1,4}})\s*[)\]]\s*(?P<mark>{_MARK})",
        r"(?P<count>[0-9]{1,4})\s*(?:[x×@]|\s-\s)\s*(?P<mark>[A-Za-z]{1,5}[-. ]?[0-9]{1,5}[A-Za-z]{0,2})",
    )
)
_BRACKETED = re.compile(r"(\([A-Za-z.]{1,6}\)|\[[A-Za-z.]{1,6}\])")
_LIKE_MARK = re.compile(r"[^\s]*[0-9][^\s]*|[A-Za-z]{1,3}")


@dataclass(frozen=True, slots=True)
class MarkCell:
    """mark: as drawn, blank where the cell gives none; several: the marks that one cell names; times: of TYP x 4.

    signs: such as * behind the mark, explained elsewhere; heard: what the other words mean.
    """

    mark: str
    several: tuple[str, ...] = ()
    times: int | None = None
    signs: str = ""
    heard: tuple[Finding, ...] = ()
    ditto: bool = False
    count: int | None = None


@lru_cache(maxsize=20_000)
def read_mark(cell: str) -> MarkCell:
    """What a cell in the mark's column says."""
    if cell.strip().lower() in DITTO:
        return MarkCell("", ditto=True)
    counted = next((match for pattern in _COUNTED if (match := pattern.fullmatch(cell.strip()))), None)
    if counted:
        return replace(read_mark(counted["mark"].strip()), count=int(counted["count"]))
    plain, times = split_typical(cell)
    if any(read_words(word).of("scope") for word in _BRACKETED.findall(plain)):
        plain = " ".join(_BRACKETED.sub(r" \1 ", plain).split())  # (E)W4 as (E) W4
    heard = (
        read_words(plain).of("scope", "shape", "count", "delta")
        if not _LIKE_MARK.fullmatch(plain.strip())
        else joined_words(plain)
    )
    mark = plain
    for finding in heard if " " in plain.strip() or not joined_words(plain) else ():
        if finding.group == "scope":
            mark = mark.replace(finding.words, " ", 1)
    mark = re.sub(r"\(\s*\)|\[\s*\]", " ", mark)
    mark = " ".join(mark.split()).strip(" -:,;.") if heard or times else " ".join(mark.split())
    signs = mark[len(mark.rstrip(SIGNS)) :] if len(mark) > 1 else ""
    if blank(mark):
        return MarkCell("", times=times, heard=heard, signs=signs)
    return MarkCell(mark, several_marks(mark.rstrip(SIGNS)), times, signs, heard)


def signs_of(signs: str) -> tuple[str, ...]:
    """The signs behind a mark one by one; a sign that is written twice, as in **, is a sign of its own."""
    return tuple(match[0] for match in re.finditer(r"(.)\1*", signs))


def joined_words(mark: str) -> tuple[Finding, ...]:
    """Words of scope that are joined to a mark and stay part of it: ALT-W6, W5-NIC, DEMO-1."""
    parts = re.split(r"[-._/]", mark.strip()) if len(mark) < 40 else ()
    if len(parts) < 2 or not any(map(str.isdigit, mark)):
        return ()
    words = [part for part in parts if part.isalpha() and len(part) > 2]
    return tuple(finding for word in words for finding in read_words(word).of("scope", "delta"))


def several_marks(mark: str) -> tuple[str, ...]:
    """The marks of W1, W2 & W3 or W1-W4; none where the text is one mark."""
    span = _RANGE.fullmatch(mark)
    if span and (not span[3] or span[1].strip(" -.").upper() == span[3].strip(" -.").upper()):
        first, last = int(span[2]), int(span[4])
        named = bool(span[3]) or not re.search(r"[0-9]-[0-9]", mark)
        if named and 0 < last - first < MOST_MARKS:
            width = len(span[2]) if span[2].startswith("0") else 0
            return tuple(f"{span[1]}{str(number).rjust(width, '0')}" for number in range(first, last + 1))
    letters = _LETTERS.fullmatch(mark)
    if letters and letters[2] < letters[3] and (letters[1].strip(" -.")[-1:].isdigit() or not letters[1]):
        return tuple(f"{letters[1]}{chr(code)}" for code in range(ord(letters[2]), ord(letters[3]) + 1))
    if not _SEVERAL.fullmatch(mark):
        return ()
    parts = [part.strip() for part in _PART.split(mark)]
    lead = re.match(r"[A-Za-z]+[-. ]?", parts[0])
    if lead and any(part.isdigit() for part in parts[1:]):
        parts = [parts[0], *(f"{lead[0]}{part}" if part.isdigit() else part for part in parts[1:])]
    if any(len(part) == 1 and part.isdigit() for part in parts) and "/" in mark:
        return ()  # 101/2 is one mark
    return tuple(parts) if len(set(parts)) == len(parts) else ()


def short_ranges(cells: Iterable[str]) -> dict[str, tuple[str, ...]]:
    """Marks such as W1-3 that may be ranges -> their marks; none of a numbering such as W1-1, W1-2 or W1-2, W2-3."""
    spans = {
        cell: match
        for cell in cells
        if "-" in cell or "–" in cell
        if (match := _SHORT.fullmatch(cell.strip()) or _NUMBERS.fullmatch(cell.strip()))
    }
    ends = [(match[1].upper(), int(match[2]), int(match[3])) for match in spans.values()]
    taken: dict[str, int] = {}
    own: set[str] = set()  # leads of marks that are numbered so
    for lead, first, last in sorted(ends):
        if last <= first or last - first > MOST_SHORT or first <= taken.get(lead, -1):
            own.add(lead)
        taken[lead] = last
    return {
        match[0]: tuple(f"{match[1]}{number}" for number in range(int(match[2]), int(match[3]) + 1))
        for match in spans.values()
        if match[1].upper() not in own
    }
