"""The hostile files over HTTP: no server error, no partial revision, no formula in any export."""

from __future__ import annotations

import io
import zipfile
from collections import Counter
from importlib.util import find_spec

import pytest

from estimating.models import ScheduleRevision
from rates.documents import unpack
from tests.cast import Api, Office
from tests.intake.hostile import corpus
from tests.length import tries

EACH = tries(3, 1)  # of the files; tests/intake reads all of them
MOST_BYTES = 3_000_000  # larger ones are read without HTTP in tests/intake; here the question is what is stored
FORMULA = (b"<f>", b"<f ", b"<f/")


@pytest.mark.law
def test_no_server_error_no_partial_revision_no_formula(api: Api, office: Office) -> None:
    path = f"{api.post('/v1/projects', {'name': 'Hostile'}).headers['Location']}/opening-schedules"
    statuses: Counter[int] = Counter()
    wrong = []
    made = []
    for place, (name, data) in enumerate(corpus(with_models=find_spec("ifcopenshell") is not None)):
        if len(data) > MOST_BYTES or place % EACH:
            continue
        media = "application/json" if name.startswith("json") else "application/octet-stream"
        response = api.post(path, data or b" ", Content_Type=media)
        statuses[response.status_code] += 1
        if response.status_code == 201:
            made.append(response.headers["Location"])
        elif response.status_code not in (400, 422) or not response.json().get("errors"):
            wrong.append((name, response.status_code))
    assert wrong == []
    assert sum(statuses.values()) >= 300 // EACH, statuses
    rows = ScheduleRevision.objects.of(office.company).order_by("number")
    assert [row.number for row in rows] == list(range(1, statuses[201] + 1))
    for row in rows:
        report = unpack(row.report)
        assert len(unpack(row.openings)) == row.line_count == len(report["lines"])
    for location in made[::10]:
        for part in ("openings", "questions", "reading"):
            with zipfile.ZipFile(io.BytesIO(api.get(f"{location}/{part}.xlsx").content)) as package:
                sheets = [package.read(sheet) for sheet in package.namelist() if "worksheets" in sheet]
            assert sheets and not any(mark in sheet for mark in FORMULA for sheet in sheets)
