"""The audit: who changed what, when, from where, before and after; no change without an entry, no entry changed."""

from __future__ import annotations

import datetime

import pytest
from django.db import DatabaseError, transaction

from rates.models import AuditEntry
from tests.cast import Api, Office, make_person
from tests.worked_cases import read_case


def test_before_and_after_of_a_table(api: Api, office: Office) -> None:
    document = read_case("golden", "edition.json") | {"effective_from": "2027-06-01"}
    made = api.post(f"/v1/rate-books/{office.rate_book}/editions", document)
    rows = api.get(f"{made.headers['Location']}/labour").json()
    changed = [row | {"wage": "33.00"} if n == 0 else row for n, row in enumerate(rows)]
    path = f"{made.headers['Location']}/labour"
    answer = api.send("PUT", path, changed, If_Match=made.headers["ETag"])
    assert answer.status_code == 200
    entries = api.get(f"/v1/audit?subject={made.json()['id']}").json()["items"]
    assert [entry["action"] for entry in entries] == ["draft-edition", "put-labour-table"]
    before, after = entries[1]["before"]["tables"], entries[1]["after"]["tables"]
    assert set(before) == set(after) == {"labour"}
    assert (before["labour"][0]["wage"], after["labour"][0]["wage"]) == ("32.00", "33.00")
    assert entries[1]["member"] == str(office.drafter)
    assert (entries[1]["way"], entries[1]["address"]) == ("key", "127.0.0.1")
    assert entries[1]["request"] == answer.headers["X-Request-Id"]


def test_every_kind_of_change_is_noted_and_no_refusal(api: Api, office: Office) -> None:
    person = make_person(office, "estimator", "eve@office.example")
    project = person.post("/v1/projects", {"name": "Clinic"})
    person.send("PATCH", project.headers["Location"], {"name": "Clinic B"}, If_Match=project.headers["ETag"])
    person.send("PATCH", project.headers["Location"], {"name": "C"}, If_Match='"old"')
    person.post("/v1/projects", {})
    key = api.post("/v1/access-keys", {"title": "erp", "scopes": ["read"]}).json()
    tag = api.get(f"/v1/access-keys/{key['id']}").headers["ETag"]
    api.send("DELETE", f"/v1/access-keys/{key['id']}", If_Match=tag)
    page = api.get("/v1/audit?limit=500")
    found = [(entry["action"], entry["way"]) for entry in page.json()["items"]]
    assert found == [
        ("accept-invitation", "command"), ("sign-in", "session"), ("make-project", "session"),
        ("change-project", "session"),
        ("make-access-key", "key"), ("revoke-access-key", "key"),
    ]  # fmt: skip
    assert page.json()["items"][3]["before"] == {"name": "Clinic"}
    assert page.json()["items"][3]["after"] == {"name": "Clinic B"}
    assert key["access_key"].split("_", 2)[2] not in page.content.decode()


def test_filters_and_export(api: Api, office: Office) -> None:
    for name in ("a", "b"):
        api.post("/v1/projects", {"name": name})
    Api(office.approver_key).post("/v1/projects", {"name": "c"})

    def count(query: str) -> int:
        return len(api.get(f"/v1/audit?{query}").json()["items"])

    assert (count(f"member={office.drafter}"), count("action=make-project"), count("action=x")) == (2, 3, 0)
    soon = (datetime.datetime.now(datetime.UTC) + datetime.timedelta(minutes=1)).strftime("%Y-%m-%dT%H:%M:%SZ")
    assert (count(f"since={soon}"), count(f"until={soon}")) == (0, 3)
    table = api.get("/v1/audit.csv").content.decode().splitlines()
    assert len(table) == 4 and table[0].startswith("id,at,member")
    assert api.get("/v1/audit.xlsx").content[:2] == b"PK"


def test_the_audit_is_for_rate_keepers_and_principals(office: Office) -> None:
    for role, status in (("viewer", 403), ("sales", 403), ("estimator", 403), ("rate_keeper", 200), ("principal", 200)):
        assert make_person(office, role, f"{role}@office.example").get("/v1/audit").status_code == status


def test_an_entry_is_neither_changed_nor_deleted(api: Api, office: Office) -> None:
    api.post("/v1/projects", {"name": "a"})
    rows = AuditEntry.objects.of(office.company)
    with pytest.raises(DatabaseError, match="kept as it is"), transaction.atomic():
        rows.update(action="x")
    with pytest.raises(DatabaseError, match="kept as it is"), transaction.atomic():
        rows._raw_delete("default")
