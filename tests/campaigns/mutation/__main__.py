"""Mutates modules that decide prices and counts what the tests notice.

    .venv/bin/python -m tests.campaigns.mutation [--module NAME ...] [--all] [-v]

Each mutation has a process of its own, whose tests stop at the first failure; the files of the checkout stay as they
are. Of a module with more mutations than its share some are tried, the same each time, and those that reasons.json
explains; --all tries all of them. Fails where a test fails unchanged, where less than 95 % of all are killed, where one
survives without a reason in reasons.json, and where a reason stands there that no survivor has.
"""

from __future__ import annotations

import argparse
import os
import sys
import time
from collections.abc import Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from hashlib import sha256

from tests.campaigns.mutation.changes import Key, Mutation, read_source
from tests.campaigns.mutation.killers import PROCESSES, Killers, ask, record_all, test_files
from tests.campaigns.mutation.verdicts import Tried, problems, read_reasons, table, words

# Every price passes all of these: hours, pieces, packs, rental and wages, their sums, the build-up, its split and the
# rounding to cents; layers and card say whose rate counts, and which edition and layer a derivation names
MODULES = (
    "estimating.core.hours", "estimating.core.learning", "estimating.core.worked", "estimating.core.strips",
    "estimating.core.materials", "estimating.core.equipment", "estimating.core.wages", "estimating.core.direct",
    "estimating.core.build_up", "estimating.core.remainders", "rates.core.money", "rates.core.layers",
    "rates.core.card",
)  # fmt: skip
SHARE = 26
SEED = "price"
CANARY: Key = (
    "rates.core.money",
    "round_to_minor",
    "value * 10 ** minor_digits(currency) → value / 10 ** minor_digits(currency)",
)


def drawn(mutations: Sequence[Mutation], reasons: Mapping[Key, str]) -> list[Mutation]:
    """A module's share, in the order of the file: drawn by the words of each, so that no other line moves the draw."""

    def lot(mutation: Mutation) -> str:
        return sha256("\n".join((SEED, *mutation.key)).encode()).hexdigest()

    share = set(sorted(mutations, key=lot)[:SHARE])
    return [mutation for mutation in mutations if mutation in share or mutation.key in reasons]


def try_one(mutation: Mutation, killers: Killers) -> Tried:
    """A mutation in a process of its own, its tests after one another."""
    seconds = killers.of(mutation)
    module, function, text = mutation.key
    order = {"module": module, "function": function, "text": text, "files": list(seconds), "seconds": seconds}
    report = ask(order) if seconds else {"outcome": "survived", "by": ""}
    if report is None:
        return Tried(mutation, "killed", "the limit of processor time or memory")
    if report["outcome"] == "killed":
        killers.kills[module, report["by"].partition("::")[0]] += 1
    return Tried(mutation, report["outcome"], report["by"])


def campaign(modules: Sequence[str], every: bool, verbose: bool) -> list[str]:
    """Tries the mutations of some modules, prints a table, and gives why the campaign fails."""
    killers = Killers(record_all(test_files(), MODULES))
    failed = [f"{one.file} fails with no mutation: {one.by}" for one in killers.files if not one.passed]
    if failed:
        return failed
    canary = next(one for one in read_source(CANARY[0]).mutations if one.key == CANARY)
    if CANARY[0] in modules and try_one(canary, killers).outcome != "killed":
        return [f"nothing noticed the canary, {words(CANARY)}"]
    reasons = read_reasons()
    sources = [read_source(module).mutations for module in modules]
    chosen = [one for found in sources for one in (found if every else drawn(found, reasons))]
    tried: list[Tried] = []
    with ThreadPoolExecutor(PROCESSES) as pool:
        for one in pool.map(lambda mutation: try_one(mutation, killers), chosen):
            tried.append(one)
            if verbose or one.outcome != "killed":
                print(f"{one.outcome}: line {one.mutation.line}, {words(one.mutation.key)} {one.by}", flush=True)
    print("\n".join(table(tried)))
    return problems(tried, reasons, whole=set(modules) == set(MODULES))


def main() -> None:
    """Runs it and exits with 1 where it fails."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--module", action="append", choices=MODULES, metavar="NAME", help=", ".join(MODULES))
    parser.add_argument("--all", action="store_true", help="every mutation")
    parser.add_argument("-v", action="store_true", help="a line for each mutation")
    options = parser.parse_args()
    os.environ["PYTHONHASHSEED"] = "0"  # of the processes to come: sets of texts in the same order each time
    start = time.monotonic()
    found = campaign(options.module or MODULES, options.all, options.v)
    print(f"{time.monotonic() - start:.0f} s")
    print("\n".join(found) or "all that survived is explained")
    sys.exit(bool(found))


if __name__ == "__main__":
    main()
