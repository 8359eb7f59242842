"""REQUIRE_ALL=1, as CI sets it: a skip ends the run with a failure; without it the run is green."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

SKIPS = {
    "test_mark.py": "import pytest\n@pytest.mark.skip(reason='no server')\ndef test_a():\n    pass\n",
    "test_call.py": "import pytest\ndef test_a():\n    pytest.skip('no browser')\n",
    "test_file.py": "import pytest\npytest.importorskip('no_such_module_here')\n",
    "test_expected.py": "import pytest\n@pytest.mark.xfail\ndef test_a():\n    assert False\n",
    "test_good.py": "def test_a():\n    pass\n",
}


@pytest.mark.parametrize(
    ("require_all", "status", "closing"),
    [("0", 0, "1 passed, 3 skipped, 1 xfailed"), ("1", 1, "1 failed, 1 passed, 1 xfailed, 2 errors")],
)
def test_a_skip_fails_only_where_all_is_required(tmp_path: Path, require_all: str, status: int, closing: str) -> None:
    shutil.copy(Path(__file__).with_name("conftest.py"), tmp_path)
    for name, source in SKIPS.items():
        (tmp_path / name).write_text(source)
    answer = subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "--rootdir", ".", "--continue-on-collection-errors"]
        + ["-p", "no:django", "-p", "no:cacheprovider", "-p", "no:hypothesispytest"],
        cwd=tmp_path,
        env={**os.environ, "REQUIRE_ALL": require_all},
        capture_output=True,
        text=True,
        check=False,
    )
    assert (answer.returncode, closing in answer.stdout) == (status, True), answer.stdout
