"""The estimator's way from a file to a price: counted in decisions, by mouse, by keyboard alone and without script.

A decision is what a person has to know: the file with its job and issue is one, so is each pair of fields that stand
together on the drawings. The counts are those of the tasks that the pages were designed from.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from tests.browser.chromium import expect
from tests.browser.office import Office
from tests.browser.prepared import messy_file

CLEAN = "Mark,Qty,Width,Height,Elevation,Storey,Access\n" + "".join(
    f"W{n},{n % 4 + 1},{3 + n % 3}'-0\",{4 + n % 2}'-0\",{'NSEW'[n % 4]},{n % 3 + 1},ground\n" for n in range(40)
)


class Decisions:
    """What a person decides on the way to a price, counted."""

    def __init__(self, page: Any) -> None:
        self.page = page
        self.count = 0

    def take_in(self, name: str, file: dict[str, Any]) -> None:
        """The file, the job and the issue."""
        self.count += 1
        self.page.goto("/projects/new")
        self.page.get_by_label("Name of the project").fill(name)
        self.page.get_by_label("Drawing issue").fill("Issue 1")
        self.page.get_by_label("Schedule file").set_input_files(file)
        self.page.get_by_role("button", name="Make the project").click()
        self.page.wait_for_url("**/schedules/*")

    def answer_all(self) -> None:
        """Every question that blocks costing, each by its first choice or, where words are asked for, as read."""
        blocked = self.page.get_by_text("must be answered before this can be costed")
        while blocked.count():
            self.count += 1
            assert self.count < 40
            self.page.get_by_role("link", name=re.compile("Questions")).click()
            self.page.locator("ol li p a").first.click()
            self.page.locator("input[name=answer]").first.check()
            self.page.get_by_role("button", name=re.compile("^Answer")).click()
            self.page.wait_for_url("**settled=*")
            self.page.get_by_role("link", name="As read").click()
            expect(blocked.or_(self.page.get_by_text("The schedule can be costed"))).to_have_count(1)

    def site_and_crew(self) -> None:
        """Method and barrier; depth and substrate; crew; work date."""
        self.page.get_by_role("link", name="Site and crew", exact=True).click()
        method = self.page.get_by_role("group", name="Method")
        method.get_by_label("fluid-applied").check()
        self.page.get_by_role("group", name="Water-resistive barrier").get_by_label("fluid").check()
        self.count += 1
        self.page.get_by_label("Treated depth").fill("6 in")
        self.page.get_by_label("Substrate").select_option("plywood")
        self.count += 1
        self.page.get_by_label("Mechanic").fill("2")
        self.count += 1
        self.page.get_by_label("First day of the work").fill("2027-03-15")
        self.count += 1

    def accept(self) -> None:
        """What was given is looked over, and costed."""
        self.page.get_by_role("button", name="Next: review and price").click()
        self.page.get_by_role("heading", name="Review, then cost").wait_for()
        self.count += 1
        self.page.get_by_role("button", name="Cost it").click()
        self.page.wait_for_url("**/estimates/*")


def clean_file() -> dict[str, Any]:
    return {"name": "windows.csv", "mimeType": "text/csv", "buffer": CLEAN.encode()}


@pytest.mark.parametrize("script", [True, False])
def test_a_clean_file_of_40_lines_takes_six_decisions(office: Office, script: bool) -> None:
    with office.person("estimator", java_script_enabled=script) as page:
        way = Decisions(page)
        way.take_in(f"Clean {script} (invented)", clean_file())
        expect(page.get_by_text("The schedule can be costed")).to_be_visible()
        way.site_and_crew()
        way.accept()
        assert way.count <= 6
        price = page.locator(".facts .first dd").inner_text()
        document = office.api.get(f"/v1/estimates/{page.url.rsplit('/', 1)[1]}")[1]
        assert price.replace(",", "") == f"{document['totals']['price']} USD"
        expect(page.get_by_role("link", name=re.compile("^Labour .*how reached"))).to_have_count(1)


def test_a_file_that_asks_takes_its_true_decisions(office: Office) -> None:
    with office.person("estimator") as page:
        way = Decisions(page)
        way.take_in("Messy (invented)", {"name": "messy.xlsx", "mimeType": "", "buffer": messy_file()})
        schedule = page.url.rsplit("/", 1)[1]
        questions = office.api.get(f"/v1/opening-schedules/{schedule}/questions?severity=blocks_costing")[1]["items"]
        assert questions
        way.answer_all()
        assert way.count <= 1 + len(questions)
        way.site_and_crew()
        way.accept()
        assert page.locator(".facts .first dd").inner_text().endswith("USD")


def test_a_like_job_is_copied_in_three(office: Office) -> None:
    with office.person("estimator") as page:
        way = Decisions(page)
        way.take_in("Like the clinic (invented)", clean_file())
        page.get_by_role("link", name="Site and crew", exact=True).click()
        clinic = page.get_by_label("Copy from a like job").locator("option", has_text="Clinic").get_attribute("value")
        page.get_by_label("Copy from a like job").select_option(clinic)
        page.get_by_role("button", name="Copy").click()
        expect(page.get_by_label("Treated depth")).to_have_value("6 in")
        page.get_by_label("First day of the work").fill("2027-03-15")
        way.count += 1
        way.accept()
        assert way.count <= 3


def press_until(page: Any, css: str, key: str = "Tab") -> None:
    """Presses a key until an element has the focus."""
    for _ in range(80):
        page.keyboard.press(key)
        if page.evaluate("css => document.activeElement.matches(css)", css):
            return
    raise AssertionError(f"{css} is not reached")


def test_from_a_pasted_list_to_a_price_by_keyboard_alone(office: Office) -> None:
    with office.person("estimator") as page:
        page.goto("/projects/new")
        press_until(page, "#field-name")
        page.keyboard.type("By keyboard (invented)")
        press_until(page, "#field-text")
        page.keyboard.insert_text(CLEAN)
        press_until(page, "main button")
        page.keyboard.press("Enter")
        page.wait_for_url("**/schedules/*")
        press_until(page, "main a.button")
        page.keyboard.press("Enter")
        page.wait_for_url("**/site")
        press_until(page, "input[name=method]")
        page.keyboard.press("Space")
        press_until(page, "input[name=wall_barrier]")
        page.keyboard.press("Space")
        press_until(page, "#field-treated_depth")
        page.keyboard.type("6 in")
        press_until(page, "#field-work_date")
        page.keyboard.type("03152027")
        press_until(page, "[id='field-crew.mechanic']")
        page.keyboard.type("2")
        press_until(page, "main form[data-keep] button")
        page.keyboard.press("Enter")
        page.get_by_role("heading", name="Review, then cost").wait_for()
        press_until(page, "main button")
        page.keyboard.press("Enter")
        page.wait_for_url("**/estimates/*")
        press_until(page, "a[href$='/why/price']")
        page.keyboard.press("Enter")
        page.get_by_role("heading", name="How was this reached: Price").wait_for()


REACHED = "How was that reached?"


def walk(page: Any, office: Office, start: str, order: int, ends: Callable[[Any], bool]) -> tuple[Any, Any]:
    """(input, its row) that a walk by the links from a figure ends at; every row holds what the API gives for it."""
    ways, seen = [start], {start.rpartition("/")[2]}
    while ways and len(seen) < 200:
        page.goto(way := ways.pop(order))
        estimate, _, figure = way.removeprefix("/estimates/").partition("?")[0].partition("/why/")
        derivations = f"/v1/estimates/{estimate}/derivations"
        found = office.api.get(f"{derivations}/{figure}?depth=6")[1]
        assert plainly(page.locator(".facts .first dd").inner_text()) == plainly(found["printed"])
        for row in page.locator("main tbody tr").all():
            value, link = plainly(row.locator("td").first.inner_text()), row.get_by_role("link", name=REACHED)
            if not link.count():
                same = [one for one in leaves(found) if plainly(one["printed"]) == value]
                assert same, f"{row.inner_text()} is no value that the API gives below {figure}"
                if chosen := next((one for one in same if ends(one.get("source") or {})), None):
                    return chosen, row
                continue
            below = str(link.get_attribute("href")).partition("/why/")[2].partition("?")[0]
            assert value == plainly(office.api.get(f"{derivations}/{below}")[1]["printed"])
            if below not in seen:
                seen.add(below)
                ways.append(str(link.get_attribute("href")))
    raise AssertionError(f"no link from {start} leads there")


def leaves(tree: Any) -> Iterator[Any]:
    """Every input of a derivation that is no figure, and of the steps below it."""
    for one in tree["inputs"]:
        if "figure" not in one:
            yield one
        elif "node" in one:
            yield from leaves(one["node"])


def test_a_figure_leads_down_to_the_row_and_the_line(office: Office) -> None:
    """To the row of the edition's table that the API shows, and to the line of the schedule with the same value."""
    with office.person("estimator") as page:
        page.goto("/")
        page.get_by_role("link", name="Clinic").first.click()
        page.get_by_role("link", name="Estimate 1", exact=True).click()
        price = page.get_by_role("link", name="How was the price reached?").get_attribute("href")
        mark = page.get_by_role("link", name=re.compile("^W1 .*how reached")).get_attribute("href")
        one, row = walk(page, office, price, -1, lambda source: bool(source.get("row")))
        source = one["source"]
        assert f"edition {source['number']} of the company" in row.inner_text()
        table = office.api.get(f"/v1/editions/{source['edition']}/{source['table']}")[1]
        (kept,) = [entry for entry in table if entry["code"] == source["row"]]
        assert Decimal(kept[source["field"]]) == Decimal(source["value"])
        row.get_by_role("link", name=f"{source['table'].capitalize()}, {kept['title']}").click()
        page.wait_for_url(f"**/tables/{source['table']}#row-{source['row']}")
        target = page.locator(f"[id='row-{source['row']}']")
        assert target.get_by_role("cell").first.inner_text() == source["row"]
        in_view(target)
        one, row = walk(page, office, mark, 0, lambda source: source.get("pointer", "").startswith("/openings/"))
        line = one["source"]["pointer"].split("/")[2]
        row.get_by_role("link", name=f"line {int(line) + 1} of the schedule").click()
        page.wait_for_url(f"**#line-{line}")
        in_view(page.locator(f"#line-{line}"))
        shown = page.locator(f"#line-{line}").inner_text()
        assert one["source"]["mark"] in shown and str(one["value"]) in shown.split()


