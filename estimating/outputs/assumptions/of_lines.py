"""What opening lines leave out, line by line: each default with the openings and marks that it touches."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from itertools import chain, islice
from typing import Any, NamedTuple

from estimating.core.kinds import Kind, settle
from estimating.core.remarks import NAMED
from estimating.core.request import Request
from estimating.core.shapes import ALL_SIDES, SIDES, Pipe
from estimating.core.supplies import GYPSUM
from estimating.outputs.assumptions.item import DEFAULT, EDITION, REQUEST, Assumption, Basis
from estimating.outputs.assumptions.words import value_said
from rates.core.card import Card
from rates.core.texts import counted


class Told(NamedTuple):
    """Lines that tell the same fields of one kind: `kind` as they say it, `settled` with the request's values."""

    names: frozenset[str]
    kind: Kind
    settled: Kind
    request: Request
    card: Card


@dataclass
class Touched:
    """The openings that a default touches, and their marks: those of lines that tell the same are one group."""

    openings: int = 0
    groups: list[dict[str, None]] = field(default_factory=list)

    def add(self, quantity: int, marks: dict[str, None]) -> None:
        """Adds openings of these marks."""
        self.openings += quantity
        self.groups.append(marks)

    def named(self) -> str:
        """How many openings, and their first marks."""
        marks = list(islice(dict.fromkeys(chain.from_iterable(self.groups)), NAMED + 1))
        return f"{counted(self.openings, 'opening')} ({', '.join(marks[:NAMED])}{' …' if len(marks) > NAMED else ''})"


class Rule(NamedTuple):
    """A default of lines: where it stands, its value, whose default it is, what the lines leave out."""

    field: str
    stands: Callable[[Told], bool]
    value: Callable[[Told, Basis], str]
    says: str
    source: str = DEFAULT


def is_pipe_of_edition(told: Told) -> bool:
    """Whether the lap along a pipe is the edition's."""
    return isinstance(told.kind.shape, Pipe) and told.kind.shape.lap_on_pipe is None


def sides_of(told: Told, basis: Basis) -> str:
    """The treated sides."""
    sides = told.kind.sides
    return "all" if sides == ALL_SIDES else ", ".join(side for side in SIDES if side in sides)


def depth_of(told: Told, basis: Basis) -> str:
    """The request's treated depth."""
    return basis.show(told.settled.depth_nm) if told.settled.depth_nm is not None else "none"


def by_place(told: Told) -> bool:
    """Whether the edition has set-up hours that count places."""
    setup = told.card.production.setup_hours
    return bool(setup.elevation or setup.storey_change)


OWN = "give no {} of their own; taken for all of them"
RULES = (
    Rule("kind", lambda t: "kind" not in t.names, lambda t, b: t.kind.kind, "give no kind"),
    Rule(
        "shape",
        lambda t: "shape" not in t.names and not t.kind.is_pipe,
        lambda t, b: t.kind.shape.name,
        "give no shape",
    ),
    Rule(
        "sides",
        lambda t: "sides" not in t.names and t.kind.shape.has_sill,
        sides_of,
        "don't say which sides are treated",
    ),
    Rule(
        "sill",
        lambda t: t.kind.sill is None and t.kind.shape.has_sill and "sill" in t.kind.sides,
        lambda t, b: "no minutes added",
        "give no kind of sill",
    ),
    Rule("access", lambda t: t.kind.access is None, lambda t, b: "ground", "give no access"),
    Rule(
        "external",
        lambda t: t.kind.external is None,
        lambda t, b: "exterior",
        "don't say whether they are in an exterior wall",
    ),
    Rule(
        "height_above_grade",
        lambda t: t.kind.height_above_grade_nm is None and bool(t.card.production.height),
        lambda t, b: "no factor by height",
        "give no height above grade",
    ),
    Rule(
        "lap_on_pipe",
        is_pipe_of_edition,
        lambda t, b: b.show(t.card.production.geometry.lap_on_pipe_nm),
        "give no lap along the pipe",
        EDITION,
    ),
    Rule(
        "seal",
        lambda t: t.request.seal is not None and t.kind.sealed is None,
        lambda t, b: "sealed",
        "don't say whether their perimeter is sealed",
    ),
    Rule("elevation", lambda t: "elevation" not in t.names and by_place(t), lambda t, b: "blank", "give no elevation"),
    Rule("storey", lambda t: "storey" not in t.names and by_place(t), lambda t, b: "blank", "give no storey"),
    Rule("method", lambda t: t.kind.method is None, lambda t, b: str(t.settled.method), OWN.format("method"), REQUEST),
    Rule(
        "treated_depth",
        lambda t: t.kind.depth_nm is None and not isinstance(t.kind.shape, Pipe),
        depth_of,
        OWN.format("treated depth"),
        REQUEST,
    ),
    Rule(
        "wall_barrier",
        lambda t: t.kind.barrier is None and t.request.given.barrier is not None,
        lambda t, b: str(t.settled.barrier),
        OWN.format("wall barrier"),
        REQUEST,
    ),
    Rule(
        "wall_barrier",
        lambda t: t.settled.barrier is None and t.settled.method == "fluid",
        lambda t, b: "not told",
        "give no wall barrier, nor does the estimate; priced as on a fluid-applied one",
    ),
    Rule(
        "substrate",
        lambda t: t.kind.substrate is None and t.request.given.substrate is not None,
        lambda t, b: str(t.settled.substrate),
        OWN.format("substrate"),
        REQUEST,
    ),
    Rule(
        "substrate",
        lambda t: t.settled.substrate is None and t.settled.method == "tape",
        lambda t, b: GYPSUM,
        "give no substrate under tape, nor does the estimate",
    ),
)


def told_by_lines(basis: Basis) -> Iterator[tuple[Told, int, dict[str, None]]]:
    """(what lines tell, their openings, their marks) of the priced lines, those that tell the same together."""
    request = basis.estimate.request
    lines, rows = request.schedule.lines, basis.request["openings"]
    card_of = {i: part.plan.card for part in basis.estimate.parts for i in part.plan.lines}
    groups: dict[tuple[Any, ...], list[Any]] = {}
    for i in request.schedule.priced:
        line = lines[i]
        if line.quantity:
            names = tuple([name for name, value in rows[i].items() if value is not None and value != ""])
            card = card_of[i]
            group = groups.setdefault((names, line.kind, id(card)), [0, {}, card])
            group[0] += line.quantity
            group[1][line.mark] = None
    for (names, index, _), (openings, marks, card) in groups.items():
        kind = request.schedule.kinds[index]
        yield Told(frozenset(names), kind, settle(kind, request.given)[0], request, card), openings, marks


def assumed_in_lines(basis: Basis) -> Iterator[Assumption]:
    """Every assumption about opening lines."""
    found: dict[tuple[Rule, str], Touched] = {}
    for told, openings, marks in told_by_lines(basis):
        for rule in RULES:
            if rule.stands(told):
                found.setdefault((rule, rule.value(told, basis)), Touched()).add(openings, marks)
    for (rule, value), touched in found.items():
        sentence = f"{touched.named()} {rule.says}: {value_said(rule.field, value)}."
        yield Assumption(rule.field, value, rule.source, touched.openings, sentence, touched.groups)
