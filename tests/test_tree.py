"""What stands at the top of the repository: a short list that a new entry has to be put on by hand."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
FOLDERS = {"estimating", "rates", "api", "tests"}
FILES = {
    "README.md",
    "DEVELOPERS.md",
    "LICENSE",
    "pyproject.toml",
    "manage.py",
    "docker-compose.yml",
    "requirements.lock",
}
MADE = (".data/", ".schemathesis/", ".hypothesis/", ".venv/", "build/")


def git(*words: str) -> list[str]:
    """The lines that a git command prints; skips outside a checkout."""
    if shutil.which("git") is None or not (ROOT / ".git").exists():
        pytest.skip("no git, or no checkout")
    command = ["git", "-c", f"safe.directory={ROOT}", *words]
    return subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True).stdout.splitlines()


def test_only_known_entries_stand_at_the_top() -> None:
    top = {path.partition("/")[0] for path in git("ls-files")}
    assert {name for name in top if not name.startswith(".")} <= FOLDERS | FILES
    assert top >= FOLDERS | FILES


def test_what_the_tools_and_the_service_write_is_ignored() -> None:
    assert git("check-ignore", *MADE) == list(MADE)
    assert git("ls-files", *MADE) == []
