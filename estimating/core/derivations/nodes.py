"""One step of a derivation, and the document that answers print of it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from estimating.core.figures.figure import Input
from estimating.core.figures.printing import Unit, Value, exact_text, print_value


@dataclass(frozen=True)
class Node:
    """How one figure is reached; `value` is exact in `unit` and follows from the inputs by the rule alone."""

    title: str
    formula: str
    rule: str
    value: Value
    unit: Unit
    inputs: Sequence[Input]


Book = dict[str, Callable[[], Node]]


def input_document(given: Input, units: str, currency: str) -> dict[str, object]:
    """One input as answers print it."""
    found: dict[str, object] = {
        "name": str(given.name),
        "value": exact_text(given.value),
        "unit": given.unit.text,
        "printed": print_value(given.value, given.unit, units, currency),
    }
    if given.figure is not None:
        found["figure"] = given.figure
    if given.source is not None:
        found["source"] = dict(given.source)
    if given.term is not None:
        found["term"] = given.term
    return found


def node_document(figure: str, node: Node, units: str, currency: str) -> dict[str, object]:
    """One step as answers print it, its inputs without their own steps."""
    return {
        "figure": figure,
        "title": str(node.title),
        "formula": str(node.formula),
        "rule": node.rule,
        "value": exact_text(node.value),
        "unit": node.unit.text,
        "printed": print_value(node.value, node.unit, units, currency),
        "inputs": [input_document(given, units, currency) for given in node.inputs],
    }
