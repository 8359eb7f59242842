"""Checks of access: how high it reaches, what it is rented from, who works on a stage."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from estimating.core.checks.bands import REACH_NM
from estimating.core.checks.case import Case, Rates, Work
from estimating.core.checks.wording import FROM, JOINTS, length, listed, marks
from estimating.core.kinds import Kind
from rates.core.fraction import Fraction
from rates.core.rows import EquipmentRow

ABOVE_A_LADDER = ("rolling_scaffold", "frame_scaffold", "lift", "swing_stage")
STOREY = re.compile(
    r"(?:(?:level|lvl|l|storey|story|floor|fl|f)[ .#-]*)?"
    r"0*([1-9][0-9]{0,2})"
    r"(?:st|nd|rd|th)?(?: (?:floor|storey|story|level))?"
)


@lru_cache(maxsize=10_000)
def storey_number(storey: str) -> int | None:
    """A storey's number where its name is one: 3, L3, Level 3, 3rd floor."""
    found = STOREY.fullmatch(" ".join(storey.split()).casefold())
    return int(found[1]) if found else None


def stands_nm(kind: Kind, storey: str, storey_height_nm: Fraction) -> Fraction | None:
    """How high it stands above grade: as told, else by the number of its storey from the second on; None unknown."""
    if kind.height_above_grade_nm is not None:
        return kind.height_above_grade_nm
    number = storey_number(storey)
    return None if number is None or number < 2 else (number - 1) * storey_height_nm


def reach_nm(kind: Kind, storey: str, storey_height_nm: Fraction) -> Fraction | None:
    """Where its head stands above grade; None where unknown, and where it is worked from a floor."""
    stands = stands_nm(kind, storey, storey_height_nm)
    from_a_floor = kind.from_inside or kind.external is False
    return None if stands is None or from_a_floor else stands + kind.shape.height_nm


def by_kind_and_storey(work: Work) -> dict[tuple[Kind, str], list[int]]:
    """Indexes of the part's priced lines, those that stand alike together."""
    kinds, lines = dict(work.kinds), work.request.schedule.lines
    found: dict[tuple[int | None, str], list[int]] = {}
    for i in work.request.schedule.priced_among(work.part.plan.lines):
        found.setdefault((lines[i].kind, lines[i].storey), []).append(i)
    return {(kinds[kind], storey): here for (kind, storey), here in found.items() if kind in kinds}


def out_of_reach(work: Work) -> Iterator[Case]:
    """Openings whose head stands higher than their access reaches, access by access."""
    production = work.card.production
    stated = dict(production.access_limits)
    hit: dict[str, list[int]] = {}
    highest: dict[str, tuple[Fraction, bool]] = {}
    for (kind, storey), lines in by_kind_and_storey(work).items():
        access = kind.access or "ground"
        limit = stated.get(access, REACH_NM.get(access))
        head = None if limit is None else reach_nm(kind, storey, production.storey_height_nm)
        if limit is not None and head is not None and head > limit:
            hit.setdefault(access, []).extend(lines)
            found = (head, kind.height_above_grade_nm is None)
            highest[access] = max(highest.get(access, found), found)
    for access, lines in hit.items():
        head, by_storey = highest[access]
        indexes = sorted(lines)
        storeys = f" (storeys of {length(production.storey_height_nm, work.metric)})" if by_storey else ""
        says = {
            "marks": marks(work.request, indexes),
            "head": length(head, work.metric),
            "storeys": storeys,
            "access": FROM[access],
            "limit": length(stated.get(access, REACH_NM.get(access, head)), work.metric),
            "rule": "" if access in stated else " as a rule; the edition states no limit",
        }
        yield Case(access, says, tuple(indexes))


def rented_for(rows: tuple[EquipmentRow, ...]) -> set[str]:
    """The kinds of access for which there is a row, rented or owned."""
    return {access for row in rows for access in row.for_access}


def reached_from(work: Work, access: str) -> tuple[tuple[int, ...], str]:
    """(indexes of the lines worked from an access, their marks, the sheathing joints among them)."""
    lines = work.lines_where(lambda kind: (kind.access or "ground") == access)
    joints = work.part.joints is not None and work.part.joints.access == access
    said = [marks(work.request, lines)] if lines else []
    return lines, "; ".join([*said, *([JOINTS] if joints else [])])


def not_rented(work: Work) -> Iterator[Case]:
    """Access above a ladder for which the edition has no equipment, so that it costs nothing."""
    there = rented_for(work.card.equipment)
    for access in ABOVE_A_LADDER:
        lines, said = reached_from(work, access)
        if said and access not in there:
            yield Case(access, {"marks": said, "access": FROM[access]}, lines)


def priced_not_rented(rates: Rates) -> Iterator[Case]:
    """Of an edition: access above a ladder that has a factor and no equipment."""
    there = rented_for(rates.equipment)
    lacking = [access for access, _ in rates.card.production.access if access in ABOVE_A_LADDER and access not in there]
    if rates.whole and lacking:
        yield Case("", {"access": listed(FROM[access] for access in lacking)})


def alone_on_stage(work: Work) -> Iterator[Case]:
    """A swing stage with fewer than two workers in a crew."""
    crew = work.request.crew
    lines, said = reached_from(work, "swing_stage")
    if said and crew.workers < 2 * crew.crews:
        yield Case("", {"marks": said}, lines)
