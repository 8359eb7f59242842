"""The assumptions of a job costed from files, and how the command prints them."""

from __future__ import annotations

import json
from collections.abc import Iterator

from estimating.core.estimate import Estimate
from estimating.core.job import Job
from estimating.core.scope import priced_quantities
from estimating.intake.job_files import JobFiles
from estimating.intake.report import make_report
from estimating.outputs.assumptions.item import DEFAULT, Assumption, Basis
from estimating.outputs.assumptions.listing import assumptions
from estimating.outputs.assumptions.of_reading import settled_in
from estimating.outputs.text_table import paragraph
from rates.core.length_styles import STYLE_OF_UNITS, LengthStyle
from rates.core.texts import counted

OF_NO_WORK = frozenset({"project", "title", "rate_book"})


def assumed_in_files(files: JobFiles, job: Job, estimate: Estimate) -> list[Assumption]:
    """Every assumption, lengths in the style of the request's units; the demo's files are assumptions throughout."""
    show = LengthStyle(STYLE_OF_UNITS[estimate.request.units]).show
    reading = [*of_demo(files, estimate.openings)]
    if files.page.intake is not None:
        report = make_report(files.page.intake, [])
        reading += settled_in(report, priced_quantities(estimate.request.schedule.lines), show)
    cards = tuple(zip(files.sources, job.cards, strict=True))
    return assumptions(Basis(files.document, cards, estimate, show, reading))


def of_demo(files: JobFiles, openings: int) -> Iterator[Assumption]:
    """What the command line did not name: the invented assumptions and rates of the demo."""
    if files.demo_rates:
        names = ", ".join(source.id for source in files.sources)
        sentence = "No --rates was given, so the demo's invented rates price the work."
        yield Assumption("edition", names, DEFAULT, openings, sentence)
    if files.demo_assumptions and files.request is not None:
        for name, value in files.request.value.items():
            if name in OF_NO_WORK:
                continue
            text = value if isinstance(value, str) else json.dumps(value)
            sentence = "No --request was given, so this is the demo's invented assumption."
            yield Assumption(name, text, DEFAULT, openings, sentence)


def print_assumptions(items: list[Assumption]) -> str:
    """The list for a terminal of 80 columns, what to look at first on top."""
    lines = ["ASSUMPTIONS: values that nobody entered, what to look at first standing first", ""]
    for item in items:
        head = f"{item.field}: {item.value} ({item.source}, {counted(item.openings, 'opening')})"
        lines += [*paragraph(head, "  - ", "    "), *paragraph(item.sentence, "    "), ""]
    return "\n".join(lines if items else [*lines, "  none", ""])
