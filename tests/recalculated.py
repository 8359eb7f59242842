"""Workbooks computed anew by LibreOffice, without the values that they were written with."""

from __future__ import annotations

import io
import re
import shutil
import subprocess
import zipfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import openpyxl
import pytest

PROGRAM = shutil.which("soffice")
needs_libreoffice = pytest.mark.skipif(PROGRAM is None, reason="no soffice here (apt-get install libreoffice-calc)")
VALUE = re.compile(r"(<f>[^<]*</f>)<v>[^<]*</v>")


def without_values(data: bytes) -> bytes:
    """The workbook with its formulas alone: what is read of them afterwards was computed."""
    held = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as package, zipfile.ZipFile(held, "w") as made:
        for name in package.namelist():
            made.writestr(name, VALUE.sub(r"\1", package.read(name).decode()))
    return held.getvalue()


def recalculated(folder: Path, books: Mapping[str, bytes]) -> dict[str, Any]:
    """Each workbook as openpyxl reads what LibreOffice made of it."""
    assert PROGRAM is not None
    (folder / "made").mkdir()
    for name, data in books.items():
        (folder / f"{name}.xlsx").write_bytes(without_values(data))
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    files = [str(folder / f"{name}.xlsx") for name in books]
    command = [PROGRAM, profile, "--headless", "--convert-to", "xlsx", "--outdir", str(folder / "made"), *files]
    subprocess.run(command, check=True, capture_output=True, timeout=600)
    return {name: openpyxl.load_workbook(folder / "made" / f"{name}.xlsx", data_only=True) for name in books}


def computed_cells(data: bytes) -> list[tuple[str, str, str]]:
    """(sheet, cell, formula) of every formula as written."""
    book = openpyxl.load_workbook(io.BytesIO(data))
    return [
        (sheet.title, cell.coordinate, str(cell.value))
        for sheet in book
        for row in sheet.iter_rows()
        for cell in row
        if cell.data_type == "f"
    ]
