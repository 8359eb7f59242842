"""The proof that a cut plan takes the fewest rolls, by an exact model in a solver, and a better plan if it finds one.

Nothing that the solver says is believed. Its dual values are weights of the pieces, which the core makes a bound of in
whole numbers, and its plan is counted piece by piece. It decides no price. Without the solver (extra `cutting`) a plan
stands with the bound of the core.

The model is an arc-flow (Valério de Carvalho 1999): a roll is a path from 0 to its length, an arc a piece or one step
that is left; lengths stand longest first along a path.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from math import gcd, isfinite
from typing import Any

from estimating.core.cutting.bounds import Bound, bound_of_weights
from estimating.core.cutting.cut import Cut
from estimating.core.cutting.filling import Pattern, longest_first
from estimating.core.cutting.improving import together

try:
    import highspy  # HiGHS
except ImportError:  # optional
    highspy = None  # type: ignore[assignment]  # no module stands in its place

MOST_ARCS = 60_000
WEIGHT_DIGITS = 10**6
MOST_SECONDS, MOST_NODES = 5.0, 5_000
Arc = tuple[int, int, int | None]  # from, to, place of the length that it is a piece of


def solver_there() -> bool:
    """Whether the solver is installed."""
    return highspy is not None


def silence(solver: Any) -> None:
    """Turns its messages off before callbacks are enabled, which prints its banner."""
    solver.setOptionValue("output_flag", False)
    highspy.Highs.enableCallbacks(solver)


def silent_solver() -> Any:
    """A solver that writes nothing to the log."""
    return type("SilentSolver", (highspy.Highs,), {"enableCallbacks": silence})()


@dataclass
class Model:
    """The arcs of rolls of `room`, for lengths longest first."""

    room: int
    lengths: Sequence[int]
    demand: Sequence[int]
    arcs: list[Arc] = field(default_factory=list)

    def __post_init__(self) -> None:
        nodes = {0}
        for place, (length, count) in enumerate(zip(self.lengths, self.demand, strict=True)):
            starts = set[int]()
            for node in nodes:
                last = node + min(count, (self.room - node) // length) * length
                starts.update(range(node, last, length))
            self.arcs += [(node, node + length, place) for node in sorted(starts)]
            nodes |= {node + length for node in starts}
            if len(self.arcs) > MOST_ARCS:
                return
        ordered = sorted(nodes - {0} | {self.room})
        self.arcs += [(node, following, None) for node, following in zip(ordered, ordered[1:], strict=False)]

    @property
    def too_large(self) -> bool:
        """Whether it would take the solver too long."""
        return len(self.arcs) > MOST_ARCS

    def solve(self, whole: bool, least: int) -> tuple[list[float], list[float]]:
        """(flow of each arc, dual value of each length); of whole flows ended at `least` rolls or after a while."""
        solver = silent_solver()
        for name, value in {"threads": 1, "time_limit": MOST_SECONDS}.items():
            solver.setOptionValue(name, value)
        if whole:
            solver.setOptionValue("mip_max_nodes", MOST_NODES)
            solver.setOptionValue("objective_target", least + 0.5)
        solver.passModel(self.programme(whole))
        solver.run()
        found = solver.getSolution()
        return list(found.col_value), list(found.row_dual)[: len(self.lengths)]

    def programme(self, whole: bool) -> Any:
        """Fewest arcs out of 0, enough arcs of each length, as many into a node as out of it."""
        inner = sorted({node for arc in self.arcs for node in arc[:2]} - {0, self.room})
        row = {node: len(self.lengths) + i for i, node in enumerate(inner)}
        starts, rows, values = [0], list[int](), list[float]()
        for start, end, place in self.arcs:
            entries = [(row[end], 1.0)] if end in row else []
            entries += [(row[start], -1.0)] if start in row else []
            entries += [(place, 1.0)] if place is not None else []
            rows += [at for at, _ in entries]
            values += [value for _, value in entries]
            starts.append(len(rows))
        made = highspy.HighsLp()
        made.num_col_, made.num_row_ = len(self.arcs), len(self.lengths) + len(inner)
        made.col_cost_ = [1.0 if start == 0 else 0.0 for start, _, _ in self.arcs]
        made.col_lower_ = [0.0] * len(self.arcs)
        made.col_upper_ = [float(sum(self.demand))] * len(self.arcs)
        made.row_lower_ = [float(count) for count in self.demand] + [0.0] * len(inner)
        made.row_upper_ = [highspy.kHighsInf] * len(self.lengths) + [0.0] * len(inner)
        made.a_matrix_.format_ = highspy.MatrixFormat.kColwise
        made.a_matrix_.start_, made.a_matrix_.index_, made.a_matrix_.value_ = starts, rows, values
        if whole:
            made.integrality_ = [highspy.HighsVarType.kInteger] * len(self.arcs)
        return made

    def rolls(self, flows: Sequence[float]) -> Iterator[Pattern]:
        """Each roll of whole flows, as a path; what is more than is wanted is left out of it."""
        left = [round(flow) if isfinite(flow) else 0 for flow in flows]
        wanted, out = list(self.demand), dict[int, list[int]]()
        for i, (start, _, _) in enumerate(self.arcs):
            out.setdefault(start, []).append(i)
        while any(wanted) and any(left[i] > 0 for i in out[0]):
            node, pattern = 0, Pattern()
            while node < self.room:
                arc = next((i for i in out.get(node, ()) if left[i] > 0), None)
                if arc is None:
                    break
                left[arc] -= 1
                node, place = self.arcs[arc][1], self.arcs[arc][2]
                if place is not None and wanted[place]:
                    wanted[place] -= 1
                    pattern[place] = pattern.get(place, 0) + 1
            if not pattern:
                return
            yield pattern


def proven(room: int, lengths: Sequence[int], demand: Sequence[int], made: Cut) -> Cut:
    """A plan with the bound of the solver's weights, where that is better, and its plan, where that has fewer rolls."""
    if highspy is None or made.proven:
        return made
    step = gcd(room, *lengths)
    order = longest_first(lengths)
    model = Model(room // step, [lengths[i] // step for i in order], [demand[i] for i in order])
    if model.too_large:
        return made
    _, duals = model.solve(False, 0)
    weights = [0] * len(lengths)
    for i, dual in zip(order, duals, strict=True):
        weights[i] = max(0, round(dual * WEIGHT_DIGITS)) if isfinite(dual) else 0
    bound = bound_of_weights(room, lengths, demand, weights)
    made = replace(made, bound=max(made.bound, bound, key=rolls_of))
    if made.proven:
        return made
    flows, _ = model.solve(True, made.bound.rolls)
    better = together([{order[p]: n for p, n in pattern.items()} for pattern in model.rolls(flows)]) if flows else []
    found = replace(made, patterns=better)
    return found if found.rolls < made.rolls and is_plan(room, lengths, demand, found) else made


def rolls_of(bound: Bound) -> int:
    """How many it says."""
    return bound.rolls


def is_plan(room: int, lengths: Sequence[int], demand: Sequence[int], made: Cut) -> bool:
    """Whether a plan cuts every piece once and no roll over its length."""
    cut = [0] * len(lengths)
    for pattern, times in made.patterns:
        if sum(lengths[place] * count for place, count in pattern.items()) > room:
            return False
        for place, count in pattern.items():
            cut[place] += count * times
    return cut == list(demand)
