"""The estimate as a terminal report of 80 columns: totals, build-up, marks, hours, lists, remarks, checks."""

from __future__ import annotations

from dataclasses import dataclass

from estimating.core.build_lines import BuildLine
from estimating.core.checks.run import checks
from estimating.core.estimate import Estimate
from estimating.outputs.answer import totals, unit_price
from estimating.outputs.cautions import cautions
from estimating.outputs.measures import for_reading, measures_of
from estimating.outputs.report_lists import (
    MOST_ROWS,
    cut_lines,
    equipment_lines,
    left_out,
    material_lines,
    rounding_step,
    shortened,
)
from estimating.outputs.scope_answer import scope_lines
from estimating.outputs.text_table import group_thousands, paragraph, table, unbroken
from rates.core.fraction import Fraction
from rates.core.steps import PASSED
from rates.core.units import AREA_NM2, LENGTH_NM

MOST_REMARKS = 20
SEVERITY = {"question": "Question", "warning": "Warning", "to_know": "To know"}


@dataclass(frozen=True)
class Heading:
    """What the report says about where its input came from."""

    schedule: str
    project: str | None = None
    title: str | None = None
    edition_notes: tuple[tuple[str, str], ...] = ()
    demo_rates: bool = False
    demo_assumptions: bool = False


def report(estimate: Estimate, heading: Heading) -> str:
    """The report, ending with a line feed."""
    currency = estimate.till.currency
    sections = (
        ("", heading_lines(estimate, heading)),
        ("Scope", [f"  {shortened(what, 56):<58}{count:>12}" for what, count in scope_lines(estimate)]),
        ("Totals", total_lines(estimate)),
        (f"Build-up ({currency})", build_up_lines(estimate)),
        (f"By mark ({currency})", mark_lines(estimate)),
        ("Hours", hour_lines(estimate)),
        (f"Materials ({currency})", material_lines(estimate)),
        (f"Cut lengths, rounded up to {rounding_step(estimate)}", cut_lines(estimate)),
        (f"Equipment ({currency})", equipment_lines(estimate)),
        ("Remarks", remark_lines(estimate)),
        ("Checks", check_lines(estimate)),
        ("Cautions", [line for text in cautions(estimate) for line in paragraph(text, "  - ", "    ")]),
    )
    blocks = ["\n".join([*([title.upper()] if title else []), *lines]) for title, lines in sections]
    return "\n\n".join(blocks) + "\n"


def heading_lines(estimate: Estimate, heading: Heading) -> list[str]:
    """Project, files, the editions used, and what of it is invented."""
    lines = [f"Estimate of {heading.schedule}", *(x for x in (heading.project, heading.title) if x)]
    if heading.demo_rates or heading.demo_assumptions:
        which = [
            word for word, used in (("rates", heading.demo_rates), ("assumptions", heading.demo_assumptions)) if used
        ]
        text = f"The demo's {' and '.join(which)} were used. They are invented: no figure here is fit for a bid."
        lines += ["", *paragraph(f"INVENTED DEMO. {text}")]
    lines.append("")
    notes: dict[str, list[str]] = {}
    for name, day, start in editions_used(estimate):
        lines += paragraph(f"Work on {day}, rates of {name}, in force from {start}.")
        note = dict(heading.edition_notes).get(name)
        if note:
            notes.setdefault(note, []).append(name)
    for note, names in notes.items():
        lines += paragraph(f"Note of {' and '.join(dict.fromkeys(names))}: {note}")
    return lines


def editions_used(estimate: Estimate) -> list[tuple[str, str, str]]:
    """(edition, work date, in force from) for the job, or for each part of a season split."""
    request = estimate.request
    supplies = [part.plan.card.supply["labour"] for part in estimate.parts] or [estimate.card.supply["labour"]]
    days = [part.work_date for part in request.parts] or [request.work_date]
    return [(s.edition, day.isoformat(), s.effective_from) for day, s in zip(days, supplies, strict=False)]


def cents(amount: Fraction, estimate: Estimate) -> str:
    """An amount of the major unit, rounded as money is, for reading alone."""
    return group_thousands(estimate.till.text(estimate.till.minor(amount)))


def total_lines(estimate: Estimate) -> list[str]:
    """The sums in two columns."""
    t, m = totals(estimate), measures_of(estimate)
    currency, of_one = estimate.till.currency, estimate.price_per_opening
    each = "none" if of_one is None else f"{cents(of_one, estimate)} {currency}"
    perimeter, area = estimate.perimeter_nm / LENGTH_NM[m.perimeter], estimate.treated_area_nm2 / AREA_NM2[m.area]
    pairs = (
        ("openings", f"{estimate.openings:,}", "direct cost", f"{group_thousands(str(t['direct_cost']))} {currency}"),
        (
            "perimeter",
            f"{for_reading(perimeter, m.perimeter)} {m.perimeter}",
            "cost",
            f"{group_thousands(str(t['cost']))} {currency}",
        ),
        (
            "treated area",
            f"{for_reading(area, m.area)} {m.area}",
            "price",
            f"{group_thousands(str(t['price']))} {currency}",
        ),
        ("standard hours", for_reading(estimate.standard_hours), "price per opening", each),
        ("crew-days", str(t["crew_days"]), "markup and margin", f"{t['markup_percent']} %, {t['margin_percent']} %"),
    )
    return [f"  {a:<15}{b:>21}    {c:<18}{d:>20}".rstrip() for a, b, c, d in pairs]


