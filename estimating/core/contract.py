"""What a contract comes to: the award and the change orders agreed since, and what else stands open beside it.

A change order's price counts in one place alone, by its state; so contract and exposure and what was withdrawn are the
awards and every price that was proposed, whatever was agreed first.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

PROPOSED, DIRECTED, AGREED, DISPUTED, WITHDRAWN = "proposed", "directed", "agreed", "disputed", "withdrawn"
EXPOSED = (PROPOSED, DIRECTED, DISPUTED)  # asked for or begun, and not agreed
STATES = (*EXPOSED, AGREED, WITHDRAWN)
NEXT = {  # what may follow a state; what is agreed or withdrawn stays
    PROPOSED: (DIRECTED, AGREED, DISPUTED, WITHDRAWN),
    DIRECTED: (AGREED, DISPUTED, WITHDRAWN),
    DISPUTED: (DIRECTED, AGREED, WITHDRAWN),
    AGREED: (),
    WITHDRAWN: (),
}


@dataclass(frozen=True)
class Counted:
    """A change order as it counts: its state and its price in minor units, None while it has none."""

    state: str
    price_minor: int | None

    @property
    def contract_minor(self) -> int:
        """What it adds to the contract."""
        return self.price_minor or 0 if self.state == AGREED else 0

    @property
    def exposure_minor(self) -> int:
        """What it would add, and is not agreed."""
        return self.price_minor or 0 if self.state in EXPOSED else 0


@dataclass(frozen=True)
class Standing:
    """A contract on a day, in minor units. by_state: Σ prices of its change orders.

    unpriced: open change orders without a price.
    contract = awarded + agreed; exposure = proposed + directed + disputed.
    """

    awarded_minor: int
    by_state: dict[str, int]
    unpriced: int

    @property
    def contract_minor(self) -> int:
        """What the customer owes for the work as it is agreed now."""
        return self.awarded_minor + self.by_state[AGREED]

    @property
    def exposure_minor(self) -> int:
        """What is asked for and not agreed."""
        return sum(self.by_state[state] for state in EXPOSED)


def standing(awarded_minor: int, orders: Iterable[Counted]) -> Standing:
    """The contract of these awards and change orders."""
    sums, unpriced = dict.fromkeys(STATES, 0), 0
    for order in orders:
        sums[order.state] += order.price_minor or 0
        unpriced += order.price_minor is None and order.state in EXPOSED
    return Standing(awarded_minor, sums, unpriced)
