"""Tables of many columns: at a common width of a screen the last column is in view without scrolling."""

from __future__ import annotations

import json

import pytest

from api.demo import FOLDER
from tests.browser.office import Office
from tests.browser.prepared import items, post

REST = "(sheet) => sheet.scrollWidth - sheet.clientWidth"


@pytest.mark.parametrize(("part", "label"), [("openings", "Openings"), ("purchase-list", "Purchase list")])
def test_the_last_column_is_in_view_at_1280(office: Office, part: str, label: str) -> None:
    estimates = items(office, "/v1/estimates?limit=20")
    with office.person("estimator", width=1280) as page:
        for one in estimates:
            if one["state"] == "costed":
                page.goto(f"/estimates/{one['id']}/{part}")
                sheet = page.get_by_role("region", name=label, exact=True)
                assert sheet.evaluate(REST) <= 0, (part, one["project"], sheet.locator("thead").inner_text())


def test_why_a_line_is_not_priced_is_in_view_beside_all_other_columns(office: Office) -> None:
    clinic = json.loads((FOLDER / "clinic-a.json").read_text())
    project = post(office, "/v1/projects", {"name": "All columns (invented)"})["id"]
    lines = [one | {"building": "Main house"} for one in clinic["openings"]]
    lines[0] = lines[0] | {"excluded": {"reason": "by the owner, who buys and sets it"}}
    schedule = post(office, f"/v1/projects/{project}/opening-schedules", {"openings": lines})["id"]
    left_out = ("project", "title", "rate_book", "openings")
    book = items(office, "/v1/rate-books")[0]["id"]
    body = {name: value for name, value in clinic.items() if name not in left_out}
    made = office.api.estimate(body | {"schedule": schedule, "rate_book": book}, wait=30)[1]
    assert office.api.until_ended(made["id"])["state"] == "costed"
    with office.person("estimator", width=1280) as page:
        page.goto(f"/estimates/{made['id']}/openings")
        sheet = page.get_by_role("region", name="Openings", exact=True)
        assert "Not priced because" in sheet.inner_text() and "Main house" in sheet.inner_text()
        assert sheet.evaluate(REST) <= 0, sheet.locator("thead").inner_text()
