"""Work counted in steps of the interpreter: the same on every machine, where seconds are not."""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import Any


def steps(call: Callable[[], Any]) -> int:
    """How many lines of Python run in a call; what libraries in C do counts as nothing."""
    passed = 0

    def at_line(frame: Any, event: str, argument: Any) -> Any:
        nonlocal passed
        passed += event == "line"
        return at_line

    before = sys.gettrace()
    sys.settrace(at_line)
    try:
        call()
    finally:
        sys.settrace(before)
    return passed
