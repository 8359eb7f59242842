"""What the documents say holds: commands are what CI runs, figures are the golden ones, paths and links exist."""

from __future__ import annotations

import json
import re
import shlex
import subprocess
import sys
from decimal import Decimal
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
README = (ROOT / "README.md").read_text()
DOCUMENTS = ("README.md", "DEVELOPERS.md", "estimating/demo/README.md")
NOT_TEXT = (".sqlite3", ".pyc", ".xlsx", ".pdf", ".png", ".woff2")
# spelled in parts, so that this file does not find itself
FORBIDDEN = ["/wo" + "rk/", "/fa" + "rm/", "seed doc" + "ument", "trans" + "cript", "../sha" + "red", "/tmp/te" + "am"]


def commands(document: str) -> list[str]:
    """The lines of the document's sh blocks."""
    return [line for block in re.findall(r"```sh\n(.*?)```", document, re.DOTALL) for line in block.splitlines()]


def tree_files() -> list[Path]:
    """Every text file of the checkout that is the project's."""
    found = []
    for path in ROOT.rglob("*"):
        parts = path.relative_to(ROOT).parts
        made = any(part.startswith(".") or part.endswith(".egg-info") for part in parts[:1]) and parts[0] != ".ci"
        made = made or parts[0] == "build" or "node_modules" in parts
        if not made and path.is_file() and path.suffix not in NOT_TEXT:
            found.append(path)
    return sorted(found)


def test_readme_opens_with_the_job_in_one_paragraph_and_two_commands() -> None:
    blocks = README.split("\n\n")
    assert blocks[0].startswith("# ")
    assert len(blocks[1].split()) > 60 and "```" not in blocks[1]
    demo, tests = commands(README)[:2]
    assert "manage.py estimate estimating/demo/clinic-a.json && " in demo
    assert demo.endswith(".venv/bin/python manage.py start")
    assert tests.endswith(".venv/bin/pytest")
    for command in (demo, tests):
        assert command.startswith("python3 -m venv .venv && .venv/bin/pip install "), "a fresh machine has only Python"
        assert "\n" not in command


def test_ci_runs_both_commands_as_written_and_stops_at_a_failure() -> None:
    script = (ROOT / ".ci" / "run").read_text()
    lines = script.splitlines()
    demo, tests = commands(README)[:2]
    assert f"{demo} &" in lines and "READY" in lines, "CI goes on once the service is ready"
    assert tests in lines
    assert "set -euo pipefail" in lines and "export REQUIRE_ALL=1" in lines
    assert lines.index("export REQUIRE_ALL=1") < lines.index(commands(README)[1])
    assert lines[-1].strip(), "the last command decides the status"
    assert subprocess.run(["bash", "-n", str(ROOT / ".ci" / "run")], check=False).returncode == 0


def test_the_worked_example_has_the_golden_figures() -> None:
    expected = json.loads((ROOT / "tests" / "data" / "golden" / "expected.json").read_text())
    section = README.split("## A worked example")[1].split("\n## ")[0]
    table = re.findall(r"^\| ([a-z ]+?) \| .* \| ([0-9,]+\.[0-9]{2}) \|$", section, re.MULTILINE)
    written = [(step, Decimal(amount.replace(",", ""))) for step, amount in table]
    names = {"round_up_to": "rounding"}
    golden = [
        (names.get(row["step"], row["step"]).replace("_", " "), Decimal(row["amount"])) for row in expected["build_up"]
    ]
    assert written == golden
    totals = expected["totals"]
    for figure in ("direct_cost", "cost", "price"):
        assert f"{Decimal(totals[figure]):,}" in section
    for figure in (totals["treated_area"], totals["hours"], *(row["price"] for row in expected["by_mark"])):
        assert figure in section
    for row in expected["materials"]:
        assert row["gross"] in section and row["net"] in section


@pytest.mark.parametrize("command", [line for line in commands(README)[2:] if "manage.py estimate" in line])
def test_the_other_estimate_commands_of_readme_run(command: str) -> None:
    arguments = shlex.split(command)
    assert arguments[:2] == [".venv/bin/python", "manage.py"]
    answer = subprocess.run(
        [sys.executable, *arguments[1:]], cwd=ROOT, capture_output=True, text=True, timeout=120, check=False
    )
    assert answer.returncode == 0, answer.stderr
    assert ("1655.00 USD" if "--why" in command else "1,655.00") in answer.stdout


@pytest.mark.parametrize("name", DOCUMENTS)
def test_paths_and_links_of_a_document_exist(name: str) -> None:
    document = (ROOT / name).read_text()
    links = [link for link in re.findall(r"\]\(([^)#]+)\)", document) if not link.startswith("http")]
    spans = re.findall(r"`([a-z_]+(?:/[a-z0-9_.-]+)+)`", document)
    assert [path for path in links if not (ROOT / name).parent.joinpath(path).exists()] == []
    assert [path for path in spans if not (ROOT / path).exists()] == []


def test_the_demo_table_names_every_file() -> None:
    table = (ROOT / "estimating" / "demo" / "README.md").read_text()
    named = set(re.findall(r"^\| ([a-z0-9-]+\.(?:json|csv)) \|", table, re.MULTILINE))
    assert named == {path.name for path in (ROOT / "estimating" / "demo").iterdir() if path.suffix != ".md"}


def test_no_machine_path_stands_in_the_project() -> None:
    found = []
    for path in tree_files():
        text = path.read_text(errors="replace").lower()
        found += [f"{path.relative_to(ROOT)}: {word}" for word in FORBIDDEN if word in text]
    assert found == []


def test_the_licence_is_the_one_that_is_said() -> None:
    text = (ROOT / "LICENSE").read_text()
    assert "Apache License" in text.splitlines()[1] + text.splitlines()[0] and "Version 2.0, January 2004" in text
    assert "END OF TERMS AND CONDITIONS" in text
    assert 'text = "Apache-2.0"' in (ROOT / "pyproject.toml").read_text() and "[Apache License 2.0](LICENSE)" in README
