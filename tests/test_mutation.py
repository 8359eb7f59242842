"""The mutation campaign itself: a mutation is in place when the tests run, and no reason goes stale unseen."""

from __future__ import annotations

import ast
from importlib.util import cache_from_source
from pathlib import Path

import pytest

from tests.campaigns.mutation.__main__ import CANARY, MODULES, SHARE, drawn
from tests.campaigns.mutation.changes import Mutation, read_source, read_text
from tests.campaigns.mutation.killers import ask, record
from tests.campaigns.mutation.placing import SEEN, with_marks
from tests.campaigns.mutation.verdicts import Tried, problems, read_reasons

CODE = '''
"""A text of 3 words."""
from math import ceil, floor
__all__ = ["share"]
LEAST: int = 2

def share(total: int, parts: int = 4, *, exact: bool = True) -> int:
    """5 in a docstring."""
    if parts <= LEAST and not exact:
        raise ValueError(f"{parts + 6} is too few")
    found = []
    for place in range(parts):
        found.append(min(total, place) + floor(total / parts))
    return total

def step(s):
    return total, "words", s.touch, s.idle

def rest(s):
    return difference, "words", s.net, s.stock
'''
EXPECTED = """
module: 2 → 3
module: 2 → 0
share: 4 → 5
share: 4 → 0
share: True → False
share: parts <= LEAST and (not exact) → parts <= LEAST or not exact
share: parts <= LEAST and (not exact) → parts <= LEAST
share: parts <= LEAST and (not exact) → not (parts <= LEAST and (not exact))
share: parts <= LEAST → parts < LEAST
share: not exact → exact
share: raise … → left out
share: found.append(min(total, place) + floor(total / parts)) → left out
share: min(total, place) + floor(total / parts) → min(total, place) - floor(total / parts)
share: min(total, place) + floor(total / parts) → min(total, place)
share: min → max
share: floor → ceil
share: total / parts → total * parts
share: return total → return parts
step: (total, 'words', s.touch, s.idle) → (total, 'words', s.touch)
rest: (difference, 'words', s.net, s.stock) → (difference, 'words', s.stock, s.net)
"""


def test_each_kind_of_mutation_is_found_and_texts_and_annotations_are_left_alone() -> None:
    found = [f"{one.function}: {one.text}" for one in read_text("code", CODE).mutations]
    assert sorted(found) == sorted(EXPECTED.strip().splitlines())


def test_a_mutation_changes_one_line_and_the_same_words_twice_are_two_mutations() -> None:
    for place, function in ((0, "before"), (1, "after")):
        source = read_text("code", "def before(a):\n    return a + 1\n\ndef after(a):\n    return (a + 1) * (a + 1)\n")
        of_function = [
            one for one in source.mutations if one.text.startswith("a + 1 → a - 1") and one.function == function
        ]
        assert len(of_function) == place + 1 and len({one.key for one in of_function}) == place + 1
        lines = ast.unparse(source.tree).splitlines()
        of_function[-1].put()
        changed = [
            i for i, (a, b) in enumerate(zip(lines, ast.unparse(source.tree).splitlines(), strict=True)) if a != b
        ]
        assert len(changed) == 1 and changed[0] + 1 == of_function[-1].line


def test_marks_tell_which_statements_and_lambdas_ran_and_change_no_value() -> None:
    seen: set[tuple[int, int]] = set()
    text = 'def f(a):\n    "doc"\n    if a:\n        return key(a)\n    return 0\n\nkey = lambda x: x + 1\n'
    space = {SEEN: seen.add}
    exec(compile(with_marks(ast.parse(text)), "text", "exec"), space)
    assert (space["f"](2), space["f"].__doc__) == (3, "doc")
    assert seen == {(3, 4), (4, 8), (7, 6)}


def test_a_known_mutation_is_killed_by_a_known_test_and_no_file_changes() -> None:
    """Opening-equivalents of 31 minutes instead of 30; the module's file and its compiled file stay as they are."""
    source, file = read_source("estimating.core.hours"), "tests/core/test_hours.py"
    files = [source.path, Path(cache_from_source(str(source.path)))]
    before = [path.read_bytes() if path.exists() else b"" for path in files]
    order = {"module": source.module, "function": "module", "text": "30 → 31", "files": [file], "seconds": {file: 1}}
    report = ask(order)
    assert report is not None
    assert (report["outcome"], report["by"].partition("::")[0]) == ("killed", file)
    assert before == [path.read_bytes() if path.exists() else before[i] for i, path in enumerate(files)]


