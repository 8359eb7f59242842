"""How long a law is tried: shortly by default, at length with AT_LENGTH=1, as CI does once.

A test that has a long form is marked `law`: AT_LENGTH=1 pytest -m "campaign or law".
"""

from __future__ import annotations

import os

AT_LENGTH = os.environ.get("AT_LENGTH") == "1"


def tries(short: int, long: int) -> int:
    """So many tries of a law."""
    return long if AT_LENGTH else short
