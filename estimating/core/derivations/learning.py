"""The one learning factor of a part: which model, over how many opening-equivalents, from where."""

from __future__ import annotations

from functools import partial

from estimating.core.derivations.nodes import Book, Input, Node, constant
from estimating.core.derivations.printing import NUMBER, PERCENT, TEXT
from estimating.core.derivations.scope import PartScope
from estimating.core.labour import MINUTES_A_UNIT
from rates.core.fraction import Fraction

WORDS = {
    "none": "no learning model: 1",
    "exponential": "mean over the openings k of one crew of 1 + (first − 1) e^(−(k−1)/τ)",
    "unit_curve": "mean over the openings k of one crew of the larger of 1 and first × k^b, b = log₂ slope",
    "cumulative_average": "mean over the openings k of one crew of the larger of 1 and T(k) − T(k−1), "
    "T(n) = first × n^(1+b), b = log₂ slope",
}


def factor_inputs(scope: PartScope) -> list[Input]:
    """The model with its parameters, the openings of one crew and where they start."""
    row, crew = scope.card.production.learning, scope.request.crew
    found = [scope.production("model", "learning/model", row.model, TEXT)]
    if row.first is not None:
        found.append(scope.production("first", "learning/first", row.first, NUMBER))
    if row.tau is not None:
        found.append(scope.production("tau", "learning/tau", row.tau, NUMBER))
    if row.slope is not None:
        found.append(scope.production("slope", "learning/slope_percent", row.slope * 100, PERCENT))
    return [
        *found,
        scope.ref("opening-equivalents", "opening_equivalents"),
        scope.asked("crews", "/crew/crews", crew.crews, NUMBER),
        scope.ref("start", "learning.start"),
    ]


def factor_node(scope: PartScope) -> Node:
    """The factor on all touch minutes."""
    hours, request = scope.part.hours, scope.request
    if request.crew.done_before is None or not hours.opening_equivalents:
        why = "1: the crew is experienced" if request.crew.done_before is None else "1: nothing is done"
        word = "experienced" if request.crew.done_before is None else "no openings"
        reason = scope.asked("experience", "/crew/experience", word, TEXT)
        return Node("Learning factor", why, "one", hours.learning_factor, NUMBER, lambda: [reason])
    model = scope.card.production.learning.model
    inputs = partial(factor_inputs, scope)
    return Node("Learning factor", WORDS[model], f"learning_{model}", hours.learning_factor, NUMBER, inputs)


def start_book(scope: PartScope) -> Book:
    """Where on the curve one crew starts: what it did before the job and in the parts before this one."""
    done, crews = scope.request.crew.done_before, scope.request.crew.crews
    if done is None:
        return {}
    value = done + earlier_equivalents(scope) / crews

    def start() -> list[Input]:
        found = [scope.asked("done before", "/crew/experience/done_before", done, NUMBER)]
        return found + ([scope.ref("in earlier parts", "learning.earlier_each")] if scope.index else [])

    book: Book = {
        "learning.start": lambda: Node(
            "Openings that each crew has done before",
            "done before the job + share of the earlier parts",
            "sum",
            value,
            NUMBER,
            start,
        )
    }
    return book | (earlier_book(scope, crews) if scope.index else {})


def earlier_equivalents(scope: PartScope) -> Fraction:
    """Opening-equivalents of the parts before this one."""
    parts = scope.estimate.parts
    return sum((parts[p].hours.opening_equivalents for p in range(scope.index)), Fraction(0))


def earlier_book(scope: PartScope, crews: int) -> Book:
    """What the parts before this one add to the start."""
    earlier, before = earlier_equivalents(scope), range(scope.index)
    return {
        "learning.earlier": lambda: Node(
            "Opening-equivalents of the earlier parts",
            "Σ over the earlier parts",
            "sum",
            earlier,
            NUMBER,
            lambda: [scope.job_ref(f"part {p}", f"part.{p}.opening_equivalents") for p in before],
        ),
        "learning.earlier_each": lambda: Node(
            "Of them, each crew's",
            "opening-equivalents ÷ crews",
            "quotient",
            earlier / crews,
            NUMBER,
            lambda: [
                scope.ref("earlier parts", "learning.earlier"),
                scope.asked("crews", "/crew/crews", crews, NUMBER),
            ],
        ),
    }


def learning_book(scope: PartScope) -> Book:
    """The factor, the opening-equivalents and the start."""
    equivalents = scope.part.hours.opening_equivalents

    def inputs() -> list[Input]:
        return [
            scope.ref("base minutes", "base_minutes"),
            constant("minutes of one opening-equivalent", MINUTES_A_UNIT),
        ]

    book: Book = {
        "learning_factor": partial(factor_node, scope),
        "opening_equivalents": lambda: Node(
            "Opening-equivalents", "base minutes ÷ 30", "quotient", equivalents, NUMBER, inputs
        ),
    }
    return book | start_book(scope)
