"""The letter of changes of random revisions: its effects sum to the change, reversed every sign flips, itself is empty.

PAIRS=1000 is the long form.
"""

from __future__ import annotations

import os
import random
from collections import Counter
from decimal import Decimal
from typing import Any

from estimating.core.estimate import Estimate
from estimating.core.job import cost_request
from estimating.outputs.quotes.changes import ChangesLetter, Priced, write_changes
from estimating.outputs.quotes.letter import Sender, Terms, write_letter
from estimating.outputs.quotes.offers import paired
from estimating.outputs.quotes.prepared import Offer, line_prices
from estimating.quoting import assemble
from rates.core.card import EditionSource
from rates.core.length_styles import LengthStyle
from tests.core.test_letters_hold_no_cost import DAY
from tests.worked_cases import read_case

PAIRS = int(os.environ.get("PAIRS", "40"))
STYLE = LengthStyle()
SAID = Terms(
    {"name": "x"}, {"inclusions": [], "exclusions": [], "clarifications": []}, [], "", DAY, "", "", "", "quote 1"
)


def lines(chance: random.Random) -> list[dict[str, Any]]:
    """A few opening lines."""
    return [
        {"mark": f"W{n}", "quantity": chance.randint(0, 9), "width": f"{chance.choice((36, 48, 60))} in",
         "height": "48 in", "access": chance.choice(("ground", "lift")), "storey": chance.choice("12"),
         "elevation": chance.choice(("North", "East"))}
        for n in range(chance.randint(1, 8))
    ]  # fmt: skip


def revised(chance: random.Random, before: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The lines with some changed, gone, come, renumbered or set aside."""
    after: list[dict[str, Any]] = []
    for line in before:
        what = chance.randrange(9)
        if what == 0:
            continue
        changes: dict[int, dict[str, Any]] = {
            1: {"quantity": line["quantity"] + 1}, 2: {"width": "72 in"}, 3: {"mark": f"R{line['mark']}"},
            4: {"excluded": {"reason": "by others"}}, 5: {"access": "lift"},
        }  # fmt: skip
        after.append(line | changes.get(what, {}))
    return after + [x | {"mark": f"N{n}"} for n, x in enumerate(lines(chance)[: chance.randint(0, 2)])]


def cost(openings: Any, joints: bool) -> Estimate:
    """The golden request for these openings, with sheathing joints or without."""
    walls = [{"length": "40 ft", "height": "20 ft", "sheet_long": "8 ft", "sheet_high": "4 ft"}]
    more = {"sheathing_joints": {"walls": walls}} if joints else {}
    document = read_case("golden", "edition.json")
    document["tables"]["production"]["sheathing_joint"] = {"width": "4 in", "minutes_per_foot": "0.25"}
    request = read_case("golden", "request.json") | {"openings": openings, "allocate_by": "own_use"} | more
    return cost_request(request, [EditionSource("e", 1, "company", document)])


def changes(before: Estimate, after: Estimate) -> ChangesLetter:
    """The letter of changes between two estimates at their own prices."""
    sides = []
    for estimate in (before, after):
        prices = line_prices(estimate)
        sides.append((assemble(estimate, (Offer("estimate", sum(prices), prices),), [], STYLE), prices))
    (old, old_prices), (new, new_prices) = sides
    counts = tuple(sum(line.line is None for line in x.lines) for x in (old, new))
    schedules = before.request.schedule, after.request.schedule
    pairs = tuple(paired(*schedules, {}, STYLE.show, (counts[0], counts[1])))
    letter = write_letter(Sender("O", [], False), SAID, new, prices=new_prices, currency="USD", number=2, date=DAY)
    priced = Priced([x.mark for x in old.lines], old_prices, [x.mark for x in new.lines], new_prices)
    assert sorted(p.before for p in pairs if p.before is not None) == list(range(len(old.lines)))
    assert sorted(p.after for p in pairs if p.after is not None) == list(range(len(new.lines)))
    return write_changes(letter, pairs, priced)


def effect(text: str) -> Decimal:
    """An amount as it is printed."""
    return Decimal(text.replace(",", "").replace("−", "-").replace("+", ""))


def effects(found: ChangesLetter) -> Counter[Decimal]:
    """How often each effect stands in the letter."""
    return Counter(effect(line.effect) for line in found.lines) + Counter([effect(found.unchanged_effect)])


def test_effects_sum_reverse_and_vanish() -> None:
    chance = random.Random(2027)
    kinds: Counter[str] = Counter()
    for _ in range(PAIRS):
        first = lines(chance)
        before, after = cost(first, chance.random() < 0.3), cost(revised(chance, first), chance.random() < 0.3)
        found, back = changes(before, after), changes(after, before)
        change = Decimal(after.up.price_minor - before.up.price_minor) / 100
        assert sum((e * n for e, n in effects(found).items()), Decimal(0)) == change == effect(found.change)
        assert effects(back) == Counter({-e: n for e, n in effects(found).items()})
        same = changes(after, after)
        assert same.lines == () and effect(same.change) == effect(same.unchanged_effect) == 0
        kinds += Counter(line.what for line in found.lines)
        assert all(line.sentence for line in found.lines)
    assert set(kinds) == {"came", "went", "changed"}
