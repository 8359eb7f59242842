"""A comparison as the document clients read: before, after, change, causes with a sentence each, lines, rate rows."""

from __future__ import annotations

from collections.abc import Callable

from estimating.core.attribution import Comparison, LineChange, RowChange
from estimating.core.estimate import Estimate
from estimating.core.schedule import Line
from rates.core.money import print_money
from rates.core.texts import counted

Row = dict[str, object]


def side(estimate: Estimate) -> Row:
    """What one side comes to."""
    return {
        "price": estimate.till.text(estimate.up.price_minor),
        "openings": estimate.openings,
        "work_date": estimate.request.work_date.isoformat(),
        "input_digest": estimate.input_digest or None,
    }


def against(now: object, was: object) -> str:
    """The later value against the earlier one."""
    return f"{now} as before" if now == was else f"{now} (before {was})"


def openings_sentence(c: Comparison) -> str:
    """What changed in the schedule."""
    counts: dict[str, int] = {}
    for line in c.lines:
        for name in line.match.classes:
            counts[name] = counts.get(name, 0) + 1
    told = ", ".join(f"{count} {name}" for name, count in counts.items()) or "none"
    openings = against(counted(c.after.openings, "opening"), counted(c.before.openings, "opening"))
    return f"{openings}; changes by line: {told}."


def rates_sentence(c: Comparison) -> str:
    """Which rows changed."""
    rows = ", ".join(f"{r.table} {r.code}" for r in c.rows) or "no row that moves the price on its own"
    return f"Rates of the later edition: {rows}."


def method_sentence(c: Comparison) -> str:
    """Which method before and after."""
    a, b = c.before.request.method, c.after.request.method
    return f"Method {a} as before." if a == b else f"Method {b} instead of {a}."


def productivity_sentence(c: Comparison) -> str:
    """What the later productivity is made of, and the crew."""
    now, was = (counted(e.request.crew.workers, "worker") for e in (c.after, c.before))
    workers = against(now, was)
    return f"Production table, crew, congestion and rework of the later estimate; {workers}."


def overheads_sentence(c: Comparison) -> str:
    """Which overhead rows changed."""
    a, b = ({r.code: r for r in e.card.overheads} for e in (c.before, c.after))
    rows = [code for code in dict.fromkeys((*a, *b)) if a.get(code) != b.get(code)]
    return f"Overhead rows changed: {', '.join(rows) or 'none'}."


def calendar_sentence(c: Comparison) -> str:
    """Dates, mobilisations, temperature."""
    a, b = c.before.request, c.after.request
    setups = against(*(counted(r.mobilisations, "mobilisation") for r in (b, a)))
    temperature = against(*(r.temperature or "not named" for r in (b, a)))
    return f"Work date {against(b.work_date, a.work_date)}, {setups}, temperature {temperature}."


SENTENCES: dict[str, Callable[[Comparison], str]] = {
    "openings": openings_sentence,
    "productivity": productivity_sentence,
    "rates": rates_sentence,
    "method": method_sentence,
    "overheads_and_profit": overheads_sentence,
    "calendar": calendar_sentence,
    "packs_and_rounding": lambda c: "Whole packs, whole days, minimum and rounding up: what the smooth causes leave.",
}


def line_row(change: LineChange, c: Comparison, text: Callable[[int], str]) -> Row:
    """One line's share of the openings cause."""

    def told(line: Line | None) -> Row | None:
        return None if line is None else {"mark": line.mark, "quantity": line.quantity}

    m = change.match
    was = None if m.before is None else c.before.request.schedule.lines[m.before]
    now = None if m.after is None else c.after.request.schedule.lines[m.after]
    place = now or was
    return {
        "line_before": None if m.before is None else m.before + 1,
        "line_after": None if m.after is None else m.after + 1,
        "before": told(was),
        "after": told(now),
        "elevation": place.elevation or None if place else None,
        "storey": place.storey or None if place else None,
        "classes": list(m.classes),
        "amount": text(change.after_minor - change.before_minor),
    }


def rate_row(change: RowChange, text: Callable[[int], str]) -> Row:
    """One row's own effect; null where that row alone can't be costed."""
    amount = None if change.amount_minor is None else text(change.amount_minor)
    return {"table": change.table, "code": change.code, "amount": amount}


def comparison_answer(c: Comparison) -> Row:
    """The comparison document; lines and rate_rows each sum to their cause with their last row."""

    def text(minor: int) -> str:
        return print_money(minor, c.before.till.currency)

    shared: Row = {"classes": ["with_other_causes"], "amount": text(c.lines_with_other_causes)}
    together: Row = {"table": None, "code": "together", "amount": text(c.rows_together)}
    return {
        "currency": c.before.till.currency,
        "attribution": c.mode,
        "order": list(c.order),
        "smooth": c.smooth,
        "before": side(c.before),
        "after": side(c.after),
        "change": text(c.after.up.price_minor - c.before.up.price_minor),
        "causes": [{"cause": n, "amount": text(amount), "sentence": SENTENCES[n](c)} for n, amount in c.causes],
        "lines": [line_row(x, c, text) for x in c.lines] + [shared],
        "rate_rows": [rate_row(r, text) for r in c.rows] + [together],
    }
