"""A whole derivation evaluated again from its leaves, with no code of the core: every step by its rule alone."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any

from mpmath import mp

from tests.core.derivation_inputs import Given, Value
from tests.core.derivation_leaves import CONSTANTS, PARAMETERS, edition_value, request_value
from tests.core.derivation_rules import EXACT
from tests.core.derivation_shapes import DIGITS, IRRATIONAL, agrees, perimeter

Document = Mapping[str, Any]
KIND_QUANTITY = re.compile(r"(^|\.)kind\.[0-9]+\.quantity$")
REASONS = ("nothing is worked", "no openings", "counted in the first part")  # a leaf that says why something is 0 or 1


def stated(document: Document) -> Value:
    """The value of a step or an input as the document states it."""
    return str(document["value"]) if document["unit"] == "text" else Fraction(document["value"])


def steps(document: Document) -> Iterator[Document]:
    """A nested step and every step in it."""
    waiting = [document]
    while waiting:
        step = waiting.pop()
        yield step
        waiting += [given["node"] for given in step["inputs"] if "node" in given]


class Walk:
    """Evaluates the steps of one estimate's derivations; values of figures are remembered."""

    def __init__(self, request: Document, editions: Sequence[Document]) -> None:
        self.request = request
        self.editions = editions
        self.steps: dict[str, Document] = {}
        self.values: dict[str, Value] = {}
        self.rules: set[str] = set()

    def add(self, document: Document) -> None:
        """Take in a nested step."""
        self.steps |= {step["figure"]: step for step in steps(document)}

    def leaf(self, given: Document) -> Value:
        """The value of a leaf, which must be the request's, an edition's, a constant's, or a parameter of a rule."""
        value, source = stated(given), given.get("source")
        if source is None:
            assert PARAMETERS[given["name"]] in (None, value), given
        elif "constant" in source:
            assert value == CONSTANTS[source["constant"]], given
        elif "table" in source:
            assert value == edition_value(source, given["unit"], self.editions), given
            assert source["value"] == given["value"], given
        elif value not in REASONS:
            assert value == request_value(source, given["unit"], self.request), given
        return value

    def value(self, figure: str) -> Value:
        """The value of a figure, evaluated again from the leaves up.

        An irrational step is checked against 60 digits and then taken as stated, so that all above it stays exact.
        """
        waiting = [figure]
        while waiting:
            step = self.steps[waiting[-1]]
            needed = [given["figure"] for given in step["inputs"] if "figure" in given]
            missing = [name for name in needed if name not in self.values]
            if missing:
                waiting += missing
                continue
            self.values[waiting[-1]] = self.evaluate(step)
            if waiting.pop().endswith(".perimeter"):
                self.check_perimeter(step["figure"])
        return self.values[figure]

    def inputs(self, step: Document) -> list[Given]:
        """The inputs of a step: figures as evaluated before, leaves as looked up; both as the step states them."""
        found = []
        for given in step["inputs"]:
            value = self.values[given["figure"]] if "figure" in given else self.leaf(given)
            assert value == stated(given), (step["figure"], given)
            field = given.get("source", {}).get("field")
            found.append(Given(given["name"], value, given.get("term"), field))
        self.check_counts(step, found)
        return found

    def check_counts(self, step: Document, inputs: Sequence[Given]) -> None:
        """There are two jambs and one of everything else; a mark's place is its own."""
        for i, given in enumerate(inputs):
            if given.name == "how many" and "figure" not in step["inputs"][i]:
                assert given.value == (2 if inputs[i - 1].name == "jambs" else 1), step
            if given.name == "alike":
                assert given.value == (2 if "jamb" in step["title"] else 1), step
            if given.name == "place" and step["rule"] == "rank":
                other = step["inputs"][1 + int(given.number)]["figure"]
                assert other == step["figure"].replace(".rank", ".remainder"), step

    def check_perimeter(self, figure: str) -> None:
        """The stretches make up the whole treated perimeter."""
        stretch = self.steps[figure.replace(".perimeter", ".run.0")]
        with mp.workdps(DIGITS):
            whole = perimeter(self.inputs(stretch))
        assert agrees(whole, self.values[figure]), (figure, whole)

    def quantity_pointers(self) -> list[str]:
        """Where the quantities of all kinds were read."""
        kinds = [step for figure, step in self.steps.items() if KIND_QUANTITY.search(figure)]
        return [given["source"]["pointer"] for step in kinds for given in step["inputs"]]

    def evaluate(self, step: Document) -> Value:
        """The value of one step by its rule, which must be the one that it states."""
        inputs = self.inputs(step)
        rule, says = step["rule"], stated(step)
        self.rules.add(rule)
        if rule in EXACT:
            computed = EXACT[rule](inputs)
            assert computed == says, (step["figure"], rule, computed, says)
            return computed
        with mp.workdps(DIGITS):
            computed = IRRATIONAL[rule](inputs)
        assert agrees(computed, says), (step["figure"], rule, computed, says)
        return says
