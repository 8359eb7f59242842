"""An estimate as the document that clients read: money and quantities as decimal texts, units stated once."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from estimating.core.allocation import Mark
from estimating.core.build_lines import BuildLine
from estimating.core.estimate import ENGINE_VERSION, Estimate
from estimating.core.part import Part
from estimating.core.per_area import per_area
from estimating.core.remarks import Remark
from estimating.outputs.cautions import cautions
from estimating.outputs.check_rows import estimate_checks
from estimating.outputs.measures import measures_of
from estimating.outputs.scope_answer import estimate_scope
from estimating.outputs.takeoff_rows import opening_table, openings, pieces
from rates.core.card import Card
from rates.core.exact import print_quantity
from rates.core.fraction import Fraction

Row = dict[str, Any]


def profit_percents(estimate: Estimate) -> tuple[str, str]:
    """(markup percent on cost, margin percent of cost and profit): the stated as stated, the other at two places."""
    up = estimate.up
    row = up.profit_row
    if row is None or row.rate is None:
        return "0", "0"
    base, profit = up.cost_minor, Fraction(up.profit_minor)
    stated = print_quantity(row.rate * 100, 12)
    if row.kind == "margin":
        markup = row.rate / (1 - row.rate)
        return print_quantity(markup * 100, 2), stated
    if row.on in ("cost", "running"):
        return stated, print_quantity(row.rate / (1 + row.rate) * 100, 2)
    markup_on_cost = print_quantity(profit / base * 100, 2) if base else "0"
    return markup_on_cost, print_quantity(profit / (base + profit) * 100, 2) if base + profit else "0"


def totals(estimate: Estimate) -> Row:
    """The sums of the estimate."""
    m, till, up = measures_of(estimate), estimate.till, estimate.up
    each = estimate.price_per_opening
    markup, margin = profit_percents(estimate)
    return {
        "openings": estimate.openings,
        "perimeter": m.print_perimeter(estimate.perimeter_nm),
        "treated_area": m.print_area(estimate.treated_area_nm2),
        "hours": print_quantity(estimate.standard_hours),
        "crew_days": str(estimate.crew_days),
        "direct_cost": till.text(up.direct_minor),
        "cost": till.text(up.cost_minor),
        "price": till.text(up.price_minor),
        "price_per_opening": None if each is None else print_quantity(each),
        "markup_percent": markup,
        "margin_percent": margin,
    }


def build_row(line: BuildLine, estimate: Estimate) -> Row:
    """One line of the build-up."""
    parts = estimate.parts
    title = line.title
    if line.part is not None and len(parts) > 1:
        title = f"{title}, {parts[line.part].plan.title}"
    return {
        "step": line.step,
        "title": title,
        "basis": line.basis,
        "amount": estimate.till.text(line.amount_minor),
        "cost_code": line.cost_code,
    }


def unit_price(mark: Mark, estimate: Estimate) -> tuple[str | None, str]:
    """(price of one rounded half-up, what that rounding leaves over); no price of one without a quantity."""
    text, price, quantity = estimate.till.text, mark.price_minor, mark.quantity
    if not quantity:
        return None, text(price)
    each = (2 * price + quantity) // (2 * quantity)
    return text(each), text(price - each * quantity)


def mark_rows(estimate: Estimate) -> list[Row]:
    """Each mark with its price, the price of one and what rounding that leaves over."""
    alike: dict[tuple[int, int, int], Row] = {}  # what marks of one quantity, time and price have in common
    rows: list[Row] = []
    for mark in estimate.allocation.marks:
        name, quantity, units, _, minor, _, _ = mark
        known = alike.get((quantity, units, minor))
        if known is None:
            hours, price = print_quantity(mark.touch_minutes / 60), estimate.till.text(minor)
            each, left = unit_price(mark, estimate)
            known = {"quantity": quantity, "hours": hours, "price": price, "unit_price": each, "residual": left}
            alike[quantity, units, minor] = known
        rows.append({"mark": name, **known})
    return rows


def remark_row(remark: Remark) -> Row:
    """One remark."""
    return {
        "code": remark.code,
        "severity": remark.severity,
        "pointer": remark.pointer,
        "detail": remark.detail,
    }


def edition_row(card: Card) -> Row:
    """The company's edition that a card was read from."""
    supply = card.supply["overheads"]
    return {"id": supply.edition, "number": supply.number, "effective_from": supply.effective_from}


def edition_rows(estimate: Estimate) -> list[Row]:
    """Every edition that priced something, the one of the work date first."""
    rows = [edition_row(estimate.card), *(edition_row(part.plan.card) for part in estimate.parts)]
    return [row for i, row in enumerate(rows) if row not in rows[:i]]


def answer(estimate: Estimate) -> Row:
    """The estimate document, as far as the computation knows it."""
    return {
        "scope": estimate_scope(estimate),
        "currency": estimate.till.currency,
        "units": measures_of(estimate).stated(),
        "work_date": estimate.request.work_date.isoformat(),
        "edition": edition_row(estimate.card),
        "editions": edition_rows(estimate),
        "layers": [dict(layer.described()) for layer in estimate.card.layers],
        "totals": totals(estimate),
        "build_up": [build_row(line, estimate) for line in estimate.up.lines],
        "by_mark": mark_rows(estimate),
        "remarks": [remark_row(remark) for remark in estimate.remarks],
        "checks": estimate_checks(estimate),
        "cautions": cautions(estimate),
        "input_digest": estimate.input_digest,
        "engine_version": ENGINE_VERSION,
    }


def part_name(part: Part, estimate: Estimate) -> Row:
    """Which part of a season split, where there is more than one."""
    return {"part": part.plan.title} if len(estimate.parts) > 1 else {}


