"""Field table of the labour table of an edition: wages, fringe, burdens, determinations, the week that is worked."""

from __future__ import annotations

from rates.core.exact import print_quantity
from rates.core.fields import Faults, Field, ListOf, Record, choice, date, decimal, percent, text
from rates.core.fraction import Fraction
from rates.core.labour_rows import OVERTIME_AFTER, Burden, Determination, LabourRow, OvertimeRow
from rates.core.problems import Problem
from rates.core.rows import by_fields
from rates.core.tables import HEAD, TAIL, money

GRADES = ("journeyman", "apprentice", "helper", "foreman")


def check_burden(burden: Burden, pointer: str, faults: Faults) -> None:
    """A yearly limit is spread over hours that are stated with it."""
    if (burden.yearly_limit is None) != (burden.yearly_hours is None):
        name = "yearly_hours" if burden.yearly_hours is None else "yearly_limit"
        faults.append(Problem(f"{pointer}/{name}", "missing", "a yearly limit and the hours of the year go together"))


def check_determination(found: Determination, pointer: str, faults: Faults) -> None:
    """It ends on or after its first day."""
    if found.ends is not None and found.ends < found.starts:
        faults.append(Problem(f"{pointer}/effective_to", "before_start", "it ends before it starts"))


DETERMINATION = Record(
    lambda effective_from, effective_to, **values: Determination(starts=effective_from, ends=effective_to, **values),
    (
        Field("number", text(60), "its number", required=True),
        Field("area", text(200), "the area that it is for", required=True),
        Field("classification", text(200), "the class of worker", required=True),
        Field("effective_from", date(), "first day", required=True),
        Field("effective_to", date(), "last day; open if absent"),
        Field("basic_rate", money, "basic rate an hour", required=True),
        Field("fringe", money, "fringe an hour", required=True),
    ),
    check_determination,
)


def check_labour(row: LabourRow, pointer: str, faults: Faults) -> None:
    """Wage and fringe come to what the determination says."""
    rule = row.determination
    if rule is not None and not rule.is_met_by(row.wage, row.fringe):
        least = print_quantity(rule.basic_rate + rule.fringe)
        detail = f"wage and fringe must come to {least} an hour, as determination {rule.number} says"
        faults.append(Problem(f"{pointer}/wage", "below_determination", detail))


LABOUR = Record(
    by_fields(LabourRow),
    (
        *HEAD,
        Field("wage", money, "money per hour", required=True),
        Field("fringe", money, "fringe per hour, never multiplied by overtime", default=Fraction(0)),
        Field(
            "burden",
            ListOf(
                Record(
                    lambda percent, **values: Burden(rate=percent, **values),
                    (
                        Field("title", text(), "what it pays for", required=True),
                        Field("percent", percent(), "percentage", required=True),
                        Field("on", choice("wage", "straight_wage", "cash_wage"), "its base", required=True),
                        Field("yearly_limit", money, "pay of a year that it falls on at most"),
                        Field("yearly_hours", decimal(0, 8784, above=True), "hours that the limit is spread over"),
                    ),
                    check_burden,
                )
            ),
            "payroll burden",
            default=(),
        ),
        Field("fringe_paid", choice("plan", "cash"), "fringe to a plan, or in cash as wages", default="plan"),
        Field("hours_per_week", decimal(0, 168, above=True), "hours worked a week; without, no overtime is counted"),
        Field("determination", DETERMINATION, "the prevailing-wage determination that must be met"),
        Field("overtime_multiplier", decimal(1, 10), "multiplies the wage, not the fringe", default=Fraction(3, 2)),
        Field("grade", choice(*GRADES), "grade of the worker; for checks only"),
        Field("productive_share", decimal(0, 2, above=True), "standard hours in one hour paid", default=Fraction(1)),
        *TAIL,
    ),
    check_labour,
)

OVERTIME = Record(
    OvertimeRow,
    (
        Field("hours_per_week", decimal(0, 168, above=True), "hours worked a week", required=True),
        Field("after", decimal(0, 168), "hours a week that are paid straight", default=Fraction(OVERTIME_AFTER)),
    ),
)
