"""A list as pasted from a drawing or a letter, one opening a line: W3 (2) 3'-0" x 5'-0" north, 4 ea D1 3068.

line  = words in any order:  mark, size, count, place, and whatever else is a note
size  = what read_size_text finds as a pair, a diameter or a pipe size
count = "qty" number | number "ea" | "(" number ")" | "x" number | number "x" at the line's beginning
mark  = the first word that begins with a letter and holds a digit, or a letter alone
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from estimating.intake.count_words import read_count_text
from estimating.intake.kind_words import kind_of
from estimating.intake.place_headings import place_of_heading
from estimating.intake.size_words import SizeText, read_size_text
from rates.core.grid import GridRow, Sheet

HEADING = ["mark", "quantity", "size", "elevation", "storey", "building", "note", "kind"]
NOTE, KIND = HEADING.index("note"), HEADING.index("kind")
MOST_CHARACTERS = 600
SIZED = frozenset({"first", "width", "diameter", "outside_diameter", "nominal_pipe"})
PAIRED = SIZED - {"width"}
_TYPICAL = re.compile(r"\(?\s*\btyp(?:ical)?\.?\s*(?:x|×|of)\s*[0-9]{1,6}\s*\)?", re.IGNORECASE)
_COUNTS = (
    re.compile(
        r"\b(?:qty|quantity|count|anz(?:ahl)?|qt[ée]|cant(?:idad)?)\b\.?\s*[:=]?\s*([0-9]{1,7})\b", re.IGNORECASE
    ),
    re.compile(
        r"\b([0-9]{1,7})\s*(?:ea|each|pcs|off|nos|stk|stück|u|uds|required|req'?d|windows?|doors?|openings?|louv(?:er|re)s?|units?|fen[eê]tres?|portes?|baies?|ventanas?|puertas?|huecos?|fenster|t[uü]r(?:en)?)\b\.?",
        re.IGNORECASE,
    ),
    re.compile(r"[(\[]\s*([0-9]{1,7})\s*[)\]]"),
    re.compile(r"^\s*([0-9]{1,7})\s*(?:x|×|no\.?)\s+(?=\S)", re.IGNORECASE),
    re.compile(r"(?:^|[\s,;:=-])[x×]\s?([0-9]{1,5})\b(?!\s*(?:[x×'\"]|mm|cm|in))", re.IGNORECASE),
    re.compile(r"^\s*([0-9]{1,4})\s+(?=[A-Z]{1,3}-?[0-9])"),
    re.compile(r"(?:^|[\s,;:=-])([0-9]{1,4})\s?[x×](?![\w])", re.IGNORECASE),
)
_LEAD = re.compile(r"^(?:\s*>+\s*)*\s*(?:[-*•·–—o]\s+|(?:[0-9]{1,3}|[a-z])[.)]\s+)?")
_MARK = re.compile(r"\b(?=[A-Z0-9.-]*[A-Z])(?=[A-Z0-9.-]*[0-9])[A-Z]{1,4}[A-Z0-9.-]{0,12}\b", re.ASCII)
_LONE = re.compile(r"^\s*(?:(?:[Tt][Yy][Pp][Ee]?|[Tt]ipo|[Mm]ark)\s+)?([A-Z]{1,3})\b(?!['’])")
_PIECES = re.compile(r"\s+[-–—]+\s+|[,;|\t]|\s*[:=]\s+|\s{3,}|(?=\()|(?<=\))")


def read_list(text: str) -> Sheet:
    """The lines of a list under headings of its own; the words of a line keep its number."""
    lines = [(number, line) for number, line in enumerate(text.split("\n"), 1) if line.strip()]
    rows = []
    for number, line in lines:
        cells = read_words_of_line(" ".join(line[:MOST_CHARACTERS].replace("\t", " | ").split()))
        alone = (
            len(cells) > NOTE and not any(cells[:NOTE]) and not line[0].isspace()
        )  # a note of the list, not more words of the line above
        rows.append(GridRow(number, [cells[NOTE]] if alone else cells))
    return Sheet("", [GridRow(0, heading_of(rows)), *rows])


def heading_of(rows: Sequence[GridRow]) -> list[str]:
    """HEADING, without kinds where no line names one."""
    return list(HEADING) if any(row.cell(KIND) for row in rows) else HEADING[:KIND]


def read_words_of_line(line: str) -> list[str]:
    """The cells of one line under HEADING; blank where the line doesn't say. A line of other words is all note."""
    rest = line[_LEAD.match(line).end() :] if _LEAD.match(line) else line  # type: ignore[union-attr]
    typical = _TYPICAL.search(rest)
    if typical:
        rest = rest.replace(typical[0], " , ")
    said = read_size_text(rest)
    size = size_of(said)
    if size:
        rest = rest.replace(size, " , ", 1)
    quantity, counted = "", ""
    for pattern in _COUNTS:
        found = pattern.search(rest)
        if found:
            quantity, counted, rest = found[1], found[0], rest.replace(found[0], " , ", 1)
            break
    if not size and place_of_heading(rest.strip(" :-")) is not None:
        return [rest.strip(), "", "", "", "", "", ""]  # a place over the lines below
    mark = _MARK.search(rest) or _LONE.search(rest)
    if mark and not size and not quantity and not typical and rest.strip(" ,.-") != mark[0].strip():
        return words_alone(line)  # words about an opening, such as
    if not size and not quantity and not mark:
        return words_alone(line)
    if mark:
        rest = rest.replace(mark[0], " , ", 1)
    if typical:
        quantity = f"{quantity} {typical[0].strip(' ()')}".strip()
    places, left = places_and_note(rest)
    worded = next((piece for piece in left if read_count_text(piece).plain), "") if not quantity else ""
    if worded:
        quantity, left = (
            str(read_count_text(worded).plain),
            [piece for piece in left if piece != worded or not piece.isdigit()],
        )
    kinds = {kind: piece for piece in (counted, *left) if len(piece.split()) < 3 and (kind := kind_of(piece))}
    kind = next(iter(kinds)) if len(kinds) == 1 else ""
    note = "; ".join(piece for piece in left if not (kind and piece == kinds[kind] and len(piece.split()) == 1))
    return [mark[mark.lastindex or 0].strip() if mark else "", quantity, size, *places, note, kind]


def words_alone(line: str) -> list[str]:
    """The cells of a line that names no opening."""
    return ["" for _ in HEADING[:NOTE]] + [line, ""]


def size_of(said: SizeText) -> str:
    """The piece of a text that is its size, as written; what else it measures stays with the words."""
    roles = {piece: {one.role for one in read_size_text(piece).dimensions} for piece in said.consumed}
    for wanted in (PAIRED, SIZED):  # the B of "Type B: 3 ea 48 x 60" is no width where a pair stands beside it
        for piece, found in roles.items():
            if found & wanted:
                return piece
    lone = [
        piece for piece in said.consumed if {one.role for one in read_size_text(piece).dimensions} == {"four_digits"}
    ]
    return lone[0] if len(lone) == 1 else ""


def places_and_note(rest: str) -> tuple[list[str], list[str]]:
    """Elevation, storey and building that a piece of the words names alone, and the pieces that are left."""
    found = {"elevation": "", "storey": "", "building": ""}
    left = []
    for piece in _PIECES.split(rest):
        text = piece.strip(" .-:,;()")
        here = place_of_heading(text) if text else None
        named = {name: value for name, value in here._asdict().items() if value} if here is not None else {}
        if named and not any(found[name] for name in named):
            found |= named
        elif text:
            left.append(piece.strip(" -:,;"))
    return list(found.values()), left
