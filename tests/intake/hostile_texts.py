"""Broken and hostile CSV, lists and JSON."""

from __future__ import annotations

import random
from collections.abc import Iterator

HEAD = "MARK,QTY,WIDTH (IN),HEIGHT (IN),LEVEL,REMARKS"
NUMBERS = (
    "1e5", "1E400", "1e1000000", "NaN", "nan", "inf", "-inf", "Infinity", "1_000", "0x10", "٣", "٣٦", "१२", "-0", "-1",
    "+1", "1,000", "1.5.2", "--1", "1/0", "0/0", "4 9/8", "9" * 19, "9" * 400, "1" * 100_000, "." , "1.", ".5",
    "1e-400",
    "½½", "5'-14\"", "6.5' 3\"", "1'2'3'", "36 furlongs", "36 x", "x 36", "∞", "３６", "1\u202e63", "36\u200b",
)  # fmt: skip
SOUND = f"{HEAD}\n" + "\n".join(f"W{i},{i % 4 + 1},{24 + i},{36 + i},Level {i % 3},as drawn" for i in range(40))


def texts() -> Iterator[tuple[str, bytes]]:
    """All of them."""
    yield from numbers()
    yield from forms()
    yield from large()
    yield from damaged()
    yield from documents()


def numbers() -> Iterator[tuple[str, bytes]]:
    """Cells that are no plain numbers, as a count and as a size."""
    for place, number in enumerate(NUMBERS):
        yield f"csv-count-{place:02}.csv", f"{HEAD}\nW1,{quoted(number)},36,48,,\n".encode()
        yield f"csv-width-{place:02}.csv", f"{HEAD}\nW1,1,{quoted(number)},48,,\n".encode()


def quoted(cell: str) -> str:
    """A cell quoted where it has to be."""
    return '"' + cell.replace('"', '""') + '"' if "," in cell or '"' in cell else cell


def forms() -> Iterator[tuple[str, bytes]]:
    """Texts broken in their form."""
    cells = {
        "nul": "W\0",
        "bell": "W\a1",
        "bidi": "W\u202e1",
        "isolate": "W\u20661",
        "escape": "\x1b[31mW1",
        "formula-equals": '=HYPERLINK("http://invalid")',
        "formula-plus": "+1+1",
        "formula-minus": "-2+3",
        "formula-at": "@SUM(A1)",
        "formula-tab": '"\t=1"',
        "formula-return": '"\r=1"',
        "long": "W" * 5_000,
        "very-long": "W" * 2_000_000,
        "quote-inside": 'W"1',
        "text-after-quote": '"W1" x',
    }
    for name, cell in cells.items():
        yield f"csv-cell-{name}.csv", f"{HEAD}\n{cell},1,36,48,,\n".encode()
    whole = {
        "not-utf8": b"MARK,QTY,WIDTH (IN),HEIGHT (IN)\nW\xbd,1,36,48\n",
        "utf16-cut": "MARK,QTY".encode("utf-16") + b"\xd8",
        "utf16-surrogates": b"\xff\xfe" + b"\x00\xd8" * 50,
        "unclosed-quote": f'{HEAD}\n"W1,1,36,48\nW2,1,36,48\n'.encode(),
        "only-quotes": b'"' * 10_001,
        "only-commas": b"," * 100_000,
        "only-newlines": b"\n" * 100_000 + b"x",
        "heading-only": HEAD.encode(),
        "heading-twice": f"{HEAD}\n{HEAD}\n".encode(),
        "same-heading": b"MARK,MARK,QTY,QTY,WIDTH,WIDTH\n1,2,3,4,5,6\n",
        "ragged": f"{HEAD}\nW1,1,36\nW2,1,36,48,L1,x,y,z\n".encode(),
        "old-line-ends": SOUND.replace("\n", "\r").encode(),
        "mixed-line-ends": SOUND.replace("\n", "\r\n", 3).encode(),
        "no-heading": b"1,2,3\n4,5,6\n",
        "prose": b"Dear all, please find the windows below.\nRegards\n" * 50,
        "list-of-nothing": b"x\ny\nz\n",
        "many-totals": f"{HEAD}\n{'TOTAL,1,,,,' + chr(10)}".encode() * 500,
    }
    for name, data in whole.items():
        yield f"csv-{name}.csv", data


