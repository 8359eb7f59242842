"""Files of the corpus taken in by somebody at the pages, and the questions that they leave."""

from __future__ import annotations

import re
from pathlib import Path

from django.core.files.uploadedfile import SimpleUploadedFile

from tests.corpus.built import build
from tests.corpus.schedule import read_schedule
from tests.http.visitor import Visitor

CORPUS = Path(__file__).resolve().parent.parent / "corpus" / "schedules"


def taken_in(person: Visitor, name: str) -> str:
    """The address of the schedule that a workbook of the corpus becomes in a new project."""
    person.see("/projects/new")
    file = SimpleUploadedFile(f"{name}.xlsx", build(read_schedule(CORPUS / f"{name}.yaml")))
    return person.send_again("/projects/new", person.fields() | {"name": ["Trial"], "file": file})


def first_question(person: Visitor, schedule: str) -> str:
    """The address of the question that stands first."""
    page = person.see(f"{schedule}/questions").partition("<ol")[2]
    return f"{schedule}/questions/" + page.partition(f'href="{schedule}/questions/')[2].partition('"')[0]


def question_that_says(person: Visitor, schedule: str, words: str) -> str:
    """The address of the open question whose sentence holds the words."""
    page = person.see(f"{schedule}/questions").partition("<ol><li>")[2]
    found = re.findall(rf'<a href="({schedule}/questions/[^"]*)">(.*?)</a>', page, re.DOTALL)
    return next(str(address) for address, sentence in found if words in sentence)


def answer(person: Visitor, question: str, choice: str) -> str:
    """The address of the schedule's new revision, in which a question is answered."""
    person.see(question)
    told = person.send_again(question, person.fields() | {"answer": [choice], "step": ["answer"]})
    return told.partition("/questions")[0]
