"""The random cases: the same for the same seed, costed without a fault, and between them everything that can occur."""

from __future__ import annotations

from collections.abc import Iterator

from estimating.core.estimate import Estimate
from estimating.core.part import Part
from estimating.core.work import KindWork
from rates.core.production import SHAPES
from rates.core.rows import OverheadRow
from rates.core.steps import ROW_STEPS
from rates.core.tables import ROLES
from tests.core.random_estimates import random_case, random_estimate

SEEDS = range(200)
LEARNING = ("none", "exponential", "unit_curve", "cumulative_average")
METHODS = ("fluid", "tape")


def of_work(work: KindWork) -> Iterator[str]:
    """What one kind shows."""
    yield f"{work.kind.method} {work.kind.shape.name}"
    yield f"sill {work.kind.sill.kind if work.kind.sill else 'unknown'}"
    if work.bead_nm:
        yield "seal"
    if work.choice.extra_strips:
        yield "several strips"
    yield from (f"factor {name}" for name in work.factors)
    yield from (f"addend {name}" for name in work.minutes)
    if work.opening_minutes is work.production.penetration_minutes:
        yield "addend penetration"


def of_part(part: Part) -> Iterator[str]:
    """What one part shows."""
    for work in part.works.values():
        yield from of_work(work)
    for line in part.materials:
        yield f"waste {line.waste.kind}"
        yield f"role {line.row.role}"
        yield "used" if line.as_used else f"bought in {min(2, len(line.mix.counts))}"
        if line.stock > 0:
            yield "stock"
    for rental in part.equipment:
        yield f"rented by {min(2, len(rental.mix.counts))}"
    if part.joints is not None:
        yield f"joints by {part.joints.method}"
    if part.hours.learning_factor != 1:
        yield f"learning {part.plan.card.production.learning.model}"
    if part.hours.idle_minutes:
        yield "idle charged"
    if len(part.crew.rates) > 1:
        yield "mixed crew"


def of_row(row: OverheadRow) -> Iterator[str]:
    """What one overheads row shows."""
    yield f"{row.step} on {row.on}" if row.rate is not None else f"{row.step} amount"
    if row.tiers:
        yield f"{len(row.tiers)} tiers"
    if row.kind:
        yield row.kind


def shown(estimate: Estimate) -> set[str]:
    """Everything that one estimate shows."""
    request, till = estimate.request, estimate.till
    found = {till.currency, till.rounding, request.allocate_by, f"{min(2, len(estimate.parts))} parts"}
    found |= {x for part in estimate.parts for x in of_part(part)}
    found |= {x for row in estimate.card.overheads for x in of_row(row)}
    for line in request.schedule.lines:
        found.add("alternate" if line.alternate else line.reason or f"quantity {min(1, line.quantity)}")
    found |= {line.step for line in estimate.up.lines if line.amount_minor}
    return found | {"nothing" if not estimate.up.price_minor else "price"}


def expected() -> set[str]:
    """Everything that must be shown."""
    found = {f"{method} {shape}" for method in METHODS for shape in SHAPES}
    found |= {f"sill {kind}" for kind in ("unknown", "flat", "sloped", "pan", "threshold")}
    found |= {f"learning {model}" for model in LEARNING if model != "none"}
    found |= {f"factor {name}" for name in ("access", "height", "temperature", "congestion", "rework", "pair")}
    found |= {f"addend {name}" for name in ("plain", "shape", "depth", "sill", "extra_strips", "seal", "penetration")}
    found |= {f"role {role}" for role in ROLES} | {"waste added", "waste lost", "stock", "used", "bought in 2"}
    found |= {"rented by 1", "rented by 2", "joints by fluid", "joints by tape", "idle charged", "mixed crew"}
    found |= {f"{step.name} on {base}" for step in ROW_STEPS.values() for base in step.bases if step.name != "bond"}
    found |= {"bond on price", "markup", "margin", "2 tiers", "3 tiers", "overhead amount", "freight amount"}
    found |= {"USD", "EUR", "JPY", "KWD", "half_up", "half_even", "own_use", "touch_minutes", "1 parts", "2 parts"}
    found |= {"alternate", "by others", "interior", "quantity 0", "seal", "several strips", "nothing"}
    return found | {"subcontracts", "allowances", "bond", "gross_receipts_tax", "minimum_charge", "round_up_to"}


def test_the_same_seed_gives_the_same_documents() -> None:
    assert random_case(7) == random_case(7)
    assert random_case(7) != random_case(8)


def test_every_case_is_costed_and_together_they_show_everything() -> None:
    found: set[str] = set()
    for seed in SEEDS:
        found |= shown(random_estimate(seed))
    assert expected() <= found, expected() - found
