"""Every figure of one estimate by name: which subject a name belongs to, and that subject's steps."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial

from estimating.core.derivations.areas import area_book
from estimating.core.derivations.build_up import build_up_book, taxable_book
from estimating.core.derivations.closing import bond_book
from estimating.core.derivations.crew import crew_book, labour_cost_book
from estimating.core.derivations.equipment import equipment_book
from estimating.core.derivations.geometry import geometry_book
from estimating.core.derivations.hours import Zones, hours_book, zone_book
from estimating.core.derivations.joints import joint_geometry_book
from estimating.core.derivations.learning import learning_book
from estimating.core.derivations.lines import line_book
from estimating.core.derivations.marks import mark_book, marks_book
from estimating.core.derivations.materials import material_book
from estimating.core.derivations.minutes import minutes_book
from estimating.core.derivations.nodes import Book, Node
from estimating.core.derivations.pieces import pieces_book, strip_cost_node
from estimating.core.derivations.pools import pool_book, weight_book
from estimating.core.derivations.scope import PartScope, Scope, word
from estimating.core.derivations.split import Split
from estimating.core.derivations.steps import Steps
from estimating.core.derivations.totals import totals_book
from estimating.core.derivations.use import bead_book, use_book
from estimating.core.derivations.wages import labour_book
from estimating.core.derivations.work import Work, joint_work, kind_work
from estimating.core.estimate import Estimate
from rates.core.fraction import Fraction

PART_FAMILIES = ("kind", "material", "equipment", "labour", "zone")
JOB_FAMILIES = ("mark", "line")


def place(step: str, count: int) -> int:
    """A place in a list of `count` as written in a figure's name; KeyError for any other text."""
    if not (step.isascii() and step.isdigit() and len(step) < 10) or str(int(step)) != step or int(step) >= count:
        raise KeyError(step)
    return int(step)


class Register:
    """The figures of one estimate; the steps of a subject are prepared once, when it is first asked for."""

    def __init__(self, estimate: Estimate) -> None:
        self.estimate = estimate
        self.job = Scope(estimate, self.node)
        self.parts = [PartScope(self.job, p) for p in range(len(estimate.parts))]
        self.split = Split(self.job, self.parts)
        self.zones = [Zones(part) for part in self.parts]
        self.books: dict[tuple[str, ...], Book] = {}
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
        if steps[0] == "part" and len(steps) > 2 and self.job.several:
            part = self.parts[place(steps[1], len(self.parts))]
            return self.part_subject(part, steps[2:])[".".join(steps[2:])]
        if steps[0] in JOB_FAMILIES:
            return self.subject((steps[0], steps[1] if len(steps) > 1 else ""), self.job_family)[figure]
        job = self.subject(("job",), self.job_book)
        if figure in job or self.job.several or not self.parts:
            return job[figure]
        return self.part_subject(self.parts[0], steps)[figure]

    def part_subject(self, part: PartScope, steps: list[str]) -> Book:
        """The steps of the subject of a part that a name begins with."""
        if steps[0] in PART_FAMILIES and len(steps) > 1:
            return self.subject((part.prefix, steps[0], steps[1]), partial(self.part_family, part))
        return self.subject((part.prefix, ""), partial(self.part_book, part))

    def subject(self, key: tuple[str, ...], make: Callable[..., Book]) -> Book:
        """The steps of a subject, made once."""
        if key not in self.books:
            self.books[key] = make(*key[-2:]) if len(key) > 1 else make()
        return self.books[key]

    def job_book(self) -> Book:
        """Figures of the job that stand alone."""
        steps = Steps(self.job, self.parts)
        totals = totals_book(self.job, self.parts) | area_book(self.job, self.parts)
        return build_up_book(steps) | bond_book(steps) | totals | marks_book(self.split)

    def job_family(self, family: str, step: str) -> Book:
        """Figures of one mark or line."""
        if family == "mark":
            return mark_book(self.split, place(step, len(self.split.marks)))
        return line_book(self.split, place(step, len(self.estimate.request.schedule.lines)))

    def part_book(self, part: PartScope, *_: str) -> Book:
        """Figures of a part that stand alone."""
        book = hours_book(part) | learning_book(part) | crew_book(part) | labour_cost_book(part)
        book |= taxable_book(part) | pool_book(part) | {"strip_cost": partial(strip_cost_node, part)}
        if part.part.joints is not None:
            weight = self.split.weights[1][part.index]
            book |= joint_geometry_book(part) | self.work_book(joint_work(part), weight)
        return book

    def part_family(self, part: PartScope, family: str, step: str) -> Book:
        """Figures of one kind, material, rental, labour row or zone."""
        if family == "kind":
            kind = place(step, len(self.estimate.request.schedule.kinds))
            work, weights = kind_work(part, kind), self.split.weights[0][part.index]
            return geometry_book(part, kind) | bead_book(part, kind) | self.work_book(work, weights[kind])
        if family == "zone":
            return zone_book(self.zones[part.index], place(step, len(part.part.hours.zones)))
        books = {"material": material_book, "equipment": equipment_book, "labour": labour_book}
        return books[family](part, step)

    def work_book(self, work: Work, weight: Fraction) -> Book:
        """Pieces, use, minutes and weight of a kind or of the joints."""
        return pieces_book(work) | use_book(work) | minutes_book(work) | weight_book(work, weight)

    def names(self) -> Iterator[str]:
        """The name of every figure, the job's first."""
        yield from self.subject(("job",), self.job_book)
        for family, count in (("mark", len(self.split.marks)), ("line", len(self.estimate.request.schedule.lines))):
            for i in range(count):
                yield from self.subject((family, str(i)), self.job_family)
        for part in self.parts:
            for family, step in self.part_subjects(part):
                for name in self.part_subject(part, [family, step]):
                    yield part.prefix + name

    def part_subjects(self, part: PartScope) -> Iterator[tuple[str, str]]:
        """(family, step) of every subject of a part; the figures that stand alone first."""
        yield "", ""
        for kind in part.part.works:
            yield "kind", str(kind)
        for row in dict.fromkeys(self.materials(part)):
            yield "material", row
        for line in part.part.equipment:
            yield "equipment", word(line.row.code)
        for code in dict.fromkeys(row.code for row, _ in part.part.crew.members):
            yield "labour", word(code)
        for zone in range(len(part.part.hours.zones)):
            yield "zone", str(zone)

    def materials(self, part: PartScope) -> list[str]:
        """The materials that are used or could have been chosen, in the order of the table."""
        used = {line.row.code for line in part.part.materials}
        used |= {stock.row.code for stock in (*part.supplies.meshes, *part.supplies.tapes)}
        return [word(row.code) for row in part.card.materials if row.code in used]
