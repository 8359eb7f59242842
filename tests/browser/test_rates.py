"""The rate keeper's way: a draft from an edition, its tables typed over, submitted, approved by somebody else."""

from __future__ import annotations

import re
from typing import Any

from tests.browser.chromium import expect
from tests.browser.office import Office

CELL = "input[id^=cell-0-]"


def draft(page: Any, first_day: str) -> str:
    """The address of a new draft, made by the form of the demo's book."""
    page.goto("/rates")
    page.get_by_role("table").get_by_role("link").first.click()
    page.get_by_label("Holds from").fill(first_day)
    page.get_by_role("button", name="Draft it").click()
    page.wait_for_url("**/editions/*")
    expect(page.get_by_text("Draft", exact=True)).to_be_visible()
    return str(page.url)


def column_of(page: Any, words: str) -> int:
    """The column of a grid by its heading."""
    headings = [text.strip() for text in page.locator("thead th").all_text_contents()]
    return headings.index(words)


def test_a_wage_goes_from_the_draft_to_the_approval(office: Office) -> None:
    with office.person("rate_keeper") as page:
        edition = draft(page, "2031-01-01")
        page.goto(f"{edition}/tables/labour")
        wage = column_of(page, "wage")
        cell = page.locator(CELL).nth(wage)
        was = cell.input_value()
        cell.fill("thirty")
        page.get_by_role("button", name="Save the table").click()
        faults = page.locator("[data-faults]")
        expect(faults.get_by_role("link")).to_have_count(1)
        expect(faults).to_contain_text("not a plain decimal")
        faults.get_by_role("link").click()
        expect(cell).to_be_focused()
        expect(cell).to_have_value("thirty")
        cell.fill("90.00")
        page.get_by_role("button", name="Save the table").click()
        expect(page.locator(f"#cell-0-{wage}-told")).to_have_text(re.compile(f"^was {was}"))
        page.goto(f"{edition}/submit")
        expect(page.get_by_text(f"{was} to 90.00 an hour")).to_be_visible()
        page.get_by_role("button", name="Submit for approval").click()
        page.wait_for_url(edition)
        page.goto(f"{edition}/approve")
        page.get_by_role("button", name="Approve").click()
        expect(page.get_by_text("does not approve it")).to_be_visible()
    with office.person("principal") as page:
        page.goto(f"{edition}/approve")
        page.get_by_role("button", name="Approve").click()
        page.wait_for_url(edition)
        expect(page.get_by_text("Approved", exact=True)).to_be_visible()
        page.goto(f"{edition}/withdraw")
        page.get_by_label("Why").fill("Only a trial.")
        page.get_by_role("button", name="Withdraw").click()
        expect(page.get_by_text("Withdrawn", exact=True)).to_be_visible()


def test_a_table_is_pasted_and_its_faults_name_their_rows(office: Office) -> None:
    with office.person("rate_keeper", java_script_enabled=False) as page:
        edition = draft(page, "2031-02-01")
        page.goto(f"{edition}/tables/overheads")
        before = page.locator("tbody tr").count()
        page.get_by_label("Or the whole table, pasted").fill(
            "code\ttitle\tstep\tpercent\ton\np\tProfit\tprofit\tx\tcost\n"
        )
        page.get_by_role("button", name="Save the table").click()
        expect(page.locator("[data-faults]")).to_contain_text("Pasted row 2, column 4")
        expect(page.locator("tbody tr")).to_have_count(before)
        pasted = "code\ttitle\tstep\tpercent\ton\tkind\np\tProfit\tprofit\t8\tcost\tmarkup\n"
        page.get_by_label("Or the whole table, pasted").fill(pasted)
        page.get_by_role("button", name="Save the table").click()
        expect(page.locator("#cell-0-0")).to_have_value("p")
        expect(page.get_by_text("Only edition")).to_be_visible()
        page.goto(f"{edition}/delete")
        page.get_by_role("button", name="Delete the draft").click()
        page.wait_for_url(lambda url: edition not in url)
        assert "/rates/" in page.url


def test_who_comes_second_sees_both_versions(office: Office) -> None:
    with office.person("rate_keeper") as first, office.person("principal") as second:
        edition = draft(first, "2031-03-01")
        for page in (first, second):
            page.goto(f"{edition}/submit")
        first.get_by_role("button", name="Submit for approval").click()
        first.wait_for_url(edition)
        second.get_by_role("button", name="Submit for approval").click()
        expect(second.get_by_text("It has changed since you opened it")).to_be_visible()
        expect(second.get_by_text("This edition is submitted now")).to_be_visible()


def test_who_may_not_change_rates_gets_no_form(office: Office) -> None:
    with office.person("rate_keeper") as page:
        edition = draft(page, "2031-04-01")
    with office.person("estimator") as page:
        page.goto(f"{edition}/tables/labour")
        expect(page.locator("table")).to_be_visible()
        expect(page.locator("form[method=post], tbody input")).to_have_count(0)
        assert page.goto(f"{edition}/submit").status == 404
        page.goto(edition)
        expect(page.get_by_role("link", name="Submit for approval")).to_have_count(0)
    for role in ("sales", "viewer"):
        with office.person(role) as page:
            for path in (edition, f"{edition}/tables/labour"):
                assert page.goto(path).status == 403
            assert "wage" not in page.content()
