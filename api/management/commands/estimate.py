"""`manage.py estimate FILE`: a schedule or whole request in, a costed estimate out; no server, no database.

    files > job > estimate > report, JSON, or the answer to "why"

Exit status: 0 costed, 1 refused (every fault on stderr as file:line:column: pointer: detail), 2 wrong usage.
"""

from __future__ import annotations

import io
import json
import os
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any, NoReturn

from django.core.management.base import BaseCommand, CommandParser, OutputWrapper

from estimating.intake.answers_file import questions_file
from estimating.intake.asking import BLOCKS_COSTING
from estimating.intake.job_files import DEMO_ASSUMPTIONS, FilesRefused, JobFiles, TwoRequests, demo_path, open_job
from estimating.outputs.assumptions.of_files import assumed_in_files, print_assumptions
from estimating.outputs.printed_json import print_json, whole_document
from estimating.outputs.progress import Progress
from estimating.outputs.report import Heading, report
from estimating.outputs.why import UnknownFigure, why
from rates.core.texts import counted

REFUSED, USAGE, NOT_WRITTEN, INTERRUPTED, READER_GONE = 1, 2, 74, 130, 141
STEPS = 3


class Command(BaseCommand):
    help = "Price an opening schedule in any form, or a whole request with its openings, from the command line."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", metavar="FILE", help="an opening schedule, or a whole request that has openings")
        parser.add_argument(
            "--rates",
            metavar="EDITION",
            action="append",
            default=[],
            help="a JSON file with a rate edition; several are a book, of which the one in force on the work date is "
            "used; without it the invented demo rates",
        )
        parser.add_argument(
            "--request", metavar="FILE", help="assumptions for a bare schedule; without it the invented demo's"
        )
        parser.add_argument(
            "--answers", metavar="FILE", help="answers to what the schedule leaves open: a file of questions, filled in"
        )
        parser.add_argument(
            "--questions", metavar="FILE", help="write the questions of the schedule to a file, to be filled in"
        )
        how = parser.add_mutually_exclusive_group()
        how.add_argument("--json", action="store_true", help="print the whole estimate as one JSON object")
        how.add_argument("--assumptions", action="store_true", help="print every value that nobody entered")
        how.add_argument("--why", metavar="FIGURE", help="print how a figure was reached, such as price or hours")

    def handle(self, *args: object, **options: Any) -> None:
        """Price and print; ends by SystemExit where the files are refused or the usage is wrong."""
        if sys.stderr is None:  # closed by whoever started the command
            self.stderr = OutputWrapper(io.StringIO())
        self.stderr.ending = ""
        try:
            text = self.run_job(options)
        except FilesRefused as refused:
            self.fail(REFUSED, *(str(fault) for fault in refused.faults), *hints(refused, options))
        except TwoRequests as wrong:
            self.fail(USAGE, f"{wrong} is a whole request, with its own assumptions: leave --request out.")
        except UnknownFigure as unknown:
            near = f" Near it: {', '.join(unknown.near)}." if unknown.near else ""
            self.fail(USAGE, f"The estimate has no figure {unknown}.{near} Start with --why price.")
        except KeyboardInterrupt:
            self.fail(INTERRUPTED, "Interrupted; nothing was printed.")
        else:
            self.write(text)

    def run_job(self, options: Mapping[str, Any]) -> str:
        """What is printed of the costed estimate; progress goes to stderr."""
        with Progress(self.stderr, terminal=self.stderr.isatty()) as progress:
            progress(0, STEPS, printable(f"reading {options['file']}"))
            files = open_job(options["file"], options["request"], options["rates"], options["answers"])
            self.write_questions(files, options["questions"])
            for doubt in files.page.doubts:
                self.tell(f"question: {doubt}")
            progress(1, STEPS, "checking the lines and costing them")
            job, estimate = files.cost_job(lambda done, total, step: progress(1, STEPS, step))
            progress(2, STEPS, "writing the answer")
            if options["json"]:
                return print_json(whole_document(estimate)) + "\n"
            if options["assumptions"]:
                return print_assumptions(assumed_in_files(files, job, estimate))
            if options["why"] is not None:
                return why(estimate, options["why"], files.where)
            return report(estimate, heading(files))

    def write_questions(self, files: JobFiles, path: str | None) -> None:
        """The questions of the schedule to a file, answered ones with their answers; what was not used is told."""
        if files.answers is not None and (count := files.unused()):
            self.tell(f"Not asked any more, and not used: {counted(count, 'answer')} of {files.answers.name}.")
        if path is None:
            return
        document = questions_file(files.page.name, files.page.intake, files.given)
        try:
            with Path(path).open(
                "w" if files.answers and path == files.answers.name else "x", encoding="utf-8"
            ) as file:
                file.write(json.dumps(document, indent=1, ensure_ascii=False) + "\n")
        except FileExistsError:
            self.fail(USAGE, f"{path} exists already; to keep its answers, name it by --answers too.")
        except (OSError, ValueError) as error:
            self.fail(NOT_WRITTEN, f"{path} can't be written: {getattr(error, 'strerror', None) or error}.")
        waiting = sum(1 for question in document["questions"] if question["answer"] is None)
        self.tell(f"{counted(waiting, 'open question')} written to {path}.")

    def tell(self, line: str) -> None:
        """A line to stderr."""
        self.stderr.write(printable(line), lambda written: written, ending="\n")

    def write(self, text: str) -> None:
        """The text to stdout, whatever its encoding; a reader that has gone away ends the command quietly."""
        if sys.stdout is None:
            self.fail(NOT_WRITTEN, "The answer can't be written: standard output is closed.")
        encoding = getattr(self.stdout, "encoding", None) or "utf-8"
        try:
            self.stdout.write(text.encode(encoding, "replace").decode(encoding), ending="")
            self.stdout.flush()
        except OSError as error:
            # What Python would flush at exit goes nowhere, or it would complain once more.
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
            if isinstance(error, BrokenPipeError):
                sys.exit(READER_GONE)
            self.fail(NOT_WRITTEN, f"The answer can't be written: {error.strerror}.")

    def fail(self, status: int, *lines: str) -> NoReturn:
        """Lines to stderr, then the end with this status."""
        for line in lines:
            self.tell(line)
        sys.exit(status)


def printable(line: str) -> str:
    """A line for a terminal: what can't be printed is escaped."""
    return "".join(c if c.isprintable() else ascii(c)[1:-1] for c in line)


def hints(refused: FilesRefused, options: Mapping[str, Any]) -> list[str]:
    """Where a faulty file came from that the command line does not name, and how questions are answered."""
    by_default = options["request"] is None and any(f.file == demo_path(DEMO_ASSUMPTIONS) for f in refused.faults)
    found = ["No --request was given, so the demo's assumptions were used."] if by_default else []
    asked = any(fault.problem.detail.startswith(f"{BLOCKS_COSTING}: ") for fault in refused.faults)
    if asked and options["questions"] is None:
        found.append("Write the questions to a file with --questions FILE, fill it in, and name it by --answers FILE.")
    return found


def heading(files: JobFiles) -> Heading:
    """What the report says about where its input came from."""
    told = files.page.request or {}
    notes = {source.id: source.document.get("note") for source in files.sources}
    return Heading(
        schedule=files.page.name,
        project=told_text(told.get("project")),
        title=told_text(told.get("title")),
        edition_notes=tuple((name, note) for name, note in notes.items() if isinstance(note, str) and note),
        demo_rates=files.demo_rates,
        demo_assumptions=files.demo_assumptions,
    )


def told_text(value: object) -> str | None:
    """A text of the request, or None."""
    return value if isinstance(value, str) and value else None
