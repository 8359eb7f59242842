"""What stands for several openings in one cell: counts with TYP x 4, and storeys such as 2-5 or L2, L3 & L4."""

from __future__ import annotations

import re

MOST_STOREYS = 200
_TYPICAL = re.compile(r"\(?\s*\btyp(?:ical)?\.?\s*(?:x|×|of)\s*([0-9]{1,6})\s*\)?", re.IGNORECASE | re.ASCII)
_COUNT = re.compile(r"\(?\s*([0-9]{1,9})(?:\.0+)?\s*\)?\s*(?:ea|each|pcs|nos|off|no)?\.?", re.IGNORECASE | re.ASCII)
_WORD = r"(?:(?:typ(?:ical)?\.?|on|at)\s+)*(?P<word>levels?|floors?|storeys?|stories|story|lvls?\.?|fl\.?|l|f)?\s*"
_STEP = r"(?:(?:levels?|floors?|lvl\.?|l|f)\s*)?"  # no space of its own: that before it would be shared out in 2^n ways
_NUMBER = r"([0-9]{1,3})(?:st|nd|rd|th|\.?[ªº°]|er|re|e|è?me|ème|\.)?"
_TAIL = r"\s*(?:floors?|levels?|storeys?|flrs?\.?)?(?:\s+typ(?:ical)?\.?)?"
_RANGE = re.compile(
    rf"{_WORD}{_NUMBER}\s*(?:-|–|—|(?<!\w)(?:to|thru|through|bis|a|à|al|au|hasta)(?!\w)|to|thru|through)"
    rf"\s*{_STEP}{_NUMBER}{_TAIL}",
    re.IGNORECASE | re.ASCII,
)
_LIST = re.compile(
    rf"{_WORD}[0-9]{{1,3}}(?:st|nd|rd|th)?(?:\s*(?:,|&|\+|/|and)\s*{_STEP}[0-9]{{1,3}}(?:st|nd|rd|th)?)+{_TAIL}",
    re.IGNORECASE | re.ASCII,
)


def read_count(text: str) -> int | None:
    """A whole count (4, 4.0, (4), 4 EA), None where the cell is none."""
    match = _COUNT.fullmatch(text.strip())
    return int(match[1]) if match else None


def split_typical(text: str) -> tuple[str, int | None]:
    """The text without its TYP x 4, and the 4; None where it has none."""
    if "typ" not in text.lower():
        return text, None
    match = _TYPICAL.search(text)
    if match is None:
        return text, None
    return " ".join((text[: match.start()] + " " + text[match.end() :]).split()), int(match[1])


def storeys_of(text: str) -> list[str] | None:
    """The storeys that a cell such as 2-5, LEVELS 2 THRU 5 or L2, L3 & L4 names; None where it names one."""
    plain = text.strip()
    match = _RANGE.fullmatch(plain)
    if match:
        first, last = int(match.group(2)), int(match.group(3))
        if not first < last or last - first >= MOST_STOREYS:
            return None
        numbers = list(range(first, last + 1))
    else:
        match = _LIST.fullmatch(plain)
        if match is None:
            return None
        numbers = [int(n) for n in re.findall(r"[0-9]{1,3}", plain)]
        if len(set(numbers)) < len(numbers):
            return None
    return [name_storey(match.group("word") or "", number, plain) for number in numbers]


def name_storey(word: str, number: int, text: str) -> str:
    """One storey named as its cell names them."""
    plain = word.lower().strip(".")
    if plain in ("l", "f"):
        return f"{word}{number}"
    if not plain:
        tail = text.lower()
        plain = "level" if "level" in tail else "floor" if "floor" in tail else ""
    singular = {"stories": "story"}.get(plain, plain.rstrip("s"))
    if not singular:
        return str(number)
    name = singular.upper() if text.isupper() else singular.capitalize()
    return f"{name} {number}"
