"""The cautions that every output for a crew or a customer carries: those that fit the work, in our own words.

Common practice, no source. Each defers to the product data sheet, the local code and licensed practice.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from estimating.core.checks.access import stands_nm
from estimating.core.estimate import Estimate
from estimating.core.part import Part
from rates.core.units import LENGTH_NM

FALL_NM = 6 * LENGTH_NM["ft"]  # from which fall protection is asked for in US construction (from memory)
COLD = re.compile(r"cold|winter|frost|freez", re.IGNORECASE)
HOT = re.compile(r"hot|heat|summer", re.IGNORECASE)
DUSTY = frozenset({"cement_board", "cmu", "concrete"})
LADDERS = frozenset({"step_ladder", "ladder", "extension_ladder"})
SCAFFOLDS = frozenset({"rolling_scaffold", "frame_scaffold"})


@dataclass(frozen=True)
class Site:
    """What cautions depend on: where from the work is done, with what, on what, in which weather.

    high: whether anything is worked above 6 ft, or nobody says that nothing is.
    """

    access: frozenset[str]
    roles: frozenset[str]
    substrates: frozenset[str]
    temperatures: frozenset[str]
    high: bool


def works_high(part: Part) -> bool:
    """Whether a part works above 6 ft, its access or height unknown included."""
    return part.joints is not None or lines_high(part, part.plan.lines)


def lines_high(part: Part, indexes: Iterable[int]) -> bool:
    """Whether any of the lines of a part is worked above 6 ft, its access or height unknown included."""
    height = part.plan.card.production.storey_height_nm
    lines, kinds = part.conditions.request.schedule.lines, {k: work.kind for k, work in part.works.items()}
    told = {(line.kind, line.storey) for line in (lines[i] for i in indexes) if line.kind in kinds}
    if any(kind is not None and kinds[kind].access != "ground" for kind, _ in told):
        return True
    stand = [stands_nm(kinds[kind], storey, height) for kind, storey in told if kind is not None]
    return any(nm is not None and nm >= FALL_NM for nm in stand)


def site_of(estimate: Estimate) -> Site:
    """What an estimate says of its site."""
    parts = estimate.parts
    works = [work for part in parts for work in part.every_work]
    named = [part.conditions.temperature for part in parts]
    return Site(
        frozenset(work.access for work in works),
        frozenset(line.row.role for part in parts for line in part.materials),
        frozenset(work.substrate for work in works if work.substrate),
        frozenset(name for name in named if name),
        any(works_high(part) for part in parts),
    )


Fits = Callable[[Site], bool]
GOVERNED = (
    "The product data sheet, the local code and the licensed design professional govern; this prices what is drawn and "
    "does not say that an assembly complies."
)
DESIGNED = "Fire-rated and movement joints, pan design and vapour control belong to the design professional."
ALWAYS = (GOVERNED, DESIGNED)
FITTING: tuple[tuple[Fits, str], ...] = (
    (
        lambda site: site.high,
        "Working at height: fall protection as the local code asks; open rough openings guarded for people inside.",
    ),
    (
        lambda site: bool(site.access & LADDERS),
        "Ladders: firm footing, tied off, and both hands free to hold on while climbing.",
    ),
    (
        lambda site: bool(site.access & SCAFFOLDS),
        "Scaffolds: put up and inspected by a competent person, with guardrails and full decks; casters locked.",
    ),
    (
        lambda site: "lift" in site.access,
        "Lifts: trained operators, harness and lanyard as the maker and the local code ask, firm level ground.",
    ),
    (
        lambda site: "swing_stage" in site.access,
        "Swing stages: rigged and inspected by a competent person, trained crews of two or more, each person on a "
        "lifeline of their own, no work in wind above the maker's limit.",
    ),
    (
        lambda site: "primer" in site.roles,
        "Primers: those with solvent can catch fire; ventilation, no flame or spark, respirators as the safety data "
        "sheet says.",
    ),
    (
        lambda site: bool(site.roles & {"liquid", "sealant"}),
        "Fluids and sealants: gloves, ventilation and respirators as the safety data sheet says; isocyanates can "
        "sensitize.",
    ),
    (
        lambda site: bool(site.substrates & DUSTY),
        "Cutting or drilling cement board, block or concrete raises silica dust: wet or with suction, respirators as "
        "the local code asks.",
    ),
    (
        lambda site: any(COLD.search(name) for name in site.temperatures),
        "Cold: nothing goes on frost or below the data sheet's lowest temperature; heaters give off carbon monoxide; "
        "mind cold stress.",
    ),
    (
        lambda site: any(HOT.search(name) for name in site.temperatures),
        "Heat: water, shade and rest against heat stress; nothing goes on above the data sheet's highest temperature.",
    ),
    (
        lambda site: bool(site.roles & {"liquid", "tape", "sealant"}),
        "Surfaces dry, free of frost, above the data sheet's lowest temperature and its margin over the dew point; no "
        "rain inside the drying time.",
    ),
)


def cautions(estimate: Estimate) -> list[str]:
    """Who governs, what fits the work, who designs."""
    return cautions_of(site_of(estimate))


def cautions_of(site: Site) -> list[str]:
    """Those that fit a site."""
    return [GOVERNED, *(sentence for fits, sentence in FITTING if fits(site)), DESIGNED]
