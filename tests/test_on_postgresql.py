"""The tests with a database once more, on PostgreSQL: a process of their own, for a process has one database."""

from __future__ import annotations

import os
import subprocess
import sys
import uuid
from pathlib import Path

import psycopg
import pytest

from tests.service import POSTGRES_URL, ROOT, reachable

pytestmark = pytest.mark.campaign
PARTS = ("tests/postgresql", "tests/db")


@pytest.mark.parametrize("part", PARTS)
def test_on_postgresql(tmp_path: Path, part: str) -> None:
    if not reachable("127.0.0.1", 5432):
        pytest.skip("no PostgreSQL on this machine")
    name = f"sillwright_{uuid.uuid4().hex[:12]}"
    environment = os.environ | {
        "DATABASE_URL": f"{POSTGRES_URL}/{name}",
        "SECRET_KEY": uuid.uuid4().hex + uuid.uuid4().hex,
        "DATA_DIR": str(tmp_path),
        "APPLICATION_ROLE": f"{name}_service",
        "DUMP_ROLE": f"{name}_dump",
        "LOG_LEVEL": "ERROR",
    }
    command = [sys.executable, "-m", "pytest", "-q", "-n", "0", "-p", "no:cacheprovider", part]
    answer = subprocess.run(command, env=environment, cwd=ROOT, capture_output=True, text=True, check=False)
    with psycopg.connect(f"{POSTGRES_URL}/postgres", autocommit=True) as admin:
        for role in (environment["APPLICATION_ROLE"], environment["DUMP_ROLE"]):
            admin.execute(f"DROP ROLE IF EXISTS {role}")
    assert answer.returncode == 0, answer.stdout[-8000:]
