"""The lock file: every package that the service needs, one version for each supported Python, each with its hashes.

That a fresh environment installs by it alone, and that the service starts there, is shown by .ci/run.
"""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
import yaml
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).resolve().parent.parent
TEXT = (ROOT / "requirements.lock").read_text()
NEEDED = [Requirement(text) for text in tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]["dependencies"]]
PYTHONS = ("3.11", "3.12", "3.13", "3.14")
INSTALL = "pip install --no-cache-dir --require-hashes -r requirements.lock"


def locked() -> list[tuple[Requirement, list[str]]]:
    """The packages of the lock file with their hashes."""
    lines = TEXT.replace("\\\n", "").splitlines()
    entries = [line for line in lines if line and not line.startswith("#")]
    return [
        (Requirement(entry.partition("--hash")[0].strip()), re.findall(r"--hash=(\S+)", entry)) for entry in entries
    ]


def test_every_package_is_pinned_and_has_its_hashes_and_no_place_is_named() -> None:
    for package, hashes in locked():
        assert [spec.operator for spec in package.specifier] == ["=="], package
        assert hashes and all(re.fullmatch(r"sha256:[0-9a-f]{64}", one) for one in hashes), package
    assert not re.search(r"https?:|index|find-links| @ ", TEXT)


@pytest.mark.parametrize("python", PYTHONS)
def test_one_version_within_the_bounds_for_each_python(python: str) -> None:
    machine = {
        "python_version": python,
        "python_full_version": f"{python}.9",
        "implementation_name": "cpython",
        "sys_platform": "linux",
    }
    kept: dict[str, list[str]] = {}
    for package, _ in locked():
        if package.marker is None or package.marker.evaluate(machine):
            versions = [spec.version for spec in package.specifier]
            kept.setdefault(canonicalize_name(package.name), []).extend(versions)
    assert {name: versions for name, versions in kept.items() if len(versions) != 1} == {}
    for need in NEEDED:
        name = canonicalize_name(need.name)
        wanted = need.marker is None or need.marker.evaluate(machine)
        assert (name in kept) is wanted, name
        assert not wanted or need.specifier.contains(kept[name][0]), f"{need} and {kept[name]}"


def test_the_image_and_the_check_install_by_it() -> None:
    services = yaml.safe_load((ROOT / "docker-compose.yml").read_text())["services"]
    assert INSTALL in services["web"]["build"]["dockerfile_inline"]
    assert "install -q --require-hashes -r requirements.lock" in (ROOT / ".ci" / "run").read_text()


def test_packages_whose_internals_are_replaced_have_an_upper_bound() -> None:
    bounds = {need.name.lower(): str(need.specifier) for need in NEEDED}
    for name in ("gunicorn", "django", "djangorestframework", "celery"):
        assert "<" in bounds[name], name
