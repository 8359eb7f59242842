"""What misled newcomers who had an address, a sign-in and a file: each is held here."""

from __future__ import annotations

from typing import Any

import pytest

from tests.cast import Office
from tests.http.corpus_files import first_question, taken_in
from tests.http.visitor import Job


@pytest.fixture
def job(office: Office) -> Job:
    return Job(office)


def test_what_may_leave_a_table_out_is_asked_before_what_is_asked_of_its_lines(job: Job) -> None:
    """The summary sheet repeats the others: whether it counts settles most of which line stands twice."""
    person = job.person("estimator")
    schedule = taken_in(person, "173-three-sheets-three-heads")
    page = person.see(first_question(person, schedule))
    assert "Sheet 'Summary'" in page and "leave them out" in page and "count them too" in page


def test_choices_answer_the_question_and_the_look_tells_how_many_become_how_many(job: Job) -> None:
    """On 3 and 2 buildings 12 + 6 + 4 + 2 = 24 become 72 and 8 + 4 + 2 = 14 become 28; type C adds its 10 once."""
    person = job.person("estimator")
    question = first_question(person, taken_in(person, "432-buildings-and-multipliers"))
    page = person.see(question)
    assert "the counts are for each: multiply them" in page and "they are totals already" in page
    typed = person.fields() | {"answer": ["multiply"], "step": ["see"]}
    page = person.send_again(question, typed, 200)
    assert "38 openings become 100" in page and "48 → 110 openings" in page


@pytest.mark.parametrize(
    ("typed", "field", "told"),
    [
        ({"crew.journeyman": [""]}, "crew.journeyman", "say how many go, of at least one kind of worker"),
        ({"treated_depth": [""]}, "treated_depth", "not every line of the schedule gives its own"),
        ({"treated_depth": ["6"]}, "treated_depth", "a unit is needed with it, such as 6 in or 150 mm"),
    ],
)
def test_what_site_and_crew_lack_is_told_at_its_field(job: Job, typed: Any, field: str, told: str) -> None:
    person = job.person("estimator")
    path = f"/schedules/{job.first}/site"
    page = person.send(path, 422, **typed)
    assert told in page and 'href="#field-' in page
    if field != "crew.journeyman":
        assert f'href="#field-{field}"' in page
    assert "OSB" in page and "(optional)</small></label>" not in page.partition("Treated depth")[2][:60]
