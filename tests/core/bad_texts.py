"""Texts that are no sound JSON or CSV, with the place of every fault (line, column, pointer), and the codes of JSON."""

# ruff: noqa: E501  (a case stands on one line)
from __future__ import annotations

from dataclasses import dataclass

Place = tuple[int, int, str]


@dataclass(frozen=True)
class BadText:
    """The bytes of a file and where its faults are, in order; asked: each is a question that blocks costing."""

    name: str
    data: bytes
    places: tuple[Place, ...]
    codes: tuple[str, ...] = ()
    asked: bool = False


def of_json(name: str, text: str | bytes, *found: tuple[str, int, int, str]) -> BadText:
    """A JSON text and its faults as (code, line, column, pointer)."""
    data = text.encode() if isinstance(text, str) else text
    return BadText(name, data, tuple(place[1:] for place in found), tuple(code for code, *_ in found))


def of_csv(name: str, text: str | bytes, *places: Place) -> BadText:
    """A CSV text and its faults."""
    return BadText(name, text.encode() if isinstance(text, str) else text, places)


JSON_TEXTS = (
    of_json("cut off", '{"a": [1, 2', ("not_json", 1, 12, "")),
    of_json("a comma too many", '{"a": [1,\n 2,]}', ("not_json", 2, 4, "")),
    of_json("single quotes", "{'a': 1}", ("not_json", 1, 2, "")),
    of_json("text behind the end", '{"a": 1}\n{"b": 2}', ("not_json", 2, 1, "")),
    of_json("a name twice", '{"a": 1,\n "b": 2,\n "a": 3}', ("duplicate_key", 3, 2, "/a")),
    of_json("names twice in two places", '{"a": [{"b": 1, "b": 2},\n {"c": 1, "c": 2}]}', ("duplicate_key", 1, 17, "/a/0/b"), ("duplicate_key", 2, 11, "/a/1/c")),
    of_json("NaN", '{"a": NaN}', ("not_finite", 1, 7, "/a")),
    of_json("infinite", '{"a": Infinity,\n "b": -Infinity}', ("not_finite", 1, 7, "/a"), ("not_finite", 2, 7, "/b")),
    of_json("a number of a million digits", '{"a": ' + "9" * 10**6 + "}", ("number_too_long", 1, 7, "/a")),
    of_json("an exponent of many digits", '{"a": 1e' + "9" * 80 + "}", ("number_too_long", 1, 7, "/a")),
    of_json("nested 65 deep", '{"a": ' + "[" * 65 + "]" * 65 + "}", ("too_deep", 1, 70, "/a" + "/0" * 63)),
    of_json("nested 100,000 deep", '{"a": ' + "[" * 10**5, ("too_deep", 1, 70, "/a" + "/0" * 63)),
    of_json("a control character", '{"a": "x\\u0000y"}', ("control_character", 1, 7, "/a")),
    of_json("half of a surrogate pair", '{"a": "\\ud800"}', ("control_character", 1, 7, "/a")),
    of_json("a raw line feed in a text", '{"a": "x\ny"}', ("control_character", 1, 9, "")),
    of_json("Latin-1", b'{"a": "caf\xe9"}', ("not_utf8", 1, 11, "")),
    of_json("an overlong form", b'{"a": "\xc0\xaf"}', ("not_utf8", 1, 8, "")),
    of_json("a hexadecimal number", '{"a": 0x10}', ("not_json", 1, 8, "")),
    of_json("a leading nought", '{"a": 010}', ("not_json", 1, 8, "")),
    of_json("a comment", '{"a": 1 // one\n}', ("not_json", 1, 9, "")),
)  # fmt: skip


def of_asked(name: str, text: str | bytes, *places: Place) -> BadText:
    """A CSV that goes to the reader that asks, and where its questions are: row, column of the sheet."""
    return BadText(name, text.encode() if isinstance(text, str) else text, places, asked=True)


HEAD = "mark,count,width_mm,height_mm\n"
LINE = "A,1,900,900\n"

