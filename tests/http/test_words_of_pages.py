"""Words and days as the office reads them: units in full, cells by name, what is not stated, days with their month."""

from __future__ import annotations

import re
from typing import Any

import pytest

from api.pages.reader import Reader
from api.pages.trade_words import codes_in_words
from tests.cast import Office
from tests.http.corpus_files import answer, question_that_says
from tests.http.visitor import Job, Visitor

LIST = "mark\tqty\tsize\ttype\nA\t6\t48 x 60\tfixed\nB\t2\t36 x 48\tstorefront\n"


@pytest.fixture
def job(office: Office) -> Job:
    return Job(office)


def pasted(person: Visitor) -> str:
    """The address of a pasted list with bare sizes and a word of scope."""
    person.see("/projects/new")
    typed: dict[str, Any] = person.fields() | {"name": ["Trial"], "text": [LIST]}
    return person.send_again("/projects/new", typed)


def test_units_are_offered_in_full(job: Job) -> None:
    person = job.person("estimator")
    page = person.see(question_that_says(person, pasted(person), "In which unit"))
    labels = re.findall(r'<label for="field-answer-\d">(.*?)</label>', page)
    assert labels[:3] == ["inches", "feet", "millimetres"] and labels[5].startswith("feet and inches")


def test_an_answered_question_names_its_cell_alike_to_those_who_see_and_hear(job: Job) -> None:
    person = job.person("estimator")
    schedule = pasted(person)
    schedule = answer(person, question_that_says(person, schedule, "In which unit"), "in")
    page = person.see(f"{schedule}/questions").partition("Answered</h2>")[2]
    assert "Change this answer" in page and not re.search(r"!\w*\d", page)


def test_a_trial_says_that_a_field_was_not_stated(job: Job) -> None:
    person = job.person("estimator")
    path = f"/estimates/{job.estimate}/what-if"
    person.see(path)
    page = person.send_again(path, person.fields() | {"temperature": ["cold"]}, 200)
    assert "emperature: not stated → cold" in page and "nothing →" not in page


def test_days_in_a_text_are_the_readers(job: Job) -> None:
    history = job.person("estimator").see(f"/projects/{job.project}/history").partition("<tbody>")[2]
    assert "work date Mar 15, 2027" in history and not re.search(r"work date \d{4}-", history)
    assert Reader("de").days_in("until 2026-12-29, mark 2026-12-29-A") == "until 29 Dec 2026, mark 2026-12-29-A"


def test_what_an_estimate_lacks_is_said_in_words(job: Job) -> None:
    page = job.person("estimator").see(f"/estimates/{job.estimate}/per-area")
    assert "No gross wall area was given" in page and "per-area." not in page.partition("<main")[2]


def test_assumptions_lead_to_where_they_are_mended(job: Job) -> None:
    page = job.person("estimator").see(f"/estimates/{job.estimate}/assumptions").partition("<main")[2]
    assert f'<a href="/schedules/{job.first}">a line</a>' in page
    assert f'<a href="/schedules/{job.first}/site">site and crew</a>' in page


def test_codes_in_a_question_are_words_and_what_it_quotes_is_not() -> None:
    said = "taken as: G 'head_ht' = head_height (or sill_height); “a_b c” (2: by_itself). Or D=width_mm."
    told = "taken as: G 'head_ht' = head height (or sill height); “a_b c” (2: by itself). Or D=width_mm."
    assert codes_in_words(said) == told


def test_the_days_that_an_edition_changes_are_the_readers(job: Job) -> None:
    person, book = job.person("rate_keeper"), f"/rates/{job.office.rate_book}"
    person.see(book)
    edition = person.send_again(book, person.fields() | {"effective_from": ["2032-01-01"]})
    row = person.see(edition).partition("effective from")[2].partition("</tr>")[0]
    assert "Jan 1, 2032" in row and "2032-01-01" not in row
