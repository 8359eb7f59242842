"""Marks of forty characters and places in other scripts: no page of an estimate is wider than its window."""

from __future__ import annotations

import json

from api.demo import FOLDER
from tests.browser.chromium import window
from tests.browser.office import Office, sign_in
from tests.browser.prepared import items, post

MARK = "W-ABCDEFGHIJKLMNOPQRSTUVWXYZ-012345678X"
PLACES = ("Южный фасад", "Ανατολή", "West courtyard, behind the loading dock")
PAGES = (
    "", "/openings", "/pieces", "/hours", "/materials", "/cut-plan", "/purchase-list", "/calendar", "/crew", "/crew/1",
    "/zones", "/zones/1", "/assumptions",
)  # fmt: skip


def make_estimate(office: Office) -> str:
    """An estimate of a few such lines by the demo's rates."""
    clinic = json.loads((FOLDER / "clinic-a.json").read_text())
    first = clinic["openings"][0]
    lines = [first | {"mark": f"{MARK}{n}", "elevation": place} for n, place in enumerate(PLACES)]
    project = post(office, "/v1/projects", {"name": "Больница Ανατολή (invented)"})["id"]
    book = items(office, "/v1/rate-books")[0]["id"]
    body = {name: value for name, value in clinic.items() if name not in ("project", "title", "rate_book")}
    body |= {"openings": lines, "project": project, "rate_book": book}
    status, made, _ = office.api.estimate(body)
    assert status == 202, made
    assert office.api.until_ended(made["id"])["state"] == "costed"
    return str(made["id"])


def test_no_page_is_wider_than_its_window(office: Office) -> None:
    estimate, wide = make_estimate(office), []
    with window(office.browser, office.base) as page:
        sign_in(page, *office.passwords["estimator"])
        for name in PAGES:
            answer = page.goto(f"/estimates/{estimate}{name}")
            assert answer is not None and answer.status == 200, name
            for width in (320, 768, 2560):
                page.set_viewport_size({"width": width, "height": 900})
                if page.evaluate("document.documentElement.scrollWidth > innerWidth"):
                    wide.append((name, width))
    assert wide == []
