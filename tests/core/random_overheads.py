"""Random overheads tables: every step, on every base that the step may have."""

from __future__ import annotations

from typing import Any

from rates.core.steps import ROW_STEPS
from tests.core.random_chance import Chance

Document = dict[str, Any]
MOST = {"freight": 12, "sales_tax": 20, "small_tools": 6, "overhead": 25, "contingency": 8}


def tiers(chance: Chance) -> list[Document]:
    """One to three tiers, the first so low that small jobs cross it."""
    ends = ["2000", "10000.50"][: chance.whole(0, 2)]
    return [{"up_to": end, "percent": chance.number(0, 4, 2)} for end in [*ends, None]]


def shared_rows(chance: Chance) -> list[Document]:
    """Rows of the steps that may stand several times: a rate on any base, or an amount."""
    rows: list[Document] = []
    for step, most in MOST.items():
        for _ in range(chance.pick([0, 1, 1, 2])):
            rate, bases = chance.number(0, most, 3), ROW_STEPS[step].bases
            row: Document = {"step": step, "percent": rate, "on": chance.pick(bases)}
            if chance.maybe(0.2):
                row = {"step": step, "amount": chance.number(1, 250, 2)}
                if step == "overhead" and chance.maybe(0.6):
                    row = {"step": step, "amount": chance.number(0, 6, 2), "on": "paid_hours"}
            rows.append(row)
    return rows


def single_rows(chance: Chance) -> list[Document]:
    """Profit, bond, receipts tax, minimum and rounding up, each at most once."""
    rows: list[Document] = []
    if chance.maybe(0.8):
        margin = chance.maybe(0.5)
        on = chance.pick(["cost", "running"] if margin else ROW_STEPS["profit"].bases)
        kind = "margin" if margin else "markup"
        rows.append({"step": "profit", "kind": kind, "percent": chance.number(0, 30, 2), "on": on})
    if chance.maybe(0.6):
        rate = {"tiers": tiers(chance)} if chance.maybe(0.6) else {"percent": chance.number(0, 3, 3)}
        rows.append({"step": "bond", "on": "price"} | rate)
    if chance.maybe(0.4):
        rows.append({"step": "gross_receipts_tax", "percent": chance.number(0, 5, 3), "on": "price"})
    if chance.maybe(0.5):
        rows.append({"step": "minimum_charge", "amount": chance.number(100, 6000, 0)})
    if chance.maybe(0.5):
        rows.append({"step": "round_up_to", "amount": chance.pick(["1", "5", "10", "50", "100"])})
    return rows


def random_overheads(chance: Chance) -> list[Document]:
    """The rows in any order, with codes and now and then a cost code."""
    rows = chance.shuffled(shared_rows(chance) + single_rows(chance))
    codes = [None, None, "01 00 00"]
    for i, row in enumerate(rows):
        title = f"Invented {row['step'].replace('_', ' ')}"
        row |= {"code": f"row-{i}", "title": title, "cost_code": chance.pick(codes)}
    return rows
