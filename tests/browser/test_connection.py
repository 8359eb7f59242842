"""Without a connection, and with one that breaks while something is saved: nothing is lost, nothing sent twice."""

from __future__ import annotations

import re
from typing import Any

import pytest

from tests.browser.office import Office
from tests.browser.prepared import MEDIA, items, messy_file, post

NO_CONNECTION, BACK = "There is no connection", "The connection is back"


@pytest.fixture
def messy(office: Office) -> str:
    """The id of a schedule of a project of its own that asks."""
    project = post(office, "/v1/projects", {"name": "Store by a weak signal (invented)"})["id"]
    path = f"/v1/projects/{project}/opening-schedules?file_name=messy.xlsx"
    return str(post(office, path, messy_file(), Content_Type=MEDIA)["id"])


def revisions(office: Office, schedule: str) -> list[Any]:
    """The revisions of a schedule's project."""
    project = office.api.get(f"/v1/opening-schedules/{schedule}")[1]["project"]
    return items(office, f"/v1/projects/{project}/opening-schedules")


def lose_the_answer(page: Any, path: str) -> None:
    """The next form sent to this address reaches the server, and what it answers is lost on the way."""

    lost: list[str] = []

    def cut(route: Any) -> None:
        if route.request.method != "POST" or lost:
            route.continue_()
            return
        lost.append(route.request.url)
        route.fetch(max_redirects=0)
        route.abort("internetdisconnected")

    page.route(path, cut)


def test_an_answer_saved_offline_stays_and_is_sent_once(office: Office, messy: str) -> None:
    asked = items(office, f"/v1/opening-schedules/{messy}/questions?severity=blocks_costing")
    with office.person("estimator") as page:
        page.goto(f"/schedules/{messy}/questions/{asked[0]['id']}")
        page.locator("input[name=answer]").first.check()
        page.context.set_offline(True)
        button = page.get_by_role("button", name="Answer", exact=True)
        button.click()
        button.click()
        assert page.get_by_text(NO_CONNECTION).is_visible()
        assert page.locator("input[name=answer]").first.is_checked()
        page.context.set_offline(False)
        page.get_by_text(BACK).wait_for()
        button.click()
        page.wait_for_url("**settled=*")
    assert len(revisions(office, messy)) == 2, "the file, and one answer"


def test_an_answer_whose_reply_was_lost_is_not_given_twice(office: Office, messy: str) -> None:
    asked = items(office, f"/v1/opening-schedules/{messy}/questions?severity=blocks_costing")
    path = f"/schedules/{messy}/questions/{asked[0]['id']}"
    with office.person("estimator") as page:
        page.goto(path)
        page.locator("input[name=answer]").first.check()
        lose_the_answer(page, f"**{path}")
        with page.expect_event("requestfailed"):
            page.get_by_role("button", name="Answer", exact=True).click(no_wait_after=True)
        assert len(revisions(office, messy)) == 2
        page.wait_for_timeout(500)  # the browser puts its own page of the failure there
        page.goto(path)
        page.wait_for_load_state()
        assert "/questions" in page.url, "it is answered: the question is there no longer, or says so"
    assert len(revisions(office, messy)) == 2


def test_a_grid_whose_reply_was_lost_makes_one_schedule(office: Office) -> None:
    project = post(office, "/v1/projects", {"name": "Grid by a weak signal (invented)"})["id"]
    path = f"/projects/{project}/schedules/grid"
    with office.person("estimator") as page:
        page.goto(path)
        for name, value in (("mark", "Z1"), ("quantity", "2"), ("width", "3 ft"), ("height", "4 ft")):
            page.locator(f"#cell-0-{name}").fill(value)
        lose_the_answer(page, f"**{path}")
        with page.expect_event("requestfailed"):
            page.get_by_role("button", name="Read the schedule").click(no_wait_after=True)
        page.wait_for_timeout(500)  # the browser puts its own page of the failure there
        page.goto(path)
        page.get_by_text("This was sent and no answer came").wait_for()
        assert page.locator("#cell-0-mark").input_value() == "Z1", "what was typed is still there"
        assert page.locator("#cell-0-height").input_value() == "4 ft"
        page.get_by_role("button", name="Read the schedule").click()
        if page.get_by_text("This was sent before").count():
            page.get_by_role("link", name="See what came of it").click()
        page.wait_for_url(re.compile(r"/schedules/[0-9a-f-]{36}"))
    assert len(items(office, f"/v1/projects/{project}/opening-schedules")) == 1
