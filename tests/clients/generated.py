"""Clients made by generators of others from the committed description, and what is in them."""

from __future__ import annotations

import importlib
import json
import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.service import ROOT

HERE = Path(__file__).resolve().parent
PACKAGES = HERE / "node_modules"
DESCRIPTION = ROOT / "api" / "rest" / "openapi.json"
NAME = "made_client"
ANSWER = re.compile(r"if response\.status_code == (2\d\d):\n(.*?)\n\s+return response_\1\n", re.DOTALL)
JSON = "application/json"
Counted = dict[str, dict[int, str]]  # by operation: the type of each success answer that has content


def described() -> Counted:
    """The operations of the description, each success answer with its media types that are no JSON, or `json`."""
    found: Counted = {}
    for methods in json.loads(DESCRIPTION.read_text())["paths"].values():
        for operation in methods.values():
            answers = {int(s): a.get("content", {}) for s, a in operation["responses"].items() if s < "300"}
            found[operation["operationId"]] = {s: "json" if JSON in c else "bytes" for s, c in answers.items() if c}
    return found


def make_python(folder: Path) -> Path:
    """The folder of the client that openapi-python-client makes; any warning of it fails."""
    made = folder / NAME
    command = [str(Path(sys.executable).with_name("openapi-python-client")), "generate", "--meta", "none"]
    command += ["--path", str(DESCRIPTION), "--config", str(HERE / "contents.yml"), "--output-path", str(made)]
    ended = subprocess.run([*command, "--fail-on-warning"], capture_output=True, text=True, check=False)
    said = ended.stdout + ended.stderr
    assert ended.returncode == 0 and "arning" not in said, said
    return made


def python_operation(name: str) -> str:
    """What that client calls an operation."""
    return name.replace("-", "_")


def count_python(made: Path) -> Counted:
    """Its operations, and the types of their success answers."""
    found: Counted = {}
    for module in sorted((made / "api").glob("*/*.py")):
        if module.stem == "__init__":
            continue
        read = re.findall(ANSWER, module.read_text())
        found[module.stem] = {int(status): kind for status, kind in read if "Any" not in kind}
    return found


def need_node() -> str:
    """The path of node; skips the test where it or the packages are missing."""
    node = shutil.which("node")
    if node is None or not PACKAGES.is_dir():
        pytest.skip("no node, or no packages: npm ci --prefix tests/clients")
    return node


def run_node(*command: str) -> str:
    """What a script of a package prints; any warning of it fails."""
    ended = subprocess.run([need_node(), *command], cwd=HERE, capture_output=True, text=True, check=False)
    assert ended.returncode == 0 and "⚠" not in ended.stderr, ended.stdout + ended.stderr
    return ended.stdout


def make_typescript(folder: Path) -> Path:
    """The file of types that openapi-typescript makes."""
    made = folder / "api.ts"
    run_node("node_modules/openapi-typescript/bin/cli.js", str(DESCRIPTION), "--output", str(made))
    return made


def count_typescript(made: Path) -> Counted:
    """Its operations, and the types of their success answers."""
    counted = json.loads(run_node("count.cjs", str(made)))
    return {name: {int(status): kind for status, kind in answers.items()} for name, answers in counted.items()}


def load(folder: Path) -> Any:
    """The made Python client, imported from a folder."""
    sys.path.insert(0, str(folder))
    try:
        return importlib.import_module(NAME)
    finally:
        sys.path.remove(str(folder))
