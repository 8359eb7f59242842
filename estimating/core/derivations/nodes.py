"""One step of a derivation, and the document that answers print of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from estimating.core.derivations.printing import NUMBER, TEXT, Unit, Value, exact_text, print_value

Source = Mapping[str, object]


@dataclass(frozen=True)
class Input:
    """One value that a rule takes: of another figure, of a source, or a parameter of the rule (neither).

    term: inputs of the same term belong together (they are multiplied, or are one row of a table).
    """

    name: str
    value: Value
    unit: Unit
    figure: str | None = None
    source: Source | None = None
    term: int | None = None


@dataclass(frozen=True)
class Node:
    """How one figure is reached; `value` is exact in `unit` and follows from the inputs by the rule alone."""

    title: str
    formula: str
    rule: str
    value: Value
    unit: Unit
    inputs: Callable[[], Sequence[Input]]


Book = dict[str, Callable[[], Node]]


def parameter(name: str, value: Value, unit: Unit | None = None, term: int | None = None) -> Input:
    """A parameter that belongs to the rule itself: a place, a count of sides, a number of decimal places."""
    return Input(name, value, unit or (TEXT if isinstance(value, str) else NUMBER), term=term)


def constant(name: str, value: Value, unit: Unit = NUMBER, term: int | None = None) -> Input:
    """A constant of the trade or of measurement, named."""
    return Input(name, value, unit, source={"constant": name}, term=term)


def zero(title: str, why: str, unit: Unit, reason: Input) -> Node:
    """A figure that is 0 for a reason."""
    return Node(title, f"0: {why}", "zero", 0, unit, lambda: [reason])


def input_document(given: Input, units: str, currency: str) -> dict[str, object]:
    """One input as answers print it."""
    found: dict[str, object] = {
        "name": given.name,
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
        "title": node.title,
        "formula": node.formula,
        "rule": node.rule,
        "value": exact_text(node.value),
        "unit": node.unit.text,
        "printed": print_value(node.value, node.unit, units, currency),
        "inputs": [input_document(given, units, currency) for given in node.inputs()],
    }