def in_view(row: Any) -> None:
    """The row that a link led to is marked, and stands in the window below the headings of its table."""
    expect(row).to_be_in_viewport()
    table = row.locator("xpath=ancestor::table")
    expect(table.locator("thead th").first).to_be_in_viewport()
    head, body = table.locator("thead th").first.bounding_box(), row.bounding_box()
    assert head["y"] + head["height"] <= body["y"] + 1
    plain = table.locator("tbody tr:not(:target) > *").first
    colour = "e => getComputedStyle(e).backgroundColor"
    assert row.locator("> *").first.evaluate(colour) != plain.evaluate(colour)


def plainly(text: str) -> str:
    """A value without the reader's own marks between its thousands, and without the noughts that money ends in."""
    number, space, unit = text.replace(",", "").replace("\u202f", "").replace("\u2212", "-").strip().partition(" ")
    return (number.rstrip("0").rstrip(".") if "." in number else number) + space + unit


def test_a_block_of_300_rows_is_read_and_costed_in_one_step(office: Office) -> None:
    rows = "\n".join(f"G{n}\t2\twindow\t3'-0\"\t4 ft 2 in\t\tNorth\t1\tground" for n in range(300))
    with office.person("estimator") as page:
        page.goto("/")
        page.get_by_role("link", name="Clinic").first.click()
        page.get_by_role("link", name="Add a schedule").click()
        page.get_by_role("link", name="Type it line by line instead").click()
        page.get_by_label("Paste a block").fill(rows.replace("4 ft 2 in", "4 ft x", 1))
        page.get_by_role("button", name="Read it and cost it as estimate").click()
        expect(page.locator("#cell-0-height")).to_have_attribute("aria-invalid", "true")
        page.get_by_role("link", name=re.compile("Row 1, height")).click()
        expect(page.locator("#cell-0-height")).to_be_focused()
        page.keyboard.press("Control+a")
        page.keyboard.type("1270 mm")
        page.get_by_role("button", name="Check only").click()
        expect(page.locator("#cell-0-height + .hint")).to_have_text("4'-2\"")
        page.get_by_role("button", name="Read it and cost it as estimate").click()
        page.wait_for_url("**/estimates/*")
        expect(page.locator(".facts").first.get_by_text("600")).to_be_visible()


def test_a_line_is_edited_and_the_edit_taken_back(office: Office, tmp_path: Path) -> None:
    with office.person("estimator") as page:
        way = Decisions(page)
        way.take_in("Edited (invented)", clean_file())
        page.get_by_role("link", name=re.compile("Edit line 1,")).click()
        page.get_by_label("Rough width").fill("1 m")
        page.locator("main form").evaluate("form => { form.noValidate = true; }")  # the browser would ask itself
        page.get_by_role("button", name="Save the change").click()
        expect(page.get_by_role("link", name="Why"), "no reason was given").to_have_count(1)
        page.get_by_label("Why").fill("by phone from the architect")
        page.get_by_role("button", name="Save the change").click()
        page.wait_for_url("**#line-0")
        expect(page.locator("#line-0").get_by_text("3'-3 3/8\"")).to_be_visible()
        page.get_by_role("button", name=re.compile("Take back")).click()
        page.wait_for_url("**#lines")
        expect(page.locator("#line-0").get_by_text("3'-0\"")).to_be_visible()
