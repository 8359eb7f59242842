"""Every sentence and phrase that the product can say, with its file and line: `python -m tests.sentences [WORDS]`.

Taken from the code itself: string constants and f-strings of rates, estimating and api (docstrings, and text that no
person reads, left out), and the text of the pages' templates. An expression inside stands as {…}. WORDS narrows it down
to those that hold them; the last line counts.
"""

from __future__ import annotations

import ast
import re
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PARTS = ("rates", "estimating", "api")
TAG = re.compile(r"<(script|style).*?</\1>|{%.*?%}|{#.*?#}|<[^>]+>", re.DOTALL)
MACHINE = re.compile(
    r"[<>{}\\^$|]|://|^\W|\b(SELECT|CREATE|UPDATE|DELETE|ALTER|INSERT|TRIGGER)\b|^[a-z_./-]+(, [a-z_./-]+)*$"
)
# calls and names whose text is read by machines
UNREAD = frozenset({"compile", "fullmatch", "sub", "match", "execute", "getLogger", "filter", "only", "defer", "index"})
Said = tuple[str, int, str]


def is_words(text: str) -> bool:
    """Whether a person would read it: two words and more, one of them of three letters."""
    return bool(re.search(r"[A-Za-z]{2,}[,:;]? [^ ]", text)) and not MACHINE.search(text.replace("{…}", "x"))


def text_of(node: ast.expr) -> str | None:
    """The text of a constant or an f-string, expressions as {…}; None for anything else."""
    if isinstance(node, ast.Constant):
        return node.value if isinstance(node.value, str) else None
    if isinstance(node, ast.JoinedStr):
        return "".join(text_of(part) or "" if isinstance(part, ast.Constant) else "{…}" for part in node.values)
    return None


class Walk(ast.NodeVisitor):
    """Collects texts of a module that are neither docstrings nor arguments of what machines read."""

    def __init__(self) -> None:
        self.found: list[tuple[int, str]] = []

    def visit_Expr(self, node: ast.Expr) -> None:  # noqa: N802
        if text_of(node.value) is None:
            self.generic_visit(node)

    def visit_Call(self, node: ast.Call) -> None:  # noqa: N802
        name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
        if name not in UNREAD:
            self.generic_visit(node)

    def visit_Constant(self, node: ast.Constant) -> None:  # noqa: N802
        self.note(node)

    def visit_JoinedStr(self, node: ast.JoinedStr) -> None:  # noqa: N802
        self.note(node)
        for part in node.values:
            if isinstance(part, ast.FormattedValue):
                self.visit(part.value)

    def note(self, node: ast.expr) -> None:
        """Keeps a text that a person reads."""
        text = text_of(node)
        if text is not None and is_words(text):
            self.found.append((node.lineno, " ".join(text.split())))


def in_module(path: Path) -> Iterator[Said]:
    """The texts of a Python file."""
    walk = Walk()
    walk.visit(ast.parse(path.read_text()))
    yield from ((str(path.relative_to(ROOT)), line, text) for line, text in walk.found)


def in_template(path: Path) -> Iterator[Said]:
    """The texts of a page between its tags."""
    plain = TAG.sub(lambda tag: "\n" * tag.group().count("\n") + "\x00", path.read_text())
    for number, line in enumerate(plain.split("\n"), 1):
        for piece in line.split("\x00"):
            text = re.sub(r"{{.*?}}", "{…}", piece).strip()
            if re.search(r"[A-Za-z]{3,}", text):
                yield str(path.relative_to(ROOT)), number, text


@cache
def sentences() -> list[Said]:
    """Everything, file by file."""
    found: list[Said] = []
    for part in PARTS:
        for path in sorted((ROOT / part).rglob("*.py")):
            if "migrations" not in path.parts:
                found += in_module(path)
        for path in sorted((ROOT / part).rglob("*.html")):
            found += in_template(path)
    return found


def main(words: str) -> None:
    """Prints them, and how many they are."""
    chosen = [said for said in sentences() if words.lower() in said[2].lower()]
    for file, line, text in chosen:
        print(f"{file}:{line}: {text}")
    print(f"{len(chosen)} sentences and phrases, {len({text for *_, text in chosen})} of them different")


if __name__ == "__main__":
    main(" ".join(sys.argv[1:]))
