"""Checks of openings: sides and sills left out, penetrations that nobody counted."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from estimating.core.checks.bands import PENETRATIONS_FROM
from estimating.core.checks.case import Case, Work
from estimating.core.checks.wording import listed, marks
from estimating.core.kinds import Kind
from estimating.core.shapes import SIDES
from rates.core.texts import counted

ALL_ROUND = ("window", "louvre", "duct")
NEEDS: Mapping[str, frozenset[str]] = dict.fromkeys(ALL_ROUND, frozenset(SIDES)) | {"door": frozenset(SIDES[1:])}
A_KIND = {"window": "A window", "louvre": "A louvre", "duct": "A duct", "door": "A door"}
PENETRATION = re.compile(r"penetration|pipe|conduit|duct|sleeve|vent\b|vents\b|hose bib", re.IGNORECASE)


def without_sill(kind: Kind) -> bool:
    """Whether it is drawn with no sill."""
    return kind.sill is not None and kind.sill.kind == "none"


def left_out(kind: Kind) -> frozenset[str]:
    """The sides that a kind needs and its lines leave out; a sill drawn as none is another check's."""
    missing = NEEDS.get(kind.kind, frozenset()) - kind.sides
    return missing - {"sill"} if without_sill(kind) else missing


def in_order(sides: frozenset[str]) -> str:
    """Sides in the order of work."""
    return listed(side for side in SIDES if side in sides)


def sides_short(work: Work) -> Iterator[Case]:
    """Openings with fewer sides treated than their kind needs."""
    groups: dict[tuple[str, frozenset[str]], set[int]] = {}
    for index, kind in work.kinds:
        missing = left_out(kind)
        if missing:
            groups.setdefault((kind.kind, missing), set()).add(index)
    for (name, missing), kinds in groups.items():
        lines = work.lines_of(kinds)
        says = {"marks": marks(work.request, lines), "missing": in_order(missing)}
        says |= {"kind": A_KIND[name], "needs": in_order(NEEDS[name])}
        yield Case(f"{name} {in_order(missing)}", says, lines)


def sill_none(work: Work) -> Iterator[Case]:
    """Windows, louvres and ducts drawn without a sill."""
    for name in ALL_ROUND:
        lines = work.lines_where(lambda kind, name=name: kind.kind == name and without_sill(kind))  # type: ignore[misc]
        if lines:
            yield Case(name, {"marks": marks(work.request, lines), "kind": A_KIND[name]}, lines)


def no_penetrations(work: Work) -> Iterator[Case]:
    """A job of some size whose schedule has no pipe and no duct, and no allowance for any."""
    schedule, openings = work.request.schedule, work.estimate.openings
    there = any(kind.is_pipe or kind.kind == "duct" for kind in schedule.kinds)
    allowed = any(PENETRATION.search(allowance.title) for allowance in work.request.allowances)
    if openings >= PENETRATIONS_FROM and not there and not allowed:
        yield Case("", {"openings": counted(openings, "opening")})
