"""Whose number counts where layers take a field away, replace what lies in it, or can't be read.

"Each number shows which layer supplied it" and the order project over branch over company are the trade's rules for
rates (common practice, no source); all figures are invented.
"""

from __future__ import annotations

from typing import Any

import pytest

from rates.core.card import Card, read_edition
from rates.core.layers import EditionSource, merge, supplied
from tests.core.invented import Document, edition, lift, worker


def stacked(*tables: Document, **bottom: Any) -> EditionSource:
    """The company's edition with a branch's and a project's on it, each with its tables."""
    source = None
    for name, own in zip(("company", "branch", "project"), (bottom, *tables), strict=False):
        document = {"effective_from": "2027-01-01", "tables": own}
        source = EditionSource(name, 1, name, document, source)
    assert source is not None
    return source


def layer_of(source: EditionSource, table: str, code: str | None, field: str) -> str:
    """The layer that is named for a field; the company's where no other is."""
    _, found = merge(source)
    supply = supplied(found, (table, code, field))
    return supply.layer if supply is not None else "company"


def test_what_a_nearer_layer_takes_away_is_no_longer_the_farther_ones() -> None:
    """The project takes the branch's overtime away: that nothing stands there is the project's word."""
    production = {"overtime": {"after": "40"}}
    source = stacked(
        {"production": {"overtime": {"after": "38"}}}, {"production": {"overtime": None}}, production=production
    )
    assert merge(source)[0]["tables"]["production"] == {"overtime": None}
    assert layer_of(source, "production", None, "overtime/after") == "project"


def test_a_field_that_a_layer_takes_away_stays_in_every_other_row_as_it_was() -> None:
    rows: list[Document] = [{"code": code, "determination": {"basic_rate": "50"}} for code in ("worker", "helper")]
    raised = [{"code": code, "determination": {"basic_rate": "55"}} for code in ("worker", "helper")]
    source = stacked({"labour": raised}, {"labour": [{"code": "worker", "determination": None}]}, labour=rows)
    assert layer_of(source, "labour", "worker", "determination/basic_rate") == "project"
    assert layer_of(source, "labour", "helper", "determination/basic_rate") == "branch"


@pytest.mark.parametrize("first", ["lift", "ladder"])
def test_an_object_is_named_by_the_nearest_layer_that_says_something_in_it(first: str) -> None:
    """Whatever the order in which its names stand."""
    other = {"lift": "ladder", "ladder": "lift"}[first]
    company = {"access": {"lift": "1.2", "ladder": "1.1", "ground": "1"}}
    branch, project = {"production": {"access": {first: "1.3"}}}, {"production": {"access": {other: "1.4"}}}
    source = stacked(branch, project, production=company)
    fields = ("access", f"access/{first}", f"access/{other}", "access/ground", "hours_per_day")
    assert [layer_of(source, "production", None, field) for field in fields] == [
        "project", "branch", "project", "company", "company",
    ]  # fmt: skip


def test_only_what_lies_in_a_field_of_that_row_names_its_layer() -> None:
    """A name that only begins alike, or the same field of another row, says nothing of it."""
    rows = [{"code": "a", "rate": {"x": "1"}, "rate_more": {"x": "1"}}, {"code": "b", "rate": {"x": "1"}}]
    source = stacked(
        {"labour": [{"code": "a", "rate_more": {"x": "2"}}, {"code": "b", "rate": {"x": "2"}}]}, labour=rows
    )
    assert layer_of(source, "labour", "a", "rate") == "company"
    assert layer_of(source, "labour", "b", "rate") == "branch"


def test_nothing_in_place_of_one_form_leaves_the_other_form_as_it_is() -> None:
    """Null for a percentage that the row does not have is no amount taken away."""
    rows = [{"code": "o", "amount": "500", "title": "O"}]
    merged, _ = merge(stacked({"overheads": [{"code": "o", "percent": None}]}, overheads=rows))
    assert merged["tables"]["overheads"] == [{"code": "o", "amount": "500", "title": "O", "percent": None}]


