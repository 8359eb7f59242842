"""A file of the corpus read as the service reads it: strictly if a program wrote it, else by the reader that asks."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from estimating.actions.reading import read_intake
from estimating.intake.reading import Intake, Options


def read_bytes(data: bytes, answers: Mapping[str, Any] | None = None) -> Intake:
    """The intake of a file with these answers; Refused.

    The same way as estimating.actions.intake.read_source, without a company.
    """
    options = Options(answers=dict(answers or {}))
    return read_intake(data, "", None, options)
