"""The hour rate of a labour row: wage, overtime in a mean hour of the week, fringe, each burden on its own base."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from estimating.core.crew import burden_base, burden_money, overtime_premium
from estimating.core.derivations.nodes import Book, Input, Node, parameter
from estimating.core.derivations.printing import NUMBER, Unit
from estimating.core.derivations.scope import PartScope, word
from rates.core.fraction import Fraction
from rates.core.labour_rows import Burden, LabourRow
from rates.core.payroll import Week, premium_base

WEEK_HOURS = Unit("hours/week", "number")
YEAR_HOURS = Unit("hours/year", "number")


class Wages:
    """One labour row of the crew as its figures see it."""

    def __init__(self, scope: PartScope, code: str) -> None:
        self.scope, self.name = scope, f"labour.{code}"
        self.row: LabourRow = {word(row.code): row for row, _ in scope.part.crew.members}[code]
        self.week: Week | None = scope.part.crew.week(self.row)
        self.unit = scope.money_for("hour")

    def field(self, name: str, value: Fraction, path: str, unit: Unit | None = None) -> Input:
        """A value of the row."""
        return self.scope.table(name, value, unit or self.unit, ("labour", self.row.code, path))

    def ref(self, name: str, figure: str) -> Input:
        """Another figure of the row."""
        return self.scope.ref(name, f"{self.name}.{figure}")

    def wage(self) -> Input:
        """The wage."""
        return self.field("wage", self.row.wage, "wage")

    def paid(self) -> list[Input]:
        """Wage, and overtime where a week is stated."""
        return [self.wage()] + ([self.ref("overtime", "overtime")] if self.week is not None else [])

    def hours_a_week(self, week: Week) -> Input:
        """The hours of the week, from the request, the row or the production table."""
        crew = self.scope.part.crew
        if crew.hours_per_week is not None:
            return self.scope.asked("hours a week", "/crew/hours_per_week", week.hours, WEEK_HOURS)
        if self.row.hours_per_week is not None:
            return self.field("hours a week", week.hours, "hours_per_week", WEEK_HOURS)
        return self.scope.production("hours a week", "overtime/hours_per_week", week.hours, WEEK_HOURS)


def labour_book(scope: PartScope, code: str) -> Book:
    """The hour rate of one labour row; KeyError where the crew has none of that word."""
    wages = Wages(scope, code)
    row, name, unit = wages.row, wages.name, wages.unit

    def inputs() -> list[Input]:
        fringe = wages.field("fringe", row.fringe, "fringe")
        return [*wages.paid(), fringe, *(wages.ref(b.title, f"burden.{i}") for i, b in enumerate(row.burden))]

    words = "wage + fringe + Σ burden" if wages.week is None else "wage + overtime + fringe + Σ burden"
    rate = scope.part.crew.rate(row)
    book: Book = {f"{name}.rate": partial(Node, f"Hour rate of {row.title}", words, "sum", rate, unit, inputs)}
    for i, burden in enumerate(row.burden):
        book |= burden_book(wages, i, burden)
    return book | (overtime_book(wages, wages.week) if wages.week is not None else {})


def burden_book(wages: Wages, i: int, burden: Burden) -> Book:
    """One burden, and its base where that is not simply the wage."""
    row, name, unit = wages.row, f"{wages.name}.burden.{i}", wages.unit
    own = has_own_base(wages, burden)

    def inputs() -> list[Input]:
        rate = wages.scope.percent_of_table("percent", burden.rate, ("labour", row.code, f"burden/{i}/percent"))
        return [wages.ref("base", f"burden.{i}.base") if own else wages.wage(), rate]

    money = burden_money(row, burden, wages.week)
    words = "percent of its base" if own else "percent of the wage"
    book: Book = {name: partial(Node, burden.title, words, "percent", money, unit, inputs)}
    return book | (base_book(wages, i, burden) if own else {})


def has_own_base(wages: Wages, burden: Burden) -> bool:
    """Whether a burden's base is more than the straight wage, or less of it."""
    in_cash = burden.on == "cash_wage" and wages.row.fringe_paid == "cash"
    with_overtime = burden.on != "straight_wage" and wages.week is not None
    return burden.hourly_limit is not None or in_cash or with_overtime


