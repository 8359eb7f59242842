"""The files of a job read and put together, every fault of all of them placed in its own file.

FILE (schedule or whole request), request, editions > document and sources > job
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from estimating.core.estimate import Estimate, Progress
from estimating.core.job import Job, cost, read_request
from estimating.core.request_reading import read_request as read_document
from estimating.intake.answers_file import FileAnswers, read_answers
from estimating.intake.reading import Options
from estimating.intake.schedule_files import SchedulePage, scan_schedule
from rates.core.card import EditionSource, read_edition
from rates.core.fields import ISO_DATE
from rates.core.jsontext import decode, locate, read_json
from rates.core.problems import Problem, Refused

MOST_BYTES = 100_000_000
DEMO_ASSUMPTIONS = "assumptions.json"
DEMO_EDITIONS = ("rates.json", "rates-next.json")
DEMO = Path(__file__).resolve().parent.parent / "demo"


def demo_path(name: str) -> str:
    """The path of a demo file, from the working folder where it is below it."""
    path = DEMO / name
    return str(path.relative_to(Path.cwd())) if path.is_relative_to(Path.cwd()) else str(path)


@dataclass(frozen=True, slots=True)
class FileFault:
    """A problem and the file in which it stands."""

    file: str
    problem: Problem

    def __str__(self) -> str:
        """As file:line:column: pointer: detail, parts that are not known left out."""
        p = self.problem
        place = f":{p.line}:{p.column}" if p.line is not None else ""
        pointer = f"{p.pointer}: " if p.pointer else ""
        return f"{self.file}{place}: {pointer}{p.detail}"


class FilesRefused(Exception):
    """Files that can't be costed; carries every fault found, file by file."""

    def __init__(self, faults: Sequence[FileFault]) -> None:
        super().__init__("; ".join(str(fault) for fault in faults[:3]))
        self.faults = tuple(faults)


class TwoRequests(Exception):
    """FILE is a whole request and another request was given beside it."""


@dataclass(frozen=True)
class JsonFile:
    """A JSON file: its value ({} where it is no object or can't be read), its text, the faults of its form."""

    name: str
    value: dict[str, object]
    text: str
    problems: tuple[Problem, ...]

    def faults(self, problems: Sequence[Problem]) -> list[FileFault]:
        """Problems of this file with line and column."""
        found = locate(self.text, [problem.pointer for problem in problems])
        return [
            FileFault(self.name, replace(p, line=found[p.pointer][0], column=found[p.pointer][1])) for p in problems
        ]


@dataclass(frozen=True)
class JobFiles:
    """The files of one job; request is None where FILE is a whole request. The demo's are invented."""

    page: SchedulePage
    request: JsonFile | None
    editions: tuple[JsonFile, ...]
    demo_assumptions: bool = False
    demo_rates: bool = False
    answers: JsonFile | None = None
    given: FileAnswers = FileAnswers()

    @property
    def document(self) -> dict[str, object]:
        """The request with its openings."""
        told = self.page.request if self.request is None else self.request.value
        rows = {} if self.page.rows is None else {"openings": self.page.rows}
        return dict(told or {}) | rows

    @property
    def sources(self) -> tuple[EditionSource, ...]:
        """The editions in the order given, as a company's rates, named by their files (by paths, if names repeat)."""
        names = [Path(file.name).name for file in self.editions]
        ids = [name if names.count(name) == 1 else file.name for name, file in zip(names, self.editions, strict=True)]
        return tuple(
            EditionSource(id, number, "company", file.value)
            for number, (id, file) in enumerate(zip(ids, self.editions, strict=True), 1)
        )

    def place(self, problems: Sequence[Problem]) -> list[FileFault]:
        """Problems of the whole job, each in its own file, in the order of files and places."""
        of_edition = [p for p in problems if p.document == "edition"]
        of_request = [p for p in problems if p.document != "edition"]
        page, request = self.page, self.request
        inside = [p for p in of_request if request is None or p.pointer.startswith("/openings")]
        faults = in_order([FileFault(page.name, p) for p in page.place(inside)])
        if request is not None:
            faults += in_order(request.faults([p for p in of_request if not p.pointer.startswith("/openings")]))
        return faults + in_order(self.edition_in_force().faults(of_edition))

    def where(self, pointers: Iterable[str]) -> dict[str, str]:
        """file:line:column of each pointer into the request."""
        asked = list(dict.fromkeys(pointers))
        problems = [Problem(pointer, "", "") for pointer in asked]
        return {
            fault.problem.pointer: f"{fault.file}:{fault.problem.line}:{fault.problem.column}"
            for fault in self.place(problems)
        }

    def edition_in_force(self) -> JsonFile:
        """The edition that the request's date asks for: what is missing for the work is missing there."""
        day = self.document.get("work_date")
        known = [(str(file.value.get("effective_from")), file) for file in self.editions]
        if not isinstance(day, str) or not all(ISO_DATE.fullmatch(start) for start, _ in known):
            return self.editions[0]
        return max([x for x in known if x[0] <= day] or known, key=lambda x: x[0])[1]

    def check(self) -> None:
        """Nothing where every file can be read; FilesRefused with the faults of form and of value of all."""
        in_request = [FileFault(self.request.name, p) for p in self.request.problems] if self.request else []
        in_answers = self.answer_faults()
        in_rates = [fault for index in range(len(self.editions)) for fault in self.edition_faults(index)]
        if not (self.page.problems or in_answers or in_request or in_rates):
            return
        _, problems = read_document(self.document)
        placed = self.place([p for p in problems if self.could_be_read(p.pointer)])
        in_page = [FileFault(self.page.name, p) for p in self.page.problems]
        in_page = in_order(in_page + [fault for fault in placed if fault.file == self.page.name])
        in_request += [fault for fault in placed if fault.file != self.page.name]
        raise FilesRefused(in_page + in_answers + in_request + in_rates)

    def could_be_read(self, pointer: str) -> bool:
        """Whether the part of the document at a pointer came out of its file, so that its faults are its own."""
        if pointer.startswith("/openings"):
            return not self.page.problems or (bool(self.page.rows) and self.page.intake is None)
        return self.request is None or not self.request.problems

    def answer_faults(self) -> list[FileFault]:
        """The answers that can't be taken, and the rules that answer nothing."""
        intake = self.page.intake
        if self.answers is None or intake is None:
            return []
        refused = {(self.given.pointers[s], why) for s, why in intake.refused_answers if s in self.given.pointers}
        wrong = [Problem(pointer, "answer_does_not_fit", why) for pointer, why in sorted(refused)]
        detail = "this rule answers nothing: no line that it fits asks this"
        idle = [rule.id for rule in self.given.rules if rule.id not in intake.touched]
        wrong += [Problem(self.given.pointers[id], "touches_nothing", detail) for id in idle]
        return in_order(self.answers.faults(wrong))

    def unused(self) -> int:
        """How many answers are about what is not asked any more."""
        intake = self.page.intake
        refused = {source for source, _ in intake.refused_answers} if intake else set()
        return sum(1 for key in self.given.answers if intake is None or key not in intake.kept and key not in refused)

    def edition_faults(self, index: int) -> list[FileFault]:
        """What is wrong with one edition by itself."""
        file = self.editions[index]
        if file.problems:
            return [FileFault(file.name, p) for p in file.problems]
        try:
            read_edition(self.sources[index])
        except Refused as refused:
            return in_order(file.faults(refused.problems))
        return []

    def cost(self, progress: Progress | None = None) -> Estimate:
        """The costed estimate; FilesRefused with every fault."""
        return self.cost_job(progress)[1]

    def cost_job(self, progress: Progress | None = None) -> tuple[Job, Estimate]:
        """The job and its costed estimate; FilesRefused with every fault."""
        self.check()
        try:
            job = read_request(self.document, self.sources, self.page.questions)
            return job, cost(job, progress)
        except Refused as refused:
            raise FilesRefused(self.place(refused.problems)) from None


