"""One service and one browser for all tests of a file."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.browser.office import Office, opened


@pytest.fixture(scope="module")
def office(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Office]:
    with opened(tmp_path_factory.mktemp("demo") / "data") as found:
        yield found
