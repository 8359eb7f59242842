"""People who had accounts keep them when addresses stop being identities; a process of its own, on a new database."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import uuid
from collections.abc import Iterator
from pathlib import Path

import psycopg
import pytest
from django.conf import settings

from tests.service import POSTGRES_URL, ROOT

SCRIPT = """
import datetime, json, django
django.setup()
from django.contrib.auth.hashers import make_password
from django.core.management import call_command
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

executor = MigrationExecutor(connection)
before = [("rates", "0004_length_style")]
executor.migrate(before)
apps = executor.loader.project_state(before).apps
Company, Person, Member = (apps.get_model("rates", name) for name in ("Company", "Person", "Member"))
now = datetime.datetime.now(datetime.timezone.utc)
one, two = (Company.objects.create(name=name, currency="USD", created_at=now) for name in ("One", "Two"))
hashed = make_password("lintel over sill 7")
ann = Person.objects.create(name="Ann", email="ann@b.example", password=hashed, created_at=now)
bob = Person.objects.create(name="Bob", email="bob@b.example", created_at=now)
machine = Person.objects.create(name="Machine", created_at=now)
for company, person, name, more in (
    (one, ann, "Ann of One", {"joined_at": now}),
    (two, ann, "", {"joined_at": now}),  # from before members had names
    (one, bob, "Bob of One", {"invitation": "0" * 64, "invited_until": now}),
    (two, bob, "Bob of Two", {"removed_at": now}),
    (one, machine, "", {}),
):
    Member.objects.create(company=company, person=person, name=name, created_at=now, **more)

call_command("migrate", verbosity=0)
from rates.actions.accounts import sign_in
from rates.models import Member, Person
from rates.queries.members import places
(who,) = sign_in(email="Ann@b.example", password="lintel over sill 7", now=now)
print(json.dumps({
    "places": [[place.name, place.known_as] for place in places(people=[who.person])],
    "members": sorted([m.name, m.email, m.person_id is None] for m in Member.anywhere.all()),
    "people": Person.objects.count(),
}))
"""


@pytest.fixture
def database(tmp_path: Path) -> Iterator[str]:
    """The address of an empty database, of the kind that these tests run on."""
    if "sqlite3" in settings.DATABASES["default"]["ENGINE"]:
        yield "sqlite:///people.sqlite3"
        return
    name = f"sillwright_{uuid.uuid4().hex[:12]}"
    with psycopg.connect(f"{POSTGRES_URL}/postgres", autocommit=True) as admin:
        admin.execute(f"CREATE DATABASE {name}")
        yield f"{POSTGRES_URL}/{name}"
        admin.execute(f"DROP DATABASE {name} WITH (FORCE)")


def test_an_installation_that_stood_keeps_its_people(tmp_path: Path, database: str) -> None:
    environment = os.environ | {
        "DATABASE_URL": database,
        "DATA_DIR": str(tmp_path),
        "DJANGO_SETTINGS_MODULE": "api.settings",
        "SECRET_KEY": uuid.uuid4().hex + uuid.uuid4().hex,
    }
    command = [sys.executable, "-c", SCRIPT]
    made = subprocess.run(command, env=environment, cwd=ROOT, capture_output=True, text=True, check=False)
    assert made.returncode == 0, made.stderr
    found = json.loads(made.stdout)
    assert found["places"] == [["One", "Ann of One"], ["Two", "Ann"]]
    assert found["members"] == [
        ["Ann", "ann@b.example", False], ["Ann of One", "ann@b.example", False], ["Bob of One", "bob@b.example", True],
        ["Bob of Two", "bob@b.example", True], ["Machine", None, True],
    ]  # fmt: skip
    assert found["people"] == 1
