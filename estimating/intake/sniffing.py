"""What a file is, by its first bytes and never by its name."""

from __future__ import annotations

import re

from estimating.intake.encodings import byte_order
from rates.core.problems import Problem

MOST_BYTES = 64_000_000
_LEAD = re.compile(rb"\s*")
_PROLOGUE = re.compile(rb"<(?:\?xml|!doctype|html|[a-z_][\w.:-]*[\s>/])", re.IGNORECASE)
# beginning -> what it is, and what to do instead
FOREIGN = (
    (b"%PDF", "pdf", "this is a PDF; a schedule is a workbook, CSV, text, JSON or a model"),
    (b"\xff\xd8\xff", "image", "this is a picture; its schedule can't be read"),
    (b"\x89PNG", "image", "this is a picture; its schedule can't be read"),
    (b"GIF8", "image", "this is a picture; its schedule can't be read"),
    (b"\x1f\x8b", "compressed", "this is a compressed file; send what is in it"),
    (b"BZh", "compressed", "this is a compressed file; send what is in it"),
    (b"7z\xbc\xaf", "compressed", "this is a compressed file; send what is in it"),
    (b"Rar!", "compressed", "this is a compressed file; send what is in it"),
    (b"\xfd7zXZ", "compressed", "this is a compressed file; send what is in it"),
    (b"MZ", "program", "this is a program, not a schedule"),
    (b"\x7fELF", "program", "this is a program, not a schedule"),
    (b"AC10", "drawing", "this is a drawing file; export its schedule as CSV or a workbook"),
    (b"{\\rtf", "document", "this is a text document; save its table as CSV"),
)
OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_ENCRYPTED = "EncryptedPackage".encode("utf-16-le")
_OLD_BOOK = "Workbook".encode("utf-16-le")


def sniff(data: bytes) -> str | Problem:
    """xlsx (any zip), ifc, json or text; a Problem that says what the file is instead where none of these.

    Codes: empty, too_large, password_protected, old_workbook, not_a_schedule, binary.
    """
    if len(data) > MOST_BYTES:
        return refuse("too_large", f"the file has more than {MOST_BYTES:,} bytes")
    if data.startswith(OLE):
        return ole_problem(data)
    if data.startswith((b"PK\x03\x04", b"PK\x05\x06", b"PK\x07\x08")):
        return "xlsx"
    for beginning, _, detail in FOREIGN:
        if data.startswith(beginning):
            return refuse("not_a_schedule", detail)
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return "text"
    start = data.removeprefix(b"\xef\xbb\xbf")
    lead = _LEAD.match(start)
    start = start[lead.end() :] if lead else start
    if not start:
        return refuse("empty", "the file is empty")
    if start.startswith(b"ISO-10303-21"):
        return "ifc"
    if start[:1] in b"[{":
        return "json"
    if _PROLOGUE.match(start):
        return refuse("not_a_schedule", "this is XML or a web page; save the schedule as a workbook or CSV")
    if byte_order(data) is None and data[:4096].count(0) * 50 > len(
        data[:4096]
    ):  # a lone one is a fault of a text, with its place
        return refuse("binary", "this is no text: it holds NUL bytes; save the schedule as a workbook or CSV")
    return "text"


def ole_problem(data: bytes) -> Problem:
    """What an OLE compound file is: a workbook under a password, or one of the old binary kind."""
    if _ENCRYPTED in data:
        return refuse("password_protected", "the workbook is protected by a password; save it without one")
    if _OLD_BOOK in data:
        return refuse("old_workbook", "this is a workbook in the old binary format; save it as .xlsx")
    return refuse("not_a_schedule", "this is an office file of the old binary kind, or one under a password")


def refuse(code: str, detail: str) -> Problem:
    """A problem of the file as a whole."""
    return Problem("", code, detail, "schedule", 1, 1)