def test_a_layer_that_can_not_be_read_changes_nothing() -> None:
    """As far as it can be read: reading the outcome, and the layer by itself, tells its faults."""
    company = {"labour": [{"code": "worker", "wage": "60"}], "production": {"hours_per_day": "8"}}
    unread: Document = {"production": ["8"], "people": {"wage": "1"}, "labour": 7}
    merged, found = merge(stacked(unread, **company))
    assert (merged["tables"], found) == (company, {})


def test_rows_that_are_no_rows_are_passed_over_and_those_after_them_count() -> None:
    own: list[Any] = ["wage", {"code": "worker", "wage": "66"}]
    merged, _ = merge(stacked({"labour": own}, labour=[{"code": "worker", "wage": "60"}]))
    assert merged["tables"]["labour"] == [{"code": "worker", "wage": "66"}]


@pytest.mark.parametrize("bottom", [{}, {"tables": None}])
def test_a_company_edition_without_tables_takes_those_of_its_layer(bottom: Document) -> None:
    below = EditionSource("company", 1, "company", {"effective_from": "2027-02-01"} | bottom)
    own: Document = {"labour": [{"code": "worker"}], "production": {"hours_per_day": "8"}}
    merged, found = merge(EditionSource("branch", 2, "branch", {"effective_from": "2027-01-01", "tables": own}, below))
    assert merged == {"effective_from": "2027-02-01", "tables": own}
    assert {key: supply.number for key, supply in found.items()} == {
        ("labour", "worker", ""): 2,
        ("production", None, "hours_per_day"): 2,
    }


def test_a_card_with_a_table_of_another_names_the_layers_of_that_table_and_keeps_its_own_of_the_rest() -> None:
    """As attribution mixes two estimates' cards: whoever supplied a row before the mixing supplied it after."""

    def card(id: str, name: str, labour: Document, delivery: str) -> Card:
        tables = {"labour": [{"code": "worker"} | labour], "equipment": [{"code": "lift", "delivery": delivery}]}
        below = EditionSource(id, 1, "company", edition(labour=[worker(fringe="5")], equipment=[lift()]))
        document = {"effective_from": "2027-01-01", "tables": tables}
        return read_edition(EditionSource(f"{id}-{name}", 2, name, document, below))

    early, late = card("early", "branch", {"wage": "66"}, "50"), card("late", "project", {"fringe": "6"}, "90")
    mixed = early.taking(late, ["labour"])
    assert [(row.wage, row.fringe) for row in mixed.labour] == [(60, 6)]
    assert mixed.equipment[0].delivery == 50
    fields = (("labour", "worker", "wage"), ("labour", "worker", "fringe"), ("equipment", "lift", "delivery"))
    assert [mixed.supplied(*field).edition for field in fields] == ["late", "late-project", "early-branch"]
    assert [mixed.supplied(table, None, "").edition for table in ("labour", "materials")] == ["late", "early"]
    assert [supply.edition for supply in mixed.layers] == ["early-branch", "late-project"]


def test_a_learning_model_is_taken_whole_and_an_object_that_stands_nowhere_below_is_taken_as_it_is() -> None:
    """A constant of the farther layer's model means nothing in the nearer one's."""
    company = {"learning": {"model": "exponential", "first": "1.8", "tau": "10"}, "access": {"lift": "1.2"}}
    own = {"learning": {"model": "unit_curve", "first": "2", "slope_percent": "85"}, "pair": {"factor": "0.9"}}
    source = stacked({"production": own}, production=company)
    assert merge(source)[0]["tables"]["production"] == company | own
    fields = ("learning/first", "learning/tau", "pair/factor", "access/lift")
    assert [layer_of(source, "production", None, f) for f in fields] == ["branch", "branch", "branch", "company"]
