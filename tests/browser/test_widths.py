"""Tables of many columns: at a common width of a screen the last column is in view without scrolling."""

from __future__ import annotations

import pytest

from tests.browser.office import Office
from tests.browser.prepared import items

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