def build_up_lines(estimate: Estimate) -> list[str]:
    """Every line from labour to price, with the sums that they pass."""
    up, text = estimate.up, estimate.till.text
    rows: list[tuple[str, str, str]] = []
    left = {name: up.passed(name) for name in PASSED}
    for line in up.lines:
        for name in [name for name in left if line.step not in PASSED[name]]:
            rows.append((name.replace("_", " ").upper(), "", group_thousands(text(left.pop(name)))))
        rows.append((build_title(line, estimate), line.basis, group_thousands(text(line.amount_minor))))
    for name, amount in [*left.items(), ("price", up.price_minor)]:
        rows.append((name.replace("_", " ").upper(), "", group_thousands(text(amount))))
    return table(("line", "basis", "amount"), rows, "llr", (0, 1))


def build_title(line: BuildLine, estimate: Estimate) -> str:
    """A line's title, with the part of a season split and the cost code."""
    part = f", {estimate.parts[line.part].plan.title}" if line.part is not None and len(estimate.parts) > 1 else ""
    return shortened(f"{line.title}{part}", 60) + (" " + unbroken(f"[{line.cost_code}]") if line.cost_code else "")


def mark_lines(estimate: Estimate) -> list[str]:
    """Each mark's openings, hours and price; a long list is cut, and what is left out is summed."""
    marks, text = estimate.allocation.marks, estimate.till.text
    rows = []
    for mark in marks[:MOST_ROWS]:
        name = "no mark" if mark.mark is None else shortened(mark.mark, 24)
        each, left = unit_price(mark, estimate) if mark.lines else (None, "0")
        sums = (f"{mark.quantity:,}" if mark.lines else "-", for_reading(mark.touch_minutes / 60))
        money = (text(mark.price_minor), each or "-", left if each and left.strip("-0.") else "")
        rows.append((name, *sums, *(group_thousands(amount) for amount in money)))
    rest = marks[MOST_ROWS:]
    if rest:
        touch = for_reading(sum((mark.touch_minutes for mark in rest), Fraction(0)) / 60)
        price = group_thousands(text(sum(mark.price_minor for mark in rest)))
        rows.append((f"{len(rest):,} more marks", f"{sum(mark.quantity for mark in rest):,}", touch, price, "", ""))
    if not rows:
        return ["  none"]
    return table(("mark", "openings", "touch hours", "price", "unit price", "left over"), rows, "lrrrrr")


def hour_lines(estimate: Estimate) -> list[str]:
    """Standard and paid hours and what they are made of, to the hundredth; the document has them exactly."""
    parts = [part.hours for part in estimate.parts]
    sums = (
        ("touch", [part.touch for part in parts]),
        ("set-up", [part.setup for part in parts]),
        ("idle between coats, charged", [part.idle for part in parts]),
        ("standard worker-hours", [part.standard for part in parts]),
        ("paid worker-hours", [part.paid for part in parts]),
        ("opening-equivalents", [part.opening_equivalents for part in parts]),
    )
    added = [(name, sum(found, Fraction(0))) for name, found in sums]
    rows = [(name, for_reading(value)) for name, value in added if value or name.startswith(("touch", "standard"))]
    for part in estimate.parts:
        of_part = f", {shortened(str(part.plan.title), 24)}" if len(estimate.parts) > 1 else ""
        rows.append((f"learning factor{of_part}", for_reading(part.hours.learning_factor, "factor")))
        rows.append((f"cost of a standard hour{of_part}", cents(part.crew.standard_hour_cost, estimate)))
    return [f"  {name:<50}{value:>20}" for name, value in rows]


def remark_lines(estimate: Estimate) -> list[str]:
    """Questions, warnings and facts, each with where it arose."""
    lines: list[str] = []
    for remark in estimate.remarks[:MOST_REMARKS]:
        lines += paragraph(f"{SEVERITY[remark.severity]}: {remark.detail}", "  - ", "    ")
    return lines + left_out(len(estimate.remarks) - MOST_REMARKS, "remarks") or ["  none"]


def check_lines(estimate: Estimate) -> list[str]:
    """What is unlikely."""
    found = checks(estimate)
    lines: list[str] = []
    for finding in found[:MOST_REMARKS]:
        lines += paragraph(f"{SEVERITY[finding.check.severity]}: {finding.sentence}", "  - ", "    ")
    return lines + left_out(len(found) - MOST_REMARKS, "checks") or ["  none"]
