"""The table of DEVELOPERS.md: each task of an office beside the page that serves it, what it needs in view."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from django.urls import resolve

from api.pages.routes import PAGES
from tests.browser.office import Office
from tests.browser.prepared import prepare
from tests.browser.states import addresses

DEVELOPERS = Path(__file__).resolve().parent.parent.parent / "DEVELOPERS.md"
HEAD = ["who", "task", "page", "state", "in view"]


class Task(NamedTuple):
    """A row of the table."""

    role: str
    words: str
    path: str
    state: str
    facts: list[str]


def cells_of(line: str) -> list[str]:
    """The cells of a row of a table."""
    return [cell.strip() for cell in line.strip().strip("|").split("|")]


def read_tasks() -> list[Task]:
    """The rows below the table's head."""
    lines = DEVELOPERS.read_text().splitlines()
    start = next(place for place, line in enumerate(lines) if cells_of(line) == HEAD)
    found = []
    for line in lines[start + 2 :]:
        if not line.startswith("|"):
            break
        role, words, path, state, facts = cells_of(line)
        found.append(Task(role, words, path.strip("`"), state, [fact.strip() for fact in facts.split(";")]))
    return found


def test_every_task_has_its_page_with_its_facts_in_view(office: Office) -> None:
    tasks, wrong = read_tasks(), []
    assert len(tasks) >= 39
    there = {name: (role, address) for name, role, address in addresses(prepare(office))}
    paths = {f"page {page.name}": page.path for page in PAGES}
    for role in dict.fromkeys(task.role for task in tasks):
        with office.person(role) as page:
            for task in (one for one in tasks if one.role == role):
                assert there[task.state][0] == role, f"{task.state} is shown to another role"
                address = there[task.state][1]
                if paths[str(resolve(address.partition("?")[0]).url_name)] != task.path:
                    wrong.append(f"{task.words}: {address} is not {task.path}")
                page.goto(address)
                text = " ".join(page.locator("main").inner_text().split())
                wrong += [f"{task.words}: {fact} is not in view" for fact in task.facts if fact not in text]
    assert wrong == [], "\n".join(wrong)
