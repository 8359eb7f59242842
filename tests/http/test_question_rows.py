"""A question's lines stand as the file has them beside what was read: a doubt is often about what was not read."""

from __future__ import annotations

import re
from typing import Any

import pytest

from api.pages.reader import Reader
from estimating.queries import source_cells
from tests.cast import Office
from tests.http.corpus_files import question_that_says
from tests.http.test_question_pages import rows
from tests.http.visitor import Job, Visitor

PASTED = "mark\tqty\tsize\tremark\nA\t6\t48x60\ttyp <b>\nB\t3\t3-0 x 5-0\t\n"


@pytest.fixture
def person(office: Office) -> Visitor:
    return Job(office).person("estimator")


def unit_question(person: Visitor) -> str:
    """The address of the question in which unit the sizes of a pasted list are."""
    person.see("/projects/new")
    typed: dict[str, Any] = person.fields() | {"name": ["Trial"], "text": [PASTED]}
    return question_that_says(person, person.send_again("/projects/new", typed), "In which unit")


def test_the_row_of_each_line_is_shown_as_written_and_the_doubtful_cell_is_marked(person: Visitor) -> None:
    page = person.see(unit_question(person))
    found = rows(page, "Lines that the question is about")
    assert [re.findall(r"\bC (\S+(?: x \S+)?)", row)[0] for row in found] == ["48x60", "3-0 x 5-0"]
    assert "<strong>48x60</strong>" in page and "<strong>6</strong>" not in page


def test_a_long_file_is_not_read_again_for_it(person: Visitor, monkeypatch: pytest.MonkeyPatch) -> None:
    question = unit_question(person)
    monkeypatch.setattr(source_cells, "MOST_WRITTEN", len(PASTED) - 1)
    page = person.see(question)
    assert "As the file has it" not in page and len(rows(page, "Lines that the question is about")) == 2


@pytest.mark.parametrize(
    ("value", "shown"), [("102.625", "102.63"), ("-0.005", "\u22120.01"), ("0.004", "0.00"), ("1234.5", "1,234.50")]
)
def test_a_half_is_shown_rounded_up_as_everywhere_else(value: str, shown: str) -> None:
    """4,105.00 over 40 openings is 102.625 each: the page of the price had 102.62."""
    assert Reader().number(value, 2) == shown


ASIDE = (
    "mark,qty,width,height,kind,notes\n"
    "A,6,48 in,60 in,window,louvre\n"
    "D,4,12 in,12 in,window,louvre by mech. contractor\n"
)


def test_what_is_settled_of_other_questions_is_not_told_of_the_one_that_was_answered(person: Visitor) -> None:
    """After an answer to all its lines a question was said to have one still open."""
    person.see("/projects/new")
    typed: dict[str, Any] = person.fields() | {"name": ["Trial"], "text": [ASIDE]}
    question = question_that_says(person, person.send_again("/projects/new", typed), "out of the work")
    person.see(question)
    told = person.send_again(question, person.fields() | {"answer": ["set_aside"], "step": ["answer"]})
    said = " ".join(re.sub("<[^>]*>", "", person.see(told)).split())
    assert "1 question is answered; 2 lines of other questions are settled with it" in said
    assert "still open" not in said
