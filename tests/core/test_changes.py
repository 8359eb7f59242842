"""The difference of two editions, row by row; all figures are invented."""

from __future__ import annotations

import random
from copy import deepcopy
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rates.core.changes import edition_changes, moved
from tests.core.invented import Document, edition, lift, overhead, percent, production, worker
from tests.core.random_chance import Chance
from tests.core.random_editions import random_edition


def base() -> Document:
    """An edition with something in each table."""
    document = edition(
        labour=[worker(), worker("helper", "40")],
        equipment=[lift()],
        production=production(access={"lift": "1.2"}, height=[{"over": "20 ft", "factor": "1.05"}]),
        overheads=[
            percent("overhead", "10", "direct_cost"),
            percent("contingency", "3", "running"),
            overhead("bond", tiers=[{"up_to": None, "percent": "1"}]),
        ],
    )
    return deepcopy(document)


def told(before: Document, after: Document) -> list[tuple[Any, ...]]:
    """(table, code, change, [(field, before, after)]) of each row."""
    found = edition_changes(before, after)
    return [(r.table, r.code, r.change, [(f.field, f.before, f.after) for f in r.fields]) for r in found]


def test_nothing_changes_by_another_spelling() -> None:
    after = base()
    after["tables"]["labour"][0]["wage"] = "60.00"
    after["tables"]["materials"][1]["width"] = "228.6 mm"
    after["tables"]["materials"][0]["taxable"] = True
    after["tables"]["production"]["height"] = [{"over": "6.096 m", "factor": "1.050"}]
    after["tables"]["labour"][1]["burden"] = []
    assert told(base(), after) == []


def test_each_field_of_a_row_and_of_the_production_table_is_named() -> None:
    after = base()
    after["tables"]["labour"][0] |= {"wage": "62", "fringe": "5"}
    after["tables"]["materials"][1]["packs"][0]["price"] = "62.40"
    after["tables"]["production"]["access"] = {"lift": "1.3", "ladder": "1.1"}
    after["tables"]["production"]["opening_minutes"]["fixed"] = "13"
    assert told(base(), after) == [
        ("labour", "worker", "changed", [("wage", "60", "62"), ("fringe", None, "5")]),
        ("materials", "mesh", "changed", [("packs/0/price", "60", "62.40")]),
        (
            "production",
            None,
            "changed",
            [("opening_minutes/fixed", "12", "13"), ("access/lift", "1.2", "1.3"), ("access/ladder", None, "1.1")],
        ),
    ]


def test_rows_added_taken_out_and_moved() -> None:
    after = base()
    rows = after["tables"]
    rows["labour"] = [rows["labour"][1], worker("foreman", "80"), rows["labour"][0]]
    rows["equipment"] = []
    rows["overheads"] = [rows["overheads"][2], *rows["overheads"][:2]]
    assert [row[:3] for row in told(base(), after)] == [
        ("labour", "foreman", "added"),
        ("equipment", "lift", "removed"),
        ("overheads", "bond", "moved"),
    ]
    added = told(base(), after)[0][3]
    assert added == [("code", None, "foreman"), ("title", None, "Invented foreman"), ("wage", None, "80")]


def test_the_head_is_told_first() -> None:
    after = base() | {"effective_from": "2028-01-01", "rounding": "half_even", "note": "next year"}
    assert told(base(), after) == [
        (
            "edition",
            None,
            "changed",
            [
                ("effective_from", "2027-01-01", "2028-01-01"),
                ("rounding", None, "half_even"),
                ("note", "invented rates", "next year"),
            ],
        )
    ]


def test_tiers_are_compared_place_by_place() -> None:
    after = base()
    after["tables"]["overheads"][2]["tiers"] = [{"up_to": "100", "percent": "2"}, {"up_to": None, "percent": "1"}]
    fields = [("tiers/0/up_to", None, "100"), ("tiers/0/percent", "1", "2"), ("tiers/1/percent", None, "1")]
    assert told(base(), after) == [("overheads", "bond", "changed", fields)]


def test_layers_are_compared_by_what_they_say() -> None:
    first = {"effective_from": "2027-01-01", "tables": {"labour": [{"code": "worker", "wage": "61"}]}}
    second = {
        "effective_from": "2027-01-01",
        "tables": {"labour": [{"code": "worker", "wage": "62"}], "production": {"pair": None}},
    }
    assert told(first, second) == [("labour", "worker", "changed", [("wage", "61", "62")])]


@pytest.mark.parametrize(
    ("before", "after", "expected"),
    [("abc", "abc", ""), ("abc", "cab", "c"), ("abc", "bca", "a"), ("abcd", "badc", "bd"), ("abc", "xacb", "c")],
)
def test_as_few_rows_as_can_be_are_called_moved(before: str, after: str, expected: str) -> None:
    found = moved(list(before), list(after))
    assert len(found) == len(expected)
    left = [code for code in after if code in before and code not in found]
    assert left == sorted(left, key=before.index)


@given(st.integers(0, 10**6))
def test_an_edition_differs_from_itself_in_nothing_and_one_change_is_one_field(seed: int) -> None:
    document = random_edition(Chance(seed), {"effective_from": "2027-01-01", "currency": "USD"})
    assert edition_changes(document, deepcopy(document)) == ()
    after = deepcopy(document)
    row = random.Random(seed).choice(after["tables"]["labour"])
    row["wage"] = "9876.54"
    (change,) = edition_changes(document, after)
    assert (change.table, change.code, [f.field for f in change.fields]) == ("labour", row["code"], ["wage"])
    back = edition_changes(after, document)
    assert [(f.field, f.before, f.after) for f in back[0].fields] == [
        (f.field, f.after, f.before) for f in change.fields
    ]
