"""Pictures are sound SVG with every figure as text, and their table behind them sums as they do."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from estimating.outputs.pictures.build_up import build_up_figure
from estimating.outputs.pictures.causes import causes_figure
from estimating.outputs.pictures.job_progress import Day, progress_figure
from estimating.outputs.pictures.of_documents import picture_of_break_even, picture_of_hours
from estimating.outputs.pictures.price_over_time import Point, price_figure
from estimating.outputs.printed.blocks import Figure
from rates.core.fraction import Fraction

SVG = "{http://www.w3.org/2000/svg}"
# the worked example of README: its build-up, and the price
STEPS = [("Labour", 605_65), ("Materials", 414_00), ("Freight", 16_56), ("Sales tax", 30_02), ("Equipment", 185_00),
         ("Small tools", 18_17), ("Overhead", 152_33), ("Contingency", 42_65), ("Profit", 162_71), ("Bond", 24_78),
         ("Minimum charge", 0), ("Rounding", 3_13)]  # fmt: skip
CAUSES = [("openings", 278_78), ("rates", 66_34), ("method", -586_70), ("overheads <&>", -30_24)]
POINTS = [Point("estimate 1", "2027-01-02", 1923_25), Point("quote 2", "2027-02-03", 1651_43, CAUSES)]


def texts(figure: Figure) -> list[str]:
    """Every text of the picture."""
    return [element.text or "" for element in ElementTree.fromstring(figure.svg).iter(f"{SVG}text")]


def test_the_build_up_sets_each_step_on_the_sum_before_it() -> None:
    figure = build_up_figure(STEPS, "USD")
    bars = [e for e in ElementTree.fromstring(figure.svg).iter(f"{SVG}rect") if e.get("stroke") == "#222"]
    assert len(bars) == len(STEPS) + 1
    assert figure.table.last == ("Price", "", "1,655.00") and figure.table.rows[-1] == ("Rounding", "3.13", "1,655.00")
    assert set(texts(figure)) >= {"605.65", "0.00", "1,655.00", "Labour", "Price"}
    ends = [int(e.get("x") or 0) + int(e.get("width") or 0) for e in bars]
    starts = [int(e.get("x") or 0) for e in bars]
    assert all(abs(end - start) <= 1 for end, start in zip(ends, starts[1:-1], strict=False)), "bar on bar"
    assert starts[-1] == starts[0] and abs(ends[-1] - ends[-2]) <= 1, "the price is all of it"


def test_causes_go_left_and_right_with_sign_and_hatching() -> None:
    figure = causes_figure(CAUSES, "USD")
    assert figure.table.last == ("Change", "−271.82")
    assert set(texts(figure)) >= {"+278.78", "−586.70", "overheads <&>", "−271.82"}
    fills = [e.get("fill") for e in ElementTree.fromstring(figure.svg).iter(f"{SVG}rect") if e.get("stroke") == "#222"]
    assert fills == ["#444", "#444", "url(#less)", "url(#less)", "url(#less)"]


def test_prices_over_time_name_their_main_cause_and_the_table_has_all() -> None:
    figure = price_figure(POINTS, "USD")
    assert set(texts(figure)) >= {"1,923.25", "1,651.43", "quote 2", "method −586.70"}
    assert any("not at 0" in text for text in texts(figure)), "an axis that is cut says so"
    assert [row[3] for row in figure.table.rows] == ["", *(name for name, _ in CAUSES)]


@pytest.mark.parametrize(
    "figure",
    [build_up_figure([], "USD"), causes_figure([], "JPY"), price_figure([], "USD"), price_figure(POINTS[:1], "KWD")],
)
def test_nothing_to_show_is_no_fault(figure: Figure) -> None:
    root = ElementTree.fromstring(figure.svg)
    assert root.find(f"{SVG}title") is not None and root.find(f"{SVG}desc") is not None
    assert root.get("role") == "img" and root.get("aria-label")


def test_no_picture_reaches_out() -> None:
    for figure in (build_up_figure(STEPS, "USD"), causes_figure(CAUSES, "USD"), price_figure(POINTS, "USD")):
        assert "href" not in figure.svg and "script" not in figure.svg


def test_hours_by_elevation_sum_and_name_what_stands_nowhere() -> None:
    places = [("North", 10, "5"), ("", 4, "2.94")]
    rows = [
        {"by": "elevation", "name": name, "what": "place" if name else "not_stated", "openings": count, "hours": h}
        for name, count, h in places
    ]
    figure = picture_of_hours([*rows, {"by": "storey", "name": "1", "what": "place", "openings": 14, "hours": "7.94"}])
    assert figure is not None and figure.table.last == ("Sum", "14", "7.94")
    assert [row[0] for row in figure.table.rows] == ["North", "no elevation named"]
    assert set(texts(figure)) >= {"5.00 h, 10 openings", "7.94 h, 14 openings", "no elevation named"}
    assert picture_of_hours(rows[:1]) is None, "one elevation is no picture"


# by hand: F = 400.00 and 50.00 for each opening meet a bid of 1,000.00 at (1000 − 400) ÷ 50 = 12 openings
PER_AREA = {"fixed_price": "400", "price_each": "50", "stated_price": "1000.00", "break_even_openings": "12"}


@pytest.mark.parametrize(
    ("openings", "here", "verdict"),
    [(16, "This job has 16, more.", "gives money away"), (6, "This job has 6, fewer.", "asks too much")],
)
def test_break_even_stands_where_both_bids_meet(openings: int, here: str, verdict: str) -> None:
    figure = picture_of_break_even(PER_AREA, openings, "USD")
    assert figure is not None and "equal at 12 openings" in figure.words and here in figure.words
    rows = {row[0]: row[1:] for row in figure.table.rows}
    assert rows["12"] == ("1,000.00", "1,000.00", "equal")
    assert rows[str(openings)][2] == f"{verdict}; this job"
    ring = next(ElementTree.fromstring(figure.svg).iter(f"{SVG}circle"))
    flat, rising = paths(figure)
    x1, y1, x2, y2 = rising
    on_line = y1 + (int(ring.get("cx") or 0) - x1) * (y2 - y1) / (x2 - x1)
    assert abs(on_line - int(ring.get("cy") or 0)) <= 1.5 and int(ring.get("cy") or 0) == flat[1]


def paths(figure: Figure) -> tuple[list[int], list[int]]:
    """The level line of the bid per area; the ends of that per opening."""
    thick = [
        e.get("d") or "" for e in ElementTree.fromstring(figure.svg).iter(f"{SVG}path") if e.get("stroke-width") == "3"
    ]
    level = next(d for d in thick if "H" in d)
    rising = next(d for d in thick if "L" in d)
    return [int(n) for n in re.findall(r"\d+", level)], [int(n) for n in re.findall(r"\d+", rising)]


def test_earned_and_spent_end_where_their_figures_are_told() -> None:
    days = [Day("2026-03-02", Fraction("2.5"), Fraction(3)), Day("2026-03-03", Fraction(6), Fraction(7))]
    figure = progress_figure(days, Fraction("9.0025"))
    assert set(texts(figure)) >= {"earned 6.00 h", "spent 7.00 h", "9.00", "target", "2026-03-02"}
    assert figure.table.rows[-1] == ("2026-03-03", "6.00", "7.00")
    dashed = [e for e in ElementTree.fromstring(figure.svg).iter(f"{SVG}path") if e.get("stroke-dasharray") == "9 5"]
    assert len(dashed) == 1, "spent is told from earned without colour"


@pytest.mark.parametrize("missing", ["stated_price", "price_each"])
def test_without_a_stated_rate_nothing_breaks_even(missing: str) -> None:
    assert picture_of_break_even(PER_AREA | {missing: None}, 3, "USD") is None
