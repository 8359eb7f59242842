"""The calendar as a picture: sound XML, a bar for each stretch of days, nothing over its neighbour, any length."""

from __future__ import annotations

import xml.etree.ElementTree as ElementTree
from datetime import date, timedelta

import pytest

from estimating.outputs.calendar_answer import calendar_answer
from estimating.outputs.pictures.site_calendar import LEFT, calendar_picture
from tests.core.invented import Document, costed, opening, request
from tests.core.test_site_calendar import MILWAUKEE

SVG = "{http://www.w3.org/2000/svg}"


def drawn(document: Document) -> tuple[Document, ElementTree.Element]:
    """The calendar of a request, and its picture read by an XML parser."""
    answer = calendar_answer(costed(document))
    return answer, ElementTree.fromstring(calendar_picture(answer, "Calendar: <Clinic> & more"))


def bars(svg: ElementTree.Element, fill: str) -> list[tuple[int, int, int]]:
    """(y, x, width) of the bars of a fill in the calendar, without those of the legend, which come last."""
    found = [rect for rect in svg.iter(f"{SVG}rect") if rect.get("fill") == fill and rect.get("stroke")]
    return [(int(r.get("y", 0)), int(r.get("x", 0)), int(r.get("width", 0))) for r in found][:-1]


def stretches(days: set[date]) -> int:
    """How many stretches of days one after the other."""
    return sum(day - timedelta(days=1) not in days for day in days)


def test_a_bar_for_each_stretch_of_days_and_hatching_where_nobody_works() -> None:
    hold = {"first": "2027-03-17", "last": "2027-03-17", "reason": "held"}
    lines = [opening("A", 64, elevation="North & <east>"), opening("B", 16, elevation="South")]
    answer, svg = drawn(request(*lines, calendar={"days_off": [hold]}))
    worked = {date.fromisoformat(row["date"]) for row in answer["items"] if row["zone"] == 1}
    rows = bars(svg, "#444")
    assert len({y for y, _, _ in rows}) == 2
    assert len([y for y, _, _ in rows if y == rows[0][0]]) == stretches(worked) == 2
    assert len(bars(svg, "url(#less)")) == 1
    texts = [text.text for text in svg.iter(f"{SVG}text")]
    assert "North & <east>" in texts and "Mar 15, 2027" in texts
    assert svg.get("aria-label", "").startswith("Calendar. Calendar: <Clinic> & more: 5 working days")


@pytest.mark.parametrize("openings", [1, 16, 400, 20_000])
def test_pictures_of_any_length_keep_their_parts_apart(openings: int) -> None:
    """Names of forty characters, one zone for each up to 400; dates never over each other, all within the picture."""
    zones = min(openings, 400)
    lines = [
        opening(f"W{i}", openings // zones, elevation=f"Elevation of forty characters, number {i:03}")
        for i in range(zones)
    ]
    _, svg = drawn(request(*lines, calendar={"climate": MILWAUKEE}))
    width, height = int(svg.get("width", 0)), int(svg.get("height", 0))
    rows = bars(svg, "#444")
    assert len({y for y, _, _ in rows}) == zones
    for y, x, wide in rows:
        assert LEFT <= x and x + wide <= width and y < height
    tops: dict[str, list[int]] = {}
    for text in svg.iter(f"{SVG}text"):
        tops.setdefault(text.get("y", ""), []).append(int(text.get("x", 0)))
    dates = sorted(tops["30"])
    assert all(later - earlier >= 40 for earlier, later in zip(dates, dates[1:], strict=False))
    assert all(x + 40 <= width for x in dates)


def test_nothing_planned_is_said() -> None:
    _, svg = drawn(request())
    assert [text.text for text in svg.iter(f"{SVG}text")] == ["No day of work is planned."]
