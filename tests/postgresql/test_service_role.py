"""What the service does by its own role: starts by no stronger one, signs people in, invites, removes."""

from __future__ import annotations

import datetime
import io
import os
import subprocess
import sys
import uuid
from pathlib import Path

import pytest
from django.core.management import call_command
from django.test import Client

from estimating.work.cleaning import delete_old
from rates.actions import idempotency
from rates.scope import changes_of
from tests.cast import NOW, PASSWORD, Api, Office
from tests.deployment import command_of
from tests.service import MANAGE, PATIENCE, POSTGRES_URL, REDIS_URL, ROOT, free_port

COMMANDS = {
    "web": command_of("web"),
    "worker": command_of("worker"),
    "work": [sys.executable, MANAGE, "work"],
    "start": [sys.executable, MANAGE, "start", "--port", str(free_port())],
}


@pytest.mark.parametrize("name", COMMANDS)
def test_nothing_starts_by_a_role_that_passes_by_the_policies(tmp_path: Path, name: str) -> None:
    environment = os.environ | {
        "DATABASE_URL": f"{POSTGRES_URL}/postgres",
        "REDIS_URL": REDIS_URL,
        "SECRET_KEY": uuid.uuid4().hex + uuid.uuid4().hex,
        "DATA_DIR": str(tmp_path),
        "BIND": f"127.0.0.1:{free_port()}",
    }
    answer = subprocess.run(
        COMMANDS[name], env=environment, cwd=ROOT, capture_output=True, text=True, timeout=PATIENCE, check=False
    )
    assert answer.returncode != 0
    assert "may pass by row-level security" in answer.stderr + answer.stdout


def test_old_answers_of_every_company_are_deleted(service: tuple[Office, Office]) -> None:
    for office in service:
        with changes_of(office.company):
            who = {"company": office.company, "owner": office.drafter}
            idempotency.open_record(**who, key="k", fingerprint="", now=NOW)
    assert sum(delete_old(NOW + idempotency.KEPT_FOR, 10)) == 0
    later = NOW + idempotency.KEPT_FOR + datetime.timedelta(seconds=1)
    assert delete_old(later, 10)[-2:] == [1, 1]


def test_people_come_and_go(service: tuple[Office, Office]) -> None:
    mine, other = service
    api, guest = Api(mine.key), Api(None, Client())
    for office in (mine, other):  # the second joined while signed in
        made = Api(office.key).post("/v1/members", {"name": "Ann", "email": "ann@b.example", "role": "estimator"})
        body = {"invitation": made.json()["invitation"]} | ({"password": PASSWORD} if office is mine else {})
        assert guest.post("/v1/session/invitation", body).status_code == 201, made.content
    chosen = guest.send("PATCH", "/v1/session", {"company": str(mine.company)})
    assert (chosen.json()["role"], len(chosen.json()["companies"])) == ("estimator", 2)
    assert guest.post("/v1/projects", {"name": "Clinic"}).status_code == 201
    members = api.get("/v1/members").json()["items"]
    assert len(members) == 3, "the other company's member of the same person is not seen"
    path = f"/v1/members/{next(m['id'] for m in members if m['email'])}"
    renewed = api.post(f"{path}/invitation").json()["invitation"]
    again = Api(None, Client())
    body = {"invitation": renewed, "password": f"{PASSWORD} again"}
    assert again.post("/v1/session/invitation", body).json()["role"] == "estimator"
    assert guest.get("/v1/projects").status_code == 401, "the member is the new person now"
    call_command("reset_password", "ann@b.example", company=str(mine.company), stdout=io.StringIO())
    assert again.get("/v1/projects").status_code == 401
    assert api.send("DELETE", path, If_Match=api.get(path).headers["ETag"]).status_code == 204
    assert [entry["action"] for entry in api.get("/v1/audit").json()["items"]] == [
        "invite-member", "accept-invitation", "sign-in", "make-project", "renew-invitation", "accept-invitation",
        "reset-password", "remove-member",
    ]  # fmt: skip
