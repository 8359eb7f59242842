"""What an hour of the crew costs and gives: hour rates, sums over the crew, paid hours, days, labour cost."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from estimating.core.derivations.nodes import Book, Input, Node
from estimating.core.derivations.printing import DAYS, HOURS, NUMBER, Unit
from estimating.core.derivations.scope import PartScope, word
from estimating.core.derivations.shares import Shares, missing_node
from rates.core.fraction import Fraction


def member_terms(scope: PartScope, rates: bool, only: Sequence[int] | None = None) -> list[Input]:
    """Count × hour rate, or count × productive share, of each member of the crew."""
    found = []
    for k, (row, count) in enumerate(scope.part.crew.members):
        if only is not None and k not in only:
            continue
        found.append(scope.asked(f"{row.title}, how many", f"/crew/members/{k}/count", count, NUMBER, k))
        if rates:
            found.append(scope.ref("hour rate", f"labour.{word(row.code)}.rate", k))
        else:
            at = ("labour", row.code, "productive_share")
            found.append(scope.table("productive share", row.productive_share, NUMBER, at, k))
    return found


def workers_inputs(scope: PartScope) -> list[Input]:
    """How many of each member."""
    members = enumerate(scope.part.crew.members)
    return [scope.asked(row.title, f"/crew/members/{k}/count", count, NUMBER) for k, (row, count) in members]


def code_weights(scope: PartScope) -> dict[str | None, list[int]]:
    """Places in the crew by cost code, codes in order of first appearance."""
    found: dict[str | None, list[int]] = {}
    for k, (row, _) in enumerate(scope.part.crew.members):
        found.setdefault(row.cost_code, []).append(k)
    return found


def weight_node(scope: PartScope, places: Sequence[int]) -> Node:
    """What the members of one cost code weigh in the split of labour."""
    value = member_weight(scope, places)
    words = "Σ count × hour rate of the members with this cost code"
    inputs = partial(member_terms, scope, True, places)
    return Node("Weight of a cost code in labour", words, "sum_of_products", value, scope.money_for("hour"), inputs)


def member_weight(scope: PartScope, places: Sequence[int]) -> Fraction:
    """Σ count × hour rate of some members."""
    members = scope.part.crew.members
    return sum((members[k][1] * scope.part.crew.rate(members[k][0]) for k in places), Fraction(0))


def labour_shares(scope: PartScope, figures: Sequence[str]) -> Shares:
    """The part's labour over the cost codes of its crew; figures: the names of the shares."""
    part, till = scope.part, scope.estimate.till
    return Shares(
        scope,
        till.minor(part.hours.standard * part.crew.standard_hour_cost),
        [member_weight(scope, places) for places in code_weights(scope).values()],
        figures,
        total=lambda: scope.ref("labour", "labour_cost"),
        whole=lambda: scope.ref("all weights", "crew.money"),
        missing=f"{scope.prefix}labour_cost.missing",
        weight=lambda j: scope.ref("weight of the code", f"crew.weight.{j}"),
    )


def labour_cost_book(scope: PartScope) -> Book:
    """The part's labour, rounded once."""
    crew, till = scope.part.crew, scope.estimate.till
    exact = scope.part.hours.standard * crew.standard_hour_cost

    def factors() -> list[Input]:
        return [scope.ref("standard hours", "hours.standard"), scope.ref("cost of a standard hour", "hour_cost")]

    def rounded() -> list[Input]:
        return [scope.ref("exact", "labour_cost.exact"), *scope.rounding()]

    lines = enumerate(scope.estimate.up.lines)
    figures = [f"build_up.{i}" for i, line in lines if line.step == "labour" and line.part == scope.index]
    return {
        "labour_cost.missing": partial(missing_node, labour_shares(scope, figures)),
        "labour_cost": lambda: Node(
            "Labour", "rounded once", "round", scope.major(till.minor(exact)), scope.money, rounded
        ),
        "labour_cost.exact": lambda: Node(
            "Labour before rounding",
            "standard hours × cost of a standard hour",
            "product",
            exact,
            scope.exact_money,
            factors,
        ),
    }


STANDARD = ("standard hours", "hours.standard")
SHARES = ("standard hours in a crew hour", "crew.shares")
DAY = Unit("hours/day", "number")
Named = tuple[str, str]


def named_inputs(scope: PartScope, names: Sequence[Named]) -> list[Input]:
    """Figures of the part as inputs, by (name, figure)."""
    return [scope.ref(name, figure) for name, figure in names]


def member_book(scope: PartScope) -> Book:
    """Sums over the members of the crew."""
    crew = scope.part.crew
    return {
        "crew.workers": lambda: Node("Workers", "Σ count", "sum", crew.workers, NUMBER, partial(workers_inputs, scope)),
        "crew.shares": lambda: Node(
            "Standard hours in an hour of the crew",
            "Σ count × productive share",
            "sum_of_products",
            crew.productive_shares,
            NUMBER,
            partial(member_terms, scope, False),
        ),
        "crew.money": lambda: Node(
            "Money for an hour of the crew",
            "Σ count × hour rate",
            "sum_of_products",
            crew.money_per_crew_hour,
            scope.money_for("hour"),
            partial(member_terms, scope, True),
        ),
    }


def hour_book(scope: PartScope) -> Book:
    """The cost of a standard hour, and how many the crew gives in a day."""
    crew = scope.part.crew

    def daily() -> list[Input]:
        worked = scope.production("hours a day", "hours_per_day", crew.hours_per_day, DAY)
        return [worked, scope.ref(*SHARES)]

    return {
        "hour_cost": lambda: Node(
            "Cost of a standard hour",
            "money for a crew hour ÷ standard hours in a crew hour, never rounded",
            "quotient",
            crew.standard_hour_cost,
            scope.money_for("hour"),
            partial(named_inputs, scope, [("money for a crew hour", "crew.money"), SHARES]),
        ),
        "crew.daily_hours": lambda: Node(
            "Standard hours in a day",
            "hours a day × standard hours in a crew hour",
            "product",
            crew.daily_hours,
            DAY,
            daily,
        ),
    }


def crew_book(scope: PartScope) -> Book:
    """Figures of the crew and of the hours it is paid for."""
    crew, hours = scope.part.crew, scope.part.hours.standard

    def node(title: str, words: str, rule: str, value: Fraction | int, unit: Unit, *names: Named) -> Node:
        return Node(title, words, rule, value, unit, partial(named_inputs, scope, names))

    words = "standard hours × workers ÷ standard hours in a crew hour"
    paid, exact = crew.paid_hours(hours), crew.exact_days(hours)
    each_day = ("standard hours in a day", "crew.daily_hours")
    book: Book = {
        "crew_days": lambda: node(
            "Crew-days", "rounded up once", "ceiling", crew.days(hours), DAYS, ("exact days", "crew_days.exact")
        ),
        "crew_days.exact": lambda: node(
            "Crew-days before rounding up",
            "standard hours ÷ standard hours in a day",
            "quotient",
            exact,
            DAYS,
            STANDARD,
            each_day,
        ),
        "hours.paid": lambda: node(
            "Paid hours", words, "proportion", paid, HOURS, STANDARD, ("workers", "crew.workers"), SHARES
        ),
    }
    weights = enumerate(code_weights(scope).values())
    book |= {f"crew.weight.{j}": partial(weight_node, scope, places) for j, places in weights}
    return member_book(scope) | hour_book(scope) | book
