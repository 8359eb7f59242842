"""A subject read so that every value tells where it is from: the same formulas, asked of a view, give their inputs."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cached_property, partial
from types import FunctionType
from typing import Any

from estimating.core.derivations.nodes import Book, Node
from estimating.core.derivations.rows import asked, table_row
from estimating.core.estimate import Estimate
from estimating.core.figures.figure import Input, Known, Subject, figure, figures, known, told, word
from estimating.core.figures.printing import Unit
from estimating.core.remarks import naming
from estimating.core.request import Request
from rates.core.card import Card
from rates.core.fraction import Fraction
from rates.core.production_rows import Production
from rates.core.rows import EquipmentRow, LabourRow, MaterialRow, OverheadRow

NO_KEY = object()
TABLES: Mapping[type, str] = {
    LabourRow: "labour",
    MaterialRow: "materials",
    EquipmentRow: "equipment",
    OverheadRow: "overheads",
}


@dataclasses.dataclass(frozen=True)
class Frame:
    """Where figures are read. cards: by the prefix of the part, "" the job's own; node: a step by its whole name."""

    estimate: Estimate
    node: Callable[[str], Node]

    @cached_property
    def cards(self) -> Mapping[str, Card]:
        """The card of each part by the prefix of its figures' names, and the job's."""
        parts = self.estimate.parts
        return {"": self.estimate.card} | {part.conditions.prefix: part.conditions.card for part in parts}

    @cached_property
    def worked(self) -> Mapping[tuple[str, int], Sequence[int]]:
        """Indexes of the lines that are worked, by the part's prefix and the kind."""
        found: dict[tuple[str, int], list[int]] = {}
        lines = self.estimate.request.schedule.lines
        for part in self.estimate.parts:
            for i in part.plan.lines:
                kind = lines[i].kind
                if kind is not None and kind in part.works and lines[i].quantity and lines[i].priced:
                    found.setdefault((part.conditions.prefix, kind), []).append(i)
        return found


class View:
    """A subject read in an estimate; attributes are its figures, rows and neighbours, seen the same way."""

    def __init__(self, real: Any, frame: Frame) -> None:
        self.subject, self.frame = real, frame

    def __getattr__(self, name: str) -> Any:
        real = self.subject
        found = getattr(type(real), name, None)
        if isinstance(found, figures):
            return {key: known(self._input(found, key)) for key in getattr(real, name)}
        if isinstance(found, figure):
            return known(self._input(found))
        if isinstance(found, told):
            return found.function(self)
        if hasattr(type(real), f"told_{name}"):
            return getattr(type(real), f"told_{name}")(self)
        if isinstance(found, FunctionType):
            return partial(found, self)
        if name in real.elsewhere:
            return self._elsewhere(real.elsewhere[name])
        return self.seen(getattr(real, name))

    def _name(self, found: figure, key: Any = NO_KEY) -> str:
        step: Any = found.step
        if not isinstance(step, str):
            step = step(self.subject) if key is NO_KEY else step(self.subject, key)
        elif key is not NO_KEY:
            step = step.format(key_word(key))
        return ".".join(x for x in (self.subject.path, step) if x)

    def _unit(self, found: figure, key: Any = NO_KEY) -> Unit:
        unit: Any = found.unit
        if not isinstance(unit, Unit):
            unit = unit(self.subject) if key is NO_KEY else unit(self.subject, key)
        return self.in_currency(unit)

    def in_currency(self, unit: Unit) -> Unit:
        return unit.in_currency(self.frame.estimate.card.currency)

    def _input(self, found: figure, key: Any = NO_KEY) -> Input:
        label: Any = found.label
        if not isinstance(label, str):
            label = label(self) if key is NO_KEY else label(self, key)
        value = getattr(self.subject, found.name)
        return Input(label, value if key is NO_KEY else value[key], self._unit(found, key), self._name(found, key))

    def _elsewhere(self, step: str) -> Any:
        return self.of_figure(step.rsplit(".", 1)[-1].replace("_", " "), self.subject.prefix + step)

    def seen(self, value: Any) -> Any:
        if isinstance(value, Subject):
            return View(value, self.frame)
        if isinstance(value, Known):
            return known(dataclasses.replace(value.input, unit=self.in_currency(value.input.unit)))
        if isinstance(value, Production):
            return table_row(self.frame.cards[self.subject.prefix], "production", None, value)
        if type(value) in TABLES:
            card = self.frame.cards[getattr(self.subject, "row_prefix", self.subject.prefix)]
            return table_row(card, TABLES[type(value)], value.code, value)
        if isinstance(value, Request):
            return asked(value, self.frame.estimate.card.currency)
        if type(value) in (tuple, list):
            return [self.seen(x) for x in value]
        if isinstance(value, dict):
            return {k: self.seen(x) for k, x in value.items()}
        return value

    def lined(self, index: int, name: str, field: str, value: Any, unit: Unit) -> Any:
        """A value of a schedule line (or what stands where it says nothing)."""
        return known(lined(self.frame.estimate, index, name, field, value, unit))

    def of_figure(self, label: str, name: str) -> Any:
        """Another figure, by its whole name."""
        node = self.frame.node(name)
        return known(Input(label, node.value, node.unit, name))

    def of_first_line(self, name: str, field: str, value: Any, unit: Unit) -> Any:
        """A value that all lines of a kind agree in, pointed at in the first of them."""
        return self.lined(self.lines_of_kind()[0], name, field, value, unit)

    def marks_of_kind(self) -> str:
        """The marks of a kind, the first few, and how many openings they are."""
        lines = self.frame.estimate.request.schedule.lines
        count = self.subject.counted
        return f"{naming([lines[i] for i in self.lines_of_kind()])} ({count:,} opening{'' if count == 1 else 's'})"

    def lines_of_kind(self) -> Sequence[int]:
        """Indexes of the lines that are worked of a kind."""
        return self.frame.worked[self.subject.prefix, self.subject.index]


