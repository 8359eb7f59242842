"""What a campaign comes to: the share killed, survivors without a reason, reasons that no survivor has any more."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from tests.campaigns.mutation.changes import Key, Mutation

REASONS = Path(__file__).with_name("reasons.json")
LEAST_KILLED = Fraction(95, 100)


@dataclass(frozen=True)
class Tried:
    """A mutation and what became of it: killed (by a test, or the limits of time and memory), survived, absent."""

    mutation: Mutation
    outcome: str
    by: str


def read_reasons(path: Path = REASONS) -> dict[Key, str]:
    """Why a mutation can't be told from the code, by module, function and mutation."""
    rows = json.loads(path.read_text())
    return {(row["module"], row["function"], row["mutation"]): row["reason"] for row in rows}


def problems(tried: Sequence[Tried], reasons: Mapping[Key, str], whole: bool = True) -> list[str]:
    """Why a campaign fails, in sentences; none where it holds. Reasons of modules that were not tried are left out.

    whole: whether every module was tried; one alone has too few mutations for a share.
    """
    modules = {one.mutation.module for one in tried}
    survivors = {one.mutation.key for one in tried if one.outcome == "survived"}
    found = [f"not in place when the tests ran: {words(one.mutation.key)}" for one in tried if one.outcome == "absent"]
    found += [f"survived without a reason: {words(key)}" for key in sorted(survivors - reasons.keys())]
    stale = sorted(key for key in reasons if key[0] in modules and key not in survivors)
    found += [f"a reason that no survivor has: {words(key)}" for key in stale]
    found += [f"an empty reason: {words(key)}" for key, reason in reasons.items() if not reason.strip()]
    killed = sum(one.outcome == "killed" for one in tried)
    if whole and killed < LEAST_KILLED * len(tried):
        found.append(f"killed {killed} of {len(tried)}, which is less than 95 %")
    return found


def words(key: Key) -> str:
    """A mutation on one line."""
    module, function, text = key
    return f"{module}, {function}: {text}"


def table(tried: Sequence[Tried]) -> list[str]:
    """A line for each module and one for all: mutants, killed, survived."""
    modules = dict.fromkeys(one.mutation.module for one in tried)
    rows = [(module, [one for one in tried if one.mutation.module == module]) for module in modules]
    lines = [f"{'module':32}{'mutants':>8}{'killed':>8}{'survived':>9}"]
    for name, own in (*rows, ("all", tried)):
        killed, survived = (sum(one.outcome == outcome for one in own) for outcome in ("killed", "survived"))
        lines.append(f"{name:32}{len(own):8}{killed:8}{survived:9}")
    return lines