def test_a_mutation_that_the_tests_never_import_is_not_called_a_survivor() -> None:
    file = "tests/core/test_exact.py"
    order = {"module": "estimating.core.hours", "function": "module", "text": "30 → 31", "files": [file]}
    assert ask(order | {"seconds": {file: 1}}) == {"outcome": "absent", "by": ""}


def test_a_fault_of_the_campaign_itself_counts_as_no_kill() -> None:
    """Here a mutation that there is not."""
    order = {"module": "estimating.core.hours", "function": "module", "text": "29 → 31", "files": [], "seconds": {}}
    with pytest.raises(RuntimeError, match="29 → 31"):
        ask(order)


def test_a_file_is_recorded_by_the_statements_that_it_runs() -> None:
    found = record("tests/core/test_strips.py", ["estimating.core.strips", "estimating.core.wages"])
    assert found.passed and found.seconds > 0
    marks = {one.mark for one in read_source("estimating.core.strips").mutations if one.function == "strip_count"}
    assert marks and marks <= found.marks["estimating.core.strips"]


def tried(outcome: str, killed: int = 39) -> list[Tried]:
    """So many killed mutations, and one more with an outcome."""
    mutations: list[Mutation] = read_source("estimating.core.hours").mutations[: killed + 1]
    return [Tried(one, "killed", "") for one in mutations[1:]] + [Tried(mutations[0], outcome, "")]


def test_a_survivor_without_a_reason_a_stale_reason_and_an_empty_one_fail() -> None:
    key = tried("killed")[-1].mutation.key
    assert problems(tried("killed"), {}) == []
    assert problems(tried("survived"), {key: "the same value"}) == []
    assert problems(tried("survived"), {})[0].startswith("survived without a reason: estimating.core.hours, module: 30")
    assert problems(tried("killed"), {key: "the same value"})[0].startswith("a reason that no survivor has: ")
    assert problems(tried("survived"), {key: " "})[0].startswith("an empty reason: ")
    assert problems(tried("absent"), {})[0].startswith("not in place when the tests ran: ")
    gone = ("estimating.core.hours", "Hours.gone", "1 → 2")
    assert problems(tried("killed"), {gone: "…"}) == [
        "a reason that no survivor has: " + ", ".join(gone[:2]) + ": 1 → 2"
    ]
    assert problems(tried("killed"), {("rates.core.card", *gone[1:]): "of a module that was not tried"}) == []


@pytest.mark.parametrize(("killed", "holds"), [(19, True), (18, False)])
def test_less_than_95_percent_killed_fails(killed: int, holds: bool) -> None:
    """19 of 20 are 95 %, 18 of 19 are less."""
    found = tried("survived", killed)
    expected = [] if holds else ["killed 18 of 19, which is less than 95 %"]
    reasons = {found[-1].mutation.key: "the same value"}
    assert problems(found, reasons) == expected
    assert problems(found, reasons, whole=False) == []


def test_every_reason_is_of_a_mutation_that_there_is_and_is_tried() -> None:
    reasons = read_reasons()
    found = {one.key for module in MODULES for one in drawn(read_source(module).mutations, reasons)}
    assert [key for key in reasons if key not in found] == []
    assert CANARY in {one.key for one in read_source(CANARY[0]).mutations}


def test_a_share_is_drawn_by_words_so_that_other_lines_do_not_move_it() -> None:
    mutations = read_source("rates.core.card").mutations
    share = drawn(mutations, {})
    assert len(share) == SHARE < len(mutations)
    assert share == drawn(list(mutations), {})
    fewer = [one for one in mutations if one not in share[:3]]
    assert set(share[3:]) <= set(drawn(fewer, {}))
    left = next(one for one in mutations if one not in share)
    assert left in drawn(mutations, {left.key: "explained"})
