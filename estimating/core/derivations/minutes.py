"""Base minutes by addend, the factors on them, and touch minutes, of one opening or of the sheathing joints."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from estimating.core.derivations.geometry import depth_input
from estimating.core.derivations.nodes import Book, Input, Node, constant
from estimating.core.derivations.printing import LENGTH, MINUTES, NUMBER, TEXT, Unit
from estimating.core.derivations.scope import PartScope, per_length_field, word
from estimating.core.derivations.work import Work, line_input
from estimating.core.labour import Term
from rates.core.fraction import Fraction
from rates.core.rows import OpeningMinutes, PerLength
from rates.core.units import LENGTH_NM

FOR_LENGTH = ("minutes_per_foot", "minutes_per_metre", "minutes_per_inch", "minutes_per_mm")


def kind_index(work: Work) -> int:
    """The index of the kind that the work is."""
    return int(work.name.split(".")[1])


def per_length_node(
    scope: PartScope, title: str, field: str, per: PerLength, length: str, names: tuple[str, str, str, str] = FOR_LENGTH
) -> Node:
    """Minutes for each unit of length × a length."""
    size = LENGTH_NM[per.unit]

    def inputs() -> list[Input]:
        unit = Unit(f"minutes/{per.unit}", "number")
        minutes = scope.production(
            f"minutes for each {per.unit}", per_length_field(field, per, names), per.minutes, unit
        )
        return [minutes, scope.ref("length", length), constant(f"nanometres in 1 {per.unit}", size)]

    of = scope.ref("length", length).value
    value = per.for_length(Fraction(of)) if not isinstance(of, str) else Fraction(0)
    return Node(title, f"minutes for each {per.unit} × length", "proportion", value, MINUTES, inputs)


def plain_book(work: Work, field: str, rule: OpeningMinutes) -> Book:
    """max(minimum, fixed + per length × perimeter), step by step."""
    scope, name = work.scope, f"{work.name}.minutes"
    by_length = rule.per.for_length(work.length_nm)
    names = ("per_foot", "per_metre", "", "")

    def linear() -> list[Input]:
        fixed = scope.production("fixed", f"{field}/fixed", rule.fixed, MINUTES)
        return [fixed, scope.ref("by perimeter", f"{name}.by_perimeter")]

    def plain() -> list[Input]:
        minimum = scope.production("minimum", f"{field}/minimum", rule.minimum, MINUTES)
        return [minimum, scope.ref("fixed and by perimeter", f"{name}.linear")]

    title = "Minutes by perimeter"
    return {
        f"{name}.by_perimeter": partial(per_length_node, scope, title, field, rule.per, work.length, names),
        f"{name}.linear": lambda: Node(
            "Minutes before the minimum", "fixed + minutes by perimeter", "sum", rule.fixed + by_length, MINUTES, linear
        ),
        f"{name}.plain": lambda: Node(
            "Plain minutes",
            "the larger of the minimum and fixed + minutes by perimeter",
            "maximum",
            max(rule.minimum, rule.fixed + by_length),
            MINUTES,
            plain,
        ),
    }


def lookup_node(title: str, value: Fraction, unit: Unit, key: Input, found: Input) -> Node:
    """A row of a table found by a word."""
    return Node(title, f"{key.name} → the value of that name in the table", "lookup", value, unit, lambda: [key, found])


def named_addend(work: Work, term: Term) -> Node:
    """Minutes added for a shape or a sill."""
    scope, kind = work.scope, kind_index(work)
    group, key = term.field.split("/")
    field = "shape" if group == "shape" else "sill/kind"
    asked = line_input(scope, kind, group, field, key, TEXT)
    return lookup_node(
        f"Minutes for the {group}",
        term.value,
        MINUTES,
        asked,
        scope.production(f"minutes for {key}", term.field, term.value, MINUTES),
    )


def depth_book(work: Work, term: Term) -> Book:
    """Minutes for the depth past the table's."""
    scope, name, over = work.scope, work.name, work.scope.card.production.depth_over
    if over is None:
        return {}
    past = max(Fraction(0), (scope.part.works[kind_index(work)].kind.depth_nm or Fraction(0)) - over.from_nm)

    def inputs() -> list[Input]:
        start = scope.production("from", "depth_over/from", over.from_nm, LENGTH)
        return [depth_input(scope, kind_index(work)), start]

    return {
        f"{name}.depth_past": lambda: Node(
            "Depth past the table's", "treated depth − from, at least 0", "shortfall", past, LENGTH, inputs
        ),
        f"{name}.minutes.depth": partial(
            per_length_node, scope, "Minutes for the depth", "depth_over", over.per, f"{name}.depth_past"
        ),
    }


