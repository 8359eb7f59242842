"""The figures of one schedule line: quantity, touch minutes, weight, and its share of its mark's price."""

from __future__ import annotations

from functools import partial

from estimating.core.derivations.nodes import Book, Input, Node, zero
from estimating.core.derivations.printing import MINUTES, NUMBER, TEXT
from estimating.core.derivations.shares import share_book
from estimating.core.derivations.split import Split


def each_times(split: Split, i: int, figure: str) -> list[Input]:
    """Quantity of a line and a figure of one opening."""
    found = split.kind_of(i)
    if found is None:
        raise KeyError(f"line.{i}")
    part, kind = found
    return [split.quantity(i), part.ref("each", f"kind.{kind}.{figure}")]


def unworked_reason(split: Split, i: int) -> Input:
    """Why a line is not worked."""
    line = split.scope.request.schedule.lines[i]
    if line.reason is not None:
        return split.scope.lined(i, "left out", "excluded/reason", line.reason, TEXT)
    if line.alternate is not None:
        return split.scope.lined(i, "alternate", "alternate", line.alternate, TEXT)
    return split.scope.lined(i, "quantity", "quantity", "0", TEXT)


def line_price(split: Split, i: int) -> Book:
    """A line's share of its mark's price."""
    scope, m, name = split.scope, split.mark_of.get(i), f"line.{i}.price"
    title, minor = f"Price of line {i + 1}", scope.estimate.allocation.line_prices[i]
    if m is None:
        return {name: lambda: zero(title, "not priced", scope.money, unworked_reason(split, i))}
    lines, mark_price = split.marks[m].lines, partial(scope.job_ref, "price of the mark", f"mark.{m}.price")
    if not split.marks[m].price_minor:
        return {name: lambda: zero(title, "its mark has no price", scope.money, mark_price())}
    if len(lines) == 1:
        words = "the mark has no other line"
        return {name: lambda: Node(title, words, "sum", scope.major(minor), scope.money, lambda: [mark_price()])}
    return share_book(split.in_marks[m], split.place_of[i], title, minor)


def line_book(split: Split, i: int) -> Book:
    """Every figure of one schedule line; KeyError where there is none."""
    scope, name = split.scope, f"line.{i}"
    line, found = scope.request.schedule.lines[i], split.kind_of(i)
    book: Book = {
        f"{name}.quantity": lambda: Node(
            f"Quantity of line {i + 1}",
            "as the schedule says",
            "given",
            line.quantity,
            NUMBER,
            lambda: [split.quantity(i)],
        ),
    } | line_price(split, i)
    if found is None:
        reason = partial(unworked_reason, split, i)
        book[f"{name}.touch_minutes"] = lambda: zero("Touch minutes", "not worked", MINUTES, reason())
        book[f"{name}.weight"] = lambda: zero("Weight", "not worked", split.unit, reason())
        return book
    part, kind = found
    touch = part.part.works[kind].touch_minutes_each * line.quantity
    book[f"{name}.touch_minutes"] = lambda: Node(
        f"Touch minutes of line {i + 1}",
        "quantity × touch minutes of one",
        "product",
        touch,
        MINUTES,
        partial(each_times, split, i, "touch_minutes"),
    )
    book[f"{name}.weight"] = lambda: Node(
        f"Weight of line {i + 1}",
        "quantity × weight of one",
        "product",
        split.weight_of(i),
        split.unit,
        partial(each_times, split, i, "weight"),
    )
    return book
