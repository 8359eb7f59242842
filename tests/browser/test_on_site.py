"""The crew's page on a phone: counted by large buttons, kept without a signal and sent once, told without script."""

from __future__ import annotations

import datetime
import re
from typing import Any

import pytest

from tests.browser.chromium import expect, window
from tests.browser.office import Office
from tests.browser.prepared import items, post

PHONE = {"width": 360, "height": 740, "has_touch": True}


@pytest.fixture(scope="module")
def estimate(office: Office) -> str:
    clinic = next(one for one in items(office, "/v1/projects?limit=500") if one["name"].startswith("Clinic"))
    return str(items(office, f"/v1/projects/{clinic['id']}/estimates")[0]["id"])


@pytest.fixture
def link(office: Office, estimate: str) -> Any:
    ends = (datetime.datetime.now(datetime.UTC) + datetime.timedelta(days=3)).isoformat()
    return post(office, "/v1/site-links", {"estimate": estimate, "title": "Crew (invented)", "expires_at": ends})


def told(office: Office, link: Any) -> list[Any]:
    """The records that came by a link."""
    return [one for one in items(office, "/v1/job-records?limit=500") if one["link"] == link["id"]]


def fill(page: Any) -> None:
    """Two openings of the first mark, in an hour and a half."""
    page.get_by_role("button", name=re.compile("one more")).first.tap()
    page.get_by_role("button", name=re.compile("one more")).first.tap()
    page.get_by_role("button", name=re.compile("one less")).first.tap()
    page.get_by_role("button", name=re.compile("one more")).first.tap()
    page.get_by_label("Worker-hours").fill("1.5")


def test_what_is_told_without_a_signal_is_kept_and_sent_once(office: Office, link: Any) -> None:
    with window(office.browser, office.base, **PHONE) as page:
        page.goto(link["site_address"])
        page.get_by_role("link", name=re.compile("^1\\. ")).tap()
        page.wait_for_url("**/1")  # a tap waits for nothing: the page and its script come before the signal goes
        page.context.set_offline(True)
        fill(page)
        page.get_by_role("button", name="Tell the office").tap()
        expect(page.get_by_text("One record is kept on this phone")).to_be_visible()
        assert told(office, link) == []
        # Said three times more at once: by the page itself, which is loaded anew as soon as the record is sent
        again = "() => { for (let n = 0; n < 3; n += 1) dispatchEvent(new Event('online')); }"
        page.evaluate(f"addEventListener('online', {again}, {{ once: true }})")
        page.context.set_offline(False)
        expect(page.get_by_text("Told last")).to_be_visible()
        expect(page.get_by_text("kept on this phone")).to_have_count(0)
    (record,) = told(office, link)
    assert record["hours"] == "1.50" and [count["openings"] for count in record["counts"]] == [2]


def test_what_is_kept_outlives_the_page_and_a_refusal_is_told(office: Office, link: Any) -> None:
    with window(office.browser, office.base, **PHONE) as page:
        page.goto(f"{link['site_address']}/1")
        page.context.set_offline(True)
        for _ in range(2):
            fill(page)
            page.get_by_role("button", name="Tell the office").tap()
        expect(page.get_by_text("2 records are kept")).to_be_visible()
        page.evaluate("""() => {
            const kept = JSON.parse(localStorage.getItem("told on site"));
            kept[1].fields = kept[1].fields.map(([name, value]) => [name, name === "count-0" ? "9999" : value]);
            localStorage.setItem("told on site", JSON.stringify(kept));
        }""")  # as if the drawing had fewer by now
        page.goto("about:blank")
        page.context.set_offline(False)
        page.goto(link["site_address"])
        expect(page.get_by_text("Not taken:")).to_be_visible()
        page.get_by_role("button", name="Take it off").tap()
        expect(page.get_by_text("Not taken:")).to_have_count(0)
    assert len(told(office, link)) == 1


def test_it_works_without_script_and_its_targets_fit_a_glove(office: Office, link: Any) -> None:
    with window(office.browser, office.base, java_script_enabled=False, **PHONE) as page:
        page.goto(f"{link['site_address']}/1")
        page.locator(".count input").first.fill("1")
        page.get_by_label("Worker-hours").fill("1")
        page.get_by_role("button", name="Tell the office").tap()
        expect(page.get_by_text("Told last")).to_be_visible()
    assert len(told(office, link)) == 1
    with window(office.browser, office.base, **PHONE) as page:
        page.goto(f"{link['site_address']}/1")
        sizes = [box.bounding_box() for box in page.locator("main button:visible, .count input").all()]
        assert len(sizes) > 4 and all(size["height"] >= 48 and size["width"] >= 48 for size in sizes)