def in_order(faults: Sequence[FileFault]) -> list[FileFault]:
    """By line and column."""
    return sorted(faults, key=lambda fault: (fault.problem.line or 0, fault.problem.column or 0))


def read_bytes(path: str) -> bytes:
    """The bytes of a file; FilesRefused where it can't be read or has more than 100 MB."""
    try:
        with Path(path).open("rb") as file:
            data = file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        why = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise FilesRefused([FileFault(path, Problem("", "unreadable", f"the file can't be read: {why}"))]) from None
    if len(data) > MOST_BYTES:
        detail = f"the file has more than {MOST_BYTES:,} bytes"
        raise FilesRefused([FileFault(path, Problem("", "too_large", detail))])
    return data


def read_json_file(path: str, document: str) -> JsonFile:
    """The JSON file at a path, its faults noted in it; FilesRefused where there is nothing to read."""
    data = read_bytes(path)
    try:
        text = decode(data)
        value = read_json(text)
    except Refused as refused:
        return JsonFile(path, {}, "", tuple(replace(p, document=document) for p in refused.problems))
    if not isinstance(value, dict):
        fault = Problem("", "not_an_object", f"this {document} is no JSON object", document, 1, 1)
        return JsonFile(path, {}, "", (fault,))
    return JsonFile(path, value, text, ())


def open_answers(path: str) -> tuple[JsonFile, FileAnswers]:
    """A filled in file of answers; FilesRefused with every fault of it."""
    file = read_json_file(path, "answers")
    faults: list[Problem] = []
    given = read_answers(file.value, faults) if not file.problems else FileAnswers()
    if file.problems or faults:
        raise FilesRefused([FileFault(path, p) for p in file.problems] + in_order(file.faults(faults)))
    return file, given


def open_job(
    file: str, request: str | None = None, editions: Sequence[str] = (), answers: str | None = None
) -> JobFiles:
    """The files of a job, the demo's where none are named; FilesRefused with every one that can't be read.

    answers: a filled in file of answers to what the schedule leaves open.

    TwoRequests where FILE is a whole request and `request` is given as well.
    """
    faults: list[FileFault] = []
    pages: list[SchedulePage] = []
    files: dict[str, JsonFile] = {}
    answered: JsonFile | None = None
    given = FileAnswers()
    wanted = list(editions) or [demo_path(name) for name in DEMO_EDITIONS]
    try:
        if answers is not None:
            answered, given = open_answers(answers)
    except FilesRefused as refused:
        faults += refused.faults
    try:
        pages.append(scan_schedule(read_bytes(file), file, Options(given.answers, given.rules)))
    except FilesRefused as refused:
        faults += refused.faults
    whole = bool(pages) and pages[0].request is not None
    if whole and request is not None:
        raise TwoRequests(file)
    told = None if whole else request or demo_path(DEMO_ASSUMPTIONS)
    for path in [*([told] if told else []), *wanted]:
        try:
            files[path] = read_json_file(path, "request" if path == told else "edition")
        except FilesRefused as refused:
            faults += refused.faults
    if faults:
        raise FilesRefused(faults)
    if told and "openings" in files[told].value:
        place = files[told].faults([Problem("/openings", "openings_twice", f"the openings are those of {file}")])
        raise FilesRefused(place)
    assumed = files[told] if told else None
    return JobFiles(
        pages[0],
        assumed,
        tuple(files[path] for path in wanted),
        demo_assumptions=assumed is not None and request is None,
        demo_rates=not editions,
        answers=answered,
        given=given,
    )
