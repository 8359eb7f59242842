"""Random overheads tables: every step, on every base that the step may have."""

from __future__ import annotations

from typing import Any

from rates.core.steps import ROW_STEPS, BuildStep
from tests.core.random_chance import Chance

Document = dict[str, Any]
# percent; any other step up to SOME
MOST = {"freight": 12, "sales_tax": 20, "small_tools": 6, "overhead": 25, "contingency": 8}
SOME = 5
# steps whose rows say more than a rate or an amount, or stand at amounts of another size
OF_THEIR_OWN = ("profit", "bond", "gross_receipts_tax", "minimum_charge", "round_up_to")


def tiers(chance: Chance) -> list[Document]:
    """One to three tiers, the first so low that small jobs cross it."""
    ends = ["2000", "10000.50"][: chance.whole(0, 2)]
    return [{"up_to": end, "percent": chance.number(0, 4, 2)} for end in [*ends, None]]


def rate_or_amount(chance: Chance, step: BuildStep) -> Document:
    """A row of one step: a rate on any of its bases, or an amount."""
    if "percent" in step.takes and ("amount" not in step.takes or chance.maybe(0.8)):
        rate = chance.number(0, MOST.get(step.name, SOME), 3)
        return {"step": step.name, "percent": rate, "on": chance.pick(step.bases)}
    if step.amount_bases and chance.maybe(0.6):
        return {"step": step.name, "amount": chance.number(0, 6, 2), "on": chance.pick(step.amount_bases)}
    return {"step": step.name, "amount": chance.number(1, 250, 2)}


def plain_rows(chance: Chance) -> list[Document]:
    """Rows of every step that states a rate or an amount, none to two of each, one where it stands once."""
    steps = [step for step in ROW_STEPS.values() if step.name not in OF_THEIR_OWN]
    counts = [chance.pick([0, 1] if step.once else [0, 1, 1, 2]) for step in steps]
    return [rate_or_amount(chance, step) for step, count in zip(steps, counts, strict=True) for _ in range(count)]


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
    """The rows in any order, with codes and now and then a cost code.

    Of a chance of their own, so that a step that comes later moves nothing else that the same seed gives.
    """
    chance = Chance(chance.whole(0, 10**9))
    rows = chance.shuffled(single_rows(chance) + plain_rows(chance))
    codes = [None, None, "01 00 00"]
    for i, row in enumerate(rows):
        title = f"Invented {row['step'].replace('_', ' ')}"
        row |= {"code": f"row-{i}", "title": title, "cost_code": chance.pick(codes)}
    return rows