def base_book(wages: Wages, i: int, burden: Burden) -> Book:
    """What a burden falls on in an hour, at most its yearly limit spread over the hours of the year."""
    row, name, unit = wages.row, f"{wages.name}.burden.{i}.base", wages.unit
    whole, limit = burden_base(row, burden, wages.week), burden.hourly_limit

    def parts() -> list[Input]:
        found = [wages.wage()] if burden.on == "straight_wage" else wages.paid()
        in_cash = burden.on == "cash_wage" and row.fringe_paid == "cash"
        return found + ([wages.field("fringe in cash", row.fringe, "fringe")] if in_cash else [])

    title = f"Base of {burden.title}"
    summed = partial(Node, title, "Σ of the pay that it falls on", "sum", whole, unit, parts)
    if limit is None or burden.yearly_limit is None or burden.yearly_hours is None:
        return {name: summed}
    year, hours = burden.yearly_limit, burden.yearly_hours

    def spread() -> list[Input]:
        at = f"burden/{i}"
        return [
            wages.field("yearly limit", year, f"{at}/yearly_limit", wages.scope.money_for("year")),
            wages.field("hours of a year", hours, f"{at}/yearly_hours", YEAR_HOURS),
        ]

    def least() -> list[Input]:
        return [wages.ref("pay", f"burden.{i}.base.pay"), wages.ref("limit", f"burden.{i}.base.limit")]

    words = "yearly limit ÷ hours of a year"
    return {
        name: partial(Node, title, "pay, at most the limit", "minimum", min(whole, limit), unit, least),
        f"{name}.pay": summed,
        f"{name}.limit": partial(Node, f"Limit of {burden.title} for an hour", words, "quotient", limit, unit, spread),
    }


def node(
    title: str, words: str, rule: str, value: Fraction, unit: Unit, inputs: Callable[[], list[Input]]
) -> Callable[[], Node]:
    """A step that is made when it is asked for."""
    return lambda: Node(title, words, rule, value, unit, inputs)


def overtime_book(wages: Wages, week: Week) -> Book:
    """The overtime premium in a mean hour of the week."""
    row, name, unit = wages.row, f"{wages.name}.overtime", wages.unit
    base, rule = premium_base(row.wage, row.determination), row.determination
    extra = row.overtime_multiplier - 1

    def mean() -> list[Input]:
        premium, hours = wages.ref("premium", "overtime.premium"), wages.ref("overtime hours", "overtime.hours")
        return [premium, hours, wages.hours_a_week(week)]

    def premium() -> list[Input]:
        return [wages.ref("base", "overtime.base"), wages.ref("extra", "overtime.extra")]

    def bases() -> list[Input]:
        least = [wages.field("basic rate", rule.basic_rate, "determination/basic_rate")] if rule is not None else []
        return [wages.wage(), *least]

    def multiplier() -> list[Input]:
        stated = wages.field("overtime multiplier", row.overtime_multiplier, "overtime_multiplier", NUMBER)
        return [stated, parameter("straight", 1)]

    def past() -> list[Input]:
        return [
            wages.hours_a_week(week),
            wages.scope.production("paid straight", "overtime/after", week.after, WEEK_HOURS),
        ]

    spread = "premium × overtime hours ÷ hours of the week"
    return {
        name: node("Overtime in a mean hour", spread, "proportion", overtime_premium(row, week), unit, mean),
        f"{name}.premium": node("Premium of an hour", "base × extra", "product", base * extra, unit, premium),
        f"{name}.base": node("Base of the premium", "wage, at least the basic rate", "maximum", base, unit, bases),
        f"{name}.extra": node("Extra of overtime", "multiplier − 1", "difference", extra, NUMBER, multiplier),
        f"{name}.hours": node(
            "Overtime hours", "those past the straight", "shortfall", week.overtime, WEEK_HOURS, past
        ),
    }
