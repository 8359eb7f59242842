"""The purchase list: what to buy of each material, by when, how it is kept, and what else would cover the need."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping
from math import ceil
from typing import Any

from estimating.core.estimate import Estimate
from estimating.core.materials import MaterialLine
from estimating.core.packs import Pack
from estimating.core.part import Part
from estimating.core.roll_needs import ROLES, rolls_of_terms
from estimating.outputs.answer import part_name
from estimating.outputs.calendar_answer import planned_parts
from estimating.outputs.measures import measures_of
from rates.core.exact import print_quantity
from rates.core.fraction import Fraction

Row = dict[str, Any]
Use = tuple[int, str]  # place of the part, code of the material
Uses = Mapping[Use, tuple[datetime.date, datetime.date]]
EARLIEST = datetime.date.min


def waste_text(line: MaterialLine) -> str:
    """What of a net quantity is wasted, in words."""
    if line.planned:
        return "cut plan"
    waste = line.waste
    return f"{print_quantity(waste.percent)} % {waste.kind}" if waste.rate else "none"


def day_before(day: datetime.date, days: int | None) -> str | None:
    """So many days before a day, as text; None where none are stated or it would be before all dates."""
    if days is None or days > (day - EARLIEST).days:
        return None
    return (day - datetime.timedelta(days=days)).isoformat()


def one_size(line: MaterialLine, place: int) -> tuple[int, Fraction]:
    """(how many packs of one size alone are enough, what is needed of them)."""
    if not line.planned:
        return ceil(line.needed / line.packs[place].size), line.needed
    to, lap, wide, stock, *terms = line.of_rolls
    offers = [term for term in terms if len(term) == 2]
    rolls = rolls_of_terms(to, lap, wide, stock, [offers[place], *terms[len(offers) :]])
    return rolls.count, max(Fraction(0), rolls.taken * to - stock)


def alternatives(line: MaterialLine, estimate: Estimate) -> Iterator[Row]:
    """Each size alone, where it is not what is bought."""
    chosen = [(pack.label, count) for pack, count in line.mix.counts]
    m, dimension = measures_of(estimate), line.row.packs[0].dimension
    for place, pack in enumerate(line.packs if line.needed else ()):
        count, needed = one_size(line, place)
        if count and [(pack.label, count)] != chosen:
            yield {
                "packs": [{"size": pack.label, "count": count}],
                "left_over": m.print_stock(dimension, pack.size * count - needed),
                "amount": amount(line, [(pack, count)]),
            }


def amount(line: MaterialLine, packs: list[tuple[Pack, int]]) -> str:
    """What packs cost, rounded once."""
    cost = sum((pack.price * count for pack, count in packs), Fraction(0))
    return line.till.text(line.till.minor(cost))


def days_of_use(estimate: Estimate) -> dict[Use, tuple[datetime.date, datetime.date]]:
    """The first and the last day that a material is used in a part, by its calendar; empty where there is none.

    Mesh and tape are cut before the first opening is started (common practice, no source).
    """
    found: dict[Use, tuple[datetime.date, datetime.date]] = {}
    for of in planned_parts(estimate) if estimate.request.calendar is not None else ():
        place = of.part.conditions.place
        for stint in of.stints:
            date = stint.day.date
            for code in stint.task.materials:
                found[place, code] = (found.get((place, code), (date, date))[0], date)
        for line in of.part.materials if of.first is not None else ():
            use = (place, line.row.code)
            if of.first is not None and (line.row.role in ROLES or line.by_crew_day):
                last = of.stints[-1].day.date if line.by_crew_day or use not in found else found[use][1]
                found[use] = (of.first, last)
    return found


def purchase_row(part: Part, line: MaterialLine, estimate: Estimate, uses: Uses) -> Row:
    """One material of a part."""
    m, row = measures_of(estimate), line.row
    dimension = row.packs[0].dimension
    work = part.plan.work_date or estimate.request.work_date
    day, last = uses.get((part.conditions.place, row.code), (work, work))
    quantities = {name: m.print_stock(dimension, getattr(line, name)) for name in ("net", "gross", "stock", "needed")}
    return (
        {"code": row.code, "title": row.title, "role": row.role}
        | part_name(part, estimate)
        | quantities
        | {
            "waste": waste_text(line),
            "unit": m.unit_of(dimension),
            "packs": [{"size": pack.label, "count": count} for pack, count in line.mix.counts],
            "left_over": m.print_stock(dimension, line.mix.left_over),
            "need_by": day.isoformat(),
            "order_by": day_before(day, row.lead_days),
            "lead_days": row.lead_days,
            "buy_after": day_before(last, row.shelf_life_days),
            "shelf_life_days": row.shelf_life_days,
            "storage": row.storage,
            "price_source": row.source,
            "priced_on": (row.priced_on or line.card.effective_from).isoformat(),
            "amount": amount(line, list(line.mix.counts)),
            "alternatives": list(alternatives(line, estimate)),
            "cost_code": row.cost_code,
        }
    )


def purchase_rows(estimate: Estimate) -> list[Row]:
    """Every material, part by part, in the order of the table."""
    uses = days_of_use(estimate)
    return [purchase_row(part, line, estimate, uses) for part in estimate.parts for line in part.materials]
