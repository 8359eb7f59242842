"""Sixteen editors of one draft at once: one wins a round, the others see what stands now, no change is lost."""

from __future__ import annotations

import threading
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest

from tests.deployment import Deployment, deployed
from tests.length import tries
from tests.service import Remote, started
from tests.worked_cases import read_case

EDITORS = 16


@pytest.fixture(scope="module")
def deployment(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Deployment]:
    with deployed(tmp_path_factory.mktemp("editors")) as made:
        yield made


def draft(client: Remote) -> tuple[str, str]:
    """(path, ETag) of a new draft in a new rate book."""
    _, book, _ = client.send("POST", "/v1/rate-books", {"name": "Edited together"})
    path = f"/v1/rate-books/{book['id']}/editions"
    status, made, fields = client.send("POST", path, read_case("golden", "edition.json"))
    assert status == 201, made
    return f"/v1/editions/{made['id']}", fields["ETag"]


def edit(client: Remote, path: str, tag: str, wage: str, start: threading.Barrier) -> tuple[int, str, Any, str]:
    """(status, wage, answer, ETag) of one editor's change of the wage, sent together with the others'."""
    mine = Remote(client.base, client.key)
    rows = [{"code": "journeyman", "title": "Journeyman", "wage": wage}]
    start.wait(30)
    status, answer, fields = mine.send("PUT", f"{path}/labour", rows, If_Match=tag)
    return status, wage, answer, fields["ETag"]


def play(client: Remote, rounds: int) -> None:
    """So many rounds; after each the draft is the winner's, and the losers were told so."""
    path, tag = draft(client)
    with ThreadPoolExecutor(EDITORS) as pool:
        for n in range(rounds):
            start = threading.Barrier(EDITORS)
            wages = [f"{n + 20}.{k:02}" for k in range(EDITORS)]
            calls = [pool.submit(edit, client, path, tag, wage, start) for wage in wages]
            answers = [call.result() for call in calls]
            assert Counter(status for status, *_ in answers) == {200: 1, 412: EDITORS - 1}, n
            _, won, rows, new_tag = next(answer for answer in answers if answer[0] == 200)
            assert rows[0]["wage"] == won
            for status, _, answer, told in answers:
                if status == 412:
                    assert answer["current"]["tables"]["labour"][0]["wage"] == won
                    assert told == new_tag
            _, now, fields = client.get(path)
            assert (now["tables"]["labour"][0]["wage"], fields["ETag"]) == (won, new_tag)
            assert new_tag != tag
            tag = new_tag
    steps: list[Any] = []
    page = f"{path}/steps?limit=500"
    _, answer, _ = client.get(page)
    steps += answer["items"]
    assert [step["step"] for step in steps] == ["drafted"] + ["tables_put"] * rounds
    assert all(after["before"] == before["after"] for before, after in zip(steps, steps[1:], strict=False))


@pytest.mark.law
def test_rounds_on_sqlite(tmp_path: Path) -> None:
    with started(tmp_path / "data", RATE_LIMIT="1000000") as (client, _):
        play(client, tries(4, 20))


@pytest.mark.campaign
def test_200_rounds_on_postgresql(deployment: Deployment) -> None:
    play(deployment.client("golden"), 200)


def test_without_if_match_nothing_is_taken(deployment: Deployment) -> None:
    client = deployment.client("golden")
    path, tag = draft_again(client)
    for method, at, body in (
        ("PUT", "/labour", []),
        ("PUT", "/tables", {}),
        ("POST", "/submit", None),
        ("POST", "/change_prices", {"formula": {"table": "labour", "price": "wage", "change": "+1 %"}}),
        ("DELETE", "", None),
    ):
        assert client.send(method, path + at, body)[0] == 428, at
    assert client.get(path)[2]["ETag"] == tag


def draft_again(client: Remote) -> tuple[str, str]:
    """(path, ETag) of one more draft in the book that is there."""
    _, books, _ = client.get("/v1/rate-books")
    book = books["items"][0]["id"]
    _, made, fields = client.send("POST", f"/v1/rate-books/{book}/editions", read_case("golden", "edition.json"))
    return f"/v1/editions/{made['id']}", fields["ETag"]
