"""The mutations of a module: small changes of its syntax tree, each of which some test should notice.

Left out is what no figure comes from: docstrings, annotations, texts and what is formatted into them, `__all__`, what
is raised, and how dataclasses, caches and strict zips are made.
"""

from __future__ import annotations

import ast
import builtins
from collections import Counter
from collections.abc import Iterator
from copy import deepcopy
from dataclasses import dataclass
from functools import cached_property
from importlib.util import find_spec
from pathlib import Path

COMPARED: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
}
COMPUTED: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mod,
    ast.Mod: ast.FloorDiv,
    ast.Pow: ast.Mult,
}
NAMES = {"min": "max", "max": "min", "minimum": "maximum", "maximum": "minimum", "any": "all", "all": "any"}
NAMES |= {"floor": "ceil", "ceil": "floor", "larger_if_shorter": "larger_unless_shorter"}
# rules that take any number of inputs, whatever their order
SUMS = frozenset({"total", "product", "sum_of_products", "maximum", "minimum"})
ALIKE = SUMS | {"percent"}  # give the same whichever of their last two inputs comes first, as a second divisor does
MADE = frozenset({"dataclass", "lru_cache", "rule"})
ANNOTATIONS = frozenset({"annotation", "returns"})
Key = tuple[str, str, str]  # module, function, what is changed


@dataclass(eq=False)
class Mutation:
    """One change: `old` (a node, its place in its parent) becomes `new`; `mark` is the statement that it lies in."""

    module: str
    function: str
    text: str
    line: int
    mark: tuple[int, int] | None
    parent: ast.AST
    slot: str
    index: int | None
    new: ast.AST

    @property
    def key(self) -> Key:
        """What it is called by, whatever stands above it in the file."""
        return self.module, self.function, self.text

    def put(self) -> None:
        """Changes the tree that it was found in."""
        if self.index is None:
            setattr(self.parent, self.slot, self.new)
        else:
            getattr(self.parent, self.slot)[self.index] = self.new


@dataclass
class Source:
    """A module's file, its tree, and every mutation of the tree."""

    module: str
    path: Path
    tree: ast.Module

    @cached_property
    def mutations(self) -> list[Mutation]:
        """In the order of the file; of those with the same words in one function, the later ones are numbered."""
        found, seen = list(Finder(self.module, self.tree).walk(self.tree, Scope())), Counter[Key]()
        for mutation in found:
            seen[mutation.key] += 1
            if seen[mutation.key] > 1:
                mutation.text += f" [{seen[mutation.key]}]"
        return found


def read_source(module: str) -> Source:
    """A module's source; the module itself is not imported, the packages above it are."""
    spec = find_spec(module)
    assert spec is not None and spec.origin is not None, module
    path = Path(spec.origin)
    return Source(module, path, ast.parse(path.read_text()))


def read_text(module: str, text: str) -> Source:
    """The same of a text."""
    return Source(module, Path(f"{module}.py"), ast.parse(text))


@dataclass(frozen=True)
class Scope:
    """Where the walk is: class and function by their names, the statement or lambda, parameters (None: no function)."""

    function: tuple[str, ...] = ()
    mark: tuple[int, int] | None = None
    parameters: tuple[str, ...] | None = None


def parameters_of(node: ast.FunctionDef) -> tuple[str, ...]:
    """The names of a function's parameters that a value may come by."""
    return tuple(a.arg for a in (*node.args.posonlyargs, *node.args.args) if a.arg not in ("self", "cls", "view"))


def called_name(node: ast.AST) -> str:
    """The name of what a decorator or call names, its own or after the last dot."""
    node = node.func if isinstance(node, ast.Call) else node
    return node.id if isinstance(node, ast.Name) else node.attr if isinstance(node, ast.Attribute) else ""


def is_text(node: ast.AST) -> bool:
    """Whether it is a text, or begins or ends with one."""
    if isinstance(node, ast.BinOp):
        return is_text(node.left) or is_text(node.right)
    return isinstance(node, ast.JoinedStr) or (isinstance(node, ast.Constant) and isinstance(node.value, str))


