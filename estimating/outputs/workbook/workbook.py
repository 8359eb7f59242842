"""The sheets of an estimate's workbook, in the order in which they are read."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from estimating.core.estimate import Estimate
from estimating.outputs.workbook.build_up_sheet import BUILD_UP, CODES, BuildUpSheet
from estimating.outputs.workbook.kinds_sheet import KINDS, LINES, KindsSheet
from estimating.outputs.workbook.lines_sheet import LINE_PRICE, LinesSheet
from estimating.outputs.workbook.marks_sheet import MARKS, PRICE, MarksSheet
from estimating.outputs.workbook.placing import HOURS, RATES, WORKINGS, Figures
from estimating.outputs.workbook.references import stretch
from estimating.outputs.workbook.rows_sheets import sheets_of_rows
from rates.core.fraction import Fraction
from rates.core.grid import Cells, Computed

SUMMARY = "Summary"
SHOWN = (
    "price", "cost", "direct_cost", "markup_percent", "margin_percent", "openings", "price_per_opening", "perimeter",
    "treated_area", "hours.standard", "hours.paid", "crew_days",
)  # fmt: skip
WORDS = (
    "Each amount is a formula of the cells it follows from, rounded as the edition says. Rates and what the request "
    "states stand on the sheet Rates; a value changed there moves every sum that stands on it.",
    "Numbers without a formula were computed by the service: geometry, learning, idle time between coats, and how many "
    "packs or periods cost least. They do not move with the rates. The estimate itself never changes.",
)


def workbook(estimate: Estimate, facts: Mapping[str, str], cautions: Sequence[str]) -> dict[str, list[Cells]]:
    """Sheets by name; facts: what the estimate is of, for its head; cautions: as its document has them."""
    figures = Figures(estimate)
    kinds = KindsSheet(figures)
    rows_sheets = tuple(sheets_of_rows(figures))
    for part in estimate.parts:
        figures.reference(f"{part.conditions.prefix}hours.standard")
    up = BuildUpSheet(figures)
    marks = MarksSheet(figures, kinds)
    made = {BUILD_UP: up.sheet()}
    made |= {rows.name: rows.sheet() for rows in rows_sheets}
    made |= {KINDS: kinds.sheet(), LINES: LinesSheet(kinds, marks).sheet(), MARKS: marks.sheet()}
    made[CODES] = up.codes_sheet()
    summary = summary_rows(figures, kinds, marks, facts, cautions)
    ordered = [BUILD_UP, HOURS, *(rows.name for rows in rows_sheets), KINDS, LINES, MARKS, CODES, WORKINGS, RATES]
    return {SUMMARY: summary} | {name: (made | figures.rows)[name] for name in ordered}


def summary_rows(
    figures: Figures, kinds: KindsSheet, marks: MarksSheet, facts: Mapping[str, str], cautions: Sequence[str]
) -> list[Cells]:
    """What is estimated, its totals, that the parts sum to the price, what to know of the workbook, cautions."""
    rows: list[Cells] = [["Estimate", "", ""]]
    rows += ([name, text] for name, text in facts.items() if text)
    rows.append([])
    rows += [total(figures, name) for name in SHOWN if has(figures, name)]
    price, places = figures.reference("price"), figures.money_places
    codes = stretch(CODES, 2, 2, max(2, len(figures.estimate.up.lines) + 1))
    for title, cells in (
        ("Marks less price", marks.column(PRICE)),
        ("Lines less price", kinds.line_cells(LINE_PRICE)),
        ("Cost codes less price", codes),
    ):
        if title != "Lines less price" or sums_to_price(figures.estimate):
            rows.append([title, figures.money(Fraction(0), f"ROUND(SUM({cells})-{price},{places})"), figures.currency])
    for texts in (WORDS, ("Cautions", *cautions)):
        rows.append([])
        rows += ([text] for text in texts)
    return rows


def has(figures: Figures, name: str) -> bool:
    """Whether the estimate has a figure."""
    try:
        figures.register.find(name)
    except KeyError:
        return False
    return True


def sums_to_price(estimate: Estimate) -> bool:
    """Whether all of the price is on lines: joints and a price of nothing are on none."""
    return sum(estimate.allocation.line_prices) == estimate.up.price_minor


def total(figures: Figures, name: str) -> Cells:
    """A figure of the job by its place in the other sheets."""
    node, found = figures.register.node(name), figures.content(name)
    assert isinstance(found, Computed)
    return [str(node.title), replace(found, formula=figures.reference(name)), figures.unit_word(node)]
