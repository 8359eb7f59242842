"""`manage.py make_company`: usable within minutes; its principal signs in, its rate book starts with a marked draft."""

from __future__ import annotations

import stat
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command
from django.test import Client

from tests.cast import PASSWORD, Api


def test_a_fresh_company_can_be_used(rules: None, tmp_path: Path) -> None:
    call_command(
        "make_company", "New office", keys=str(tmp_path), units="metric", currency="EUR", principal="a@b.example"
    )
    assert sorted(path.name for path in tmp_path.iterdir()) == ["approver.key", "first.key", "principal.invitation"]
    assert {stat.S_IMODE(path.stat().st_mode) for path in tmp_path.iterdir()} == {0o600}
    person = Api(None, Client())
    text = (tmp_path / "principal.invitation").read_text().strip()
    accepted = person.post("/v1/session/invitation", {"invitation": text, "password": PASSWORD})
    assert (accepted.status_code, accepted.json()["role"]) == (201, "principal")
    (book,) = person.get("/v1/rate-books").json()["items"]
    (head,) = person.get(f"/v1/rate-books/{book['id']}/editions").json()["items"]
    assert (head["state"], head["currency"]) == ("draft", "EUR")
    assert "invented" in head["note"]
    tables = person.get(f"/v1/editions/{head['id']}").json()["tables"]
    assert tables["labour"] == tables["materials"] == [] and tables["production"]["opening_minutes"]
    first, approver = (Api((tmp_path / name).read_text().strip()) for name in ("first.key", "approver.key"))
    row = [{"code": "journeyman", "title": "Journeyman", "wage": "30.00"}]
    put = first.send("PUT", f"/v1/editions/{head['id']}/labour", row, If_Match="*")
    sent = first.post(f"/v1/editions/{head['id']}/submit", If_Match=put.headers["ETag"])
    body = {"digest": sent.json()["digest"]}
    assert approver.post(f"/v1/editions/{head['id']}/approve", body, If_Match=sent.headers["ETag"]).status_code == 200
    (entry,) = person.get("/v1/audit?action=make-company").json()["items"]
    assert entry["way"] == "command"


def test_what_stands_in_the_folder_is_never_overwritten(rules: None, tmp_path: Path) -> None:
    (tmp_path / "principal.invitation").write_text("x")
    with pytest.raises(CommandError):
        call_command("make_company", "New office", keys=str(tmp_path))
    with pytest.raises(CommandError):
        call_command("make_company", "New office", keys=str(tmp_path / "none"))
