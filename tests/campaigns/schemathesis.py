"""Requests made from the API's own description against the service, every check of Schemathesis on.

    .venv/bin/python -m tests.campaigns.schemathesis [--examples N] [--seed N] [--short]

runs it on both deployments, as long as --examples says. CI runs the short form, without the tool's thousands of
requests that go through every field of the few bodies with a hundred fields and more. It prints which operations were
never answered with less than 400; tests/http/test_every_operation.py has done each of them. What is expected beyond the
tool's own lists is what the description states: a valid request may still meet a rule that no schema can say (422), an
ETag that is no longer this (412) or content that is not sound (400); without If-Match it is answered 428, also where
only a preview does without it, and 414 where it is too long. What the state of a thing forbids (409) is refused before
its content is looked at.
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
import tempfile
import uuid
from collections import defaultdict
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

import yaml

from tests.deployment import deployed
from tests.service import ROOT, Remote, started
from tests.worked_cases import read_case

SETTINGS = {"RATE_LIMIT": "100000000", "WRONG_KEYS_LIMIT": "100000000", "LOG_LEVEL": "WARNING"}
MAKE_OFFICE = """
import json, django; django.setup()
from tests.cast import make_office
office = make_office("Fuzzed")
print(json.dumps({name: str(getattr(office, name)) for name in ("key", "approver_key", "rate_book", "edition")}))
"""
CONFIG = """
[generation]
codec = "utf-8"
allow-x00 = false

[checks.missing_required_header]
expected-statuses = [400, 422, 428]

[checks.positive_data_acceptance]
expected-statuses = ["2xx", "3xx", 400, 401, 403, 404, 409, 412, 422, 428]

[checks.negative_data_rejection]
expected-statuses = [400, 401, 403, 404, 405, 406, 409, 412, 413, 414, 415, 422, 428]
"""


@dataclass
class Outcome:
    """Exit status and text of a run, and which statuses each operation was answered with."""

    status: int
    text: str
    statuses: dict[str, set[int]] = field(default_factory=dict)

    def only_refused(self) -> list[str]:
        """Operations that were never answered with less than 400."""
        return sorted(name for name, found in self.statuses.items() if min(found) >= 400)


def make_office(environment: dict[str, str]) -> dict[str, str]:
    """Keys and ids of a company of its own with every scope, made straight in the database."""
    script = [sys.executable, "-c", MAKE_OFFICE]
    environment = environment | {"DJANGO_SETTINGS_MODULE": "api.settings"}
    made = subprocess.run(script, env=environment, cwd=ROOT, check=True, capture_output=True, text=True)
    found: dict[str, str] = yaml.safe_load(made.stdout.splitlines()[-1])
    return found


def furnish(client: Remote, office: dict[str, str]) -> dict[str, str]:
    """Ids to fill addresses with: of everything that a request can name in its path."""

    def make(path: str, body: Any) -> str:
        status, made, _ = client.send("POST", path, body, Idempotency_Key=str(uuid.uuid4()), Prefer="wait=20")
        assert status in (200, 201, 202), (path, made)
        return str(made["id"])

    project = make("/v1/projects", {"name": "Fuzzed"})
    request = read_case("golden", "request.json")
    schedule = make(f"/v1/projects/{project}/opening-schedules", request["openings"])
    request |= {"edition": office["edition"]}
    first, second = make("/v1/estimates", request), make("/v1/estimates", request | {"work_date": "2027-05-03"})
    draft = make(f"/v1/rate-books/{office['rate_book']}/editions", read_case("golden", "edition.json"))
    invited = {"name": "Spare", "email": "spare@office.example", "role": "viewer"}
    for id in (first, second):
        client.until_ended(id)
    return {
        "/v1/projects/{id}": project,
        "/v1/opening-schedules/{id}": schedule,
        "/v1/estimates/{id}": first,
        "/v1/quotes/{id}": make("/v1/quotes", {"estimate": first, "customer": {"name": "Fuzzed Builders"}}),
        "/v1/comparisons/{id}": make("/v1/comparisons", {"before": first, "after": second}),
        "/v1/rate-books/{id}": office["rate_book"],
        "/v1/editions/{id}": draft,
        "/v1/members/{id}": make("/v1/members", invited),  # never the key's own, which would end the run
        "/v1/access-keys/{id}": make("/v1/access-keys", {"title": "Spare", "scopes": ["read"]}),
    }


MANY_FIELDS = 100


def count_fields(schema: Any, within: frozenset[str] = frozenset()) -> int:
    """How many fields a schema has, those of what it refers to with it, each time but in itself."""
    if isinstance(schema, list):
        return sum(count_fields(part, within) for part in schema)
    if not isinstance(schema, dict):
        return 0
    name = str(schema.get("$ref", "")).rpartition("/")[2]
    if name:
        inner = description()["components"]["schemas"][name]
        return 0 if name in within else count_fields(inner, within | {name})
    own = schema.get("properties", {})
    return len(own) * isinstance(own, dict) + sum(count_fields(part, within) for part in schema.values())


def of_many_fields() -> list[str]:
    """Operations, as method and path, whose bodies have so many fields."""
    return [
        f"{method.upper()} {path}"
        for path, methods in description()["paths"].items()
        for method, operation in methods.items()
        if count_fields(operation.get("requestBody", {}).get("content", {})) >= MANY_FIELDS
    ]


def configuration(ids: dict[str, str], short: bool) -> str:
    """The tool's configuration: expectations, and ids that exist for every other request."""
    parts = [CONFIG]
    if short:
        parts += [
            f'[[operations]]\ninclude-name = "{name}"\nphases.coverage.enabled = false\n' for name in of_many_fields()
        ]
    for path, id in ids.items():
        pattern = "^" + path.replace("{", "[{]").replace("}", "[}]")
        parts.append(
            f'[[operations]]\ninclude-path-regex = \'{pattern}\'\n[operations.parameters]\n"path.id" = "{id}"\n'
        )
    return "\n".join(parts)


