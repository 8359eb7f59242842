"""The build-up of a job as its derivations see it: each line with the tables that it follows."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from estimating.core.derivations.nodes import Input, Node
from estimating.core.derivations.scope import PartScope, Scope
from estimating.core.direct import BuildLine
from rates.core.fraction import Fraction
from rates.core.rows import OverheadRow


class Steps:
    """The build-up of a job with the parts' scopes beside it."""

    def __init__(self, scope: Scope, parts: Sequence[PartScope]) -> None:
        self.scope = scope
        self.parts = parts
        self.lines = scope.estimate.up.lines

    @property
    def empty(self) -> bool:
        """Whether nothing is to be done, so that stated amounts do not count."""
        request = self.scope.request
        works = any(part.part.works or part.part.joints is not None for part in self.parts)
        return not (works or request.subcontracts or request.allowances)

    def desk(self, line: BuildLine) -> Scope:
        """The scope whose tables a line follows: its part's, or the job's."""
        return self.scope if line.part is None else self.parts[line.part]

    def row(self, line: BuildLine) -> OverheadRow:
        """The overheads row behind a line; KeyError without one."""
        found = self.desk(line).card.table_row("overheads", line.row or "")
        if not isinstance(found, OverheadRow):
            raise KeyError(line.row)
        return found

    def label(self, line: BuildLine) -> str:
        """A line's title, told from its like by part and cost code."""
        words = [line.title]
        if line.part is not None and self.scope.several:
            words.append(self.parts[line.part].part.plan.title or f"part {line.part}")
        if line.cost_code is not None and line.step in ("labour", "materials", "equipment"):
            words.append(line.cost_code)
        return ", ".join(words)

    def refs(self, places: Iterable[int]) -> list[Input]:
        """Lines of the build-up as inputs."""
        return [self.scope.job_ref(self.label(self.lines[i]), f"build_up.{i}") for i in places]

    def total(self, places: Iterable[int]) -> Fraction:
        """Σ of lines, major units."""
        return self.scope.major(sum(self.lines[i].amount_minor for i in places))

    def sum_node(self, title: str, words: str, places: Sequence[int]) -> Node:
        """A sum of lines."""
        value = self.total(places)
        return Node(title, words, "sum", value, self.scope.money, lambda: self.refs(places))

    def exempt(self, line: BuildLine) -> bool:
        """Whether a certificate takes the sales tax away."""
        return line.step == "sales_tax" and self.scope.request.exemption_certificate is not None
