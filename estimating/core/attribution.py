"""The change of price between two estimates, cause by cause, to the cent.

Each cause takes its fields and tables from the later estimate; every mixed state is a full estimate. Even-handed is
the Shapley value over the causes that changed (Shapley 1953: efficiency, symmetry, null player); in order is the
running difference. Smooth evaluates packs, days and rounding smoothly for the causes and carries the rest as one line.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from estimating.core.comparison import NOTHING_DECIDED, Decided, Match, match
from estimating.core.estimate import Estimate, Plan, build, estimate
from estimating.core.job import Job, card_on, cost, make_plan
from estimating.core.request import Request
from estimating.core.shared_work import Shared
from estimating.core.shares import even_handed, in_order
from estimating.core.worked_alike import is_worked_alike
from rates.core.card import Card
from rates.core.fields import Faults
from rates.core.fraction import Fraction
from rates.core.money import allocate_values
from rates.core.problems import Problem, Refused
from rates.core.rows import Row

CAUSES = ("openings", "productivity", "rates", "method", "overheads_and_profit", "calendar")
PACKS_AND_ROUNDING = "packs_and_rounding"
OF_REQUEST: dict[str, tuple[str, ...]] = {
    "openings": ("schedule", "seal", "joints", "only_external"),
    "productivity": ("crew", "congestion", "rework"),
    "rates": ("stock", "subcontracts", "exemption_certificate", "materials", "quantities_from"),
    "method": ("no_primer_reason",),
    "overheads_and_profit": ("allowances", "empty_price"),
    "calendar": ("work_date", "mobilisations", "parts", "temperature", "return_trips", "calendar"),
}
OF_GIVEN: dict[str, tuple[str, ...]] = {
    "openings": ("depth_nm", "substrate"),
    "method": ("method", "barrier", "override"),
}
OF_CARD: dict[str, tuple[str, ...]] = {
    "productivity": ("production",),
    "rates": ("labour", "materials", "equipment"),
    "overheads_and_profit": ("overheads", "rounding", "sales_tax_by"),
}
ROW_TABLES = ("labour", "materials", "equipment")
CardsOfDay = tuple[datetime.date, Card, Card]
OF_NO_MONEY = frozenset({"renumbered", "place", "source"})  # classes that change no quantity and no work


@dataclass(frozen=True)
class RowChange:
    """What one changed row of the rates does on its own, before anything else changes; None where it can't be had."""

    table: str
    code: str
    amount_minor: int | None


@dataclass(frozen=True)
class LineChange:
    """One changed line's price before, and after only the openings have changed; the same where only its name did."""

    match: Match
    before_minor: int
    after_minor: int


@dataclass(frozen=True)
class Comparison:
    """Two jobs and the causes of the change; minor units throughout, each level sums to the one above.

    lines sum with `lines_with_other_causes` to the openings cause, rows with `rows_together` to the rates cause.
    changed: the causes whose fields or tables differ; cards: each day of either job with the rates before and after.
    """

    before: Estimate
    after: Estimate
    mode: str
    order: tuple[str, ...]
    smooth: bool
    causes: tuple[tuple[str, int], ...]
    lines: tuple[LineChange, ...]
    lines_with_other_causes: int
    rows: tuple[RowChange, ...]
    rows_together: int
    changed: tuple[str, ...]
    cards: tuple[CardsOfDay, ...]


def taken(request: Request, later: Request, causes: frozenset[str]) -> Request:
    """The earlier request with these causes' fields from the later one."""
    given = {f: getattr(later.given, f) for c in causes for f in OF_GIVEN.get(c, ())}
    fields = {f: getattr(later, f) for c in causes for f in OF_REQUEST[c]}
    return replace(request, given=replace(request.given, **given), **fields)


def side_card(job: Job, day: datetime.date) -> Card:
    """The job's card of a day; its main card before its first start."""
    return card_on(job.cards, day) or job.plan.card


