"""The lines of the build-up, each from its exact amount and its base, and the sums that they pass."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from estimating.core.derivations.closing import closing_exact
from estimating.core.derivations.crew import labour_shares
from estimating.core.derivations.nodes import Book, Input, Node, parameter, zero
from estimating.core.derivations.printing import NUMBER, TEXT
from estimating.core.derivations.scope import PartScope, word
from estimating.core.derivations.shares import share_book
from estimating.core.derivations.steps import Steps
from estimating.core.direct import BASE_WORDS, DIRECT_STEPS, TaxItem, is_by_item, tax_items
from rates.core.fraction import Fraction
from rates.core.rows import OverheadRow


def direct_base(steps: Steps, i: int, on: str) -> list[int]:
    """Lines of the base of a direct percent row: of its own part only."""
    line = steps.lines[i]
    mine = [j for j, other in enumerate(steps.lines) if other.part == line.part and other.part is not None]
    if on == "running":
        return [j for j in mine if j < i]
    return [j for j in mine if steps.lines[j].step == on]


def upper_base(steps: Steps, i: int, on: str) -> list[int]:
    """Lines of the base of a row above direct cost: of those before it."""
    if on in ("running", "cost"):
        return list(range(i))
    wanted: tuple[str, ...] = (on,)
    if on in ("direct_cost", "direct_cost_and_overhead"):
        wanted = DIRECT_STEPS if on == "direct_cost" else (*DIRECT_STEPS, "overhead")
    return [j for j in range(i) if steps.lines[j].step in wanted]


def base_node(steps: Steps, i: int) -> Node:
    """The base of a percent row."""
    line, row = steps.lines[i], steps.row(steps.lines[i])
    on = row.on or ("cost" if line.step == "profit" else "running")
    title = f"Base of {line.title}: {BASE_WORDS[on]}"
    if steps.exempt(line):
        certificate = steps.scope.request.exemption_certificate or ""
        reason = steps.scope.asked("certificate", "/exemption_certificate", certificate, TEXT)
        return zero(title, "the exemption certificate takes it away", steps.scope.money, reason)
    if on == "taxable_materials" and line.part is not None:
        part = steps.parts[line.part]
        value = part.resolve(f"{part.prefix}taxable_materials").value
        return Node(title, "Σ taxable", "sum", value, steps.scope.money, lambda: [part.ref(on, "taxable_materials")])
    chosen = direct_base(steps, i, on) if line.step in DIRECT_STEPS else upper_base(steps, i, on)
    return steps.sum_node(title, "Σ of the rounded lines that it stands on", chosen)


def percent_exact(steps: Steps, i: int) -> Node:
    """Percent of the base, or profit as markup or margin."""
    line, row, desk = steps.lines[i], steps.row(steps.lines[i]), steps.desk(steps.lines[i])
    rate = row.rate or Fraction(0)

    def inputs() -> list[Input]:
        base = steps.scope.job_ref("base", f"build_up.{i}.base")
        return [base, desk.percent_of_table("percent", rate, ("overheads", row.code, "percent"))]

    margin = row.kind == "margin"
    words = "base × g ÷ (1 − g), g the margin of the price before bond" if margin else "base × percent"
    rule = "margin" if margin else "percent"
    return Node(f"{line.title} before rounding", words, rule, line.exact, steps.scope.exact_money, inputs)


def product_exact(steps: Steps, i: int, words: str, inputs: Callable[[], list[Input]]) -> Node:
    """An amount for each of something."""
    line = steps.lines[i]
    return Node(f"{line.title} before rounding", words, "product", line.exact, steps.scope.exact_money, inputs)


def amount_input(steps: Steps, i: int) -> Input:
    """The amount that a row or a subcontract states."""
    line, money = steps.lines[i], steps.scope.exact_money
    if line.step == "subcontracts":
        return steps.scope.asked("amount", f"/subcontracts/{line.index}/amount", line.exact, money)
    row = steps.row(line)
    return steps.desk(line).table("amount", line.exact, money, ("overheads", row.code, "amount"))


def paid_hour_inputs(steps: Steps, row: OverheadRow) -> list[Input]:
    """An amount for each paid hour."""
    scope = steps.scope
    at = ("overheads", row.code, "amount")
    each = scope.table("amount for each paid hour", row.amount or Fraction(0), scope.money_for("hour"), at)
    return [each, scope.job_ref("paid hours", "hours.paid")]


def allowance_inputs(steps: Steps, index: int) -> list[Input]:
    """Count and unit price of an allowance."""
    allowance, at, scope = steps.scope.request.allowances[index], f"/allowances/{index}", steps.scope
    return [
        scope.asked("count", f"{at}/count", allowance.count, NUMBER),
        scope.asked("unit price", f"{at}/unit_price", allowance.unit_price, scope.exact_money),
    ]


def exact_book(steps: Steps, i: int) -> Book:
    """The exact amount of a line and its base, where they are figures of their own; else the amount is stated."""
    line, name = steps.lines[i], f"build_up.{i}"
    if line.step == "subcontracts":
        return {}
    if line.step == "allowances":
        inputs = partial(allowance_inputs, steps, line.index or 0)
        return {f"{name}.exact": partial(product_exact, steps, i, "count × unit price", inputs)}
    if line.step in ("bond", "gross_receipts_tax", "minimum_charge", "round_up_to"):
        return closing_exact(steps, i)
    row = steps.row(line)
    if by_item(steps, i):
        return {f"{name}.base": partial(base_node, steps, i)} | item_book(steps, i)
    if row.rate is not None:
        return {f"{name}.base": partial(base_node, steps, i), f"{name}.exact": partial(percent_exact, steps, i)}
    if row.on == "paid_hours":
        inputs = partial(paid_hour_inputs, steps, row)
        return {f"{name}.exact": partial(product_exact, steps, i, "an amount for each paid hour", inputs)}
    if steps.exempt(line) or steps.empty:
        certificate = steps.scope.request.exemption_certificate or ""
        exempt = steps.scope.asked("certificate", "/exemption_certificate", certificate, TEXT)
        reason = exempt if steps.exempt(line) else parameter("nothing to be done", "yes")
        why = "the exemption certificate takes it away" if steps.exempt(line) else "nothing is to be done"
        title = f"{line.title} before rounding"
        return {f"{name}.exact": lambda: zero(title, why, steps.scope.exact_money, reason)}
    return {}


def by_item(steps: Steps, i: int) -> bool:
    """Whether a line is sales tax worked item by item."""
    line = steps.lines[i]
    return line.step == "sales_tax" and not steps.exempt(line) and is_by_item(steps.row(line), steps.desk(line).card)


def item_book(steps: Steps, i: int) -> Book:
    """Sales tax item by item: the exact and the rounded tax of each, and their sum."""
    line, row, scope = steps.lines[i], steps.row(steps.lines[i]), steps.scope
    part, rate, till = steps.parts[line.part or 0], row.rate or Fraction(0), steps.scope.estimate.till
    items = tax_items(row.on or "", part.part, scope.request, till, not part.index)
    at = f"build_up.{i}"

    def base(item: TaxItem) -> Input:
        if item.family != "subcontract":
            return part.ref(item.title, f"{item.family}.{word(str(item.key))}.amount")
        contracts = [j for j, other in enumerate(steps.lines) if other.step == "subcontracts"]
        place = next(j for j in contracts if steps.lines[j].index == item.key)
        return scope.job_ref(item.title, f"build_up.{place}")

    def nodes(k: int, item: TaxItem) -> Book:
        exact = rate * scope.major(item.amount_minor)
        title, name = f"{line.title} on {item.title}", f"{at}.item.{k}"

        def of_base() -> list[Input]:
            return [base(item), part.percent_of_table("percent", rate, ("overheads", row.code, "percent"))]

        def rounded() -> list[Input]:
            return [scope.job_ref("exact", f"{name}.exact"), *scope.rounding()]

        value, before = scope.major(till.minor(exact)), f"{title} before rounding"
        return {
            name: partial(Node, title, "rounded for this item", "round", value, scope.money, rounded),
            f"{name}.exact": partial(Node, before, "item × percent", "percent", exact, scope.exact_money, of_base),
        }

    def summed() -> list[Input]:
        return [scope.job_ref(item.title, f"{at}.item.{k}") for k, item in enumerate(items)]

    total = partial(Node, line.title, "Σ of the rounded tax of each item", "sum", line.exact, scope.money, summed)
    book: Book = {at: total}
    for k, item in enumerate(items):
        book |= nodes(k, item)
    return book


def labour_line(steps: Steps, i: int) -> Book:
    """The share of one cost code in a part's labour, count × hour rate its weight."""
    line = steps.lines[i]
    places = [j for j, other in enumerate(steps.lines) if other.step == "labour" and other.part == line.part]
    shares = labour_shares(steps.parts[line.part or 0], [f"build_up.{j}" for j in places])
    return share_book(shares, places.index(i), line.title, line.amount_minor)