def is_left_out(node: ast.AST) -> bool:
    """What no figure comes from."""
    if isinstance(node, ast.Raise | ast.JoinedStr | ast.Import | ast.ImportFrom | ast.Assert):
        return True
    if isinstance(node, ast.keyword):
        return node.arg == "strict"
    if isinstance(node, ast.Assign):
        return any(isinstance(target, ast.Name) and target.id == "__all__" for target in node.targets)
    return isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING"


class Finder:
    """Goes through a tree and gives each mutation, the tree left as it is."""

    def __init__(self, module: str, tree: ast.Module) -> None:
        self.module = module
        self.names = set(dir(builtins)) | bound(tree)

    def walk(self, parent: ast.AST, scope: Scope) -> Iterator[Mutation]:
        """The mutations of all that lies in a node."""
        for slot, value in ast.iter_fields(parent):
            if slot in ANNOTATIONS:
                continue
            nodes = list(enumerate(value)) if isinstance(value, list) else [(None, value)]
            for index, node in nodes:
                if isinstance(node, ast.AST) and not is_left_out(node):
                    if slot == "decorator_list" and called_name(node) in MADE:
                        continue
                    inner = self.scope(node, scope, slot)
                    yield from self.of(parent, slot, index, node, inner)
                    yield from self.walk(node, inner)
                elif isinstance(node, ast.Raise) and called_name(node.exc or node) != "NotImplementedError":
                    inner = self.scope(node, scope, slot)
                    yield self.mutation(parent, slot, index, node, inner, ast.Pass(), "raise …")

    def scope(self, node: ast.AST, scope: Scope, slot: str) -> Scope:
        """The scope of what lies in a node."""
        if isinstance(node, ast.ClassDef):
            return Scope((*scope.function, node.name))
        if isinstance(node, ast.FunctionDef):
            return Scope((*scope.function, node.name), None, parameters_of(node))
        if isinstance(node, ast.Lambda):
            return Scope(scope.function, (node.lineno, node.col_offset), scope.parameters)
        if slot in ("body", "orelse", "finalbody") and isinstance(node, ast.stmt) and scope.parameters is not None:
            return Scope(scope.function, (node.lineno, node.col_offset), scope.parameters)
        return scope

    def mutation(
        self, parent: ast.AST, slot: str, index: int | None, old: ast.AST, scope: Scope, new: ast.AST, words: str = ""
    ) -> Mutation:
        """One mutation, in words."""
        text = f"{words or ast.unparse(old)} → {'left out' if isinstance(new, ast.Pass) else ast.unparse(new)}"
        line: int = old.lineno  # type: ignore[attr-defined]
        function = ".".join(scope.function) or "module"
        made = ast.copy_location(ast.fix_missing_locations(new), old)
        return Mutation(self.module, function, text, line, scope.mark, parent, slot, index, made)

    def of(self, parent: ast.AST, slot: str, index: int | None, node: ast.AST, scope: Scope) -> Iterator[Mutation]:
        """The mutations of one node."""
        if isinstance(node, ast.expr_context | ast.operator | ast.cmpop | ast.boolop | ast.unaryop):
            return
        if not scope.function and isinstance(node, ast.BinOp) and isinstance(node.op, ast.BitOr):
            return  # a type
        for new in (*instead(node), *self.renamed(node), *turned(slot, node), *statements(node, scope)):
            yield self.mutation(parent, slot, index, node, scope, new)

    def renamed(self, node: ast.AST) -> Iterator[ast.expr]:
        """The opposite function, where the module knows it."""
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load) and NAMES.get(node.id) in self.names:
            yield ast.Name(NAMES[node.id], ast.Load())


