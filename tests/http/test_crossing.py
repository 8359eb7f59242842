"""The cross-company matrix; on PostgreSQL it stands a second time with one layer of the two switched off."""

from __future__ import annotations

from contextlib import nullcontext
from typing import Any

from tests.http.crossing import cross
from tests.http.worlds import make_worlds


def test_no_company_reaches_another(rules: None, capfd: Any, settings: Any) -> None:
    settings.WRONG_KEYS_LIMIT = 10_000
    assert cross(make_worlds(), nullcontext(), capfd) > 500
