"""A request's way from its address to the action: the files whose code it passes through, traced; six at most.

The table of operations that has the address counts as the first. What reads single fields of a body
(api/field_readers.py) is part of a field table, and not on the way of these.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from types import FrameType
from typing import Any

import pytest

from tests.cast import Api, Office
from tests.db.making import golden_request

ROOT = Path(__file__).resolve().parents[2]
TABLES = "api/rest/route_tables"
DOOR = "api/rest/address.py"  # where the framework hands a request over
ACTIONS = ("estimating/actions/", "estimating/queries/", "rates/actions/", "rates/queries/")
ASKS_FIRST = ("api/auth.py", "api/rest/once.py")  # who calls, and whether it was sent before
MOST = 6


class Way:
    """The files of api through which a request goes until its view calls an action or a query."""

    def __init__(self, ask: Callable[[], Any]) -> None:
        self.files: dict[str, None] = {}
        self.arrived = False
        sys.setprofile(self.note)
        try:
            ask()
        finally:
            sys.setprofile(None)

    def note(self, frame: FrameType, event: str, _: Any) -> None:
        """A function that is called: another file on the way, or its end."""
        if event != "call" or self.arrived:
            return
        name = place_of(frame)
        if name == DOOR or (self.files and name.startswith("api/")):
            self.files.setdefault(name)
        elif self.files and name.startswith(ACTIONS) and frame.f_back is not None:
            caller = place_of(frame.f_back)
            self.arrived = caller.startswith("api/rest/") and caller not in ASKS_FIRST


def place_of(frame: FrameType) -> str:
    return frame.f_code.co_filename.removeprefix(f"{ROOT}/")


@pytest.fixture
def requests(api: Api, office: Office) -> dict[str, Callable[[], Any]]:
    """Six requests by their addresses in the table: a thing, a list, a table, a run, a file, an answer."""
    golden = golden_request(office)
    project = api.post("/v1/projects", {"name": "Clinic"}).headers["Location"]
    schedule = api.post(f"{project}/opening-schedules", golden["openings"]).headers["Location"]
    estimate = api.estimate(golden).headers["Location"]
    return {
        "/v1/estimates/{id}": lambda: api.get(estimate),
        "/v1/projects": lambda: api.get("/v1/projects?limit=5"),
        "/v1/rate-books": lambda: api.get("/v1/rate-books"),
        "/v1/estimates": lambda: api.estimate(golden),
        "/v1/projects/{id}/opening-schedules": lambda: api.post(f"{project}/opening-schedules", golden["openings"]),
        "/v1/opening-schedules/{id}/answers": lambda: api.post(f"{schedule}/answers", {"answers": []}),
    }


def test_six_files_at_most_lead_from_an_address_to_its_action(requests: dict[str, Callable[[], Any]]) -> None:
    tables = {place.name: place.read_text() for place in (ROOT / TABLES).glob("*.py")}
    for address, ask in requests.items():
        way = Way(ask)
        assert way.arrived, address
        assert any(f'"{address}"' in text for text in tables.values()), address
        files = [TABLES, *way.files]
        print(address, *files)
        assert len(files) <= MOST, (address, files)


def test_a_way_through_another_file_is_seen(api: Api, office: Office) -> None:
    """A refusal opens more of them: what writes problem documents, counts and logs."""
    way = Way(lambda: api.get("/v1/estimates/x"))
    assert not way.arrived and len(way.files) > MOST
