"""Checks as documents and lists give them."""

from __future__ import annotations

from collections.abc import Iterable

from estimating.core.checks.case import Finding
from estimating.core.checks.run import checks
from estimating.core.estimate import Estimate

Row = dict[str, object]
MOST_LINES = 1000  # lines that one check names by number; its sentence counts every opening


def check_row(found: Finding) -> Row:
    """One finding; its lines numbered from 1, as the openings are."""
    lines = [i + 1 for i in found.case.lines[:MOST_LINES]]
    return {"code": found.check.code, "severity": found.check.severity, "sentence": found.sentence, "lines": lines}


def check_rows(findings: Iterable[Finding]) -> list[Row]:
    """Findings in the order of the table."""
    return [check_row(found) for found in findings]


def by_key(estimate: Estimate) -> dict[tuple[str, str], list[Finding]]:
    """Findings by what they are about; parts of a season split may find the same of other lines."""
    found: dict[tuple[str, str], list[Finding]] = {}
    for finding in checks(estimate):
        found.setdefault(finding.key, []).append(finding)
    return found


def changed_checks(before: Estimate, after: Estimate) -> list[Row]:
    """Checks that came and went between two estimates, and those that say something else; what stayed is left out.

    Lines are those of the later schedule, of one that went those of the earlier.
    """
    was, now = by_key(before), by_key(after)
    rows: list[Row] = []
    for key, found in now.items():
        change = "came" if key not in was else "changed"
        if [f.sentence for f in found] != [f.sentence for f in was.get(key, [])]:
            rows += [{"change": change} | row for row in check_rows(found)]
    gone = [finding for key, found in was.items() if key not in now for finding in found]
    return rows + [{"change": "went"} | row for row in check_rows(gone)]


def estimate_checks(estimate: Estimate) -> list[Row]:
    """What is unlikely in an estimate."""
    return check_rows(checks(estimate))
