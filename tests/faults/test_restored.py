"""An issued quote read from a copy of the data folder: every document the same bytes, whatever is sent in afterwards.

SQLite; tests/postgresql/test_backup.py restores a dump of PostgreSQL.
"""

from __future__ import annotations

import hashlib
import shutil
import uuid
from pathlib import Path
from typing import Any

import pytest

from tests.faults.test_killed_workers import golden_of_demo
from tests.faults.test_quote_numbers import send, signed_estimate
from tests.service import Remote, started, stop

pytestmark = pytest.mark.campaign


def documents(client: Remote, quote: str) -> dict[str, bytes]:
    """Every document of a quote by its name, its digest as the quote tells it."""
    _, shown, _ = client.get(f"/v1/quotes/{quote}")
    found = {
        document["name"]: client.get(f"/v1/quotes/{quote}/{document['name']}")[1] for document in shown["documents"]
    }
    assert {d["name"]: d["digest"] for d in shown["documents"]} == {
        name: hashlib.sha256(content).hexdigest() for name, content in found.items()
    }
    return found


def issued(client: Remote) -> tuple[str, str, Any]:
    """(project, quote, its lines) of a quote that was issued."""
    request = golden_of_demo(client)
    _, project, _ = send(client, "/v1/projects", {"name": "Kept"})
    path = f"/v1/projects/{project['id']}/opening-schedules"
    _, schedule, _ = send(client, path, request["openings"])
    lines = request.pop("openings")
    estimate = signed_estimate(client, request | {"project": project["id"], "schedule": schedule["id"]})
    body = {"estimate": estimate, "customer": {"name": "Northfield Builders"}}
    _, quote, fields = send(client, "/v1/quotes", body, Idempotency_Key=str(uuid.uuid4()))
    status, told, _ = send(client, f"/v1/quotes/{quote['id']}/issue", If_Match=fields["ETag"])
    assert status == 200, told
    return project["id"], quote["id"], lines


def test_a_copy_of_the_folder_gives_the_same_bytes(tmp_path: Path) -> None:
    with started(tmp_path / "data", LOG_LEVEL="WARNING") as (client, process):
        project, quote, lines = issued(client)
        before = documents(client, quote)
        assert set(before) == {"letter.html", "letter.pdf", "ubl.xml"}
        assert stop(process) == 0
    shutil.copytree(tmp_path / "data", tmp_path / "restored")
    shutil.rmtree(tmp_path / "data")
    with started(tmp_path / "restored", LOG_LEVEL="WARNING") as (client, _):
        assert documents(client, quote) == before
        revised = [lines[0] | {"quantity": 99}, *lines[1:]]
        assert send(client, f"/v1/projects/{project}/opening-schedules", revised)[0] == 201
        assert documents(client, quote) == before