def materials(estimate: Estimate) -> list[Row]:
    """Each material: net, gross before stock, packs, money."""
    m, till = measures_of(estimate), estimate.till
    rows: list[Row] = []
    for part in estimate.parts:
        for x in part.materials:
            dimension = x.row.packs[0].dimension
            rows.append(
                {
                    "code": x.row.code,
                    "title": x.row.title,
                    "role": x.row.role,
                    "net": m.print_stock(dimension, x.net),
                    "gross": m.print_stock(dimension, x.gross),
                    "stock": m.print_stock(dimension, x.stock),
                    "unit": m.unit_of(dimension),
                    "packs": [{"size": pack.label, "count": count} for pack, count in x.mix.counts],
                    "left_over": m.print_stock(dimension, x.mix.left_over),
                    "priced_as": "used" if x.as_used else "bought",
                    "amount": till.text(x.amount_minor),
                    "cost_code": x.row.cost_code,
                }
                | part_name(part, estimate)
            )
    return rows


def equipment(estimate: Estimate) -> list[Row]:
    """Each rented row: days, units, periods, money."""
    return [
        {
            "code": x.row.code,
            "title": x.row.title,
            "days": str(x.days),
            "units": int(x.units),
            "rental": [{"period": pack.label, "count": count} for pack, count in x.mix.counts],
            "deliveries": int(x.deliveries),
            "amount": estimate.till.text(x.amount_minor),
            "cost_code": x.row.cost_code,
        }
        | part_name(part, estimate)
        for part in estimate.parts
        for x in part.equipment
    ]


def hours(estimate: Estimate) -> Row:
    """Standard and paid hours and what they are made of; factor and rate of the first part where they differ."""
    parts = estimate.parts
    first = parts[0] if parts else None
    texts: dict[int, str] = {}
    touch: dict[str, str] = {}
    for mark in estimate.allocation.marks:
        units = mark.touch_units
        if units not in texts:
            texts[units] = print_quantity(mark.touch_minutes)
        if mark.mark is not None:
            touch[mark.mark] = texts[units]
    paid = sum((p.hours.paid for p in parts), Fraction(0))
    row: Row = {
        "standard": print_quantity(estimate.standard_hours),
        "setup": print_quantity(sum((p.hours.setup for p in parts), Fraction(0))),
        "idle": print_quantity(sum((p.hours.idle_minutes for p in parts), Fraction(0)) / 60),
        "paid": print_quantity(paid),
        "learning_factor": print_quantity(first.hours.learning_factor) if first else "1",
        "opening_equivalents": print_quantity(sum((p.hours.opening_equivalents for p in parts), Fraction(0))),
        "hour_rate": print_quantity(first.crew.standard_hour_cost) if first else "0",
        "touch_minutes": touch,
    }
    if len(parts) > 1:
        row["parts"] = [
            {
                "part": p.plan.title,
                "edition": edition_row(p.plan.card),
                "standard": print_quantity(p.hours.standard),
                "setup": print_quantity(p.hours.setup),
                "paid": print_quantity(p.hours.paid),
                "learning_factor": print_quantity(p.hours.learning_factor),
                "hour_rate": print_quantity(p.crew.standard_hour_cost),
            }
            for p in parts
        ]
    return row


COLUMN = {"labour": "labour", "materials": "materials", "equipment": "equipment"}


def cost_codes(estimate: Estimate) -> list[Row]:
    """The price by cost code; codes sum to the price."""
    sums: dict[str | None, dict[str, int]] = {}
    for line in estimate.up.lines:
        of_code = sums.setdefault(line.cost_code, dict.fromkeys(("labour", "materials", "equipment", "other"), 0))
        of_code[COLUMN.get(line.step, "other")] += line.amount_minor
    text, titles = estimate.till.text, dict(estimate.card.cost_codes)
    rows: list[Row] = []
    for code, of_code in sums.items():
        row: Row = {"code": code, "title": titles.get(code) if code else "no cost code"}
        row |= {name: text(amount) for name, amount in of_code.items()}
        rows.append(row | {"amount": text(sum(of_code.values()))})
    return rows


def area_row(estimate: Estimate) -> Row | None:
    """Price per opening against a price per wall area; None without a wall area."""
    found = per_area(estimate)
    if found is None:
        return None
    stated, money = found.stated, estimate.till
    return {
        "wall_area": measures_of(estimate).print_area(found.wall_area),
        "price_per_area": print_quantity(found.price_per_area),
        "stated_rate": print_quantity(found.rate) if stated else None,
        "stated_price": money.text(money.whole(found.stated_price)) if stated else None,
        "difference": money.text(money.whole(found.difference)) if stated else None,
        "fixed_price": print_quantity(found.fixed_price),
        "price_each": print_quantity(found.price_each) if found.counts else None,
        "break_even_openings": print_quantity(found.break_even_openings) if found.meets else None,
    }


def parts(estimate: Estimate) -> Mapping[str, object]:
    """Every part of the answer that has a route of its own and is kept with it."""
    return {"openings": openings(estimate)} | other_parts(estimate)


def kept_parts(estimate: Estimate) -> Mapping[str, object]:
    """The same parts as they are kept: the openings as a table that tells shared figures once."""
    return {"openings": opening_table(estimate)} | other_parts(estimate)


def other_parts(estimate: Estimate) -> dict[str, object]:
    """Every part but the openings."""
    return {
        "materials": materials(estimate),
        "equipment": equipment(estimate),
        "hours": hours(estimate),
        "pieces": pieces(estimate),
        "cost-codes": cost_codes(estimate),
        "per-area": area_row(estimate),
    }
