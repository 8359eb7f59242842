"""docker-compose.yml against the Compose Specification's own JSON schema, and the rules it must keep beyond that.

The schema is the specification's (compose-spec.json, Apache-2.0), as the package check-jsonschema carries it. No engine
runs here: images are not pulled, containers not started; the services' commands run as processes in
tests/http/test_shared.py.
"""

from __future__ import annotations

import copy
import json
import re
from collections.abc import Callable
from importlib import resources
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

ROOT = Path(__file__).resolve().parent.parent
COMPOSE = yaml.safe_load((ROOT / "docker-compose.yml").read_text())
SCHEMA = json.loads(
    resources.files("check_jsonschema").joinpath("builtin_schemas", "vendor", "compose-spec.json").read_text()
)
OURS = ("migrate", "web", "worker")
Document = dict[str, Any]


def faults(document: Document) -> list[str]:
    """What the schema finds wrong, each with its place."""
    return [f"{found.json_path}: {found.message}" for found in Draft202012Validator(SCHEMA).iter_errors(document)]


def test_the_file_keeps_to_the_specification() -> None:
    Draft202012Validator.check_schema(SCHEMA)
    assert faults(COMPOSE) == []


def misspell_healthcheck(document: Document) -> None:
    services = document["services"]
    services["web"]["health_check"] = services["web"].pop("healthcheck")


def ask_for_an_unknown_condition(document: Document) -> None:
    document["services"]["web"]["depends_on"]["redis"] = {"conditions": "service_healthy"}


def make_retries_a_word(document: Document) -> None:
    document["services"]["redis"]["healthcheck"]["retries"] = ["often"]


def misspell_services(document: Document) -> None:
    document["service"] = document.pop("services")


@pytest.mark.parametrize(
    "spoil", [misspell_healthcheck, ask_for_an_unknown_condition, make_retries_a_word, misspell_services]
)
def test_a_fault_is_seen(spoil: Callable[[Document], None]) -> None:
    document = copy.deepcopy(COMPOSE)
    spoil(document)
    assert faults(document) != []


def test_nothing_runs_as_root_and_all_that_stays_up_has_a_health_check() -> None:
    for name, service in COMPOSE["services"].items():
        assert service["user"].split(":")[0] not in ("0", "root"), name
        assert name == "migrate" or service["healthcheck"]["test"][0] in ("CMD", "CMD-SHELL"), name
    for name in OURS:
        service = COMPOSE["services"][name]
        assert service["read_only"] and service["cap_drop"] == ["ALL"], name
        assert "USER 10001" in service["build"]["dockerfile_inline"].splitlines(), name


def passwords_of(value: Any) -> list[str]:
    """Every text of a part of the file that speaks of a password or a secret."""
    if isinstance(value, dict):
        named = [text for name, text in value.items() if "PASSWORD" in str(name) or "SECRET" in str(name)]
        return named + [found for inner in value.values() for found in passwords_of(inner)]
    if isinstance(value, list):
        return [found for inner in value for found in passwords_of(inner)]
    return [value] if isinstance(value, str) and ("password" in value.lower() or "secret" in value.lower()) else []


def test_secrets_come_from_outside_and_are_never_optional() -> None:
    found = passwords_of(COMPOSE["services"])
    assert len(found) > 8
    for text in found:
        for name in ("PASSWORD", "SECRET"):
            assert name not in text or re.search(rf"\$\{{[A-Z_]*{name}[A-Z_]*:\?\}}", text), text
    redis = COMPOSE["services"]["redis"]["command"]
    assert redis[redis.index("--requirepass") + 1] == "${REDIS_PASSWORD:?}"
    for name in OURS:
        environment = COMPOSE["services"][name]["environment"]
        for address in (environment["DATABASE_URL"], environment["REDIS_URL"]):
            assert re.match(r"[a-z]+://[a-z_]*:\$\{[A-Z]+_PASSWORD:\?\}@[a-z]+:[0-9]+/", address), address


def test_migrations_are_a_step_of_their_own_that_web_and_worker_wait_for() -> None:
    services = COMPOSE["services"]
    assert services["migrate"]["restart"] == "no"
    assert services["migrate"]["depends_on"] == {"postgres": {"condition": "service_healthy"}}
    for name in ("web", "worker"):
        waits = {other: rule["condition"] for other, rule in services[name]["depends_on"].items()}
        assert waits == {"migrate": "service_completed_successfully", "redis": "service_healthy"}, name
        assert "migrate" not in " ".join(services[name]["command"])


def test_every_named_service_and_volume_is_there() -> None:
    services = COMPOSE["services"]
    named = {other for service in services.values() for other in service.get("depends_on", {})}
    assert named <= set(services)
    volumes = {place.partition(":")[0] for service in services.values() for place in service.get("volumes", [])}
    assert volumes == set(COMPOSE["volumes"])
