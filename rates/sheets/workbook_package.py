"""The zip directory of a workbook, checked before anything in it is unpacked; and its parts, read within bounds."""

from __future__ import annotations

import io
import posixpath
import zipfile
import zlib

from rates.core.problems import Unreadable

MOST_ENTRIES = 2_000
MOST_UNPACKED = 48_000_000  # all parts that are read: some 130,000 lines of eight columns; a million of one need 53 MB
MOST_RATIO = 400  # of a part over a megabyte; sheets of equal rows reach 60
RATIO_FROM = 1_000_000
MACROS = "vbaproject.bin"


class Package:
    """A workbook's parts by name; Unreadable where the directory promises more than is taken.

    Codes: broken_zip, too_many_entries, zip_bomb, too_large, password_protected, macros, not_a_workbook.
    """

    def __init__(self, data: bytes) -> None:
        try:
            self._zip = zipfile.ZipFile(io.BytesIO(data))
        except (zipfile.BadZipFile, ValueError, OverflowError, NotImplementedError, OSError, UnicodeDecodeError):
            raise Unreadable("broken_zip", "the workbook is broken or was cut short in transfer") from None
        entries = self._zip.infolist()
        self._check(entries)
        self._names = {entry.filename.lstrip("/").lower(): entry for entry in entries}
        self._left = MOST_UNPACKED
        if "xl/workbook.xml" not in self._names:
            self._refuse_other()

    def _check(self, entries: list[zipfile.ZipInfo]) -> None:
        if len(entries) > MOST_ENTRIES:
            raise Unreadable("too_many_entries", f"a workbook has at most {MOST_ENTRIES:,} parts")
        names = [entry.filename.lower() for entry in entries]
        if len(set(names)) < len(names):
            raise Unreadable("broken_zip", "the workbook holds two parts of one name")
        for entry in entries:
            if entry.flag_bits & 1:
                raise Unreadable("password_protected", "the file is protected by a password; save it without")
            if entry.file_size > RATIO_FROM and entry.file_size > MOST_RATIO * max(entry.compress_size, 1):
                detail = f"a part unpacks to {entry.file_size:,} bytes from {entry.compress_size:,}; nothing was read"
                raise Unreadable("zip_bomb", detail)
        total = sum(entry.file_size for entry in entries if entry.filename.lower().endswith((".xml", ".rels")))
        if total > MOST_UNPACKED:
            detail = f"the workbook unpacks to {total:,} bytes; at most {MOST_UNPACKED:,} are taken"
            raise Unreadable("too_large", detail)
        if any(posixpath.basename(name) == MACROS for name in names):
            raise Unreadable("macros", "the workbook holds macros; save it as .xlsx without them")

    def _refuse_other(self) -> None:
        names = list(self._names)
        if any(name.endswith(".ifc") for name in names):
            raise Unreadable("not_a_workbook", "this is a zipped model; send the .ifc file itself")
        if any(name.endswith("workbook.bin") for name in names):
            raise Unreadable("old_workbook", "this is a binary workbook; save it as .xlsx")
        if "content.xml" in names:
            raise Unreadable("not_a_workbook", "this is an OpenDocument file; save it as .xlsx or CSV")
        raise Unreadable("not_a_workbook", "this is a zip file but no workbook; save the table as .xlsx or CSV")

    def has(self, name: str) -> bool:
        """Whether there is such a part."""
        return name.lower() in self._names

    def size(self, name: str) -> int:
        """The unpacked size that the directory states."""
        return self._names[name.lower()].file_size

    def read(self, name: str) -> bytes:
        """A part unpacked; Unreadable where it is missing, broken, or longer than its directory entry says."""
        entry = self._names.get(name.lower())
        if entry is None:
            raise Unreadable("broken_workbook", f"the workbook lacks its part {name[:80]}")
        try:
            with self._zip.open(entry) as part:
                data = part.read(min(entry.file_size, self._left) + 1)
        except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError, OSError, ValueError):
            raise Unreadable("broken_zip", f"the part {name[:80]} of the workbook is broken") from None
        if len(data) > min(entry.file_size, self._left):
            raise Unreadable("zip_bomb", "a part of the workbook is longer than its directory says")
        self._left -= len(data)
        return data