def run(client: Remote, office: dict[str, str], folder: Path, examples: int, seed: int, short: bool = False) -> Outcome:
    """Runs every phase with every check."""
    (folder / "schemathesis.toml").write_text(configuration(furnish(client, office), short))
    report = folder / "events.ndjson"
    command = [str(Path(sys.executable).with_name("schemathesis")), "run", f"{client.base}/v1/openapi.json"]
    command += ["-H", f"Authorization: Bearer {office['key']}", "--checks", "all", "--continue-on-failure"]
    command += ["-n", str(examples), "--seed", str(seed), "--no-color", "--no-shrink"]
    command += ["--report", "ndjson", "--report-ndjson-path", str(report)]
    ended = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)
    return Outcome(ended.returncode, ended.stdout + ended.stderr, statuses_of(report))


def statuses_of(report: Path) -> dict[str, set[int]]:
    """Which statuses each operation was answered with, by method and path, from the tool's report of its requests."""
    found: dict[str, set[int]] = defaultdict(set)
    for line in report.read_text().splitlines():
        recorder = json.loads(line).get("ScenarioFinished", {}).get("recorder", {})
        for id, interaction in recorder.get("interactions", {}).items():
            case = recorder["cases"][id]["value"]
            if response := interaction["response"]:
                found[f"{case['method']} {case['path']}"].add(response["status_code"])
    return {name: statuses for name, statuses in found.items() if name in operations()}


def operations() -> set[str]:
    """Every operation of the description, as method and path."""
    return {f"{method.upper()} {path}" for path, methods in description()["paths"].items() for method in methods}


@cache
def description() -> dict[str, Any]:
    """The API's description as it is served."""
    found: dict[str, Any] = json.loads((ROOT / "api" / "rest" / "openapi.json").read_text())
    return found


@contextmanager
def embedded(folder: Path) -> Iterator[tuple[Remote, dict[str, str]]]:
    """A client of `manage.py start` on SQLite, and its company."""
    with started(folder / "data", "--no-demo", **SETTINGS) as (client, _):
        plain = {name: value for name, value in os.environ.items() if name not in ("DATABASE_URL", "REDIS_URL")}
        office = make_office(plain | {"DATA_DIR": str(folder / "data")})
        yield Remote(client.base, office["key"]), office


@contextmanager
def shared(folder: Path) -> Iterator[tuple[Remote, dict[str, str]]]:
    """A client of the shared deployment on PostgreSQL, and its company."""
    with deployed(folder, **SETTINGS) as deployment:
        office = make_office(deployment.owner)
        yield Remote(deployment.base, office["key"]), office


DEPLOYMENTS = {"sqlite": embedded, "postgresql": shared}


def main() -> None:
    """Runs the long form on each deployment and prints what it found."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--examples", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--short", action="store_true")
    options = parser.parse_args()
    failed = False
    for name, deployment in DEPLOYMENTS.items():
        with tempfile.TemporaryDirectory() as folder, deployment(Path(folder)) as (client, office):
            outcome = run(client, office, Path(folder), options.examples, options.seed, options.short)
        print(outcome.text)
        print(f"{name}: exit {outcome.status}; never past refusal here, but in tests/http/test_every_operation.py:")
        print("\n".join(f"  {operation}" for operation in outcome.only_refused()) or "  none", flush=True)
        failed |= outcome.status != 0
    sys.exit(failed)


if __name__ == "__main__":
    main()
