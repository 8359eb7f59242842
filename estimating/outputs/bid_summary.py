"""The bid summary for the principal: scope, hours, the build-up with its picture, marks, checks and remarks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from estimating.outputs.pictures.build_up import build_up_figure
from estimating.outputs.printed.blocks import Block, Bullets, Column, Document, Facts, Figure, Heading, Table, Text
from rates.core.exact import print_quantity, with_commas
from rates.core.fraction import Fraction
from rates.core.money import read_money
from rates.core.texts import counted

INTERNAL = "For the office: shows cost and margin."
MOST_TOLD = 200  # remarks one by one
Answer = Mapping[str, Any]  # an estimate's document


def summary_document(
    estimate: Answer, company: str, project: str, invented: bool, pictures: Sequence[Figure] = ()
) -> Document:
    """The document of a costed estimate; pictures: more of it than the build-up, each under its own heading."""
    name = f"Bid summary: {project or 'estimate'}" + (f", estimate {estimate['number']}" if estimate["number"] else "")
    return Document(
        title=name,
        author=company,
        date=str(estimate["costed_at"])[:10],
        blocks=tuple(blocks_of(estimate, pictures)),
        head=(company,),
        foot=name,
        mark=" ".join([INTERNAL, "Rates are invented."] if invented else [INTERNAL]),
    )


def blocks_of(estimate: Answer, pictures: Sequence[Figure]) -> Iterator[Block]:
    """Its blocks in their order."""
    currency = estimate["currency"]
    yield Facts(tuple(facts(estimate)))
    yield Heading("From labour to price")
    steps = [(row["title"], read_money(row["amount"], currency)) for row in estimate["build_up"]]
    yield build_up_figure(steps, currency)
    yield Heading("By mark")
    yield marks_table(estimate)
    for figure in pictures:
        yield Heading(figure.table.caption)
        yield figure
    yield Heading("Openings of the file")
    yield from scope(estimate["scope"])
    yield Heading("Checks")
    yield from told(estimate.get("checks") or (), "sentence", "No check was made or none found anything.")
    yield Heading("Remarks")
    yield from told(estimate["remarks"], "detail", "There are no remarks.")
    yield Heading("Cautions")
    yield Bullets(estimate["cautions"])


def facts(estimate: Answer) -> Iterator[tuple[str, str]]:
    """What it comes to."""
    totals, currency, schedule = estimate["totals"], estimate["currency"], estimate["schedule"]
    yield "Price", f"{with_commas(totals['price'])} {currency}"
    yield "Direct cost; cost", f"{with_commas(totals['direct_cost'])}; {with_commas(totals['cost'])} {currency}"
    yield "Profit", f"markup {totals['markup_percent']} %, margin {totals['margin_percent']} %"
    yield "Openings", f"{totals['openings']:,}"
    yield "Price of an opening", money(totals["price_per_opening"]) or "none"
    yield "Hours; crew-days", f"{shown_hours(totals['hours'])}; {totals['crew_days']}"
    yield "Work date", estimate["work_date"]
    edition = estimate["edition"]
    yield "Rates", f"edition {edition['number']}, in force from {edition['effective_from']}"
    if schedule:
        yield "Schedule", f"revision {schedule['revision']}, {schedule['drawing_issue'] or 'no drawing issue named'}"


def money(exact: str | None) -> str:
    """An amount as people read it; empty where there is none."""
    return with_commas(exact) if exact else ""


def shown_hours(exact: str) -> str:
    """Hours as people read them: two places."""
    return with_commas(print_quantity(Fraction(exact), 2))


def marks_table(estimate: Answer) -> Table:
    """Each mark with hours and price."""
    currency = estimate["currency"]
    columns = (
        Column("Mark", 4),
        Column("Count", 1, True),
        Column("Hours", 1, True),
        Column(f"Price, {currency}", 1, True),
        Column(f"Price of one, {currency}", 1, True),
    )
    rows = [
        (
            row["mark"] or "the job",
            f"{row['quantity']:,}",
            shown_hours(row["hours"]),
            money(row["price"]),
            money(row["unit_price"]),
        )
        for row in estimate["by_mark"]
    ]
    last = ("Total", f"{estimate['totals']['openings']:,}", "", with_commas(estimate["totals"]["price"]), "")
    return Table(f"{counted(len(rows), 'mark')}; their prices sum to the price", columns, rows, last)


def scope(found: Answer | None) -> Iterator[Block]:
    """Which openings of the file are priced."""
    if found is None:
        yield Text("This estimate was made before scopes were told.")
        return
    rows = [("in the file", str(found["in_file"])), ("priced", str(found["priced"]))]
    rows += [(f"set aside: {entry['reason']}", str(entry["openings"])) for entry in found["set_aside"]]
    rows += [(f"alternate {entry['name']}", str(entry["openings"])) for entry in found["alternates"]]
    yield Table("In the file = priced + set aside + alternates", (Column("What", 4), Column("Count", 1, True)), rows)


def told(entries: Sequence[Answer], field: str, nothing: str) -> Iterator[Block]:
    """Checks or remarks as a list, those past the first few counted."""
    lines = [f"{entry['severity'].replace('_', ' ')}: {entry[field]}" for entry in entries[:MOST_TOLD]]
    if len(entries) > MOST_TOLD:
        lines.append(f"and {len(entries) - MOST_TOLD:,} more")
    yield Bullets(lines) if lines else Text(nothing)
