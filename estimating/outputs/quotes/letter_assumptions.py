"""What a customer reads of the assumptions: those of the drawings and the site, none of the office's own reckoning."""

from __future__ import annotations

from collections.abc import Sequence

from estimating.core.checks.wording import listed
from estimating.outputs.assumptions.item import DEFAULT, REQUEST
from estimating.outputs.assumptions.words import value_said
from estimating.outputs.quotes.prepared import Assumed

# field -> what is taken for all openings, by its value
OF_ALL = {
    "method": "{}",
    "treated_depth": "treated {} deep",
    "sides": "{} treated",
    "shape": "{}",
    "external": "in an {} wall",
    "substrate": "on {}",
    "wall_barrier": "water-resistive barrier {}",
    "access": "reached {}",
    "seal": "perimeter {}",
}
# field -> sentences by value, for a customer; the estimate's own speak to whoever entered it
OF_JOB = {
    ("mobilisations", "1"): "The crew comes and sets up once.",
    ("only_external", "no"): "Openings known to be interior are in the price.",
}
NOT_TOLD = "not told"  # a value whose sentence says what is priced in its place
OTHERS = ("kind", "mobilisations", "only_external", "size_basis")


def said(field: str, value: str) -> str:
    """A value as the sentence has it."""
    if field == "sides" and value != "all":
        return listed(value.split(", "))
    return "rectangular" if (field, value) == ("shape", "rectangle") else value_said(field, value)


def told_assumptions(items: Sequence[Assumed], openings: int) -> tuple[str, ...]:
    """Sentences; what is taken for all of so many openings stands in one."""
    told = [item for item in items if item.source in (DEFAULT, REQUEST) and item.field in (*OF_ALL, *OTHERS)]
    values = {
        item.field: item.value
        for item in told
        if item.field in OF_ALL and item.openings == openings and item.value != NOT_TOLD
    }
    taken = [words.format(said(field, values[field])) for field, words in OF_ALL.items() if field in values]
    rest = [OF_JOB.get((item.field, item.value), item.sentence) for item in told if item.field not in values]
    return (*([f"Taken for all openings: {'; '.join(taken)}."] if taken else ()), *rest)
