"""The sales way: a one-line change from the new file to the issued letter, by mouse, by keyboard, without script."""

from __future__ import annotations

import json
import re
import uuid
from typing import Any

import pytest

from api.demo import FOLDER
from tests.browser.chromium import expect
from tests.browser.office import Office
from tests.browser.prepared import MEDIA, items, post, quote_of, sign, step

FIRST = (
    "mark,kind,quantity,width,height,elevation,storey,access\n"
    "W1,window,4,3 ft,4 ft,N,1,ground\n"
    "W2,window,2,4 ft,4 ft,S,1,ground\n"
)
SECOND = FIRST.replace("window,4", "window,6")


def quoted(office: Office, name: str) -> tuple[str, str]:
    """The ids of a project whose first drawing is quoted and issued, and of the quote."""
    project = post(office, "/v1/projects", {"name": name})["id"]
    path = f"/v1/projects/{project}/opening-schedules?file_name=windows.csv&drawing_issue=Issue%201"
    schedule = post(office, path, FIRST.encode(), Content_Type=MEDIA)["id"]
    like = json.loads((FOLDER / "clinic-a.json").read_text())
    kept = {name: value for name, value in like.items() if name not in ("openings", "project", "title")}
    request = kept | {"schedule": schedule, "rate_book": items(office, "/v1/rate-books")[0]["id"]}
    status, found, _ = office.api.estimate(request, wait=20)
    assert status == 201 and found["state"] == "costed", found
    sign(office, found["id"])
    quote = quote_of(office, found["id"])
    step(office, quote, "issue")
    return project, quote


def number_of(office: Office, quote: str) -> Any:
    return office.api.get(f"/v1/quotes/{quote}")[1]["number"]


@pytest.mark.parametrize("script", [True, False])
def test_a_one_line_change_goes_from_the_file_to_the_letter(office: Office, script: bool) -> None:
    project, before = quoted(office, f"Store, script {script} (invented)")
    with office.person("sales", java_script_enabled=script) as page:
        page.goto(f"/projects/{project}/schedules/new")
        page.get_by_label("Drawing issue").fill("Bulletin 2")
        file = {"name": "windows.csv", "mimeType": "text/csv", "buffer": SECOND.encode()}
        page.get_by_label("Schedule file").set_input_files(file)
        page.get_by_role("button", name="Read the schedule").click()
        page.get_by_role("link", name=f"Quote {number_of(office, before)} anew on it").click()
        expect(page.get_by_text("4 openings of W1 (1, N) became 6.")).to_be_visible()
        page.get_by_label("Addendum or bulletin that brought it").fill("Bulletin 2")
        page.get_by_label("Acknowledged on").fill("2027-01-09")
        page.get_by_role("button", name="Cost it on revision 2").click()
        page.get_by_label("Held rates").check()
        page.get_by_label("Why this one").fill("Promised to hold.")
        page.get_by_role("button", name="Take this price").click()
        page.get_by_role("link", name="Check and issue").click()
        expect(page.get_by_text("Bulletin 2, Jan 9, 2027")).to_be_visible()
        page.get_by_role("button", name="Issue the quote").click()
        expect(page.get_by_role("heading", level=1)).to_have_text(
            re.compile(r"Quote .*Northfield Builders \(invented\)")
        )
        page.get_by_role("link", name="Read the letter", exact=True).click()
        page.wait_for_url("**/letter.html")
        expect(page.get_by_role("heading", name="Quote").first).to_be_visible()
        width = (
            page.evaluate("getComputedStyle(document.querySelector('table')).borderCollapse") if script else "collapse"
        )
        assert width == "collapse", "the letter's own style holds"
        page.go_back()
        page.get_by_role("link", name="Not awarded").click()
        page.get_by_label("Why the customer did not take it").fill("Too late.")
        page.get_by_role("button", name="is not awarded").click()
        expect(page.get_by_text("Not awarded: Too late.")).to_be_visible()


def tab_to(page: Any, name: str) -> None:
    """Moves on by Tab until what has the focus is called so."""
    for _ in range(80):
        page.keyboard.press("Tab")
        label = "(e) => (e.labels?.[0]?.innerText ?? e.ariaLabel ?? e.innerText ?? '').trim()"
        if page.evaluate(f"({label})(document.activeElement)").startswith(name):
            return
    raise AssertionError(f"no Tab leads to {name}")


def test_the_way_is_walked_by_keyboard_alone(office: Office) -> None:
    _, before = quoted(office, "Store by keyboard (invented)")
    with office.person("sales") as page:
        page.goto(f"/quotes/{before}")
        tab_to(page, "Quote anew")
        page.keyboard.press("Enter")
        page.wait_for_url("**/requote")
        tab_to(page, "Cost it on revision 1")
        page.keyboard.press("Enter")
        page.wait_for_url("**/offers")
        tab_to(page, "Today's rates")
        page.keyboard.press("ArrowDown")
        tab_to(page, "Take this price")
        page.keyboard.press("Enter")
        page.wait_for_url("**/quotes/*")
        tab_to(page, "Check and issue")
        page.keyboard.press("Enter")
        page.wait_for_url("**/issue")
        tab_to(page, "Issue the quote")
        page.keyboard.press("Enter")
        page.get_by_role("heading", name="Quote ", level=1).wait_for()
        quote = page.url.rpartition("/")[2]
        assert office.api.get(f"/v1/quotes/{quote}")[1]["basis"] == "held"
        assert office.api.get(f"/v1/quotes/{before}")[1]["state"] == "superseded"


def test_a_double_press_issues_once_and_going_back_issues_none(office: Office) -> None:
    _, before = quoted(office, "Store pressed twice (invented)")
    draft = post(office, f"/v1/quotes/{before}/requote", {}, Idempotency_Key=str(uuid.uuid4()))["id"]
    last = max(one["number"] or 0 for one in items(office, "/v1/quotes?limit=500"))
    with office.person("sales") as page:
        page.goto(f"/quotes/{draft}/issue")
        send = "document.querySelector('main form').submit()"
        page.evaluate(f"{send}; {send}")
        page.wait_for_url(f"**/quotes/{draft}")
        page.go_back()
        page.get_by_role("heading", level=1).wait_for()
        if page.get_by_role("button", name="Issue the quote").count():
            with page.expect_navigation():
                page.get_by_role("button", name="Issue the quote").click()
        page.goto(f"/quotes/{draft}")
        expect(page.get_by_role("heading", name=f"Quote {last + 1} to")).to_be_visible()
    assert max(one["number"] or 0 for one in items(office, "/v1/quotes?limit=500")) == last + 1
