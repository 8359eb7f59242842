"""Workbooks broken or hostile in their zip package and in the XML of their parts."""

from __future__ import annotations

import io
import random
import struct
import zipfile
from collections.abc import Iterator, Mapping

from tests.intake.workbooks import workbook

ROWS: list[list[object]] = [
    ["MARK", "QTY", "WIDTH (IN)", "HEIGHT (IN)"],
    *([f"W{i}", 1 + i % 3, 24 + i, 36 + i] for i in range(30)),
]
SHEET, STRINGS, BOOK = "xl/worksheets/sheet1.xml", "xl/sharedStrings.xml", "xl/workbook.xml"
STYLES, RELATIONS = "xl/styles.xml", "xl/_rels/workbook.xml.rels"
LAUGHS = '<?xml version="1.0"?><!DOCTYPE a [<!ENTITY e0 "ha">{more}]><sst>&e9;</sst>'


def sound() -> bytes:
    """A sound workbook of 30 windows."""
    return workbook({"Windows": ROWS})


def parts(data: bytes) -> dict[str, bytes]:
    """A workbook's parts."""
    with zipfile.ZipFile(io.BytesIO(data)) as package:
        return {name: package.read(name) for name in package.namelist()}


def packed(content: Mapping[str, bytes], method: int = zipfile.ZIP_DEFLATED) -> bytes:
    """Parts as a workbook."""
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", method) as package:
        for name, data in content.items():
            package.writestr(name, data)
    return held.getvalue()


def packages() -> Iterator[tuple[str, bytes]]:
    """All of them."""
    whole = sound()
    yield from damaged(whole)
    yield from bombs(parts(whole))
    yield from missing(parts(whole))
    yield from kinds(parts(whole))
    yield from entities(parts(whole))


def damaged(whole: bytes) -> Iterator[tuple[str, bytes]]:
    """Cut short, and with bytes changed."""
    chance = random.Random(60)
    for number in range(20):
        yield f"xlsx-cut-{number:02}.xlsx", whole[: 4 + (len(whole) - 4) * number // 20]
    for number in range(60):
        data = bytearray(whole)
        for _ in range(1 + number % 7):
            data[chance.randrange(len(data))] = chance.randrange(256)
        yield f"xlsx-damaged-{number:02}.xlsx", bytes(data)
    yield "xlsx-only-end.xlsx", whole[-22:]
    yield "xlsx-with-tail.xlsx", whole + bytes(10_000)


def bombs(content: dict[str, bytes]) -> Iterator[tuple[str, bytes]]:
    """What unpacks to far more than it is."""
    million = b"".join(
        b'<row r="%d"><c r="A%d" t="inlineStr"><is><t>W</t></is></c><c r="B%d"><v>1</v></c></row>' % (r, r, r)
        for r in range(1, 1_000_001)
    )
    yield (
        "xlsx-million-lines.xlsx",
        packed(content | {SHEET: b"<worksheet><sheetData>" + million + b"</sheetData></worksheet>"}),
    )
    yield "xlsx-bomb-sheet.xlsx", packed(content | {SHEET: b" " * 300_000_000})
    yield "xlsx-bomb-strings.xlsx", packed(content | {STRINGS: b" " * 150_000_000})
    yield "xlsx-bomb-picture.xlsx", packed(content | {"xl/media/image1.png": bytes(100_000_000)})
    yield "xlsx-many-parts.xlsx", packed(content | {f"xl/x{i}.xml": b"<a/>" for i in range(5_000)}, zipfile.ZIP_STORED)
    yield "xlsx-nested.xlsx", packed(content | {"xl/inner.zip": packed({"x": bytes(30_000_000)})})
    lying = bytearray(packed(content | {SHEET: content[SHEET] + b" " * 30_000_000}))
    at = lying.rfind(b"PK\x01\x02", 0, lying.rfind(SHEET.encode()))
    struct.pack_into("<I", lying, at + 24, 500)  # the directory says that it unpacks to 500 bytes
    yield "xlsx-lying-size.xlsx", bytes(lying)
    locked = bytearray(packed(content))
    at = locked.find(b"PK\x01\x02")
    struct.pack_into("<H", locked, at + 8, 1)
    yield "xlsx-encrypted-part.xlsx", bytes(locked)


def missing(content: dict[str, bytes]) -> Iterator[tuple[str, bytes]]:
    """Without one of its parts, and with one emptied or of another kind."""
    for place, name in enumerate((SHEET, STRINGS, BOOK, STYLES, RELATIONS, "[Content_Types].xml")):
        yield f"xlsx-without-{place}.xlsx", packed({k: v for k, v in content.items() if k != name})
        yield f"xlsx-empty-part-{place}.xlsx", packed(content | {name: b""})
        yield f"xlsx-text-part-{place}.xlsx", packed(content | {name: b"not xml"})
        yield f"xlsx-cut-part-{place}.xlsx", packed(content | {name: content[name][: len(content[name]) // 2]})
    outside = content[RELATIONS].replace(b"worksheets/sheet1.xml", b"../../../../etc/passwd")
    yield "xlsx-path-outside.xlsx", packed(content | {RELATIONS: outside})
    yield "xlsx-path-absolute.xlsx", packed(content | {"/etc/passwd": b"x", "..\\..\\x": b"x"})
    yield "xlsx-same-name.xlsx", packed(content | {SHEET.upper(): content[SHEET]})


def kinds(content: dict[str, bytes]) -> Iterator[tuple[str, bytes]]:
    """Zip files that are no workbook of this kind."""
    yield "xlsx-macros.xlsx", packed(content | {"xl/vbaProject.bin": b"\xd0\xcf"})
    yield "xlsx-binary.xlsx", packed({"xl/workbook.bin": b"x", "[Content_Types].xml": b"<Types/>"})
    yield "xlsx-opendocument.xlsx", packed({"mimetype": b"application/vnd.oasis", "content.xml": b"<a/>"})
    yield "xlsx-text-document.xlsx", packed({"word/document.xml": b"<a/>"})
    yield "xlsx-zipped-model.xlsx", packed({"model.ifc": b"ISO-10303-21;"})
    yield "xlsx-empty-zip.xlsx", packed({})
    yield "xlsx-one-file.xlsx", packed({"schedule.csv": b"MARK,QTY\n"})


def entities(content: dict[str, bytes]) -> Iterator[tuple[str, bytes]]:
    """Document types in every part, deep nesting, other encodings."""
    more = "".join(f'<!ENTITY e{i} "{f"&e{i - 1};" * 10}">' for i in range(1, 10))
    for place, name in enumerate((SHEET, STRINGS, BOOK, STYLES, RELATIONS)):
        yield f"xlsx-laughs-{place}.xlsx", packed(content | {name: LAUGHS.replace("{more}", more).encode()})
        outside = b'<?xml version="1.0"?><!DOCTYPE a [<!ENTITY x SYSTEM "file:///etc/passwd">]><a>&x;</a>'
        yield f"xlsx-outside-entity-{place}.xlsx", packed(content | {name: outside})
        deep = b"<a>" * 100_000
        yield f"xlsx-deep-{place}.xlsx", packed(content | {name: deep})
        yield f"xlsx-deep-closed-{place}.xlsx", packed(content | {name: deep + b"</a>" * 100_000})
        utf16 = content[name].decode().replace("UTF-8", "UTF-16").encode("utf-16")
        yield f"xlsx-utf16-{place}.xlsx", packed(content | {name: utf16})
        odd = content[name].replace(b"UTF-8", b"EBCDIC-XX")
        yield f"xlsx-odd-encoding-{place}.xlsx", packed(content | {name: odd})