def bound(tree: ast.Module) -> set[str]:
    """The names that a module imports or defines."""
    found = set()
    for node in tree.body:
        if isinstance(node, ast.ImportFrom):
            found |= {alias.asname or alias.name for alias in node.names}
        elif isinstance(node, ast.FunctionDef | ast.ClassDef):
            found.add(node.name)
    return found


def turned(slot: str, node: ast.AST) -> Iterator[ast.expr]:
    """A condition negated, where no comparison in it says the same."""
    if slot not in ("test", "ifs") or not isinstance(node, ast.expr):
        return
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
        return
    opposite = (ast.Eq, ast.NotEq, ast.Is, ast.IsNot, ast.In, ast.NotIn)
    if not (isinstance(node, ast.Compare) and len(node.ops) == 1 and isinstance(node.ops[0], opposite)):
        yield ast.UnaryOp(ast.Not(), deepcopy(node))


def instead(node: ast.AST) -> Iterator[ast.expr]:
    """What may stand in place of an expression."""
    if isinstance(node, ast.Compare):
        for i, op in enumerate(node.ops):
            ops = [COMPARED[type(op)]() if i == k else other for k, other in enumerate(node.ops)]
            yield ast.Compare(deepcopy(node.left), ops, deepcopy(node.comparators))
    elif isinstance(node, ast.BinOp):
        yield from computed(node)
    elif isinstance(node, ast.BoolOp):
        other = ast.And() if isinstance(node.op, ast.Or) else ast.Or()
        yield ast.BoolOp(other, deepcopy(node.values))
        yield deepcopy(node.values[0])
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not | ast.USub):
        yield deepcopy(node.operand)
    elif isinstance(node, ast.Constant):
        yield from other_constants(node.value)
    elif isinstance(node, ast.Tuple) and isinstance(node.ctx, ast.Load):
        yield from other_steps(node)


def computed(node: ast.BinOp) -> Iterator[ast.expr]:
    """Another operator, and the left operand alone."""
    if is_text(node):
        return
    op = COMPUTED.get(type(node.op))
    if op is not None and not isinstance(node.left, ast.List | ast.ListComp):
        yield ast.BinOp(deepcopy(node.left), op(), deepcopy(node.right))
    if isinstance(node.op, ast.Add | ast.Sub | ast.Mult | ast.BitOr):
        yield deepcopy(node.left)


def other_constants(value: object) -> Iterator[ast.expr]:
    """True for False; one more, and 0, for a whole number."""
    if isinstance(value, bool):
        yield ast.Constant(not value)
    elif isinstance(value, int):
        yield ast.Constant(value + 1)
        if value:
            yield ast.Constant(0)


def other_steps(node: ast.Tuple) -> Iterator[ast.expr]:
    """A figure's step (rule, words, inputs) with the last input left out of a sum, or the last two exchanged."""
    rule, inputs = (called_name(node.elts[0]) if node.elts else ""), node.elts[2:]
    if not isinstance(node.elts[0] if node.elts else None, ast.Name) or len(node.elts) < 3:
        return
    if rule in SUMS and len(inputs) > 1:
        yield ast.Tuple(deepcopy(node.elts[:-1]), ast.Load())
    elif rule in ALIKE or (rule == "quotient" and len(inputs) > 2) or any(isinstance(x, ast.Starred) for x in inputs):
        return
    elif len(inputs) > 1:
        yield ast.Tuple(deepcopy([*node.elts[:-2], node.elts[-1], node.elts[-2]]), ast.Load())


def statements(node: ast.AST, scope: Scope) -> Iterator[ast.AST]:
    """A statement left out, or another parameter returned."""
    if isinstance(node, ast.Expr) and isinstance(node.value, ast.Call):
        yield ast.Pass()
    elif isinstance(node, ast.AugAssign | ast.Continue):
        yield ast.Pass()
    elif isinstance(node, ast.Return) and isinstance(node.value, ast.Name):
        names = scope.parameters or ()
        others = [name for name in names if name != node.value.id]
        if node.value.id in names and others:
            yield ast.Return(ast.Name(others[0], ast.Load()))
