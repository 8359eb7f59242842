"""What if: the trial of a page and of the API against the estimate that the same change would give."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Any

import pytest

from tests.cast import Api, Office, approve
from tests.db.making import golden_request
from tests.http.visitor import LINES, Job, Visitor
from tests.worked_cases import read_case

CONDITIONS = ("temperature", "congestion", "rework")


@pytest.fixture
def job(office: Office) -> Job:
    return Job(office)


def costed(job: Job, lines: list[dict[str, Any]], **request: Any) -> Decimal:
    """The price of an estimate that is made of these lines."""
    return Decimal(job.api.estimate(job.request | {"openings": lines} | request).json()["totals"]["price"])


def tried(job: Job, **patch: Any) -> dict[str, Any]:
    """What the API says to a trial."""
    return dict(job.api.post(f"/v1/estimates/{job.estimate}/what-if", patch).json())


def try_page(job: Job, person: Visitor, status: int = 200, **typed: list[str]) -> str:
    """The page after a trial."""
    return person.send(f"/estimates/{job.estimate}/what-if", status, **typed)


@pytest.mark.parametrize("access", ["ladder", "lift", "ground"])
def test_access_of_every_line_is_priced_as_the_same_lines_with_it(job: Job, access: str) -> None:
    found = tried(job, lines={"access": access})
    assert Decimal(found["after"]["price"]) == costed(job, [line | {"access": access} for line in LINES])
    assert Decimal(found["difference"]) == Decimal(found["after"]["price"]) - Decimal(found["before"]["price"])


def test_what_the_lines_said_is_told_with_its_openings(job: Job) -> None:
    said: dict[str | None, int] = {}
    for line in LINES:
        said[line.get("access")] = said.get(line.get("access"), 0) + line["quantity"]
    changed = tried(job, lines={"access": "lift"})["changed"]
    assert [one["pointer"] for one in changed] == ["/lines/access"]
    assert {one["access"]: one["openings"] for one in changed[0]["before"]} == said
    assert changed[0]["after"] == "lift"


def test_lines_that_say_it_already_are_no_change(api: Api, office: Office) -> None:
    lines = [line | {"access": "lift"} for line in LINES]
    estimate = api.estimate(golden_request(office) | {"openings": lines}).json()["id"]
    found = api.post(f"/v1/estimates/{estimate}/what-if", {"lines": {"access": "lift"}}).json()
    assert (found["changed"], found["difference"]) == ([], "0.00")


@pytest.mark.parametrize(
    ("lines", "pointer"),
    [({"access": "rope"}, "/lines/access"), ({"width": "3 ft"}, "/lines/width"), ([], "/lines"), ("lift", "/lines")],
)
def test_what_no_line_can_have_is_refused_at_its_place(job: Job, lines: Any, pointer: str) -> None:
    answer = job.api.post(f"/v1/estimates/{job.estimate}/what-if", {"lines": lines})
    assert (answer.status_code, answer.json()["errors"][0]["pointer"]) == (422, pointer)


def test_an_estimate_itself_takes_no_lines(job: Job) -> None:
    answer = job.api.estimate(job.request | {"schedule": job.first, "lines": {"access": "lift"}})
    assert (answer.status_code, answer.json()["errors"][0]["pointer"]) == (422, "/lines")


def test_the_page_tries_access_and_says_what_it_took_the_place_of(job: Job) -> None:
    person = job.person("estimator")
    form = person.see(f"/estimates/{job.estimate}/what-if")
    assert "How the work is reached, for every opening" in form
    assert "A choice here takes the place of what each line says" in form
    page = try_page(job, person, access=["lift"])
    price = costed(job, [line | {"access": "lift"} for line in LINES])
    assert f"{price:,}" in page
    assert re.search(r"How the work is reached, for every opening: [^→<]+ opening.* → lift", page)


@pytest.mark.parametrize("name", CONDITIONS)
def test_the_page_tries_each_condition_that_the_edition_has(job: Job, name: str) -> None:
    person = job.person("estimator")
    assert f'name="{name}"' not in person.see(f"/estimates/{job.estimate}/what-if"), "the edition names none"
    document = read_case("golden", "edition.json") | {"effective_from": "2027-03-01"}
    document["tables"]["production"] |= {name: {"hard": "1.5", "usual": "1"}}
    approve(job.office.company, job.office.rate_book, job.office.drafter, job.office.approver, document)
    job.estimate = job.api.estimate(job.request | {"schedule": job.first}).json()["id"]
    prices = [costed(job, LINES), costed(job, LINES, **{name: "hard"})]
    assert prices[0] < prices[1]
    page = try_page(job, person, **{name: ["hard"]})
    assert all(f"{price:,}" in page for price in prices)


def test_an_estimate_by_a_named_edition_can_be_tried(office: Office, api: Api) -> None:
    job = Job(office)
    job.estimate = api.estimate(golden_request(office) | {"project": job.project}).json()["id"]
    page = try_page(job, job.person("estimator"), access=["lift"])
    assert "Trial, not stored" in page
    assert "How the work is reached, for every opening: " in page
    assert "Crew:" not in page, "the page has no field of the crew, so it stays"


def test_nothing_changed_is_told(job: Job) -> None:
    assert "change a field to see what it does" in try_page(job, job.person("estimator"), 422).lower()