def rows_line(steps: Steps, i: int) -> Node:
    """Materials or equipment of one part and cost code."""
    line, scope = steps.lines[i], steps.scope
    part = steps.parts[line.part or 0]
    family = "material" if line.step == "materials" else "equipment"
    rows = [x.row for x in (part.part.materials if family == "material" else part.part.equipment)]

    def inputs() -> list[Input]:
        mine = [row for row in rows if row.cost_code == line.cost_code]
        return [part.ref(row.title, f"{family}.{word(row.code)}.amount") for row in mine]

    words = "Σ of the rounded rows with this cost code"
    return Node(line.title, words, "sum", scope.major(line.amount_minor), scope.money, inputs)


def rounded_line(steps: Steps, i: int) -> Node:
    """A line rounded once."""
    line, scope = steps.lines[i], steps.scope
    own = f"build_up.{i}.exact" in exact_book(steps, i)

    def inputs() -> list[Input]:
        exact = scope.job_ref("exact", f"build_up.{i}.exact") if own else amount_input(steps, i)
        return [exact, *scope.rounding()]

    return Node(line.title, f"{line.basis}; rounded once", "round", scope.major(line.amount_minor), scope.money, inputs)


def line_book(steps: Steps, i: int) -> Book:
    """One line of the build-up."""
    name, step = f"build_up.{i}", steps.lines[i].step
    if step == "labour":
        return labour_line(steps, i)
    if step in ("materials", "equipment"):
        return {name: partial(rows_line, steps, i)}
    return ({} if by_item(steps, i) else {name: partial(rounded_line, steps, i)}) | exact_book(steps, i)