def mixed_card(before: Job, after: Job, causes: frozenset[str]) -> Callable[[datetime.date], Card]:
    """The card of a day with these causes' tables from the later job."""

    def on(day: datetime.date) -> Card:
        early, late = side_card(before, day), side_card(after, day)
        tables = [t for c in CAUSES if c in causes for t in OF_CARD.get(c, ())]
        return early.taking(late, tables)

    return on


def mixed_plan(
    before: Job,
    after: Job,
    causes: frozenset[str],
    shared: Shared,
    on: Callable[[datetime.date], Card] | None = None,
) -> Plan:
    """The plan in which these causes are as in the later job; Refused with why it can't be costed."""
    request = taken(before.plan.request, after.plan.request, causes)
    faults: Faults = []
    plan = make_plan(request, before.cards, faults, on or mixed_card(before, after, causes), shared.settle_kinds)
    if plan is None:
        words = ", ".join(c for c in CAUSES if c in causes) or "nothing"
        detail = f"with {words} as in the later estimate it can't be costed: {faults[0].detail}"
        raise Refused([Problem("", "mix_refused", detail), *faults])
    return plan


def cards_by_day(before: Job, after: Job) -> tuple[CardsOfDay, ...]:
    """Each day that either job works on, with the rates before and after."""
    days = {day for job in (before, after) for day in work_days(job.plan.request)}
    return tuple((day, side_card(before, day), side_card(after, day)) for day in sorted(days))


def work_days(request: Request) -> frozenset[datetime.date]:
    """The days of a request, those of its parts among them."""
    return frozenset({request.work_date, *(part.work_date for part in request.parts)})


def changed_causes(before: Job, after: Job) -> tuple[str, ...]:
    """The causes whose fields or tables differ."""
    a, b = before.plan.request, after.plan.request
    cards = cards_by_day(before, after)
    found = []
    for cause in CAUSES:
        fields = any(getattr(a, f) != getattr(b, f) for f in OF_REQUEST[cause])
        given = any(getattr(a.given, f) != getattr(b.given, f) for f in OF_GIVEN.get(cause, ()))
        tables = any(getattr(one, t) != getattr(other, t) for _, one, other in cards for t in OF_CARD.get(cause, ()))
        if fields or given or tables:
            found.append(cause)
    return tuple(found)


def check(before: Job, after: Job, mode: str, order: Sequence[str] | None) -> tuple[str, ...]:
    """The order of the causes; Refused for two currencies, an unknown mode or an order that is not one."""
    faults: Faults = []
    if before.plan.card.currency != after.plan.card.currency:
        currencies = f"{before.plan.card.currency} and {after.plan.card.currency}"
        faults.append(Problem("/after", "mixed_currencies", f"two currencies can't be compared: {currencies}"))
    if mode not in ("even_handed", "in_order"):
        faults.append(Problem("/attribution", "unknown_choice", "one of even_handed, in_order is expected"))
    if order is not None and sorted(order) != sorted(CAUSES):
        faults.append(Problem("/order", "not_an_order", f"an order names each of {', '.join(CAUSES)} once"))
    if faults:
        raise Refused(faults)
    return tuple(order) if order is not None else CAUSES


class Prices:
    """Prices of mixed states in minor units, each computed once."""

    def __init__(self, before: Job, after: Job, smooth: bool, shared: Shared | None = None) -> None:
        self.before, self.after, self.smooth = before, after, smooth
        self.shared = shared or Shared()
        self.known: dict[frozenset[str], int] = {}

    def __call__(self, causes: frozenset[str]) -> int:
        """The price with these causes as in the later job."""
        if causes not in self.known:
            plan = mixed_plan(self.before, self.after, causes, self.shared)
            _, up = build(plan, self.smooth, shared=self.shared)
            self.known[causes] = up.price_minor
        return self.known[causes]


def split(prices: Prices, changed: Sequence[str], mode: str, order: tuple[str, ...]) -> dict[str, int]:
    """The change over the causes in minor units (packs and rounding apart)."""
    if mode == "even_handed":
        exact = even_handed(changed, prices)
    else:
        exact = in_order(tuple(c for c in order if c in changed), prices)
    values = [exact.get(cause, Fraction(0)) for cause in CAUSES]
    total = prices(frozenset(changed)) - prices(frozenset())
    return dict(zip(CAUSES, allocate_values(values, total), strict=True))


