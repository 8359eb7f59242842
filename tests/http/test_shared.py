"""The shared deployment: worked cases, and workers that die or go deaf, on PostgreSQL, Redis and Celery."""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.deployment import Deployment, deployed
from tests.expected import PARTS, comparable, differences
from tests.service import PATIENCE, Remote, started, wait_ready
from tests.worked_cases import CASES, read_case


@pytest.fixture(scope="module")
def deployment(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Deployment]:
    with deployed(tmp_path_factory.mktemp("shared")) as made:
        yield made


def gather(client: Remote, document: dict[str, Any]) -> dict[str, Any]:
    """An estimate with its parts, as a worked case gathers them."""
    found = dict(document)
    for part in PARTS:
        _, answer, _ = client.get(f"/v1/estimates/{document['id']}/{part}")
        found[part] = answer["items"] if set(answer) - {"cautions"} == {"items", "next"} else answer
    return found


@pytest.mark.parametrize("case", CASES)
def test_worked_cases_by_celery_on_postgresql(deployment: Deployment, case: str) -> None:
    client = deployment.client(case)
    status, made, _ = client.estimate(deployment.request(case))
    assert (status, made["state"]) == (202, "queued")
    found = gather(client, client.until_ended(made["id"]))
    assert differences(comparable(read_case(case, "expected.json")), comparable(found)) == []


def test_both_deployments_give_the_same_digest_and_figures(deployment: Deployment, tmp_path: Path) -> None:
    client = deployment.client("golden")
    _, made, _ = client.estimate(deployment.request("golden"))
    shared = client.until_ended(made["id"])
    with started(tmp_path / "data") as (embedded, _):
        approver = Remote(embedded.base, (tmp_path / "data" / "demo-approver.key").read_text().strip())
        _, book, _ = embedded.send("POST", "/v1/rate-books", {"name": "Golden"})
        path = f"/v1/rate-books/{book['id']}/editions"
        _, draft, tag = embedded.send("POST", path, read_case("golden", "edition.json"))
        path = f"/v1/editions/{draft['id']}"
        _, _, tag = embedded.send("POST", f"{path}/submit", If_Match=tag["ETag"])
        approver.send("POST", f"{path}/approve", {"digest": draft["digest"]}, If_Match=tag["ETag"])
        request = read_case("golden", "request.json") | {"edition": draft["id"]}
        _, own, _ = embedded.estimate(request, wait=20)
    same = ("input_digest", "engine_version", "totals", "build_up", "by_mark", "units", "remarks", "cautions")
    assert {name: shared[name] for name in same} == {name: own[name] for name in same}


def test_a_killed_worker_s_runs_are_costed_by_the_next(deployment: Deployment) -> None:
    client = deployment.client("golden")
    deployment.kill("worker")
    ids = [client.estimate(deployment.request("golden"))[1]["id"] for _ in range(5)]
    assert {client.get(f"/v1/estimates/{id}")[1]["state"] for id in ids} == {"queued"}
    deployment.run("worker")
    assert {client.until_ended(id)["state"] for id in ids} == {"costed"}


def test_a_deaf_worker_is_not_ready(deployment: Deployment) -> None:
    client = deployment.client("golden")
    deployment.kill("worker")
    until = time.monotonic() + PATIENCE
    while client.get("/readyz")[0] != 503:
        assert time.monotonic() < until
        time.sleep(0.2)
    assert client.get("/readyz")[1]["checks"]["worker"] in ("no_worker", "deaf")
    deployment.run("worker")
    wait_ready(deployment.base, list(deployment.processes.values()))
