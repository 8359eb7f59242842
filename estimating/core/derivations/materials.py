"""Materials from net use to money: waste once, stock off, packs or the share used, rounded once a row."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from estimating.core.derivations.nodes import Book, Input, Node, parameter
from estimating.core.derivations.printing import LENGTH, NUMBER, PERCENT, Unit
from estimating.core.derivations.scope import PartScope, word
from estimating.core.materials import MaterialLine
from estimating.core.packs import Mix, Pack, lowest_unit_price
from estimating.core.strips import packs_of
from rates.core.fraction import Fraction
from rates.core.problems import escape
from rates.core.rows import MaterialRow, Waste


def row_of(scope: PartScope, code: str) -> MaterialRow:
    """A materials row by its word; KeyError where the card has none."""
    return {word(row.code): row for row in scope.card.materials}[code]


def line_of(scope: PartScope, row: MaterialRow) -> MaterialLine | None:
    """The part's line of a row, None where nothing of it is used."""
    return next((line for line in scope.part.materials if line.row.code == row.code), None)


def waste_input(scope: PartScope, row: MaterialRow, waste: Waste) -> Input:
    """The percentage of the waste that counts at the request's temperature."""
    named = dict(row.waste_by_temperature).get(scope.request.temperature or "")
    field = f"waste_by_temperature/{scope.request.temperature}" if named is not None else "waste"
    return scope.material(row, f"waste {waste.kind}", f"{field}/percent", waste.rate * 100, PERCENT)


def pack_inputs(scope: PartScope, row: MaterialRow, size_unit: Unit) -> list[Input]:
    """Size and price of each pack as one term."""
    found = []
    for i, pack in enumerate(row.packs):
        found.append(scope.material(row, f"size of {pack.label}", f"packs/{i}/size", pack.size, size_unit, i))
        found.append(scope.material(row, "price", f"packs/{i}/price", pack.price, scope.exact_money, i))
    return found


def price_book(scope: PartScope, row: MaterialRow) -> Book:
    """What a unit of the row costs, and what waste makes of a net quantity."""
    name, unit = f"material.{word(row.code)}", scope.unit_of(row)
    waste, each = row.waste_at(scope.request.temperature), lowest_unit_price(packs_of(row))
    words = "1 + percent ÷ 100" if waste.kind == "added" else "1 ÷ (1 − percent ÷ 100)"

    def after() -> list[Input]:
        return [scope.ref("lowest price", f"{name}.unit_price"), scope.ref("gross for net", f"{name}.gross_factor")]

    return {
        f"{name}.unit_price": lambda: Node(
            f"Lowest price of {row.title}",
            "the least of price ÷ size",
            "lowest_unit_price",
            each,
            scope.money_for(unit),
            partial(pack_inputs, scope, row, unit),
        ),
        f"{name}.gross_factor": lambda: Node(
            f"Gross for net of {row.title}",
            words,
            f"waste_{waste.kind}",
            waste.gross_factor,
            NUMBER,
            lambda: [waste_input(scope, row, waste)],
        ),
        f"{name}.price_after_waste": lambda: Node(
            f"Lowest price of {row.title} after waste",
            "lowest price × gross for net",
            "product",
            each * waste.gross_factor,
            scope.money_for(unit),
            after,
        ),
    }


def film_book(scope: PartScope, row: MaterialRow) -> Book:
    """The total wet film of a liquid."""
    films = row.wet_film_nm or ()

    def coats() -> list[Input]:
        return [scope.material(row, f"coat {i + 1}", f"wet_film/{i}", nm, LENGTH) for i, nm in enumerate(films)]

    title, total = f"Wet film of {row.title}", sum(films, Fraction(0))
    name = f"material.{word(row.code)}.film"
    return {name: lambda: Node(title, "Σ of all coats", "sum", total, LENGTH, coats)} if films else {}


def net_node(scope: PartScope, line: MaterialLine) -> Node:
    """Net use of the whole part."""
    row, code = line.row, word(line.row.code)
    unit, title = scope.unit_of(row), f"Net quantity of {line.row.title}"
    if row.role == "consumable" and row.per == "crew_day":
        return Node(
            title, "one for each crew-day", "sum", line.net, unit, lambda: [scope.ref("crew-days", "crew_days")]
        )

    def inputs() -> list[Input]:
        found = []
        for place, (kind, work) in enumerate(scope.part.works.items()):
            if row.code in dict(work.takeoff.use):
                found.append(scope.ref(f"kind {kind}, how many", f"kind.{kind}.quantity", place))
                found.append(scope.ref("each", f"kind.{kind}.use.{code}", place))
        joints = scope.part.joints
        if joints is not None and row.code in dict(joints.takeoff.use):
            found.append(scope.ref("joints", f"joints.use.{code}", len(scope.part.works)))
        return found

    words = "Σ quantity × net use of one, over kinds and joints"
    return Node(title, words, "sum_of_products", line.net, unit, inputs)


def mix_counts(mix: Mix, packs: Sequence[Pack]) -> list[int]:
    """How many of each pack in the order offered."""
    left, counts = list(mix.counts), [0] * len(packs)
    for i, pack in enumerate(packs):
        if left and left[0][0] == pack:
            counts[i] = left.pop(0)[1]
    return counts