def lined(estimate: Estimate, index: int, name: str, field: str, value: Any, unit: Unit) -> Input:
    """A value of a schedule line as an input."""
    source = {"pointer": f"/openings/{index}/{field}", "mark": estimate.request.schedule.lines[index].mark}
    return Input(name, value, unit, source=source)


def key_word(key: Any) -> str:
    """A key of figures as steps of a name: a code or place, or several."""
    return ".".join(map(word, key)) if isinstance(key, tuple) else word(key)


def collected(values: Sequence[Any]) -> Iterator[Input]:
    """The inputs of a formula, those of a tuple as one term; TypeError for one that doesn't say where it is from."""
    terms = 0
    for value in values:
        if isinstance(value, tuple):
            for part in value:
                yield dataclasses.replace(one_input(part), term=terms)
            terms += 1
        else:
            yield one_input(value)


def one_input(value: Any) -> Input:
    """What a value says of itself."""
    if not isinstance(value, Fraction | str) or not hasattr(value, "input"):
        raise TypeError(f"{value!r} does not say where it is from")
    found: Input = value.input
    return found


def node(view: View, found: figure, key: Any = NO_KEY) -> Node:
    """How one figure of a subject is reached."""
    real = view.subject
    rule, words, *values = found.formula(view) if key is NO_KEY else found.formula(view, key)
    inputs = [dataclasses.replace(x, unit=view.in_currency(x.unit)) for x in collected(values)]
    value = getattr(real, found.name)
    title = found.title
    if not isinstance(title, str):
        title = title(real) if key is NO_KEY else title(real, key)
    title = title.format(s=real, k=key)
    return Node(title, words, rule.name, value if key is NO_KEY else value[key], view._unit(found, key), inputs)


def book(view: View) -> Book:
    """Every figure that a subject has, by its whole name."""
    real, found = view.subject, Book()
    for fig in real.figures.values():
        keys = getattr(real, fig.name) if isinstance(fig, figures) else [NO_KEY] if fig.when(real) else []
        for key in keys:
            found[view._name(fig, key)] = partial(node, view, fig, key)
    return found
