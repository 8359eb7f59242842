"""The climates of a company as a page: loaded as CSV by paste or file, added or in place of all, looked at by place."""

from __future__ import annotations

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from tests.cast import Office
from tests.http.test_climates import HEAD, station_rows
from tests.http.visitor import Job

PATH = "/climates"
TWO = HEAD + "Northfield,1,30.5,17,F,5,3,invented\nNorthfield,2,35,20,F,,,\n"
# The same copied from a spreadsheet: tabs between the cells
COPIED = "place\tmonth\thigh\tlow\tunit\nnorthfield \t7\t84\t61.5\tf\n"


@pytest.fixture
def job(office: Office) -> Job:
    return Job(office)


def stored(job: Job) -> list[tuple[str, int, str]]:
    """(place, month, high) of every row that the API shows."""
    return [(row["place"], row["month"], row["high"]) for row in job.api.get("/v1/climates").json()["items"]]


def test_a_pasted_table_is_loaded_and_looked_at_by_place(job: Job) -> None:
    estimator = job.person("estimator")
    assert "None is loaded yet" in estimator.see(PATH)
    assert estimator.send(PATH, paste=[TWO]) == f"{PATH}?kept=yes"
    assert stored(job) == [("Northfield", 1, "30.5"), ("Northfield", 2, "35")]
    page = job.person("viewer").see(f"{PATH}?place=NORTHFIELD")
    months = page.partition("Months of Northfield")[2]
    assert "January" in months and "30.5" in months and "March" not in months
    assert "Load climates" not in page and "/v1/climates.csv" in page
    assert "Put climates" in job.person("principal").see("/audit")


def test_what_is_loaded_is_added_and_replaces_its_own_places_alone(job: Job) -> None:
    estimator = job.person("estimator")
    file = SimpleUploadedFile("climates.csv", station_rows().encode(), "text/csv")
    estimator.send(PATH, file=file)
    assert len(stored(job)) == 144
    estimator.send(PATH, paste=[TWO])
    assert len(stored(job)) == 146
    estimator.send(PATH, paste=[COPIED])
    assert len(stored(job)) == 145 and stored(job)[-1] == ("northfield", 7, "84")
    estimator.send(PATH, paste=[TWO], mode="whole")
    assert [place for place, _, _ in stored(job)] == ["Northfield", "Northfield"]


def test_faults_are_told_by_line_and_column_and_nothing_is_kept(job: Job) -> None:
    estimator = job.person("estimator")
    wrong = HEAD + "Northfield,13,30.5,17,F,,,\nNorthfield,2,warm,20,F,,,\n"
    page = estimator.send(PATH, 422, paste=[wrong])
    assert "line 2, column 2" in page and "line 3, column 3" in page and "warm,20" in page
    assert 'href="#field-paste"' in page
    page = estimator.send(PATH, 422, file=SimpleUploadedFile("x.csv", b"town,high\nx,3\n", "text/csv"))
    assert 'href="#field-file"' in page and "no such field" in page.lower()
    assert 'href="#field-file"' in estimator.send(PATH, 422)
    assert "not yet done" in estimator.send(PATH, 422, paste=["\0"]).lower()
    assert stored(job) == []


def test_who_lost_the_race_loads_nothing(job: Job) -> None:
    estimator = job.person("estimator")
    estimator.see(PATH)
    fields = estimator.fields()
    estimator.send(PATH, paste=[TWO])
    page = estimator.send_again(PATH, fields | {"paste": [COPIED]}, 422)
    assert "It has changed since you opened it" in page and len(stored(job)) == 2


@pytest.mark.parametrize("role", ["viewer", "sales"])
def test_who_may_not_load_reads(job: Job, role: str) -> None:
    person = job.person(role)
    person.see(PATH)
    assert person.client.post(PATH, {"paste": TWO}).status_code == 403
    assert stored(job) == []
