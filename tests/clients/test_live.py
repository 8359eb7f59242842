"""Against a service started for it: the made Python client's first day, every example of the page as it stands."""

from __future__ import annotations

import datetime
import html
import os
import re
import subprocess
import sys
import uuid
from collections.abc import Iterator
from http import HTTPStatus
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest

from api.rest.routes import OPERATIONS
from tests.clients.generated import NAME, load, make_python
from tests.service import Remote, started

# Against a service whose worker runs, a run may have ended before it is cancelled.
MAY_BE_LATE = {"cancel-estimate"}


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Remote, Path]]:
    data = tmp_path_factory.mktemp("live") / "data"
    with started(data, RATE_LIMIT="1000000") as (client, _):
        yield client, data


def test_the_python_client_does_the_first_day_of_an_erp_and_a_costing(
    service: tuple[Remote, Path], tmp_path: Path
) -> None:
    make_python(tmp_path)
    made = load(tmp_path)
    key = (service[1] / "demo.key").read_text().strip()
    client = made.AuthenticatedClient(base_url=service[0].base, token=key)

    def call(tag: str, operation: str, *places: Any, **given: Any) -> Any:
        return import_module(f"{NAME}.api.{tag}.{operation}").sync_detailed(*places, client=client, **given)

    changes = call("feed", "feed").parsed
    assert changes.items and call("feed", "feed", after=changes.after).parsed.items == []
    project = call("projects", "projects").parsed.items[0]
    models = import_module(f"{NAME}.models")
    newest = models.OrderByCreatedAtNumberWorkDate.NUMBER_DESCENDING
    estimate = call("estimates", "project_estimates", project.id, ordering=newest).parsed.items[0]
    codes = call("estimates", "estimate_cost_codes", estimate.id)
    assert sum(cents(line.amount) for line in codes.parsed.items) == cents(estimate.price)
    again = call("estimates", "estimate_cost_codes", estimate.id, if_none_match=codes.headers["ETag"])
    assert again.status_code == HTTPStatus.NOT_MODIFIED and again.parsed is None

    book = call("rates", "rate_books").parsed.items[0]
    request = models.EstimateRequest(
        rate_book=str(book.id),
        work_date=datetime.date(2027, 3, 15),
        method=models.RequestMethod.FLUID,
        crew=models.EstimateRequestCrew(members=[models.EstimateRequestCrewMember(labour="mechanic", count=2)]),
        wall_barrier=models.WallBarrier.FLUID,
        treated_depth="6 in",
        substrate=models.Substrate.PLYWOOD,
        openings=[
            models.RectangleOpening(mark="A", quantity=10, width="48 in", height="4'-0\"", access=models.Access.GROUND)
        ],
    )
    costed = call("estimates", "make_estimate", body=request, idempotency_key=str(uuid.uuid4()), prefer="wait=10")
    assert costed.status_code == HTTPStatus.CREATED, costed.content
    document = costed.parsed
    assert document.state is models.RunState.COSTED and document.totals.openings == 10
    assert sum(cents(line.amount) for line in document.build_up) == cents(document.totals.price)
    why = call("estimates", "derivation", document.id, "price").parsed
    assert why.figure == "price" and why.inputs


def cents(money: str) -> int:
    """Money of two places in cents."""
    return int(money.replace(".", ""))


@pytest.mark.campaign
def test_every_example_of_the_page_runs_as_it_stands(service: tuple[Remote, Path], tmp_path: Path) -> None:
    remote, data = service
    status, page, _ = Remote(remote.base, None).get("/v1/docs")
    assert status == 200
    text = page.decode()
    first = html.unescape(re.findall(r'<pre id="first-lines">(.*?)</pre>', text, re.DOTALL)[0])
    blocks = {
        name: html.unescape(block)
        for name, block in re.findall(r'<pre data-example="(.*?)">(.*?)</pre>', text, re.DOTALL)
    }
    assert set(blocks) == {operation.name for operation in OPERATIONS}
    keys = {"KEY": "demo-principal.key", "APPROVER_KEY": "demo-approver.key"}
    values = {"BASE": remote.base} | {name: (data / file).read_text().strip() for name, file in keys.items()}
    script = [
        re.sub(r"^export (\w+)=.*$", lambda line: f"export {line[1]}='{values[line[1]]}'", first, flags=re.MULTILINE)
    ]
    for name, block in blocks.items():
        script.append(f"( set -euo pipefail; rm -f browser.txt\n{block}\n) > {name}.txt 2>&1 || echo {name}")
    all_of_them = tmp_path / "examples.sh"
    all_of_them.write_text("\n".join(script))
    # the interpreter itself: a shell's stand-in for it takes longer to find it than it takes to run
    environment = os.environ | {"PATH": f"{Path(sys.executable).parent}:{os.environ['PATH']}"}
    ended = subprocess.run(
        ["bash", str(all_of_them)],
        cwd=tmp_path,
        env=environment,
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )
    failed = set(ended.stdout.split()) - MAY_BE_LATE
    assert {name: (tmp_path / f"{name}.txt").read_text()[-600:] for name in failed} == {}, ended.stderr
