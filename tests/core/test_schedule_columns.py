"""Lines read together give what lines read one by one give: the same lines, kinds, order and faults."""

from __future__ import annotations

from typing import Any
from unittest.mock import patch

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.core import schedule_reading
from estimating.core.schedule import read_schedule
from estimating.core.schedule_columns import FEW
from estimating.core.schedule_reading import Reading, read_lines
from rates.core.fields import Faults
from rates.core.jsontext import NumberText

PLAIN: dict[str, Any] = {
    "mark": "W1",
    "kind": "window",
    "quantity": 2,
    "width": "36 in",
    "height": "900 mm",
    "elevation": "N",
    "storey": "1",
}
# values that make a line other than plain, or at fault, one field each
ODD: dict[str, list[Any]] = {
    "mark": ["W 2", "W  2", "w2", "–3", "", None, 7, "A" * 81, "Wé", "W2\n", "W2\nW3", ".W", []],
    "quantity": [0, -1, True, "3", NumberText("2.0"), 10**7, None, 1.5, {}],
    "width": [36, "36", NumberText("36.5"), True, None, "0 in", "3'-0\"", [1], {"a": 1}, "wide"],
    "height": ["36 in", 900, 1, "48 in", 2.5],
    "kind": ["door", "Door", "pipe", 3, None],
    "elevation": ["", "S", "  N ", None, 4, "N\n"],
    "storey": ["", "2", "ground floor", None, NumberText("1.5")],
    "external": [True, False, 1, None, "yes"],
    "id": ["a", " b ", "", None, 3, "é", "a\tb", "A" * 81],
    "note": ["see 3.5", "", None, 4, "a\u202eb", "A" * 1001],
    "excluded": [{"reason": "by others"}, {}],
    "strange": [1],
}
LINE = st.fixed_dictionaries(
    {"mark": st.sampled_from(["W1", "W2", "d-3", "A/4"]), "quantity": st.integers(0, 9)},
    optional={
        "kind": st.sampled_from(["window", "door"]),
        "width": st.sampled_from(["36 in", "900 mm", "40 in"]),
        "height": st.sampled_from(["36 in", "900 mm"]),
        "elevation": st.sampled_from(["N", "Courtyard  North", " S ", ""]),
        "id": st.sampled_from(["a-1", "2 b", "c"]),
        "note": st.sampled_from(["see 3/A5.2", ""]),
        "access": st.sampled_from(["ground", "lift"]),
        "external": st.booleans(),
    },
)
ODD_ONE = st.sampled_from([(name, value) for name, values in ODD.items() for value in values])


def read(rows: list[Any], unit: str | None, only_external: bool) -> tuple[object, ...]:
    """What a schedule reads as, with every fault."""
    faults: Faults = []
    read = read_schedule(rows, unit, only_external=only_external, pointer="/openings", faults=faults)
    return read, tuple(faults)


def one_by_one(rows: list[Any], unit: str | None, only_external: bool) -> tuple[object, ...]:
    with patch.object(schedule_reading, "FEW", 10**9):
        return read(rows, unit, only_external)


@given(
    st.lists(st.tuples(LINE, st.integers(1, 12)), max_size=6),
    st.lists(st.tuples(st.integers(0, 40), ODD_ONE), max_size=2),
    st.sampled_from([None, "in", "mm"]),
    st.booleans(),
)
def test_together_or_one_by_one(
    runs: list[tuple[dict[str, Any], int]],
    odd: list[tuple[int, tuple[str, Any]]],
    unit: str | None,
    only_external: bool,
) -> None:
    rows: list[Any] = [dict(row, mark=f"{row['mark']}{i}") for row, count in runs for i in range(count)]
    for at, (name, value) in odd:
        if at < len(rows):
            rows[at][name] = value
    with patch.object(schedule_reading, "FEW", 2):
        assert read(rows, unit, only_external) == one_by_one(rows, unit, only_external)


@pytest.mark.parametrize(("name", "value"), [(name, value) for name, values in ODD.items() for value in values])
@pytest.mark.parametrize("every", [True, False])
def test_each_odd_value_reads_alike(name: str, value: Any, every: bool) -> None:
    rows: list[Any] = [dict(PLAIN, mark=f"W{i}") for i in range(20)]
    for row in rows if every else rows[7:8]:
        row[name] = value
    for unit in (None, "in"):
        assert read(rows, unit, True) == one_by_one(rows, unit, True)


def test_equal_numbers_of_other_types_are_told_apart() -> None:
    """1, true and "1" are equal or alike in Python; a schedule never takes one for the other."""
    rows = [dict(PLAIN, mark=f"W{i}", width=value) for i, value in enumerate([1, True, "1", NumberText("1")] * 5)]
    assert read(rows, "in", False) == one_by_one(rows, "in", False)


@pytest.mark.parametrize("at", [0, 1999, 2000, 4500])
def test_an_unusual_line_of_a_long_schedule_costs_the_others_nothing(at: int) -> None:
    rows = [dict(PLAIN, mark=f"W{i}") for i in range(5000)]
    rows[at]["quantity"] = "1"
    reading = Reading(None, False)
    with patch.object(reading, "line", wraps=reading.line) as alone:
        found = read_lines(reading, rows, "")
    assert [i for i, _ in found] == list(range(5000)) and found[at][1].quantity == 1
    assert 0 < alone.call_count <= FEW


@pytest.mark.parametrize("strange", [None, 5, "text", [1], [("mark", "W1")]])
def test_what_is_no_line_is_named(strange: Any) -> None:
    rows = [dict(PLAIN, mark=f"W{i}") for i in range(20)]
    rows[9] = strange
    assert [f.pointer for f in read(rows, None, False)[1]] == ["/openings/9"]  # type: ignore[attr-defined]