CSV_TEXTS = (
    of_csv("a heading alone in one cell", "schedule of openings\n", (1, 1, ""), (1, 1, ""), (1, 1, "")),
    of_asked("no mark column", "count,width_mm,height_mm\n1,900,900\n", (1, 1, "")),
    of_asked("no quantity column", "mark,width_mm,height_mm\nA,900,900\n", (1, 1, "")),
    of_asked("a repeated column", "mark,count,width_mm,height_mm,mark\nA,1,900,900,B\n", (2, 5, "")),
    of_asked("a column and its other name", "mark,count,quantity,width_mm,height_mm\nA,1,2,900,900\n", (1, 3, "")),
    of_asked("a length in two units", "mark,count,width_mm,width_in,height_mm\nA,1,914,36,900\n", (1, 4, "")),
    of_asked("two lengths", "mark,count,width_mm,width_in,height_mm\nA,1,900,36,900\n", (1, 4, ""), (2, 4, "")),
    of_asked("a size and a width", "mark,count,size_mm,width_mm\nA,1,900x900,800\n", (2, 3, "")),
    of_asked("a cell too few", HEAD + "A,1,900\n" + LINE, (2, 4, "")),
    of_asked("a cell too many", HEAD + LINE + "B,1,900,900,900\n", (1, 5, "")),
    of_asked("ragged twice", HEAD + "A\nB,1,900,900\nC,1\n", (2, 2, ""), (2, 3, "")),
    of_csv("a quote not closed", HEAD + 'A,1,"900,900\n' + LINE, (2, 5, ""), ),
    of_csv("text behind a quote", HEAD + 'A,1,"900"mm,900\n', (2, 10, "")),
    of_csv("a NUL", HEAD.encode() + b"A\0,1,900,900\n" + LINE.encode(), (2, 2, "")),
    of_csv("an escape character", HEAD + "A,1,900,9\x1b00\n", (2, 10, "")),
    of_asked("Latin-1", HEAD.encode() + b"A,1,900,900\nCaf\xe9,1,900,900\n", (1, 1, "")),
    of_csv("a cell of 5,000 characters", HEAD + "A" * 5_000 + ",1,900,900\n", (2, 1, "")),
    of_asked("a width and no height in one cell", "mark,count,size_mm\nA,1,900\n", (2, 3, "")),
    of_asked("values of all kinds", HEAD + "A,-1,0,x\n,1,900,900\nC,1.5,1e3,\n", (2, 2, ""), (2, 3, ""), (2, 4, ""), (3, 1, "")),
    of_asked("one mark of two sizes", HEAD + LINE + "A,1,900,901\n", (3, 1, "/openings/1")),
    of_asked("a mark of two sizes behind a bad row", HEAD + LINE + "B,1\n" + "A,1,900,901\n", (2, 3, ""), (3, 3, "")),
    of_asked("no unit", "mark,count,width,height\nA,1,900,36 in\n", (2, 5, "/openings/0/width")),
    of_asked("a comma of two meanings", "mark;count;width_mm;height_mm\nA;1;1,200;900.5\n", (2, 3, "")),
    of_asked("an angle without its sill", "mark,count,width_mm,height_mm,sill.angle_degrees\nA,1,900,900,15\n", (2, 1, "")),
    of_asked("a concave polygon", 'mark,count,shape,points_in\nA,1,polygon,"0,0;9,0;9,9;4,2;0,9"\n', (2, 4, "")),
    of_asked("inches over 12 in quotes", 'mark,count,width,height\nA,1,"5\'-14""",3 ft\n', (2, 3, "")),
    of_asked("CRLF lines", "mark,count,width_mm,height_mm\r\nA,1,900,900\r\nB,1,x,900\r\n", (3, 3, "")),
)  # fmt: skip

# what is told and left out of the price: the sentence that says so
TOLD_TEXTS = (
    (
        "an unknown column",
        b"mark,count,hue,width_mm,height_mm\nA,1,red,900,900\n",
        "These columns are not used: C 'hue'.",
    ),
    (
        "two unknown columns",
        b"hue,mark,count,width_mm,height_mm,size_yd\nred,A,1,900,900,\n",
        "These columns are not used: A 'hue', F 'size_yd'.",
    ),
    (
        "a cell under no heading",
        b"mark,count,width_mm,height_mm,\nA,1,900,900,red\n",
        "These columns are not used: E ''.",
    ),
    (
        "behind a byte order mark",
        "\ufeffhue,mark,count,width_mm,height_mm\nred,A,1,900,900\n".encode(),
        "These columns are not used: A 'hue'.",
    ),
    (
        "Latin-1 twice",
        HEAD.encode() + b"\xe9,1,900,900\nB,1,900,900\n\xe8\xe9,1,900,900\n",
        "The file is not UTF-8; it was read as cp1252.",
    ),
)
