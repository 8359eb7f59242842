"""What an opening schedule leaves open: kept with the request, since its estimate tells of it.

Without any, a request and its digest are what they are without this module.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class OpenQuestion:
    """One question, in the terms of a remark: severity is question or to_know, pointer is in the request."""

    code: str
    severity: str
    pointer: str
    detail: str


@dataclass(frozen=True)
class OpenQuestions:
    """How many questions are open by severity, and those that are told one by one, the last ones together."""

    blocks_issue: int = 0
    to_know: int = 0
    told: tuple[OpenQuestion, ...] = ()