def extra_strips_node(work: Work, term: Term) -> Node:
    """Minutes for strips past the first of each piece."""
    scope = work.scope

    def inputs() -> list[Input]:
        code = word(work.choice.stock.row.code) if work.choice is not None else "~"
        each = scope.card.production.extra_strip_minutes
        return [
            scope.ref("extra strips", f"{work.name}.stock.{code}.extra_strips"),
            scope.production("minutes for each", term.field, each, MINUTES),
        ]

    return Node("Minutes for extra strips", "extra strips × minutes for each", "product", term.value, MINUTES, inputs)


def addend_books(work: Work) -> tuple[Book, list[str]]:
    """(figures of every addend, the names of those that are summed)."""
    scope, production = work.scope, work.scope.card.production
    book: Book = {}
    summed = []
    for term in work.minutes.addends:
        group = term.field.split("/")[0]
        name = f"{work.name}.minutes.{'plain' if group.endswith('_minutes') else group}"
        if group == "opening_minutes":
            book |= plain_book(work, group, production.opening_minutes)
        elif group == "penetration_minutes" and production.penetration_minutes is not None:
            book |= plain_book(work, group, production.penetration_minutes)
        elif group in ("shape", "sill"):
            book[name] = partial(named_addend, work, term)
        elif group == "depth_over":
            name = f"{work.name}.minutes.depth"
            book |= depth_book(work, term)
        elif group == "tape":
            name = f"{work.name}.minutes.extra_strips"
            book[name] = partial(extra_strips_node, work, term)
        elif group == "perimeter_seal" and production.seal_per is not None:
            name, title = f"{work.name}.minutes.seal", "Minutes for the seal"
            book[name] = partial(per_length_node, scope, title, group, production.seal_per, f"{work.name}.bead")
        elif group == "sheathing_joint" and production.sheathing_joint is not None:
            per = production.sheathing_joint.per
            if per is not None:
                name = f"{work.name}.minutes.length"
                book[name] = partial(per_length_node, scope, "Minutes for the joints", group, per, work.length)
        summed.append(name)
    return book, summed


def height_inputs(work: Work) -> list[Input]:
    """The height above grade, and every row of the table as a term."""
    scope, kind = work.scope, kind_index(work)
    height = scope.part.works[kind].kind.height_above_grade_nm or Fraction(0)
    found = [line_input(scope, kind, "height above grade", "height_above_grade", height, LENGTH)]
    for i, row in enumerate(scope.card.production.height):
        found += [
            scope.production("over", f"height/{i}/over", row.over_nm, LENGTH, i),
            scope.production("factor", f"height/{i}/factor", row.factor, NUMBER, i),
        ]
    return found


def pair_inputs(work: Work) -> list[Input]:
    """The factor for two working together, and what decides whether it counts."""
    scope, pair = work.scope, work.scope.card.production.pair
    if pair is None:
        return []
    found = [
        scope.production("factor", "pair/factor", pair.factor, NUMBER),
        scope.ref("workers", "crew.workers"),
    ]
    if pair.from_width_nm is not None:
        found.append(scope.ref("width", f"{work.name}.width"))
        found.append(scope.production("from width", "pair/from_width", pair.from_width_nm, LENGTH))
    return found


def factor_node(work: Work, term: Term) -> Node:
    """One factor on the minutes."""
    scope, group = work.scope, term.field.split("/")[0]
    if group == "height":
        words = "the factor of the highest height row that is strictly passed"
        return Node("Factor for height", words, "highest_passed", term.value, NUMBER, partial(height_inputs, work))
    if group == "pair":
        words = "the factor where two or more work together, from the stated width up"
        return Node("Factor for pairs", words, "pair", term.value, NUMBER, partial(pair_inputs, work))
    key = term.field.split("/", 1)[1]
    asked = work.access_input() if group == "access" else scope.asked(group, f"/{group}", key, TEXT)
    found = scope.production(f"factor for {key}", term.field, term.value, NUMBER)
    return lookup_node(f"Factor for {group}", term.value, NUMBER, asked, found)


def minutes_book(work: Work) -> Book:
    """Base and touch minutes of one opening with all that they are made of."""
    scope, name = work.scope, work.name
    book, summed = addend_books(work)
    factors = [(term.field.split("/")[0], term) for term in work.minutes.factors]
    book |= {f"{name}.factor.{group}": partial(factor_node, work, term) for group, term in factors}

    def base() -> Sequence[Input]:
        return [scope.ref(figure.rsplit(".", 1)[1].replace("_", " "), figure) for figure in summed]

    def touch() -> list[Input]:
        found = [scope.ref("base minutes", f"{name}.base_minutes")]
        found += [scope.ref(f"{group} factor", f"{name}.factor.{group}") for group, _ in factors]
        return [*found, scope.ref("learning factor", "learning_factor")]

    book[f"{name}.base_minutes"] = lambda: Node(
        "Base minutes", "Σ minutes before factors", "sum", work.minutes.base, MINUTES, base
    )
    words = "base minutes × every factor that is not 1 × learning factor"
    book[f"{name}.touch_minutes"] = lambda: Node("Touch minutes", words, "product", work.touch_minutes, MINUTES, touch)
    return book
