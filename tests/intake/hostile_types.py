"""Files that are not what their names say, and files of kinds that no schedule has."""

from __future__ import annotations

import bz2
import gzip
import lzma
from collections.abc import Iterator

OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
BEGINNINGS = {
    "pdf": b"%PDF-1.7\n1 0 obj\n",
    "png": b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR",
    "jpeg": b"\xff\xd8\xff\xe0\0\x10JFIF",
    "gif": b"GIF89a\1\0\1\0",
    "program-windows": b"MZ\x90\0\3\0\0\0",
    "program-linux": b"\x7fELF\2\1\1\0",
    "drawing": b"AC1032\0\0\0\0",
    "rich-text": b"{\\rtf1\\ansi schedule}",
    "rar": b"Rar!\x1a\7\0",
    "seven-zip": b"7z\xbc\xaf\x27\x1c",
    "html": b"<!DOCTYPE html><html><table><tr><td>MARK</td></tr></table>",
    "xml": b"<?xml version='1.0'?><schedule/>",
    "xml-workbook": b'<?xml version="1.0"?><Workbook xmlns="urn:schemas-microsoft-com:office:spreadsheet"/>',
    "entity-bomb": b'<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b "bbbb"><!ENTITY c "&b;&b;&b;">]><a>&c;</a>',
    "ole-password": OLE + bytes(504) + "EncryptedPackage".encode("utf-16-le") + bytes(2000),
    "ole-old-workbook": OLE + bytes(504) + "Workbook".encode("utf-16-le") + bytes(2000),
    "ole-other": OLE + bytes(3000),
    "sqlite": b"SQLite format 3\0" + bytes(100),
    "zeros": bytes(5000),
    "shell": b"#!/bin/sh\nrm -r nothing\n",
    "python": b"import os\nprint(os.getcwd())\n",
    "tar": b"schedule.csv" + bytes(245) + b"ustar\x0000" + bytes(255),
}


def types() -> Iterator[tuple[str, bytes]]:
    """Each foreign kind under three names of schedules, and compressed ones."""
    for name, data in BEGINNINGS.items():
        for end in ("csv", "xlsx", "json"):
            yield f"type-{name}.{end}", data + bytes(16)
    sound = b"MARK,QTY,WIDTH (IN),HEIGHT (IN)\nW1,1,36,48\n"
    yield "type-gzip.csv", gzip.compress(sound)
    yield "type-bzip.csv", bz2.compress(sound)
    yield "type-xz.csv", lzma.compress(sound)
    yield "type-empty.csv", b""
    yield "type-blank.csv", b" \n\t\n \r\n"
    yield "type-mark-only.csv", b"\xef\xbb\xbf"
    yield "type-one-byte.csv", b"x"
    yield "type-gzip-bomb.csv", gzip.compress(bytes(50_000_000))
