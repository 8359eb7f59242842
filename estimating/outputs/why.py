"""How a figure was reached, as an indented tree: each step's formula, and below it where every input came from."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from difflib import get_close_matches
from itertools import islice
from typing import Any

from estimating.core.derivation import derive, figures
from estimating.core.estimate import Estimate
from estimating.outputs.text_table import WIDTH, paragraph

MOST_STEPS = 1_000
MOST_INPUTS = 40
DEEPEST = 60
NARROWEST = 40
SEARCHED = 50_000
# Totals of the document whose figure has another name.
OTHER_NAMES = {"hours": "hours.standard"}

Tree = Mapping[str, Any]
Places = Callable[[Iterable[str]], Mapping[str, str]]


class UnknownFigure(Exception):
    """The estimate has no figure of this name; `near` are names like it."""

    def __init__(self, figure: str, near: list[str]) -> None:
        super().__init__(figure)
        self.near = near


def why(estimate: Estimate, figure: str, places: Places) -> str:
    """The derivation of a figure, as deep as a thousand steps go, ending with a line feed; UnknownFigure.

    `places` turns pointers of the request into the places of files. A mark may be named by itself: mark.W1.price.
    """
    name = find_figure(estimate, figure)
    try:
        tree = deepest(estimate, name)
    except KeyError:
        names = list(islice(figures(estimate), SEARCHED))
        raise UnknownFigure(figure, get_close_matches(figure, names, 5)) from None
    lines = list(tree_lines(tree, places(pointers(tree))))
    more = any(line.endswith("]") for line in lines[1:])
    note = ["", *paragraph("Any figure in brackets can be asked for in the same way: --why FIGURE.")] if more else []
    return "\n".join([*lines, *note]) + "\n"


def find_figure(estimate: Estimate, figure: str) -> str:
    """The figure's own name for one that people would write: totals.hours, mark.W1.price."""
    name = figure.strip().replace("/", ".").strip(".").removeprefix("totals.")
    steps = name.split(".")
    if steps[0] == "mark" and len(steps) > 2:
        wanted = ".".join(steps[1:-1])
        marks = [mark.mark for mark in estimate.allocation.marks]
        if wanted in marks:
            return f"mark.{marks.index(wanted)}.{steps[-1]}"
    return OTHER_NAMES.get(name, name)


def deepest(estimate: Estimate, figure: str) -> Tree:
    """The deepest tree of no more than a thousand steps and inputs; one level where even two have more."""
    tree, size, depth = derive(estimate, figure, 1), 0, 1
    while count(tree) > size and depth < DEEPEST:
        size, depth = count(tree), 2 * depth
        deeper = derive(estimate, figure, depth)
        if count(deeper) > MOST_STEPS:
            return between(estimate, figure, depth // 2, depth, tree)
        tree = deeper
    return tree


def between(estimate: Estimate, figure: str, low: int, high: int, tree: Tree) -> Tree:
    """The deepest tree that is small enough, between a depth that is (with its tree) and one that is not."""
    while high - low > 1:
        middle = (low + high) // 2
        deeper = derive(estimate, figure, middle)
        if count(deeper) > MOST_STEPS:
            high = middle
        else:
            low, tree = middle, deeper
    return tree


def count(tree: Tree) -> int:
    """How many steps and inputs are printed of a tree."""
    shown = tree["inputs"][:MOST_INPUTS]
    return 1 + len(shown) + sum(count(given["node"]) for given in shown if "node" in given)


def pointers(tree: Tree) -> Iterator[str]:
    """Every pointer into the request that a printed input names."""
    for given in tree["inputs"][:MOST_INPUTS]:
        pointer = given.get("source", {}).get("pointer")
        if pointer is not None:
            yield pointer
        if "node" in given:
            yield from pointers(given["node"])


def tree_lines(tree: Tree, located: Mapping[str, str], level: int = 0) -> Iterator[str]:
    """The lines of a step and of all below it."""
    if level == 0:
        yield f"{tree['title']}: {tree['printed']}  [{tree['figure']}]"
    yield from indented(f"= {tree['formula']}", level + 1)
    for given in tree["inputs"][:MOST_INPUTS]:
        yield from indented(input_text(given, located), level + 1)
        if "node" in given:
            yield from tree_lines(given["node"], located, level + 1)
    left = len(tree["inputs"]) - MOST_INPUTS
    if left > 0:
        yield from indented(f"and {left:,} more", level + 1)


def indented(text: str, level: int) -> list[str]:
    """The text at its level, wrapped."""
    indent = "  " * level
    return paragraph(text, indent, indent + "    ", max(WIDTH, len(indent) + NARROWEST))


def input_text(given: Mapping[str, Any], located: Mapping[str, str]) -> str:
    """One input with its value and where it came from."""
    told = f"{given['name']}: {given['printed']}"
    if "figure" in given:
        return f"{told}  [{given['figure']}]"
    return f"{told}  ({source_text(given, located)})" if "source" in given else told


def source_text(given: Mapping[str, Any], located: Mapping[str, str]) -> str:
    """Where a value was taken from, in words: a row of a table, a place of the request, or a constant."""
    source = given["source"]
    if "pointer" in source:
        pointer = source["pointer"]
        mark = f", mark {source['mark']}" if source.get("mark") else ""
        return f"{located.get(pointer, pointer)}{mark}"
    if "table" in source:
        words = " ".join(str(source[name]) for name in ("table", "row", "field") if source.get(name))
        return f"{words}; {source['edition']}, {source['layer']} rates"
    return "constant" if source["constant"] == given["name"] else str(source["constant"])
