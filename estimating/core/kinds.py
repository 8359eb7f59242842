"""A kind of opening: everything that decides its takeoff and its minutes, read from one schedule line.

Lines that agree in all of it share one takeoff; quantity multiplies.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from estimating.core import shapes
from estimating.core.shapes import Shape
from rates.core.fields import Faults
from rates.core.fraction import Fraction
from rates.core.problems import Problem
from rates.core.tables import BARRIERS as BARRIERS
from rates.core.units import LENGTH_NM

OPENING_KINDS = ("window", "door", "louvre", "duct", "pipe", "other")
METHODS = ("fluid", "tape")
LARGEST = LENGTH_NM["m"] * 1000


@dataclass(frozen=True)
class Sill:
    """The sill as drawn; a sloped one with its angle, a pan with the height of its back dam, if it has one."""

    kind: str
    angle_degrees: Fraction
    back_dam_nm: Fraction | None = None


@dataclass(frozen=True)
class Override:
    """Who lets a method stand against the wall barrier, and why."""

    reason: str
    by: str


@dataclass(frozen=True)
class Kind:
    """One kind of opening as its lines say it; None where they leave it to the request."""

    kind: str
    shape: Shape
    sides: frozenset[str]
    access: str | None
    depth_nm: Fraction | None
    substrate: str | None
    barrier: str | None
    sill: Sill | None
    method: str | None
    override: Override | None
    height_above_grade_nm: Fraction | None
    external: bool | None
    sealed: bool | None
    snapped: tuple[str, ...]
    from_inside: bool = False

    @property
    def is_pipe(self) -> bool:
        """Whether it is a penetration: other minutes, and the return runs along the pipe."""
        return self.kind == "pipe" or self.is_round_pipe

    @property
    def is_round_pipe(self) -> bool:
        """Whether its return runs along a pipe."""
        return isinstance(self.shape, shapes.Pipe)


@dataclass(frozen=True)
class Given:
    """What the request says for every line that does not say otherwise."""

    method: str
    barrier: str | None
    depth_nm: Fraction | None
    substrate: str | None
    override: Override | None


def settle(kind: Kind, given: Given) -> tuple[Kind, Faults]:
    """The kind with the request's values where it has none, and what then stands against costing it.

    The method rule: fluid-applied flashing only under a fluid-applied wall barrier, a sheet barrier takes tape
    (common practice, no source); a recorded override lifts it.
    """
    faults: Faults = []
    settled = replace(
        kind,
        method=kind.method or given.method,
        barrier=kind.barrier or given.barrier,
        depth_nm=kind.depth_nm if kind.depth_nm is not None else given.depth_nm,
        substrate=kind.substrate or given.substrate,
        override=kind.override or given.override,
    )
    if settled.method == "by_line":
        detail = "the request prices by line, so each line needs its method"
        faults.append(Problem("/method", "missing", detail))
    if settled.depth_nm is None and not isinstance(kind.shape, shapes.Pipe):
        detail = "the treated depth is needed, on the line or in the request"
        faults.append(Problem("/treated_depth", "missing", detail))
    if settled.method == "fluid" and settled.barrier == "sheet" and settled.override is None:
        detail = "a sheet barrier takes tape; fluid needs method_override with a reason and who decided"
        faults.append(Problem("/method", "method_against_barrier", detail))
    return settled, faults
