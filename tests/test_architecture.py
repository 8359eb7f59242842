"""The shape of the code is checked like its results: layers, pure cores, sizes. And each check is seen to fail."""

from __future__ import annotations

import ast
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PARTS = ("rates", "estimating", "api")
CORES = ("rates/core", "estimating/core")
LINT = "from importlinter.cli import lint_imports_command; lint_imports_command()"


def lint_imports(folder: Path, *options: str) -> subprocess.CompletedProcess[str]:
    """The import contracts of pyproject.toml, checked in a fresh process on the tree in `folder`."""
    command = [sys.executable, "-c", LINT, "--no-cache", *options]
    return subprocess.run(
        command, cwd=folder, capture_output=True, text=True, check=False, env={**os.environ, "PYTHONPATH": str(folder)}
    )


def source_files(*folders: str) -> list[Path]:
    """Every Python file below `folders`, migrations left out: Django writes those."""
    return sorted(
        path for folder in folders for path in (ROOT / folder).rglob("*.py") if "migrations" not in path.parts
    )


def module_file(folder: Path, name: str) -> Path:
    """The file of the module `name`, made empty in the copy where it doesn't exist yet."""
    path = folder.joinpath(*name.split("."))
    if path.is_dir():
        return path / "__init__.py"
    module = path.with_suffix(".py")
    module.parent.mkdir(parents=True, exist_ok=True)
    module.touch()
    for package in (parent for parent in module.parents if folder in parent.parents):
        (package / "__init__.py").touch()
    return module


@pytest.fixture
def copied_tree(tmp_path: Path) -> Path:
    for part in PARTS:
        shutil.copytree(ROOT / part, tmp_path / part, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    return tmp_path


def test_the_contracts_hold() -> None:
    answer = lint_imports(ROOT)
    assert answer.returncode == 0, answer.stdout + answer.stderr
    assert "0 broken" in answer.stdout


@pytest.mark.parametrize(
    ("contract", "importer", "imported"),
    [
        ("parts", "rates.core.problems", "estimating.apps"),
        ("parts", "rates.apps", "api.settings"),
        ("parts", "estimating.intake.broken", "api.settings"),
        ("faces", "api.rest.broken", "api.pages.other"),
        ("faces", "api.pages.broken", "api.rest.other"),
        ("models", "api.rest.broken", "estimating.models"),
        ("models", "api.pages.broken", "rates.models"),
        ("pure", "rates.core.problems", "django.db"),
        ("pure", "rates.core.problems", "psycopg"),
        ("pure", "estimating.core.broken", "rest_framework"),
        ("pure", "estimating.core.broken", "time"),
        ("pure", "estimating.core.broken", "pathlib"),
        ("outside", "estimating.core.broken", "estimating.intake.other"),
        ("stages", "estimating.core.schedule", "estimating.core.takeoff"),
        ("stages", "estimating.core.takeoff", "estimating.core.worked"),
        ("stages", "estimating.core.worked", "estimating.core.direct"),
        ("stages", "estimating.core.direct", "estimating.core.estimate"),
        ("stages", "estimating.core.estimate", "estimating.core.comparison"),
        ("stages", "estimating.core.comparison", "estimating.core.attribution"),
    ],
)
def test_a_deliberate_break_is_caught(copied_tree: Path, contract: str, importer: str, imported: str) -> None:
    if imported.split(".")[0] in PARTS:
        module_file(copied_tree, imported)
    with module_file(copied_tree, importer).open("a") as source:
        source.write(f"\nimport {imported}\n")
    answer = lint_imports(copied_tree, "--contract", contract)
    assert answer.returncode != 0, f"{importer} imports {imported} and {contract} did not notice"
    assert f"{importer} -> {imported.split('.')[0]}" in " ".join(answer.stdout.split()), answer.stdout + answer.stderr


def faults_of_core(source: str) -> list[str]:
    """What a core may not hold: imports from outside the standard library and the cores, floats, late imports."""
    faults = []
    tree = ast.parse(source)
    for node in ast.walk(tree):
        line = getattr(node, "lineno", 0)
        names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
        if isinstance(node, ast.ImportFrom):
            names = [node.module or ""]
        for name in names:
            outside = name.split(".")[0] not in sys.stdlib_module_names
            if outside and not name.startswith(("rates.core", "estimating.core")):
                faults.append(f"line {line}: imports {name}")
        if isinstance(node, ast.Constant) and isinstance(node.value, float):
            faults.append(f"line {line}: a float")
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "float":
            faults.append(f"line {line}: makes a float")
    return faults


def test_the_cores_hold_no_float_and_import_only_the_standard_library() -> None:
    found = {str(path.relative_to(ROOT)): faults_of_core(path.read_text()) for path in source_files(*CORES)}
    assert {path: faults for path, faults in found.items() if faults} == {}


@pytest.mark.parametrize(
    ("source", "fault"),
    [
        ("import attrs", "line 1: imports attrs"),
        ("from estimating.models import Run", "line 1: imports estimating.models"),
        ("rate = 0.5", "line 1: a float"),
        ("rate = float('1')", "line 1: makes a float"),
    ],
)
def test_a_fault_of_a_core_is_seen(source: str, fault: str) -> None:
    assert faults_of_core(source) == [fault]


def long_functions(source: str, limit: int) -> list[str]:
    """Functions of `limit` lines and more, with their length."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            lines = (node.end_lineno or node.lineno) - node.lineno + 1
            if lines >= limit:
                found.append(f"{node.name}: {lines} lines")
    return found


def test_files_stay_under_300_lines_and_core_functions_under_40() -> None:
    long_files = {
        str(path.relative_to(ROOT)): lines
        for path in source_files(*PARTS, "tests")
        if (lines := len(path.read_text().splitlines())) > 300
    }
    assert long_files == {}
    found = {str(path.relative_to(ROOT)): long_functions(path.read_text(), 40) for path in source_files(*CORES)}
    assert {path: functions for path, functions in found.items() if functions} == {}


def test_a_long_function_is_seen() -> None:
    source = "def price():\n" + "    pass\n" * 39
    assert long_functions(source, 40) == ["price: 40 lines"]
    assert long_functions(source, 41) == []
