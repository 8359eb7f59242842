"""A backup by the dump's role, restored elsewhere: every estimate's digest and every letter's bytes are there again."""

from __future__ import annotations

import os
import shutil
import subprocess
import uuid
from pathlib import Path
from typing import Any

import psycopg
import pytest
from django.conf import settings
from django.db import connection
from psycopg import errors

from tests.cast import Office
from tests.db.making import cost_golden, draft_quote, issue_quote, sign_all
from tests.service import TEST_PASSWORD

DIGESTS = "SELECT id, input_digest, price_minor FROM estimating_estimate ORDER BY 1"
PARTS = "SELECT estimate_id, name, stretch, md5(body) FROM estimating_estimatepart ORDER BY 1, 2, 3"
LETTERS = "SELECT quote_id, name, digest, encode(sha256(content), 'hex') FROM estimating_quotefile ORDER BY 1, 2"
KEPT = (DIGESTS, PARTS, LETTERS)


def program(name: str) -> str:
    """A program of PostgreSQL's, on the path or beside the server."""
    beside = sorted(Path("/usr/lib/postgresql").glob(f"*/bin/{name}"))
    found = shutil.which(name) or (str(beside[-1]) if beside else None)
    assert found is not None, f"no {name} on this machine"
    return found


def run(name: str, role: str, *arguments: str) -> subprocess.CompletedProcess[str]:
    """A program of PostgreSQL's, by a role."""
    told = connection.settings_dict
    password = TEST_PASSWORD if role != told["USER"] else str(told["PASSWORD"])
    command = [program(name), "-h", told["HOST"], "-p", str(told["PORT"] or 5432), "-U", role, *arguments]
    environment = os.environ | {"PGPASSWORD": password}
    return subprocess.run(command, env=environment, capture_output=True, text=True, check=False)


def connect(database: str) -> Any:
    """A connection of the owner's."""
    told = connection.settings_dict
    return psycopg.connect(
        host=told["HOST"], port=told["PORT"] or 5432, user=told["USER"], password=told["PASSWORD"], dbname=database,
        autocommit=True,
    )  # fmt: skip


def test_backup_wipe_restore(offices: tuple[Office, Office], tmp_path: Path) -> None:
    for office in offices:
        sign_all(office, estimate := cost_golden(office))
        issue_quote(office, draft_quote(office, estimate))
        cost_golden(office, treated_depth="7 in")
    database, file = str(connection.settings_dict["NAME"]), str(tmp_path / "backup")
    dumped = run("pg_dump", settings.DUMP_ROLE, "-Fc", "-f", file, database)
    assert dumped.returncode == 0, dumped.stderr
    with connect(database) as owner:
        before = [owner.execute(query).fetchall() for query in KEPT]
        assert len(before[2]) == 6 and all(digest == found for _, _, digest, found in before[2])
        assert len(before[0]) == 4 and all(digest for _, digest, _ in before[0])
        copy = f"restored_{uuid.uuid4().hex[:10]}"
        owner.execute(f"CREATE DATABASE {copy}")
        try:
            restored = run("pg_restore", str(connection.settings_dict["USER"]), "--exit-on-error", "-d", copy, file)
            assert restored.returncode == 0, restored.stderr
            with connect(copy) as there:
                assert [there.execute(query).fetchall() for query in KEPT] == before
                there.execute(f"SET ROLE {settings.APPLICATION_ROLE}")
                assert there.execute(DIGESTS).fetchall() == [], "the policies are restored too"
                there.execute("RESET ROLE")
                with pytest.raises(errors.IntegrityError, match="kept as it is"):
                    there.execute("DELETE FROM estimating_estimate")
        finally:
            owner.execute(f"DROP DATABASE {copy} WITH (FORCE)")


def test_the_service_s_role_makes_no_backup(offices: tuple[Office, Office], tmp_path: Path) -> None:
    database = str(connection.settings_dict["NAME"])
    refused = run("pg_dump", settings.APPLICATION_ROLE, "-Fc", "-f", str(tmp_path / "backup"), database)
    assert refused.returncode != 0
    assert "row-level security" in refused.stderr or "permission denied" in refused.stderr
