"""Without a connection, and with one that breaks while something is saved: nothing is lost, nothing sent twice."""

from __future__ import annotations

import re
from typing import Any

import pytest

from tests.browser.chromium import expect
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


def press_and_lose(page: Any, button: str | re.Pattern[str]) -> None:
    """Presses a button whose answer is lost; ends when the browser has put its own page of the failure there.

    An address opened before that page has come would be interrupted by it.
    """
    page.get_by_role("button", name=button, exact=True).click(no_wait_after=True)
    for _ in range(600):
        if page.url.startswith("chrome-error:"):
            return
        page.wait_for_timeout(100)
    raise AssertionError("the answer was not lost")


def test_an_answer_saved_offline_stays_and_is_sent_once(office: Office, messy: str) -> None:
    asked = items(office, f"/v1/opening-schedules/{messy}/questions?severity=blocks_costing")
    with office.person("estimator") as page:
        page.goto(f"/schedules/{messy}/questions/{asked[0]['id']}")
        page.locator("input[name=answer]").first.check()
        page.context.set_offline(True)
        button = page.get_by_role("button", name=re.compile("^Answer"))
        button.click()
        button.click()
        expect(page.get_by_text(NO_CONNECTION)).to_be_visible()
        expect(page.locator("input[name=answer]").first).to_be_checked()
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
        press_and_lose(page, re.compile("^Answer"))
        assert len(revisions(office, messy)) == 2
        page.goto(path)
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
        press_and_lose(page, "Read the schedule")
        page.goto(path)
        expect(page.get_by_text("This was sent and no answer came")).to_be_visible()
        expect(page.locator("#cell-0-mark"), "what was typed is still there").to_have_value("Z1")
        expect(page.locator("#cell-0-height")).to_have_value("4 ft")
        page.get_by_role("button", name="Read the schedule").click()
        page.get_by_role("link", name="See what came of it").click()
        page.wait_for_url(re.compile(r"/schedules/[0-9a-f-]{36}"))
    assert len(items(office, f"/v1/projects/{project}/opening-schedules")) == 1


def test_a_line_chosen_says_one_line_and_a_look_is_an_answer(office: Office, messy: str) -> None:
    asked = items(office, f"/v1/opening-schedules/{messy}/questions?severity=blocks_costing")
    several = next(one for one in asked if len(one["lines"]) > 1 and one["choices"])
    with office.person("estimator") as page:
        page.goto(f"/schedules/{messy}/questions/{several['id']}")
        whole, one, rule = (page.locator(f"input[name=reach][value={value}]") for value in ("whole", "one", "rule"))
        lines = page.locator("input[name=line]")
        expect(page.get_by_role("button", name=f"Answer all {len(several['lines'])} lines")).to_be_visible()
        page.locator("input[name=answer]").first.check()
        lines.nth(1).check()
        expect(one).to_be_checked()
        expect(page.get_by_role("button", name="Answer this line")).to_be_visible()
        rule.check()
        expect(lines.nth(0), "no single line").to_be_checked()
        expect(page.get_by_label("Only this storey")).to_be_visible()
        expect(page.get_by_role("button", name="See what the rule does")).to_be_visible()
        whole.check()
        expect(page.get_by_label("Only this storey")).to_be_hidden()
        page.get_by_role("button", name="See first what it does").click()
        page.get_by_text("Nothing is stored yet").wait_for()
        lines.nth(1).check()
        with page.expect_navigation():  # what the first look said stands there until the second has come
            page.get_by_role("button", name="See first what it does").click()
        page.get_by_text("Nothing is stored yet").wait_for()
        expect(lines.nth(1)).to_be_checked()
        expect(page.get_by_text("no answer came")).to_have_count(0)
    assert len(revisions(office, messy)) == 1
