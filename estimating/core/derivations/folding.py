"""Steps that change nothing for a reader are passed through: one that only hands its input on, a share that is the
whole, a rounding. By rule, never by figure; the derivation itself keeps every step.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from estimating.core.derivations.nodes import Node
from estimating.core.figures.figure import Input

NodeOf = Callable[[str], Node]


@dataclass(frozen=True)
class Passed:
    """A step that is passed through, and which of its inputs leads on."""

    figure: str
    node: Node
    on: Input


@dataclass(frozen=True)
class Folded:
    """The steps passed through from a figure, and the one that is shown in their place.

    node: None where they end at a value that was entered, the last one's input.
    """

    passed: tuple[Passed, ...]
    figure: str
    node: Node | None

    @property
    def entered(self) -> Input | None:
        """The value that they end at."""
        return self.passed[-1].on if self.node is None else None

    @property
    def exact(self) -> bool:
        """Whether no step passed through changes the value."""
        return all(one.on.value == one.node.value for one in self.passed)


def alone(node: Node, node_of: NodeOf) -> Input | None:
    """The one input of a rule that gives it as it is."""
    if len(node.inputs) != 1:
        return None
    (only,) = node.inputs
    same = only.value == node.value and only.unit.text == node.unit.text
    return only if same and (only.figure or only.source) else None


def whole(node: Node, node_of: NodeOf) -> Input | None:
    """The total of a share that is all of it."""
    shared, _, weight, weights = node.inputs
    return shared if weight.value == weights.value else None


def alone_or_shared(node: Node, node_of: NodeOf) -> Input | None:
    """A sum of one, or the share that a sum adds its unit to: the total, where it is all of it."""
    if len(node.inputs) == 2 and all(given.figure for given in node.inputs):
        floor, extra = (node_of(str(given.figure)) for given in node.inputs)
        if (floor.rule, extra.rule) == ("floor_share", "extra_unit"):
            return whole(floor, node_of) or node.inputs[0]
    return alone(node, node_of)


def first(node: Node, node_of: NodeOf) -> Input | None:
    """What is rounded."""
    return node.inputs[0]


def chosen_one(node: Node, node_of: NodeOf) -> Input | None:
    """The value of what was chosen, of the one that was."""
    choice, own, value = node.inputs
    return value if choice.value == own.value else None


WAYS: Mapping[str, Callable[[Node, NodeOf], Input | None]] = {
    **dict.fromkeys(("given", "product", "difference", "quotient", "maximum", "minimum"), alone),
    "sum": alone_or_shared,
    "floor_share": whole,
    "round": first,
    "ceiling": first,
    "chosen": chosen_one,
}


def fold(figure: str, node_of: NodeOf) -> Folded:
    """A figure's steps down to the first that tells a reader something."""
    passed: list[Passed] = []
    node = node_of(figure)
    while node.rule in WAYS and (on := WAYS[node.rule](node, node_of)) is not None:
        passed.append(Passed(figure, node, on))
        if on.figure is None:
            return Folded(tuple(passed), figure, None)
        figure, node = on.figure, node_of(on.figure)
    return Folded(tuple(passed), figure, node)
