"""README's curl session of an ERP's first day, run as it is written against a service started for it."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from tests.service import ROOT, started

SECTION = (ROOT / "README.md").read_text().split("\n## The service\n")[1].split("\n## ")[0]
BLOCKS = re.findall(r"```bash\n(.*?)```", SECTION, re.DOTALL)


def test_the_session_runs_as_written(tmp_path: Path) -> None:
    if shutil.which("curl") is None:
        pytest.skip("no curl on this machine")
    assert len(BLOCKS) == 3
    with started(tmp_path / "data") as (client, _):
        script = "\n".join(f"{block}\necho '--- end of block ---'" for block in BLOCKS)
        written = "BASE=http://127.0.0.1:8000 DATA=.data"
        assert written in script
        script = script.replace(written, f"BASE={client.base} DATA={tmp_path / 'data'}")
        ended = subprocess.run(
            ["bash", "-euo", "pipefail", "-c", script],
            cwd=tmp_path,
            capture_output=True,
            text=True,
            timeout=120,
            check=False,
        )
    assert ended.returncode == 0, ended.stderr
    feed, codes, own, _ = ended.stdout.split("--- end of block ---")
    assert '"items":[]' in feed and '"after"' in feed
    lines = codes.strip().splitlines()
    assert lines[0].startswith("code,title,") and lines[-1] == "304"
    assert re.match(r"\n?[0-9]+\.[0-9]{2}\n", own)
    assert '"figure":"price"' in own
