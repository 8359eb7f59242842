"""Forms never make two of anything, and keep what was typed: sent twice, gone back, raced, signed out, offline."""

from __future__ import annotations

import re
from typing import Any

import pytest

from tests.browser.chromium import expect
from tests.browser.office import Office, sign_in


def count(office: Office, words: str) -> int:
    """How many projects have these words in their name."""
    found = office.api.get("/v1/projects?limit=500")[1]["items"]
    return sum(words in one["name"] for one in found)


def new_project(page: Any, name: str) -> None:
    page.goto("/projects/new")
    page.get_by_label("Name of the project").fill(name)


def test_a_double_press_makes_one(office: Office) -> None:
    with office.person("estimator") as page:
        new_project(page, "Pressed twice (invented)")
        page.evaluate("document.querySelector('main form').submit(); document.querySelector('main form').submit()")
        page.wait_for_url(re.compile(r"/projects/[0-9a-f-]{36}"))
        assert count(office, "Pressed twice") == 1


@pytest.mark.parametrize("script", [True, False])
def test_going_back_and_sending_again_makes_none(office: Office, script: bool) -> None:
    name = f"Gone back {script} (invented)"
    with office.person("estimator", java_script_enabled=script) as page:
        new_project(page, name)
        page.get_by_role("button", name="Make the project").click()
        page.wait_for_url(re.compile(r"/projects/[0-9a-f-]{36}"))
        made = page.url
        page.go_back()
        page.get_by_label("Name of the project").fill(name)
        page.get_by_role("button", name="Make the project").click()
        again = page.get_by_role("link", name="See what came of it")  # where the browser loaded the form anew
        again.or_(page.get_by_role("link", name="Add a schedule")).first.wait_for()
        if again.count():
            again.click()
        page.wait_for_url(made)
        assert count(office, name) == 1


def test_the_same_is_sent_as_well_where_it_is_meant(office: Office) -> None:
    with office.person("estimator") as page:
        for _ in range(2):
            new_project(page, "Meant twice (invented)")
            with page.expect_navigation():
                page.get_by_role("button", name="Make the project").click()
        page.get_by_role("button", name="Send this as well").click()
        page.wait_for_url(re.compile(r"/projects/[0-9a-f-]{36}"))
        assert count(office, "Meant twice") == 2


def test_an_ended_session_keeps_what_was_typed_and_sends_it_once(office: Office) -> None:
    with office.person("estimator") as page:
        new_project(page, "Typed before the end (invented)")
        page.get_by_label("Or paste the list").fill("Mark,Qty,Width,Height\nA,1,3 ft,4 ft\n")
        page.context.clear_cookies(name="sessionid")
        page.get_by_role("button", name="Make the project").click()
        expect(page.get_by_text("Your session has ended")).to_be_visible()
        email, password = office.passwords["estimator"]
        page.get_by_label("E-mail address").fill(email)
        page.get_by_label("Password").fill(password)
        page.get_by_role("button", name="Sign in").click()
        expect(page.get_by_text("Typed before the end (invented)")).to_be_visible()
        page.get_by_role("button", name="Send it now").click()
        page.wait_for_url("**/schedules/*")
        assert count(office, "Typed before the end") == 1


def test_another_sign_in_in_the_same_browser_loses_nothing(office: Office) -> None:
    with office.person("estimator") as page:
        new_project(page, "Two windows (invented)")
        other = page.context.new_page()
        sign_in(other, *office.passwords["estimator"])  # the token of the first page's form is old now
        page.get_by_role("button", name="Make the project").click()
        expect(page.get_by_text("What you typed is kept below")).to_be_visible()
        page.get_by_role("button", name="Send it now").click()
        page.wait_for_url(re.compile(r"/projects/[0-9a-f-]{36}"))
        assert count(office, "Two windows") == 1


def test_a_lost_race_shows_both(office: Office) -> None:
    with office.person("estimator") as first, office.person("rate_keeper") as second:
        new_project(first, "Raced (invented)")
        first.get_by_label("Or paste the list").fill("Mark,Qty,Width,Height\nA,1,3 ft,4 ft\nB,2,3 ft,4 ft\n")
        first.get_by_role("button", name="Make the project").click()
        first.wait_for_url("**/schedules/*")
        line = first.url + "/lines/0"
        for page, width in ((first, "38 in"), (second, "39 in")):
            page.goto(line)
            page.get_by_label("Rough width").fill(width)
            page.get_by_label("Why").fill("measured")
        second.get_by_role("button", name="Save the change").click()
        second.wait_for_url("**#line-0")
        first.get_by_role("button", name="Save the change").click()
        first.get_by_role("link", name="the line as it is there").wait_for()
        expect(first.get_by_label("Rough width")).to_have_value("38 in")
        first.get_by_role("link", name="the line as it is there").click()
        first.locator("#line-0").get_by_text("3'-3\"").wait_for()


def test_offline_and_back_loses_nothing_and_sends_once(office: Office) -> None:
    with office.person("estimator") as page:
        page.goto("/")
        page.get_by_role("link", name="Residence hall").first.click()
        page.goto(page.url + "/schedules/grid")
        page.locator("#cell-0-mark").fill("Z1")
        page.locator("#cell-0-quantity").fill("2")
        page.locator("#cell-0-width").fill("3 ft")
        page.locator("#cell-0-height").fill("4 ft")
        page.context.set_offline(True)
        page.get_by_role("button", name="Read the schedule").click()
        expect(page.get_by_text("There is no connection")).to_be_visible()
        expect(page.locator("#cell-0-mark")).to_have_value("Z1")
        page.context.set_offline(False)
        page.get_by_text("The connection is back").wait_for()
        page.get_by_role("button", name="Read the schedule").click()
        page.wait_for_url(re.compile(r"/schedules/[0-9a-f-]{36}"))
        page.get_by_role("link", name="Residence hall").click()
        files = page.get_by_role("row", name=re.compile("typed.json"))
        expect(files).to_have_count(1)
