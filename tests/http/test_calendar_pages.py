"""Pages of an estimate's calendar and crew sheets: what the API answers, what to know first, no money."""

from __future__ import annotations

import re

import pytest

from rates.roles import Role
from tests.cast import Office
from tests.climate import climate_of
from tests.db.making import golden_request
from tests.http.visitor import LINES, Job, Visitor

PLACES = (("North", "1"), ("North", "2"), ("South", "1"))
# Work begins on Monday 15 March 2027; the 16th is a shut-down, and the south's units come before anybody gets there
CALENDAR = {
    "start": "2027-03-15",
    "holidays": "US-WI",
    "working_days": ["monday", "tuesday", "wednesday", "thursday"],
    "days_off": [{"first": "2027-03-16", "reason": "air test"}],
    "zones": [{"elevation": "South", "units_due": "2027-03-16"}],
}


@pytest.fixture
def job(office: Office) -> Job:
    return Job(office)


def planned(job: Job, **calendar: object) -> str:
    """The address of an estimate whose openings stand in three zones."""
    lines = [
        line | {"mark": f"{line['mark']}{number}", "elevation": elevation, "storey": storey}
        for number, (elevation, storey) in enumerate(PLACES)
        for line in LINES
    ]
    asked = golden_request(job.office, openings=lines, calendar=CALENDAR | calendar)
    return f"/estimates/{job.api.estimate(asked).json()['id']}"


def test_late_zones_stand_first_and_the_lists_hold_what_the_api_answers(job: Job) -> None:
    path = planned(job)
    found = job.api.get(f"/v1{path}/calendar").json()
    viewer = job.person("viewer")
    page = viewer.see(f"{path}/calendar")
    late = [one["detail"] for one in found["remarks"] if one["code"] == "late"]
    assert len(late) == 1 and late[0].startswith("South")
    assert page.index(late[0]) < page.index("<svg") < page.index("Zones in working order")
    rows = re.findall(r'<th scope="row" class="w">\d\. ([^<]+?)(?: <|<)', page)
    assert rows == [row["title"] for row in found["zones"]]
    assert "US-WI" in page and page.count('<span class="mark stop">late</span>') == 1
    for end in (".ics", ".xlsx", ".csv", ".svg"):
        assert f'href="/v1{path}/calendar{end}"' in page
        assert viewer.client.get(f"/v1{path}/calendar{end}").status_code == 200
    days = viewer.see(f"{path}/calendar?by=days")
    assert days.count('<th scope="row"') == len(found["items"])
    assert "Mar 16, 2027" not in days.partition("Days with their zones")[2], "the shut-down is no day of work"
    off = viewer.see(f"{path}/calendar?by=off")
    assert "Air test" in off and "Mar 16, 2027" in off and "Normal months" not in off


def test_hours_have_two_places_on_the_page_and_all_of_them_in_the_table(job: Job) -> None:
    """By hand: zone 3 has the set-up and touch hours of its 16 openings, which the API prints to six places."""
    path = planned(job)
    hours = [row["hours"] for row in job.api.get(f"/v1{path}/calendar").json()["zones"]]
    assert any(len(text.partition(".")[2]) > 2 for text in hours)
    viewer = job.person("viewer")
    for page in ("calendar", "calendar?by=days", "crew", "crew/1", "crew/2"):
        text = viewer.see(f"{path}/{page}").partition("<main")[2].partition("<h2>Cautions")[0]
        shown = re.sub(r"<svg.*?</svg>", "", text, flags=re.S)
        assert re.findall(r"\d\.\d{3,}", shown) == [], page


def test_a_climate_tells_its_months(job: Job) -> None:
    """Milwaukee's March is normally too cold for half a day of 40 °F (tests/core/test_site_calendar.py)."""
    path = planned(job, climate=climate_of("milwaukee-wi"))
    page = job.person("viewer").see(f"{path}/calendar?by=off")
    months = page.partition("Normal months")[2]
    assert re.search(r"March.*?not worked", months) and "April" in months
    assert "no forecast" in months


@pytest.mark.parametrize("role", sorted(Role.values))
def test_every_role_has_calendar_and_sheets_without_money(job: Job, role: str) -> None:
    path = planned(job)
    price = job.api.get(f"/v1{path}").json()["totals"]["price"]
    person = job.person(role)
    front = person.see(path)
    assert f"{float(price):,.2f}" in front
    for part in ("calendar", "crew", "crew/1"):
        if "/" not in part:
            assert f'href="{path}/{part}"' in front
        text = person.see(f"{path}/{part}").partition("<main")[2]
        assert f"{float(price):,.2f}" not in text and "USD" not in text and "$" not in text, part


def test_each_sheet_is_a_page_that_says_what_the_pdf_says(job: Job) -> None:
    path = planned(job)
    viewer = job.person("viewer")
    page = viewer.see(f"{path}/crew")
    assert re.findall(rf'href="{path}/crew/(\d+)"', page) == ["1", "2", "3"]
    assert f'href="/v1{path}/crew-sheet.pdf?first=1&last=3"' in page
    sheet = job.api.get(f"/v1{path}/crew?first=3&last=3").json()["items"][0]
    page = viewer.see(f"{path}/crew/3")
    assert "Zone 3: South" in page and f'href="{path}/crew/2"' in page and f'href="{path}/crew/4"' not in page
    for line in sheet["lines"]:
        assert f"{line['mark']}  {line['size']}" in page
    assert page.count("☐") >= sheet["openings"]
    assert all(one in page for one in (*sheet["weather"]["go"], *sheet["weather"]["no_go"], *sheet["cautions"]))
    assert viewer.client.get(f"/v1{path}/crew-sheet.pdf?first=3&last=3").content.startswith(b"%PDF")


@pytest.mark.parametrize("zone", ["0", "4", "x", "9" * 30, "²"])
def test_a_zone_that_is_not_there(job: Job, zone: str) -> None:
    job.person("viewer").see(f"{planned(job)}/crew/{zone}", 404)


def test_without_a_calendar_the_page_says_what_is_not_looked_at(job: Job) -> None:
    page = Visitor(job.person("estimator").client).see(f"/estimates/{job.estimate}/calendar")
    assert "No climate is given" in page and 'class="note mind"' in page and 'class="note stop"' not in page