def pack_node(scope: PartScope, line: MaterialLine, place: int, pack: Pack) -> Node:
    """How many of one pack are bought."""
    count = mix_counts(line.mix, packs_of(line.row))[place]

    def inputs() -> list[Input]:
        needed = scope.ref("needed", f"material.{word(line.row.code)}.needed")
        return [needed, parameter("place", place), *pack_inputs(scope, line.row, scope.unit_of(line.row))]

    words = "whole packs of the least cost; ties: least left over, then fewest packs, then the earlier pack"
    return Node(f"Packs of {pack.label}", words, "least_cost_count", count, NUMBER, inputs)


def cost_node(scope: PartScope, line: MaterialLine) -> Node:
    """The exact amount: packs bought, or the share used."""
    row, name = line.row, f"material.{word(line.row.code)}"
    title = f"{row.title} before rounding"
    if line.as_used:
        words = "needed × lowest price: the share used"
        return Node(
            title,
            words,
            "product",
            line.exact_amount,
            scope.exact_money,
            lambda: [
                scope.ref("needed", f"{name}.needed"),
                scope.ref("lowest price", f"{name}.unit_price"),
            ],
        )

    def inputs() -> list[Input]:
        return [scope.ref("needed", f"{name}.needed"), *pack_inputs(scope, row, scope.unit_of(row))]

    words = "whole packs of the least cost that cover what is needed"
    return Node(title, words, "least_cost_packs", line.exact_amount, scope.exact_money, inputs)


def stock_book(scope: PartScope, line: MaterialLine) -> Book:
    """Stock on hand when the part begins: the request's, less what earlier parts took of it."""
    row, name, unit = line.row, f"material.{word(line.row.code)}", scope.unit_of(line.row)
    asked = dict(scope.request.stock).get(row.code)
    whole = asked[1] if asked is not None else Fraction(0)
    earlier = [p for p in range(scope.index) if row.code in {m.row.code for m in scope.estimate.parts[p].materials}]
    rule = "difference" if earlier else "given"
    words = "stock of the request − what earlier parts took of it" if earlier else "as the request says"

    def inputs() -> list[Input]:
        stated = scope.asked("stock of the request", "/stock" + escape(row.code), whole, unit)
        return [stated, *(scope.job_ref(f"taken by part {p}", f"part.{p}.{name}.taken") for p in earlier)]

    def taken() -> list[Input]:
        return [scope.ref("gross", f"{name}.gross"), scope.ref("needed", f"{name}.needed")]

    title = f"Stock on hand of {row.title}"
    book: Book = {f"{name}.stock": lambda: Node(title, words, rule, line.stock, unit, inputs)}
    if scope.several:
        value, title_taken = line.gross - line.needed, f"Stock taken of {row.title}"
        book[f"{name}.taken"] = lambda: Node(title_taken, "gross − needed", "difference", value, unit, taken)
    return book


def quantity_book(scope: PartScope, line: MaterialLine) -> Book:
    """Net, gross and needed."""
    row, name, unit = line.row, f"material.{word(line.row.code)}", scope.unit_of(line.row)

    def needed() -> list[Input]:
        return [scope.ref("gross", f"{name}.gross"), scope.ref("stock on hand", f"{name}.stock")]

    return {
        f"{name}.net": partial(net_node, scope, line),
        f"{name}.gross": lambda: Node(
            f"Gross quantity of {row.title}",
            "net × gross for net: waste once, before stock",
            "product",
            line.gross,
            unit,
            lambda: [scope.ref("net", f"{name}.net"), scope.ref("gross for net", f"{name}.gross_factor")],
        ),
        f"{name}.needed": lambda: Node(
            f"Needed of {row.title}", "gross − stock on hand, at least 0", "shortfall", line.needed, unit, needed
        ),
    }


def material_book(scope: PartScope, code: str) -> Book:
    """Every figure of one materials row."""
    row = row_of(scope, code)
    book, line, name = price_book(scope, row) | film_book(scope, row), line_of(scope, row), f"material.{code}"
    if line is None:
        return book
    unit = scope.unit_of(row)

    def rounded() -> list[Input]:
        return [scope.ref("exact", f"{name}.cost"), *scope.rounding(scope.card)]

    book |= quantity_book(scope, line) | stock_book(scope, line)
    book[f"{name}.cost"] = partial(cost_node, scope, line)
    book[f"{name}.amount"] = lambda: Node(
        row.title, "rounded once", "round", scope.major(line.amount_minor), scope.money, rounded
    )
    book |= {f"{name}.pack.{i}": partial(pack_node, scope, line, i, pack) for i, pack in enumerate(packs_of(row))}
    book[f"{name}.left_over"] = lambda: Node(
        f"Left over of {row.title}",
        "what the packs hold − what is needed",
        "left_over",
        line.mix.left_over,
        unit,
        lambda: [scope.ref("needed", f"{name}.needed"), *pack_inputs(scope, row, unit)],
    )
    return book
