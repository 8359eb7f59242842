"""`manage.py estimate` called in this process: what it prints, and its faults taken apart."""

from __future__ import annotations

import io
import re
from pathlib import Path
from typing import NamedTuple
from unittest.mock import patch

from django.core.management import call_command

ROOT = Path(__file__).resolve().parent.parent.parent
GOLDEN = ROOT / "tests" / "data" / "golden"
GOLDEN_FILES = (str(GOLDEN / "request.json"), "--rates", str(GOLDEN / "edition.json"))
_LINE = re.compile(r"(?P<file>.+?):(?P<line>[0-9]+):(?P<column>[0-9]+): (?:(?P<pointer>/\S*): )?(?P<detail>.+)")


_NO_FAULTS = ("No --request was given", "Write the questions to a file", "question: ")


class Told(NamedTuple):
    """A fault as the command prints it."""

    file: str
    line: int
    column: int
    pointer: str
    detail: str


class Run(NamedTuple):
    """How the command ended."""

    status: int
    out: str
    err: str

    @property
    def faults(self) -> list[Told]:
        """The faults on stderr; every line must be one, a question that doesn't stand in the way, or a hint."""
        found = []
        for line in self.err.splitlines():
            match = _LINE.fullmatch(line)
            assert match or line.startswith(_NO_FAULTS), line
            if match:
                place = int(match["line"]), int(match["column"])
                found.append(Told(Path(match["file"]).name, *place, match["pointer"] or "", match["detail"]))
        return found


def run(*arguments: str | Path) -> Run:
    """The command called with these arguments, without its progress; SystemExit gives the status."""
    out, err = io.StringIO(), io.StringIO()
    status = 0
    try:
        with patch("estimating.outputs.progress.PATIENCE_SECONDS", 3600):  # a slow machine would have progress here
            call_command("estimate", *(str(argument) for argument in arguments), stdout=out, stderr=err)
    except SystemExit as end:
        status = end.code if isinstance(end.code, int) else 1
    return Run(status, out.getvalue(), err.getvalue())
