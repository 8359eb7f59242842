"""Other source in a module's place when it is imported: mutated, or with marks that tell which statements ran.

Nothing is written: the module's loader compiles the changed tree, and no compiled file is read or kept.
"""

from __future__ import annotations

import ast
import sys
from collections.abc import Callable, Sequence
from importlib.abc import MetaPathFinder
from importlib.machinery import ModuleSpec, PathFinder, SourceFileLoader
from types import CodeType, ModuleType
from typing import Any

SEEN = "__seen__"
Marks = set[tuple[int, int]]


class Loader(SourceFileLoader):
    """A module's file, its tree changed before it is compiled; `loaded` once that is done."""

    def __init__(self, name: str, path: str, change: Callable[[], ast.Module], names: dict[str, Any]) -> None:
        super().__init__(name, path)
        self.change, self.names, self.loaded = change, names, False

    def get_code(self, fullname: str) -> CodeType:
        return compile(self.change(), self.path, "exec", dont_inherit=True)

    def exec_module(self, module: ModuleType) -> None:
        vars(module).update(self.names)
        self.loaded = True
        super().exec_module(module)


class Placed(MetaPathFinder):
    """Finds the modules that are changed; others are found as ever."""

    def __init__(self) -> None:
        self.changes: dict[str, tuple[Callable[[], ast.Module], dict[str, Any]]] = {}
        self.loaders: dict[str, Loader] = {}

    def find_spec(
        self, fullname: str, path: Sequence[str] | None = None, target: ModuleType | None = None
    ) -> ModuleSpec | None:
        """The spec of a changed module, with the loader that changes it."""
        spec = PathFinder.find_spec(fullname, path, target) if fullname in self.changes else None
        if spec is not None and spec.origin is not None:
            change, names = self.changes[fullname]
            spec.loader = self.loaders[fullname] = Loader(fullname, spec.origin, change, names)
        return spec

    def place(self, module: str, change: Callable[[], ast.Module], names: dict[str, Any] | None = None) -> None:
        """Has a module that is not imported yet come from a changed tree; ValueError where it is too late."""
        if module in sys.modules:
            raise ValueError(f"{module} is imported already")
        self.changes[module] = change, names or {}
        if self not in sys.meta_path:
            sys.meta_path.insert(0, self)

    def was_used(self, module: str) -> bool:
        """Whether the module was imported, from the changed tree."""
        return module in self.loaders and self.loaders[module].loaded


class Marking(ast.NodeTransformer):
    """Has every statement of a function, and every lambda, tell that it runs."""

    def mark(self, node: ast.AST) -> ast.Call:
        """The call that tells it."""
        at = ast.Tuple([ast.Constant(node.lineno), ast.Constant(node.col_offset)], ast.Load())  # type: ignore[attr-defined]
        return ast.Call(ast.Name(SEEN, ast.Load()), [at], [])

    def marked(self, body: list[ast.stmt]) -> list[ast.stmt]:
        """A list of statements with marks between; a docstring stays first."""
        found: list[ast.stmt] = []
        for node in body:
            is_text = isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
            found += [node] if is_text else [ast.Expr(self.mark(node)), node]
        return found

    def visit_FunctionDef(self, node: ast.FunctionDef) -> ast.AST:
        self.generic_visit(node)
        for inner in ast.walk(node):
            for slot in ("body", "orelse", "finalbody"):
                body = getattr(inner, slot, None)
                if isinstance(body, list) and body and not hasattr(inner, f"_marked_{slot}"):
                    setattr(inner, f"_marked_{slot}", True)
                    setattr(inner, slot, self.marked(body))
        return node

    def visit_Lambda(self, node: ast.Lambda) -> ast.AST:
        self.generic_visit(node)
        both = ast.Tuple([self.mark(node), node.body], ast.Load())
        node.body = ast.Subscript(both, ast.Constant(1), ast.Load())
        return node


def with_marks(tree: ast.Module) -> ast.Module:
    """The tree with marks, in place."""
    return ast.fix_missing_locations(Marking().visit(tree))  # type: ignore[no-any-return]
