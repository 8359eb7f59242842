"""A cause of a change in price in one sentence that a principal reads out; for sales without what tells of costs."""

from __future__ import annotations

from collections.abc import Sequence

from estimating.compared.openings import told
from rates.core.exact import with_commas

SINGULAR = {
    "productivity": "Productivity",
    "method": "The method",
    "calendar": "The calendar",
}
PLURAL = {
    "openings": "The openings",
    "rates": "The rates",
    "overheads_and_profit": "Overheads and profit",
    "packs_and_rounding": "Whole packs, whole rental days, the minimum charge and rounding up",
}


def cause_sentence(cause: str, amount: str, parts: Sequence[str], changed: bool = True) -> str:
    """`amount` as printed; parts: what changed, each as a phrase. changed: whether anything did, told or not."""
    subject, ends = (SINGULAR[cause], "s") if cause in SINGULAR else (PLURAL[cause], "")
    if not changed:
        return f"{subject} {'is' if ends else 'are'} as before."
    moved = with_commas(amount.removeprefix("-"))
    if not amount.strip("-0."):
        effect = f"leave{ends} the price as it is"
    else:
        effect = f"{'lower' if amount.startswith('-') else 'raise'}{ends} the price by {moved}"
    return f"{subject} {effect}{': ' + told(parts) if parts else ''}."
