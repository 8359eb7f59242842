"""The steps of a build-up from labour to price: each defined once, in their order.

What a step's row may state, on which bases, how often it stands, how the build-up places it and how its money is shared
over marks follow from here: for the field table of overheads, its checks, the build-up, report, derivation and HTTP
description alike.
"""

from __future__ import annotations

from dataclasses import dataclass

# The stages of a build-up in their order.
DIRECT, MARK_UP, PROFIT = "direct", "mark_up", "profit"
UNMARKED, CONTAINED, CLOSING = "unmarked", "contained", "closing"
# How own use shares a direct step over marks; what stands above direct cost follows it in proportion.
BY_USE, WITH_MATERIALS, WITH_TAXABLE, BY_ACCESS = "by_use", "with_materials", "with_taxable", "by_access"
BY_MINUTES, BY_MINUTES_OF_JOB, IN_PROPORTION = "by_minutes", "by_minutes_of_job", "in_proportion"
# What a percentage may stand on: (words, the steps that it sums; None for what is said beside it).
OF_PART = ("labour", "materials", "equipment", "running")
DIRECT_BASES = (*OF_PART, "taxable_materials")
UPPER_BASES = (*OF_PART, "direct_cost", "direct_cost_and_overhead")
BASE_WORDS = {
    "labour": "labour",
    "materials": "materials",
    "taxable_materials": "taxable materials",
    "equipment": "equipment",
    "direct_cost": "direct cost",
    "direct_cost_and_overhead": "direct cost and overhead",
    "running": "everything above",
    "cost": "cost",
    "price": "price",
}


@dataclass(frozen=True)
class BuildStep:
    """One step.

    takes: what a row of it states, one of percent, amount, tiers; empty for a step that has no rows of its own (of the
    crew, of the tables, of the request). bases: of its percentage; amount_bases: what its amount may be for each of.
    once: whether it stands at most once. base_stated: whether a percentage names its base (else it is on the price).
    shared: how own use shares it. invoiced: whether what is paid for a material holds it already, so that time and
    material doesn't add it again.
    """

    name: str
    stage: str
    takes: tuple[str, ...] = ()
    bases: tuple[str, ...] = ()
    amount_bases: tuple[str, ...] = ()
    once: bool = False
    base_stated: bool = True
    shared: str = IN_PROPORTION
    invoiced: bool = False

    @property
    def words(self) -> str:
        """As people read it."""
        return self.name.replace("_", " ").capitalize()


PERCENT_OR_AMOUNT = ("percent", "amount")
# What an amount may be paid for each of, by the word for one of them.
COUNTED = {
    "paid_hours": "paid hour",
    "mobilisations": "mobilisation",
    "worker_days": "worker-day",
    "return_trips": "return trip",
}
SITE_COUNTS = tuple(COUNTED)
STEPS = (
    BuildStep("labour", DIRECT, shared=BY_MINUTES),
    BuildStep("materials", DIRECT, shared=BY_USE),
    BuildStep("freight", DIRECT, PERCENT_OR_AMOUNT, DIRECT_BASES, shared=WITH_MATERIALS, invoiced=True),
    BuildStep("sales_tax", DIRECT, PERCENT_OR_AMOUNT, DIRECT_BASES, shared=WITH_TAXABLE, invoiced=True),
    BuildStep("equipment", DIRECT, shared=BY_ACCESS),
    BuildStep("small_tools", DIRECT, PERCENT_OR_AMOUNT, DIRECT_BASES, shared=BY_MINUTES),
    BuildStep("travel", DIRECT, ("amount",), (), SITE_COUNTS, shared=BY_MINUTES),
    BuildStep("per_diem", DIRECT, ("amount",), (), SITE_COUNTS, shared=BY_MINUTES),
    BuildStep("return_trips", DIRECT, ("amount",), (), SITE_COUNTS, shared=BY_MINUTES),
    BuildStep("subcontracts", DIRECT, shared=BY_MINUTES_OF_JOB),
    BuildStep("overhead", MARK_UP, PERCENT_OR_AMOUNT, UPPER_BASES, ("paid_hours",)),
    BuildStep("contingency", MARK_UP, PERCENT_OR_AMOUNT, UPPER_BASES),
    BuildStep("profit", PROFIT, ("percent",), (*UPPER_BASES, "cost"), once=True),
    BuildStep("allowances", UNMARKED),
    BuildStep("bond", CONTAINED, ("percent", "tiers"), ("price",), once=True, base_stated=False),
    BuildStep("gross_receipts_tax", CONTAINED, ("percent",), ("price",), once=True, base_stated=False),
    BuildStep("minimum_charge", CLOSING, ("amount",), once=True),
    BuildStep("round_up_to", CLOSING, ("amount",), once=True),
)
STEP = {step.name: step for step in STEPS}
ORDER = tuple(STEP)
ROW_STEPS = {step.name: step for step in STEPS if step.takes}
ALL_BASES = tuple(dict.fromkeys(base for step in STEPS for base in (*step.bases, *step.amount_bases)))


def steps_of(*stages: str) -> tuple[str, ...]:
    """The names of the steps of some stages, in order."""
    return tuple(step.name for step in STEPS if step.stage in stages)


# The steps that a base sums: those of one name, or of a stage.
SUMMED = {
    "labour": ("labour",),
    "materials": ("materials",),
    "equipment": ("equipment",),
    "direct_cost": steps_of(DIRECT),
    "direct_cost_and_overhead": (*steps_of(DIRECT), "overhead"),
}
# The sums that the build-up passes, by what they are called: everything up to the end of a stage.
PASSED = {"direct_cost": steps_of(DIRECT), "cost": steps_of(DIRECT, MARK_UP)}
