"""Random pairs of revisions: every level of a comparison sums to the one above, and reversed every sign flips.

The mixed states share what they have in common; each is held against one that is costed by itself. Axioms: Shapley
1953. COMPARED_PAIRS=1000 is the long form; rates are invented.
"""

from __future__ import annotations

import os
from collections import Counter
from decimal import Decimal
from typing import Any

import pytest

from estimating.core.attribution import CAUSES, Comparison, Prices, changed_causes, compare, mixed_plan
from estimating.core.estimate import build, estimate
from estimating.core.job import Job, read_request
from estimating.core.shared_work import Shared
from estimating.core.shares import even_handed
from estimating.outputs.comparison_answer import comparison_answer
from rates.core.problems import Refused
from tests.core.random_chance import Chance
from tests.core.random_editions import repriced
from tests.core.random_estimates import crew, random_case, sources
from tests.core.random_overheads import random_overheads
from tests.core.random_production import random_production

PAIRS = range(2000, 2000 + int(os.environ.get("COMPARED_PAIRS", "12")))
Document = dict[str, Any]


def revised_lines(chance: Chance, lines: list[Document]) -> list[Document]:
    """Lines of which some went, some have another count, some another mark, and one came at times."""
    found = []
    for line in lines:
        change = chance.pick(["", "", "", "went", "count", "mark", "access"])
        if change != "went":
            changes = {"count": {"quantity": line["quantity"] + 2}, "mark": {"mark": f"R-{line['mark']}"}}
            changes["access"] = {"access": chance.pick(["ground", "lift"])}
            found.append(line | changes.get(change, {}))
    return found + [line | {"mark": f"N-{line['mark']}", "quantity": 3} for line in lines[: chance.whole(0, 1)]]


def revised(chance: Chance, request: Document, edition: Document) -> tuple[Document, Document]:
    """A later request and edition in which each cause changed or not."""
    tables = dict(edition["tables"])
    if chance.maybe(0.8):
        request = request | {"openings": revised_lines(chance, request["openings"])}
    if chance.maybe(0.4):
        tables["production"] = random_production(chance)
    if chance.maybe(0.3):
        request = request | {"crew": crew(chance, edition)}
    if chance.maybe(0.6):
        tables |= {name: repriced(chance, tables[name]) for name in ("labour", "materials")}
    if chance.maybe(0.4) and request["method"] != "by_line":
        request = request | {"method": chance.pick(["fluid", "tape"]), "wall_barrier": "fluid"}
    if chance.maybe(0.5):
        tables["overheads"] = random_overheads(chance)
    if chance.maybe(0.4) and not isinstance(request.get("mobilisations"), list):
        request = request | {"mobilisations": chance.whole(0, 4), "work_date": "2027-05-20"}
    return request, edition | {"tables": tables}


def pair(seed: int) -> tuple[Job, Job] | None:
    """Two jobs ready to be compared; None where the later schedule asks what no price answers."""
    request, editions = random_case(seed)
    chance = Chance(seed + 10**6)
    later, edition = revised(chance, request, editions[0])
    try:
        after = read_request(later, sources([edition, *editions[1:]]))
    except Refused:
        return None
    return read_request(request, sources(editions)), after


def levels_sum(found: Comparison) -> None:
    """Causes to the change, lines and rows to their causes, as computed and as answered."""
    causes = dict(found.causes)
    change = found.after.up.price_minor - found.before.up.price_minor
    assert sum(causes.values()) == change
    assert all(amount == 0 for cause, amount in causes.items() if cause in CAUSES and cause not in found.changed)
    lines = sum(line.after_minor - line.before_minor for line in found.lines)
    assert lines + found.lines_with_other_causes == causes["openings"]
    assert sum(row.amount_minor or 0 for row in found.rows) + found.rows_together == causes["rates"]
    answer: Any = comparison_answer(found)
    by_cause = {row["cause"]: Decimal(row["amount"]) for row in answer["causes"]}
    assert sum(by_cause.values()) == Decimal(answer["change"])
    for name, cause in (("lines", "openings"), ("rate_rows", "rates")):
        if answer[name]:
            assert sum(Decimal(row["amount"]) for row in answer[name]) == by_cause[cause]


def by_themselves(before: Job, after: Job, chance: Chance, prices: Prices) -> None:
    """Some of the mixed states costed with nothing shared: price, hours, materials, and the price of each line."""
    changed = changed_causes(before, after)
    for _ in range(3):
        causes = frozenset(chance.some(list(changed))) if changed else frozenset[str]()
        _, up = build(mixed_plan(before, after, causes, Shared()), prices.smooth)
        assert prices(causes) == up.price_minor
        alone = estimate(mixed_plan(before, after, causes, Shared()))
        beside = estimate(mixed_plan(before, after, causes, prices.shared), shared=prices.shared)
        assert beside.allocation.line_prices == alone.allocation.line_prices
        assert beside.standard_hours == alone.standard_hours and beside.treated_area_nm2 == alone.treated_area_nm2
        for one, other in zip(beside.parts, alone.parts, strict=True):
            assert [line.mix for line in one.materials] == [line.mix for line in other.materials]
            assert [line.amount for line in one.equipment] == [line.amount for line in other.equipment]


def test_levels_sum_reversed_signs_flip_and_nothing_is_between_equals() -> None:
    seen: Counter[str] = Counter()
    for seed in PAIRS:
        jobs, chance = pair(seed), Chance(seed)
        smooth = chance.maybe(0.5)
        if jobs is None:
            seen["refused"] += 1
            continue
        before, after = jobs
        try:
            found, back = compare(before, after, smooth=smooth), compare(after, before, smooth=smooth)
        except Refused as refused:
            assert refused.problems[0].code == "mix_refused"
            seen["mix refused"] += 1
            continue
        levels_sum(found)
        levels_sum(back)
        prices = Prices(before, after, smooth)
        exact = even_handed(found.changed, prices)
        assert exact == {
            cause: -share for cause, share in even_handed(found.changed, Prices(after, before, smooth)).items()
        }
        assert found.causes == tuple((cause, -amount) for cause, amount in back.causes)
        by_themselves(before, after, chance, prices)
        same = compare(after, after, smooth=smooth)
        assert not any(dict(same.causes).values()) and (same.lines, same.rows, same.changed) == ((), (), ())
        seen["compared"] += 1
        seen.update(found.changed)
    assert seen["compared"] > 0.6 * len(PAIRS), seen
    assert set(CAUSES) <= set(seen), seen


@pytest.mark.parametrize("smooth", [False, True])
def test_one_state_leaves_nothing_in_another_that_asks_for_it_later(smooth: bool) -> None:
    """The same prices in whichever order the states are asked for."""
    jobs = next(found for found in map(pair, PAIRS) if found is not None and len(changed_causes(*found)) > 2)
    changed = changed_causes(*jobs)
    states = [frozenset(changed[:n]) for n in range(len(changed) + 1)]
    forth, back = Prices(*jobs, smooth), Prices(*jobs, smooth)
    there = {state: forth(state) for state in states}
    assert there == {state: back(state) for state in reversed(states)}