def line_changes(before: Job, after: Job, first: Estimate, decided: Decided, shared: Shared) -> tuple[LineChange, ...]:
    """Lines that changed, with their prices before and after only the openings change; `decided` says which are one.

    A line that is unchanged, renumbered, newly sourced, or says what counted for it before (access from the ground)
    moves no money: what shifts on to it or off it when others change (set-up, whole packs, minimum, rounding) stays
    with `lines_with_other_causes`.
    """
    plan = mixed_plan(before, after, frozenset({"openings"}), shared)
    second = estimate(plan, shared=shared)
    found = []
    for m in match(before.plan.request.schedule, after.plan.request.schedule, decided):
        was = 0 if m.before is None else first.allocation.line_prices[m.before]
        now = 0 if m.after is None else second.allocation.line_prices[m.after]
        if m.classes:
            still = OF_NO_MONEY.issuperset(m.classes) or is_worked_alike(before.plan, plan, m, OF_NO_MONEY)
            found.append(LineChange(m, was, was if still else now))
    return tuple(found)


def rows_of(card: Card, table: str) -> dict[str, Row]:
    """A table's rows by code."""
    return {row.code: row for row in getattr(card, table)}


def with_row(card: Card, late: Card, table: str, code: str) -> Card:
    """The card with one row as in the later card: replaced, added at the end, or taken out."""
    row = rows_of(late, table).get(code)
    kept: list[Row | None] = [row if r.code == code else r for r in getattr(card, table)]
    if row is not None and row not in kept:
        kept.append(row)
    tables: dict[str, Any] = {table: tuple(r for r in kept if r is not None)}
    return replace(card, **tables)


def row_changes(prices: Prices) -> tuple[RowChange, ...]:
    """Each changed row of labour, materials and equipment on its own."""
    before, after, shared = prices.before, prices.after, prices.shared
    early, late, base_minor = before.plan.card, after.plan.card, prices(frozenset())
    found = []
    for table in ROW_TABLES:
        a, b = rows_of(early, table), rows_of(late, table)
        for code in dict.fromkeys((*a, *b)):
            if a.get(code) == b.get(code):
                continue

            def on(day: datetime.date, table: str = table, code: str = code) -> Card:
                return with_row(side_card(before, day), side_card(after, day), table, code)

            try:
                plan = mixed_plan(before, after, frozenset(), shared, on)
                _, up = build(plan, prices.smooth, shared=shared)
            except Refused:
                found.append(RowChange(table, code, None))
                continue
            if up.price_minor != base_minor:
                found.append(RowChange(table, code, up.price_minor - base_minor))
    return tuple(found)


def compare(
    before: Job,
    after: Job,
    *,
    mode: str = "even_handed",
    order: Sequence[str] | None = None,
    smooth: bool = False,
    decided: Decided = NOTHING_DECIDED,
) -> Comparison:
    """The causes of the change between two jobs; Refused where a mixed state can't be costed, with the reason.

    `decided` moves amounts between lines and what stands beside them; the causes sum as they would without it.
    """
    stated = check(before, after, mode, order)
    first, second = cost(before), cost(after)
    changed, prices = changed_causes(before, after), Prices(before, after, smooth)
    causes = split(prices, changed, mode, stated)
    change = second.up.price_minor - first.up.price_minor
    if smooth:
        causes[PACKS_AND_ROUNDING] = change - sum(causes.values())
    lines = line_changes(before, after, first, decided, prices.shared) if "openings" in changed else ()
    rows = row_changes(prices) if "rates" in changed else ()
    return Comparison(
        before=first,
        after=second,
        mode=mode,
        order=stated,
        smooth=smooth,
        causes=tuple(causes.items()),
        lines=lines,
        lines_with_other_causes=causes["openings"] - sum(x.after_minor - x.before_minor for x in lines),
        rows=rows,
        rows_together=causes["rates"] - sum(r.amount_minor or 0 for r in rows),
        changed=changed,
        cards=cards_by_day(before, after),
    )