def large() -> Iterator[tuple[str, bytes]]:
    """Texts beyond any schedule's size."""
    line = b"W1,1,36,48,L1,\n"
    yield "csv-million-lines.csv", HEAD.encode() + b"\n" + line * 1_000_000
    yield "csv-million-short-lines.csv", HEAD.encode() + b"\n" + b"W,1\n" * 1_000_000
    yield "csv-one-line.csv", HEAD.encode() + b"\n" + b"W" * 20_000_000
    yield "csv-many-columns.csv", (HEAD + ",x" * 100_000 + "\nW1,1,36,48\n").encode()
    yield "csv-wide-rows.csv", (HEAD + "\n" + ("W1,1,36,48" + ",x" * 20_000 + "\n") * 50).encode()
    yield "csv-every-line-wrong.csv", (HEAD + "\n" + "W?,many,wide,high,,\n" * 20_000).encode()
    yield "csv-every-mark-anew.csv", (HEAD + "\n" + "".join(f"W{i},1,{i},1,,\n" for i in range(1, 8_000))).encode()
    yield "csv-too-large.csv", b"x" * 64_000_001
    yield "list-long-line.txt", b"W1 (2) " + b"3'-0\" x " * 200_000
    yield "list-many-brackets.txt", b"(" * 200_000
    yield "list-many-digits.txt", b"1" * 200_000 + b" x " + b"1" * 200_000
    yield "list-spaces.txt", (b"W1" + b" " * 100_000 + b"x\n") * 20


def damaged() -> Iterator[tuple[str, bytes]]:
    """A sound CSV with single bytes changed, and cut short."""
    chance = random.Random(6)
    sound = SOUND.encode()
    for number in range(40):
        data = bytearray(sound)
        for _ in range(1 + number % 5):
            data[chance.randrange(len(data))] = chance.randrange(256)
        yield f"csv-damaged-{number:02}.csv", bytes(data)
    for number in range(10):
        yield f"csv-cut-{number:02}.csv", sound[: chance.randrange(len(sound))]


def documents() -> Iterator[tuple[str, bytes]]:
    """JSON of every broken kind."""
    opening = '{"mark": "W1", "quantity": 1, "width": "36 in", "height": "48 in"}'
    whole = {
        "brackets": "[" * 100_000,
        "braces": '{"a":' * 100_000,
        "closed-brackets": "[" * 50_000 + "]" * 50_000,
        "duplicate-key": '[{"mark": "W1", "mark": "W2", "quantity": 1}]',
        "nan": '[{"mark": "W1", "quantity": NaN}]',
        "infinity": '[{"mark": "W1", "quantity": -Infinity}]',
        "exponent": '[{"mark": "W1", "quantity": 1e1000000}]',
        "overflow": '[{"mark": "W1", "quantity": 1e400}]',
        "digits": '[{"mark": "W1", "quantity": ' + "9" * 100_000 + "}]",
        "cut": opening[:30],
        "comment": "[/* x */]",
        "comma": f"[{opening},]",
        "single-quotes": "[{'mark': 'W1'}]",
        "surrogate": '[{"mark": "\\ud800", "quantity": 1, "width": "36 in", "height": "48 in"}]',
        "nul": '[{"mark": "W\\u0000", "quantity": 1, "width": "36 in", "height": "48 in"}]',
        "bidi": '[{"mark": "W\\u202e1", "quantity": 1, "width": "36 in", "height": "48 in"}]',
        "raw-control": '[{"mark": "W\x01"}]',
        "number": "[1, 2, 3]",
        "nested-openings": '{"openings": {"openings": []}}',
        "null": '{"openings": null}',
        "text": '{"openings": "W1"}',
        "unknown": '{"openings": [], "admin": true}',
        "prototype": '[{"__proto__": {"mark": "W1"}, "constructor": 1}]',
        "lists": '[{"mark": ["W1"], "quantity": [1], "width": {"a": 1}}]',
        "booleans": '[{"mark": true, "quantity": true, "width": false, "height": null}]',
        "points": '[{"mark": "W1", "quantity": 1, "shape": "polygon", "points": [[1],[2],[3]]}]',
        "many-points": '[{"mark": "W1", "quantity": 1, "shape": "polygon", "points": ['
        + '["1","1"],' * 9_999
        + "[]]}]",
        "long-text": '[{"mark": "' + "W" * 1_000_000 + '"}]',
        "long-key": '[{"' + "k" * 1_000_000 + '": 1}]',
        "many-keys": "[{" + ",".join(f'"k{i}": 1' for i in range(100_000)) + "}]",
        "empty-objects": "[" + "{}," * 100_000 + "{}]",
        "too-many-lines": "[" + f"{opening}," * 250_000 + f"{opening}]",
    }
    for name, text in whole.items():
        yield f"json-{name}.json", text.encode("utf-8", "surrogatepass")
    yield "json-utf16.json", f"[{opening}]".encode("utf-16")
    yield "json-latin.json", '[{"mark": "W½"}]'.encode("latin-1")
    yield "json-mark.json", b"\xef\xbb\xbf[" + opening.encode() + b"]"
