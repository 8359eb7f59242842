"""A list as pasted from a drawing, one opening a line: W3 (2) 3'-0" x 5'-0", 4 ea D1 3068 or 36 x 48 QTY 3.

line  = words in any order:  mark, size, count, and whatever else is a note
size  = length ("x" | "×" | "by") length, each with its unit
count = "qty" number | number "ea" | "(" number ")" | number "x" at the line's beginning
mark  = the first word that begins with a letter and holds a digit, or a letter alone
"""

from __future__ import annotations

import re

from estimating.intake.grid import GridRow, Sheet

HEADING = ["mark", "quantity", "size", "note"]
_LENGTH = r"[0-9][0-9 .,/½¼¾⅛⅜⅝⅞'’′\"”″-]*(?:mm|cm|m|in|ft)?\.?(?:\s?[WHwh]\b)?"
_SIZE = re.compile(rf"(?<![A-Za-z0-9.-])({_LENGTH})\s*(?:x|×|\bby\b)\s*({_LENGTH})", re.IGNORECASE)
_TYPICAL = re.compile(r"\(?\s*typ(?:ical)?\.?\s*(?:x|×|of)\s*[0-9]{1,6}\s*\)?", re.IGNORECASE)
_COUNTS = (
    re.compile(r"\bqty\.?\s*[:=]?\s*([0-9]{1,7})\b", re.IGNORECASE),
    re.compile(r"\b([0-9]{1,7})\s*(?:ea|each|pcs|off)\b\.?", re.IGNORECASE),
    re.compile(r"\(\s*([0-9]{1,7})\s*\)"),
    re.compile(r"^\s*([0-9]{1,7})\s*(?:x|×|no\.?)\s+(?=\S)", re.IGNORECASE),
)
_MARK = re.compile(r"\b(?=[A-Z0-9.-]*[A-Z])(?=[A-Z0-9.-]*[0-9])[A-Z]{1,3}[A-Z0-9.-]{0,12}\b", re.ASCII)
_LONE = re.compile(r"^\s*([A-Z]{1,3})\b")


def read_list(text: str) -> Sheet:
    """The lines of a list under the headings mark, quantity, size and note; the words of a line keep its number."""
    rows = [GridRow(0, list(HEADING))]
    for number, line in enumerate(text.split("\n"), 1):
        if line.strip():
            rows.append(GridRow(number, read_words(" ".join(line[:400].split()))))
    return Sheet("", rows)


def read_words(line: str) -> list[str]:
    """mark, quantity, size and note of one line; blank where the line doesn't say."""
    rest = line
    typical = _TYPICAL.search(rest)
    if typical:
        rest = rest.replace(typical[0], " ")
    size = _SIZE.search(rest)
    if size:
        rest = rest.replace(size[0], " ", 1)
    quantity = ""
    for pattern in _COUNTS:
        found = pattern.search(rest)
        if found:
            quantity, rest = found[1], rest.replace(found[0], " ", 1)
            break
    mark = _MARK.search(rest) or _LONE.search(rest)
    if mark and not size and not quantity and not typical and rest.strip() != mark[0].strip():
        mark = None  # words about an opening, such as
    if mark:
        rest = rest.replace(mark[0], " ", 1)
    if typical:
        quantity = f"{quantity} {typical[0].strip(' ()')}".strip()
    note = " ".join(rest.replace("()", " ").split()).strip(" -:,;")
    return [mark[0].strip() if mark else "", quantity, size[0].strip() if size else "", note]
