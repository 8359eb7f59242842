"""Checks as documents and lists give them."""

from __future__ import annotations

from typing import Annotated, TypedDict

from estimating.outputs.check_rows import MOST_LINES
from estimating.outputs.documents.scalars import Named, Severity

Lines = Annotated[list[int], f"schedule lines that it is about, from 1, the first {MOST_LINES:,} of them"]
Change = Annotated[str, Named("CheckChange", words=("came", "changed", "went"))]


class CheckLine(TypedDict):
    """What is unlikely in an estimate or in an edition by itself; it refuses nothing."""

    code: Annotated[str, "a stable word"]
    severity: Severity
    sentence: str
    lines: Lines


class ChangedCheck(CheckLine):
    """A check that came, went or says something else; lines of the later schedule, of one that went of the earlier."""

    change: Change
