"""Every figure of one estimate by name: which subject a name belongs to, and that subject's steps."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from estimating.core.derivations.lines import LineFigures
from estimating.core.derivations.marks import MarkFigures
from estimating.core.derivations.nodes import Book, Node
from estimating.core.derivations.split import Split
from estimating.core.derivations.views import Frame, View, book
from estimating.core.direct import Labour, LabourLine
from estimating.core.estimate import Estimate
from estimating.core.figures.figure import Subject, word
from estimating.core.material_prices import MaterialPrice
from estimating.core.part import Part
from estimating.core.per_area import per_area

Key = tuple[int | None, str, str]  # (part or None for the job, family, step); no family: figures that stand alone
JOB_FAMILIES, PART_FAMILIES = ("mark", "line"), ("kind", "material", "equipment", "labour", "zone")


def place(step: str, count: int) -> int:
    """A place in a list of `count` as written in a figure's name; KeyError for any other text."""
    if not (step.isascii() and step.isdigit() and len(step) < 10) or str(int(step)) != step or int(step) >= count:
        raise KeyError(step)
    return int(step)


class Register:
    """The figures of one estimate; the steps of a subject are prepared once, when it is first asked for."""

    def __init__(self, estimate: Estimate) -> None:
        self.estimate = estimate
        self.frame = Frame(estimate, self.node)
        self.split = Split(estimate)
        self.several = len(estimate.parts) > 1
        self.books: dict[Key, Book] = {}
        self.nodes: dict[str, Node] = {}

    def node(self, figure: str) -> Node:
        """The step of a figure by its name; KeyError for a name that there is not."""
        found = self.nodes.get(figure)
        if found is None:
            found = self.nodes[figure] = self.find(figure)()
        return found

    def find(self, figure: str) -> Callable[[], Node]:
        """The maker of a figure's step."""
        steps = figure.split(".")
        if steps[0] == "part" and len(steps) > 2 and self.several:
            return self.of_part(place(steps[1], len(self.estimate.parts)), steps[2:])[figure]
        if steps[0] in JOB_FAMILIES:
            return self.book((None, steps[0], steps[1] if len(steps) > 1 else ""))[figure]
        job = self.book((None, "", ""))
        if figure in job or self.several or not self.estimate.parts:
            return job[figure]
        return self.of_part(0, steps)[figure]

    def of_part(self, part: int, steps: list[str]) -> Book:
        """The steps of the subject of a part that a name begins with."""
        if steps[0] in PART_FAMILIES and len(steps) > 1:
            return self.book((part, steps[0], steps[1]))
        return self.book((part, "", ""))

    def book(self, key: Key) -> Book:
        """The steps of the subjects behind a key, made once."""
        if key not in self.books:
            part, family, step = key
            found: Book = {}
            for subject in self.of_job(family, step) if part is None else self.subjects(part, family, step):
                found |= book(View(subject, self.frame))
            self.books[key] = found if not family or part is None else self.with_weight(found, part, family, step)
        return self.books[key]

    def with_weight(self, found: Book, part: int, family: str, step: str) -> Book:
        """The figures of a kind with its weight, which the pools have."""
        if family != "kind":
            return found
        name = f"{self.estimate.parts[part].prefix}kind.{step}.weight"
        return found | {name: self.book((part, "", ""))[name]}

    def of_job(self, family: str, step: str) -> Iterable[Subject]:
        """What has figures in the job itself."""
        if family == "mark":
            mark = MarkFigures(self.split, place(step, len(self.split.marks)))
            return [mark, *([self.split.shares_in(mark.place)] if mark.several else [])]
        if family == "line":
            return [LineFigures(self.split, place(step, len(self.estimate.request.schedule.lines)))]
        estimate, up = self.estimate, self.estimate.up
        alone = [estimate.totals, estimate.totals.hours, up, up.contained, per_area(estimate), *up.lines]
        contracts = [pools.contracts for pools in estimate.pools[:1] if pools.by_use and pools.contracts.counts]
        split = [self.split, self.split.prices] if self.split.on_marks else []
        own = [x for x in alone if x is not None and not (x is estimate.totals.hours and not self.several)]
        return [*own, *contracts, *split]

    def subjects(self, index: int, family: str, step: str) -> Iterable[Subject]:
        """What has figures in a part: those that stand alone, or one kind, material, rental, labour row or zone."""
        part = self.estimate.parts[index]
        if not family:
            return self.alone(part)
        if family == "kind":
            return [part.works[place(step, len(self.estimate.request.schedule.kinds))]]
        if family == "zone":
            zones = part.hours.zones
            return [zones[place(step, len(zones))]]
        return [self.rows(part, family)[step]]

    def rows(self, part: Part, family: str) -> dict[str, Subject]:
        """The rows of a family in a part by the words of their codes, those that are used or could have been chosen."""
        if family == "labour":
            return {word(rate.row.code): rate for rate in part.crew.rates}
        if family == "equipment":
            return {word(line.row.code): line for line in part.equipment}
        used = {line.row.code: line for line in part.materials}
        known = {code for work in part.every_work for code in work.supplies.codes}
        return {
            word(row.code): used.get(row.code) or MaterialPrice(part.conditions, row)
            for row in part.conditions.card.materials
            if row.code in used or row.code in known
        }

    def alone(self, part: Part) -> Iterator[Subject]:
        """Figures of a part that stand alone."""
        yield from (part.hours, part.crew, self.estimate.pools[part.conditions.place])
        lines = [line for line in self.estimate.up.lines if line.part == part.conditions.place]
        labour = [line for line in lines if isinstance(line, LabourLine)]
        yield Labour(part.conditions, part.crew, part.hours, self.estimate.till)
        yield from (line.shares for line in labour[:1] if line.shares is not None)
        yield self.estimate.up.taxable[part.conditions.place]
        if part.joints is not None:
            yield part.joints

    def names(self) -> Iterator[str]:
        """The name of every figure, the job's first."""
        yield from self.book((None, "", ""))
        for family, count in (("mark", len(self.split.marks)), ("line", len(self.estimate.request.schedule.lines))):
            for i in range(count):
                yield from self.book((None, family, str(i)))
        for index, part in enumerate(self.estimate.parts):
            yield from (name for name in self.book((index, "", "")) if ".weight" not in name or "kind" not in name)
            for family, step in self.families(part):
                yield from self.book((index, family, step))

    def families(self, part: Part) -> Iterator[tuple[str, str]]:
        """(family, step) of every subject of a part that does not stand alone."""
        yield from (("kind", str(kind)) for kind in part.works)
        for family in ("material", "equipment", "labour"):
            yield from ((family, code) for code in self.rows(part, family))
        yield from (("zone", str(zone)) for zone in range(len(part.hours.zones)))
