"""How a figure was reached, as a page shows it: one step, folded, with titles for codes and what was passed through."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from typing import Any

from estimating.core.derivations.folding import Folded, Passed, fold
from estimating.core.derivations.nodes import Node, input_document
from estimating.core.derivations.register import Register
from estimating.core.estimate import Estimate
from estimating.core.figures.figure import Input
from estimating.core.figures.printing import Unit, Value, print_value
from estimating.core.remarks import naming

CHOICES = ("least_cost", "chosen_for_job")  # rules that give the code of a row
ONCE = "; rounded once"
COUNTS = {"cost": ("pack", "packs"), "rental": ("period", "periods")}  # last step of what counted things cost
WAYS_OF_HALVES = {"half_up": "halves up", "half_even": "halves to even"}
CENTS = 2
PREFIX = re.compile(r"\bpart\.\d+\.(?= |$)")  # of a part, where an input is called by it


class FigurePages:
    """The pages of one estimate's figures; request: what it was costed from, as it was given."""

    def __init__(self, estimate: Estimate, request: Mapping[str, Any]) -> None:
        self.estimate, self.request, self.register = estimate, request, Register(estimate)
        self.node_of = self.register.node

    def page(self, figure: str, trail: Sequence[str], start: int, count: int) -> dict[str, Any]:
        """A figure's step with so many of its inputs, and the titles of the way to it; KeyError for no figure."""
        top, folded = self.node_of(figure), fold(figure, self.node_of)
        inputs = list(self.inputs(folded))
        return {
            "figure": figure,
            "title": self.title(figure),
            "printed": self.printed(top.value, top.unit, top.rule),
            "formula": self.formula(folded),
            "notes": [note for one in folded.passed for note in self.notes(one)],
            "inputs": [self.shown(one, folded) for one in inputs[start : start + count]],
            "more": len(inputs) > start + count,
            "trail": [(name, title) for name in trail if (title := self.title_if_any(name))],
        }

    def printed(self, value: Value, unit: Unit, rule: str = "") -> str:
        """A value as the answer prints it; a row's title in place of its code."""
        if isinstance(value, str):
            return self.row_titles.get(str(value), str(value)) if rule in CHOICES else str(value)
        return print_value(value, unit, self.estimate.request.units, self.estimate.till.currency)

    @cached_property
    def row_titles(self) -> dict[str, str]:
        """The title of each materials row by its code."""
        return {row.code: row.title for part in self.estimate.parts for row in part.conditions.card.materials}

    def title(self, figure: str) -> str:
        """A figure's title, with the marks and the part that it is of."""
        return ", ".join([str(self.node_of(figure).title), *self.about(figure)])

    def title_if_any(self, figure: str) -> str:
        """The title; blank for what is no figure of the estimate."""
        try:
            return self.title(figure)
        except KeyError:
            return ""

    def about(self, figure: str) -> Iterator[str]:
        """The marks of a figure's kind, and its part or that of its line of the build-up, where there are several."""
        steps, prefix = figure.split("."), ""
        parts = self.estimate.parts
        if steps[0] == "part" and len(parts) > 1:
            prefix, steps = ".".join(steps[:2]) + ".", steps[2:]
        if steps[0] == "kind":
            lines = self.estimate.request.schedule.lines
            yield naming([lines[i] for i in self.register.frame.worked[prefix, int(steps[1])]])
        if steps[0] == "build_up" and len(steps) > 1 and steps[1].isdigit():
            line = self.estimate.up.lines[int(steps[1])]
            yield from filter(None, (line.part_title,))
        if prefix:
            yield self.part_title(prefix)

    def part_title(self, prefix: str) -> str:
        """What a part is called, by the first words of its figures' names."""
        place = int(prefix.split(".")[1])
        return self.estimate.parts[place].plan.title or f"part {place + 1}"

    def formula(self, folded: Folded) -> str:
        """The formula of the step shown, behind the words that a rounded line of the build-up has of its own."""
        own = [one.node.formula.removesuffix(ONCE) for one in folded.passed if one.node.formula.endswith(ONCE)]
        node = folded.node
        if node is None:
            last = folded.passed[-1].node
            return str(last.formula) if last.rule == "given" else ": ".join(own) or "as entered"
        words = str(node.formula)
        if node.rule == "floor_share":
            shared, _, weight, weights = (str(given.name) for given in node.inputs)
            words = f"{shared} × {weight} ÷ {weights}"
        elif self.counts(folded):
            words = f"Σ {COUNTS[folded.figure.rpartition('.')[2]][1]} × price: {words}"
        return ": ".join([*own, words])

    def notes(self, passed: Passed) -> Iterator[dict[str, Any]]:
        """What is told of a step that is passed through."""
        node, on = passed.node, passed.on
        if node.rule in ("round", "ceiling"):
            if on.value != node.value:
                before = self.printed(on.value, on.unit)
                yield {"words": f"{self.rounding(node)}; {before} before rounding"}
        elif node.rule == "chosen":
            choice = node.inputs[0]
            yield {"words": f"{choice.name}: {self.printed(choice.value, choice.unit, CHOICES[0])}"} | figure_of(choice)
        elif node.rule == "sum" and len(node.inputs) > 1:
            if on is node.inputs[0]:  # a share that is not the whole
                extra, floor = node.inputs[1], self.printed(on.value, on.unit)
                one = f"; {self.printed(extra.value, extra.unit)} more, as its remainder is among the largest"
                yield {"words": f"rounded down to {floor}{one if extra.value else ''}"} | figure_of(extra)
        elif on.figure and node.rule != "floor_share" and not str(node.formula).startswith("Σ"):
            yield {"words": str(node.formula)}

    def rounding(self, node: Node) -> str:
        """To what a step rounds, in words."""
        if node.rule == "ceiling":
            return "rounded up to a whole number"
        _, places, way = node.inputs
        money = node.unit.text == self.estimate.till.currency
        to = "cents" if money and places.value == CENTS else f"{places.value} places"
        return f"rounded to {to}, {WAYS_OF_HALVES.get(str(way.value), str(way.value))}"

    def counts(self, folded: Folded) -> list[Input]:
        """(count, price) of the packs or periods that a least cost takes, term by term."""
        node, (stem, _, last) = folded.node, folded.figure.rpartition(".")
        if node is None or node.rule != "least_cost_packs" or last not in COUNTS:
            return []
        found: list[Input] = []
        for price in node.inputs[2::2]:
            name = f"{stem}.{COUNTS[last][0]}.{price.term}"
            count = self.node_of(name)
            if count.value:
                found += [Input(count.title, count.value, count.unit, name, term=price.term), price]
        return found

    def inputs(self, folded: Folded) -> Iterator[Input]:
        """What the step shown is made from; places and the places of decimals belong to the rule alone."""
        if folded.entered is not None:
            yield folded.entered
        elif counts := self.counts(folded):
            yield from counts
            yield folded.node.inputs[0]  # type: ignore[union-attr]
        elif folded.node is not None:
            yield from (x for x in folded.node.inputs if x.figure or x.name not in ("place", "decimal places"))

    def shown(self, given: Input, folded: Folded) -> dict[str, Any]:
        """An input as the page shows it: by its name, with where it was entered, or the figure that it is."""
        found = input_document(given, self.estimate.request.units, self.estimate.till.currency)
        name = str(given.name)
        found["name"] = PREFIX.sub(lambda prefix: self.part_title(prefix[0]), name)
        figure = given.figure
        if figure is not None:
            if "." in name and f"{figure}.".startswith(f"{name}."):
                found["name"] = self.title_if_any(name) or name
            elif folded.node is not None and folded.node.rule in CHOICES:
                found["name"] = self.row_titles.get(name, name)
            below = fold(figure, self.node_of)
            if below.entered is not None and below.exact:
                found.pop("figure")
                given = replace(given, source=below.entered.source)
            else:
                found["figure_title"] = self.title(figure)
        rule = self.node_of(given.figure).rule if given.figure else ""
        source: dict[str, Any] = dict(given.source or {})
        is_code = source.get("field") == "code" or rule in CHOICES
        found["printed"] = self.printed(given.value, given.unit, CHOICES[0] if is_code else "")
        found["source"] = source
        if "row" in source:
            source["title"] = self.titles_of_rows.get((source["table"], source["row"]), source["row"])
        if "pointer" in source:
            source["stated"] = stands_in(self.request, str(source["pointer"]))
        return found

    @cached_property
    def titles_of_rows(self) -> dict[tuple[object, object], str]:
        """The title of each row by its table and code."""
        cards = [self.estimate.card, *(part.conditions.card for part in self.estimate.parts)]
        tables = ("labour", "materials", "equipment", "overheads")
        return {(table, row.code): row.title for card in cards for table in tables for row in getattr(card, table)}


def stands_in(document: Any, pointer: str) -> bool:
    """Whether something stands at a pointer (RFC 6901) in a document."""
    for step in pointer.split("/")[1:]:
        name = step.replace("~1", "/").replace("~0", "~")
        if isinstance(document, Mapping) and name in document:
            document = document[name]
        elif isinstance(document, Sequence) and name.isdigit() and int(name) < len(document):
            document = document[int(name)]
        else:
            return False
    return document is not None


def figure_of(given: Input) -> dict[str, Any]:
    """The figure that an input is."""
    return {} if given.figure is None else {"figure": given.figure}
