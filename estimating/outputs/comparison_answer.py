"""A comparison as the document clients read: before, after, change, causes with a sentence each, lines, rate rows."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from estimating.compared.causes import cause_sentence
from estimating.compared.lines import line_sentence, sides_of
from estimating.compared.openings import Group, counts_said, customer_sentence, groups
from estimating.compared.rates import card_changes, row_phrase
from estimating.compared.requests import Change, request_changes
from estimating.compared.values import Reader
from estimating.core.attribution import Comparison, LineChange, RowChange, work_days
from estimating.core.differences import differences
from estimating.core.estimate import Estimate
from estimating.core.schedule_lines import Line
from rates.core.feet_inches import print_feet_inches
from rates.core.fraction import Fraction
from rates.core.money import minor_digits, print_money

Row = dict[str, object]
Show = Callable[[Fraction], str]
MOST_FOR_CUSTOMERS = 20
LINES_REST = "What no single line brings: set-up, whole packs, the minimum charge, rounding up, fields of the request."
ROWS_REST = "What no single row brings: what the changed rows do together, and stock, subcontracts and exemption."


def side(estimate: Estimate) -> Row:
    """What one side comes to."""
    return {
        "price": estimate.till.text(estimate.up.price_minor),
        "openings": estimate.openings,
        "work_date": estimate.request.work_date.isoformat(),
        "input_digest": estimate.input_digest or None,
    }


def reader_of(c: Comparison, show: Show) -> Reader:
    """Who reads the comparison: the units of the later estimate, titles of labour rows from either."""
    titles = {row.code: row.title for e in (c.before, c.after) for row in e.card.labour}
    later = c.after
    return Reader(show, later.request.units, minor_digits(later.till.currency), lambda code: titles.get(code, code))


def line_row(change: LineChange, c: Comparison, text: Callable[[int], str], reader: Reader) -> Row:
    """One line's share of the openings cause."""

    def told(line: Line | None) -> Row | None:
        return None if line is None else {"mark": line.mark, "quantity": line.quantity}

    m = change.match
    sides = sides_of(m, c.before.request.schedule, c.after.request.schedule)
    return {
        "line_before": None if m.before is None else m.before + 1,
        "line_after": None if m.after is None else m.after + 1,
        "before": told(sides.old),
        "after": told(sides.new),
        "elevation": sides.line.elevation or None,
        "storey": sides.line.storey or None,
        "classes": list(m.classes),
        "sentence": line_sentence(sides, reader),
        "amount": text(change.after_minor - change.before_minor),
    }


def rate_row(change: RowChange, c: Comparison, text: Callable[[int], str], reader: Reader) -> Row:
    """One row's own effect; null where that row alone can't be costed."""
    amount = None if change.amount_minor is None else text(change.amount_minor)
    before, after = c.before.card, c.after.card
    rows = before.table_row(change.table, change.code), after.table_row(change.table, change.code)
    found = list(differences(*rows, (change.table, change.code)))
    sentence = f"{row_phrase(before, after, change.table, change.code, found, reader)}."
    return {"table": change.table, "code": change.code, "sentence": sentence, "amount": amount}


def cause_row(cause: str, amount: str, changes: Sequence[Change], first: Sequence[str], is_changed: bool) -> Row:
    """A cause with its sentence, the same one without what tells of costs, and each of its changes.

    first: what the sentence tells before the changes, free of costs.
    """
    every = [*first, *(change.words for change in changes)]
    costless = [*first, *(change.words for change in changes if change.costless)]
    return {
        "cause": cause,
        "amount": amount,
        "sentence": cause_sentence(cause, amount, every, is_changed),
        "sentence_without_costs": cause_sentence(cause, amount, costless, is_changed),
        "changes": [{"sentence": change.sentence, "tells_costs": not change.costless} for change in changes],
    }


def causes_told(
    c: Comparison, changes: Sequence[Change], lines: Sequence[Group], text: Callable[[int], str]
) -> list[Row]:
    """Every cause in its order."""
    found = []
    for cause, amount in c.causes:
        first: list[str] = []
        if cause == "openings" and cause in c.changed:
            first = [counts_said(c.before.openings, c.after.openings), *(group.sentence() for group in lines)]
        if cause == "calendar":
            first = starts_said(c)
        own = [change for change in changes if change.cause == cause]
        is_changed = cause in c.changed or amount != 0
        found.append(cause_row(cause, text(amount), own, first, is_changed))
    return found


def starts_said(c: Comparison) -> list[str]:
    """The rates that other days of work fall under, where nothing else has changed."""
    days = work_days(c.before.request), work_days(c.after.request)
    starts = [sorted({f"{before.effective_from}" for day, before, _ in c.cards if day in own}) for own in days]
    if starts[0] == starts[1]:
        return []
    return [f"rates that count from {' and '.join(starts[1])} instead of {' and '.join(starts[0])}"]


def comparison_answer(c: Comparison, show: Show = print_feet_inches) -> Row:
    """The comparison document, lengths by `show`; lines and rate_rows each sum to their cause with their last row."""

    def text(minor: int) -> str:
        return print_money(minor, c.before.till.currency)

    reader = reader_of(c, show)
    changes = [*request_changes(c.before.request, c.after.request, reader), *card_changes(c.cards, reader)]
    schedules = c.before.request.schedule, c.after.request.schedule
    lines = groups([(sides_of(x.match, *schedules), x.after_minor - x.before_minor) for x in c.lines], reader)
    openings = [change.words for change in changes if change.cause == "openings"]
    rest: Row = {"classes": ["with_other_causes"], "sentence": LINES_REST, "amount": text(c.lines_with_other_causes)}
    together: Row = {"table": None, "code": "together", "sentence": ROWS_REST, "amount": text(c.rows_together)}
    return {
        "currency": c.before.till.currency,
        "attribution": c.mode,
        "order": list(c.order),
        "smooth": c.smooth,
        "before": side(c.before),
        "after": side(c.after),
        "change": text(c.after.up.price_minor - c.before.up.price_minor),
        "causes": causes_told(c, changes, lines, text),
        "also_changed": [
            {"sentence": change.sentence, "tells_costs": not change.costless}
            for change in changes
            if change.cause is None
        ],
        "customer_sentence": customer_sentence(
            c.before.openings, c.after.openings, lines, openings, MOST_FOR_CUSTOMERS
        ),
        "lines": [line_row(x, c, text, reader) for x in c.lines] + [rest],
        "rate_rows": [rate_row(r, c, text, reader) for r in c.rows] + [together],
    }