def taxable_book(part: PartScope) -> Book:
    """The taxable materials of a part, with the taxable subcontracts in the first."""
    scope, lines = part, part.estimate.up.lines
    taxable = [m for m in part.part.materials if m.row.taxable]
    contracts = [
        i
        for i, line in enumerate(lines)
        if line.step == "subcontracts" and not part.index and part.request.subcontracts[line.index or 0].taxable
    ]
    minor = sum(m.amount_minor for m in taxable) + sum(lines[i].amount_minor for i in contracts)

    def inputs() -> list[Input]:
        found = [scope.ref(m.row.title, f"material.{word(m.row.code)}.amount") for m in taxable]
        return found + [scope.job_ref(lines[i].title, f"build_up.{i}") for i in contracts]

    words = "Σ of the taxable rows and, in the first part, of the taxable subcontracts"
    return {
        "taxable_materials": lambda: Node("Taxable", words, "sum", scope.major(minor), scope.money, inputs),
    }


def build_up_book(steps: Steps) -> Book:
    """Every line, the sum of every step, direct cost, cost and price."""
    lines, book = steps.lines, Book()
    for i in range(len(lines)):
        book |= line_book(steps, i)
    for step in dict.fromkeys(line.step for line in lines):
        places = [i for i, line in enumerate(lines) if line.step == step]
        title = step.replace("_", " ").capitalize()
        book[f"build_up.{step}"] = partial(steps.sum_node, title, "Σ of the lines of this step", places)
    for code in dict.fromkeys(line.cost_code for line in lines):
        places = [i for i, line in enumerate(lines) if line.cost_code == code]
        title = f"Cost code {code}" if code else "No cost code"
        book[f"cost_code.{word(code)}"] = partial(steps.sum_node, title, "Σ of the lines with this code", places)
    direct = [i for i, line in enumerate(lines) if line.step in DIRECT_STEPS]
    cost = [i for i, line in enumerate(lines) if line.step in (*DIRECT_STEPS, "overhead", "contingency")]
    book["direct_cost"] = partial(steps.sum_node, "Direct cost", "Σ labour to subcontracts", direct)
    book["cost"] = partial(steps.sum_node, "Cost", "direct cost + overhead + contingency", cost)
    book["price"] = partial(steps.sum_node, "Price", "Σ of every line of the build-up", list(range(len(lines))))
    return book
