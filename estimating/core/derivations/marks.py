"""The price of each mark: largest remainder by weight, so that the shares sum to the price; unit price and residual."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from estimating.core.allocation import JOINTS, Mark
from estimating.core.derivations.nodes import Book, Input, Node, constant, parameter, zero
from estimating.core.derivations.printing import HOURS, MINUTES, NUMBER
from estimating.core.derivations.scope import PartScope
from estimating.core.derivations.shares import share_book
from estimating.core.derivations.split import Split, weight_unit
from estimating.core.part import Part
from rates.core.fraction import Fraction
from rates.core.money import round_half_up


def joint_parts(split: Split) -> list[PartScope]:
    """The parts that do sheathing joints."""
    return [part for part in split.parts if part.part.joints is not None]


def is_joints(mark: Mark) -> bool:
    """Whether a mark is the sheathing joints, which no line names."""
    return mark.mark == JOINTS and not mark.lines


def mark_sum(split: Split, m: int, figure: str) -> Sequence[Input]:
    """A figure of each line of the mark, or of the joints in each part."""
    if is_joints(split.marks[m]):
        return [part.ref("joints", f"joints.{figure}") for part in joint_parts(split)]
    return [split.scope.job_ref(f"line {i + 1}", f"line.{i}.{figure}") for i in split.marks[m].lines]


def mark_price(split: Split, m: int) -> Book:
    """A mark's share of the price."""
    scope, mark, name = split.scope, split.marks[m], f"mark.{m}.price"
    title, value = f"Price of {mark.mark}", scope.major(mark.price_minor)
    price = partial(scope.job_ref, "price", "price")
    if mark.mark is None:
        words = "nothing is worked, so the price stands on no mark"
        return {name: lambda: Node("Price on no mark", words, "sum", value, scope.money, lambda: [price()])}
    if split.marks[-1].mark is None or not scope.estimate.up.price_minor:
        return {name: lambda: zero(title, "nothing of it is worked, or there is no price", scope.money, price())}
    return share_book(split.prices, m, title, mark.price_minor)


def all_weights_node(split: Split) -> Node:
    """The weight of all marks."""
    marks = split.marks
    one = Fraction(0) if split.weightless else weight_unit(split)
    value = sum(mark.weight_units for mark in marks) * one

    def inputs() -> list[Input]:
        named = enumerate(marks)
        return [Input(str(x.mark), x.weight_units * one, split.unit, f"mark.{m}.weight") for m, x in named]

    return Node("Weight of all marks", "Σ marks", "sum", value, split.unit, inputs)


def marks_book(split: Split) -> Book:
    """What the marks have in common: all weights, and the units that flooring leaves."""
    if not split.marks or split.marks[-1].mark is None or not split.scope.estimate.up.price_minor:
        return {}
    return {"marks.weight": partial(all_weights_node, split)} | split.prices.told()


def unit_price_book(split: Split, m: int) -> Book:
    """Price of one, and what its rounding leaves over; only where there is a quantity."""
    scope, mark, name = split.scope, split.marks[m], f"mark.{m}"
    if not mark.quantity:
        return {}
    exact = scope.major(mark.price_minor) / mark.quantity
    each = scope.major(round_half_up(Fraction(mark.price_minor, mark.quantity)))
    residual = scope.major(mark.price_minor) - each * mark.quantity
    price, quantity = ("price", f"{name}.price"), ("quantity", f"{name}.quantity")

    def rounded() -> list[Input]:
        places = scope.rounding()[0]
        return [scope.job_ref("exact", f"{name}.unit_price.exact"), places, parameter("rounding", "half_up")]

    def left() -> list[Input]:
        return [scope.job_ref(*price), scope.job_ref("unit price", f"{name}.unit_price"), scope.job_ref(*quantity)]

    return {
        f"{name}.unit_price.exact": lambda: Node(
            f"Price of one {mark.mark} before rounding",
            "price ÷ quantity",
            "quotient",
            exact,
            scope.exact_money,
            lambda: [scope.job_ref(*price), scope.job_ref(*quantity)],
        ),
        f"{name}.unit_price": lambda: Node(
            f"Price of one {mark.mark}", "rounded half up", "round", each, scope.money, rounded
        ),
        f"{name}.residual": lambda: Node(
            f"Left over of {mark.mark}",
            "price − unit price × quantity",
            "residual",
            residual,
            scope.money,
            left,
        ),
    }


def quantity_node(split: Split, m: int) -> Node:
    """How many openings a mark has; the joints are one."""
    mark = split.marks[m]

    def inputs() -> list[Input]:
        return [parameter("joints", 1)] if is_joints(mark) else [split.quantity(i) for i in mark.lines]

    words = "Σ quantity of the mark's priced lines; sheathing joints count as one"
    return Node(f"Quantity of {mark.mark}", words, "sum", mark.quantity, NUMBER, inputs)


def mark_book(split: Split, m: int) -> Book:
    """Every figure of one mark."""
    scope, mark, name = split.scope, split.marks[m], f"mark.{m}"
    if mark.mark is None:
        return mark_price(split, m)
    weight = mark.weight_units * (Fraction(0) if split.weightless else weight_unit(split))
    touch = sum((minutes_of(part.part) for part in joint_parts(split)), Fraction(0))
    touch = touch if is_joints(mark) else mark.touch_minutes

    def hours() -> list[Input]:
        return [scope.job_ref("touch minutes", f"{name}.touch_minutes"), constant("minutes in an hour", 60)]

    book: Book = {
        f"{name}.quantity": partial(quantity_node, split, m),
        f"{name}.touch_minutes": lambda: Node(
            f"Touch minutes of {mark.mark}",
            "Σ of its lines",
            "sum",
            touch,
            MINUTES,
            partial(mark_sum, split, m, "touch_minutes"),
        ),
        f"{name}.hours": lambda: Node(
            f"Hours of {mark.mark}", "touch minutes ÷ 60", "quotient", touch / 60, HOURS, hours
        ),
        f"{name}.weight": lambda: Node(
            f"Weight of {mark.mark}", "Σ of its lines", "sum", weight, split.unit, partial(mark_sum, split, m, "weight")
        ),
    }
    if len(mark.lines) > 1 and mark.price_minor:
        book |= split.in_marks[m].told()
    return book | mark_price(split, m) | unit_price_book(split, m)


def minutes_of(part: Part) -> Fraction:
    """Touch minutes of a part's joints."""
    return part.joints.touch_minutes if part.joints is not None else Fraction(0)
