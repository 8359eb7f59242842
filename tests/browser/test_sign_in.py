"""Signing in, out and back: by mouse, by keyboard, without script; a session that ends keeps what was typed."""

from __future__ import annotations

import pytest

from tests.browser.chromium import expect, window
from tests.browser.office import Office, sign_in


@pytest.mark.parametrize("script", [True, False])
def test_a_page_leads_to_the_sign_in_and_back(office: Office, script: bool) -> None:
    with window(office.browser, office.base, java_script_enabled=script) as page:
        page.goto("/projects?words=clinic")
        assert page.url.endswith("/sign-in?to=%2Fprojects%3Fwords%3Dclinic")
        email, password = office.passwords["estimator"]
        page.get_by_label("E-mail address").fill(email)
        page.get_by_label("Password").fill("not the password")
        page.get_by_role("button", name="Sign in").click()
        expect(page.get_by_text("do not fit")).to_be_visible()
        expect(page.get_by_label("E-mail address")).to_have_value(email)
        page.get_by_label("Password").fill(password)
        page.get_by_role("button", name="Sign in").click()
        page.wait_for_url("**/projects?words=clinic")
        expect(page.get_by_role("link", name="Clinic by the Alder Brook (invented)")).to_be_visible()


def test_signing_in_and_out_by_keyboard_alone(office: Office) -> None:
    with window(office.browser, office.base) as page:
        page.goto("/sign-in")
        email, password = office.passwords["viewer"]
        for _ in range(12):
            page.keyboard.press("Tab")
            if page.evaluate("document.activeElement.id") == "field-email":
                break
        page.keyboard.type(email)
        page.keyboard.press("Tab")
        page.keyboard.type(password)
        page.keyboard.press("Enter")
        page.wait_for_url(office.base + "/")
        page.keyboard.press("Tab")
        assert page.evaluate("document.activeElement.textContent") == "Skip to the content"
        page.get_by_role("link", name="Sign out").press("Enter")
        page.get_by_role("button", name="Sign out").press("Enter")
        page.wait_for_url("**/sign-in")
        page.goto("/")
        assert "/sign-in" in page.url


def test_nobody_learns_by_the_address_whether_a_page_is_there(office: Office) -> None:
    with window(office.browser, office.base) as page:
        for path in ("/projects/01a220ab-9bb6-79e9-b698-e73215d85c7d", "/estimates/x", "/projects/x"):
            page.goto(path)
            assert "/sign-in" in page.url
        sign_in(page, *office.passwords["viewer"])
        for path in ("/projects/01a220ab-9bb6-79e9-b698-e73215d85c7d", "/projects/x", "/nowhere"):
            answer = page.goto(path)
            assert answer is not None and answer.status == 404
            expect(page.get_by_role("heading", name="There is nothing at this address")).to_be_visible()


def test_a_role_is_told_who_can(office: Office) -> None:
    with office.person("sales") as page:
        answer = page.goto("/rates")
        assert answer is not None and answer.status == 403
        expect(page.get_by_text("Ask somebody who can: estimator, rate keeper and principal.")).to_be_visible()
        page.goto("/")
        assert page.get_by_role("navigation", name="Main").get_by_role("link").all_text_contents() == [
            "Work", "Projects", "Quotes", "Overview",
        ]  # fmt: skip
