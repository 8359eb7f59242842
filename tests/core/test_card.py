"""An edition read as a whole: what spans its rows, and what counts where it says nothing; all rates are invented."""

from __future__ import annotations

from typing import Any

import pytest

from rates.core.card import EditionSource, read_edition
from rates.core.problems import Refused
from tests.core.invented import Document, edition, lift, materials, overhead, percent, worker

BOND = overhead("bond", percent="39", on="price")
TAX = overhead("gross_receipts_tax", percent="10", on="price")


def faults(**tables: Any) -> list[tuple[str, str]]:
    """(pointer, code) of each fault of an edition."""
    try:
        read_edition(EditionSource("e", 1, "company", edition(**tables)))
    except Refused as refused:
        return [(p.pointer, p.code) for p in refused.problems]
    return []


@pytest.mark.parametrize(
    ("table", "rows"),
    [
        ("labour", [worker()]),
        ("materials", materials()),
        ("equipment", [lift()]),
        ("overheads", [percent("overhead", "10", "direct_cost")]),
    ],
)
def test_a_code_stands_once_in_its_table(table: str, rows: list[Document]) -> None:
    at = f"/tables/{table}"
    again = [*rows, rows[0], worker("other") if table == "labour" else rows[0] | {"code": "other"}, rows[0]]
    assert faults(**{table: rows}) == []
    assert faults(**{table: again}) == [(f"{at}/{len(rows) + i}/code", "duplicate_code") for i in (0, 2)]


def test_the_same_code_may_stand_in_two_tables() -> None:
    assert faults(labour=[worker("lift")], equipment=[lift()]) == []


def test_a_row_that_can_not_be_read_hides_no_code_that_stands_twice() -> None:
    rows = [worker(), worker("helper", "x"), worker()]
    assert faults(labour=rows) == [
        ("/tables/labour/1/wage", "not_a_number"),
        ("/tables/labour/2/code", "duplicate_code"),
    ]


@pytest.mark.parametrize(
    "row",
    [
        percent("profit", "10", "cost", kind="markup"),
        overhead("bond", percent="1", on="price"),
        TAX,
        overhead("minimum_charge", amount="100"),
        overhead("round_up_to", amount="5"),
    ],
)
def test_these_steps_stand_at_most_once(row: Document) -> None:
    rows = [row | {"code": code} for code in "abc"]
    assert faults(overheads=rows[:1]) == []
    assert faults(overheads=rows) == [(f"/tables/overheads/{i}/step", "duplicate_step") for i in (1, 2)]


def test_other_steps_may_stand_more_than_once() -> None:
    rows = [percent(step, "1", "direct_cost", code=f"{step} {i}") for step in ("overhead", "contingency") for i in "ab"]
    assert faults(overheads=rows) == []


def tiered(*percents: str) -> Document:
    """A bond whose rates change every 100,000 of the price."""
    ends = [str(100_000 * (i + 1)) for i in range(len(percents) - 1)] + [None]
    tiers = [{"up_to": end, "percent": rate} for end, rate in zip(ends, percents, strict=True)]
    return overhead("bond", tiers=tiers, on="price")


@pytest.mark.parametrize(
    ("rows", "left"),
    [
        ([percent("profit", "50.99", "cost", kind="margin"), BOND, TAX], True),
        ([percent("profit", "51", "cost", kind="margin"), BOND, TAX], False),
        ([percent("profit", "300", "cost", kind="markup"), BOND, TAX], True),  # on cost, so any price has room for it
        ([percent("profit", "89.99", "cost", kind="margin"), tiered("10", "5")], True),
        ([percent("profit", "90", "cost", kind="margin"), tiered("10", "5")], False),  # the dearest tier counts
        ([percent("profit", "90", "cost", kind="margin"), tiered("5", "10")], False),
        ([percent("overhead", "150", "direct_cost"), BOND], True),
    ],
)
def test_margin_bond_and_receipts_tax_leave_something_of_the_price(rows: list[Document], left: bool) -> None:
    """X = cost + margin·X + bond·X + tax·X has a price only where the shares sum to less than 1."""
    assert faults(overheads=rows) == ([] if left else [("/tables/overheads", "nothing_left")])


@pytest.mark.parametrize("row", [overhead("bond", on="price"), overhead("gross_receipts_tax", amount="5", on="price")])
def test_a_row_without_its_percentage_is_told_alone(row: Document) -> None:
    """It takes nothing of the price beside a margin of 99 %, and it stops no other check."""
    rows = [row, percent("profit", "99", "cost", kind="margin")]
    assert faults(overheads=rows) == [("/tables/overheads/0", "one_of")]


def test_what_an_edition_does_not_say() -> None:
    card = read_edition(EditionSource("e", 4, "company", edition(currency=" EUR ")))
    assert (card.currency, card.rounding, card.sales_tax_by, card.cost_codes) == ("EUR", "half_up", "invoice", ())
    assert card.layers == ()
    tables = ("labour", "materials", "equipment", "production", "overheads")
    assert [(card.supplied(t, None, "").edition, card.supplied(t, None, "").number) for t in tables] == [("e", 4)] * 5


@pytest.mark.parametrize(
    ("field", "value", "code"),
    [
        ("currency", 840, "not_text"),
        ("currency", "US$", "unknown_currency"),
        ("rounding", "up", "unknown_choice"),
        ("sales_tax_by", "row", "unknown_choice"),
    ],
)
def test_a_heading_that_can_not_be_read(field: str, value: object, code: str) -> None:
    assert faults(**{field: value}) == [(f"/{field}", code)]


@pytest.mark.parametrize(("long", "fault"), [(0, []), (1, ["too_long"])])
def test_titles_of_cost_codes_have_up_to_200_characters_and_a_note_up_to_2000(long: int, fault: list[str]) -> None:
    """As the field table states them."""
    assert [code for _, code in faults(cost_codes={"07 27 00": "x" * (200 + long)})] == fault
    assert [code for _, code in faults(note="x" * (2000 + long))] == fault


@pytest.mark.parametrize("field", ["effective_from", "currency", "tables"])
def test_date_currency_and_tables_are_needed(field: str) -> None:
    document = {name: value for name, value in edition().items() if name != field}
    with pytest.raises(Refused) as refused:
        read_edition(EditionSource("e", 1, "company", document))
    assert [(p.pointer, p.code) for p in refused.value.problems] == [(f"/{field}", "missing")]


@pytest.mark.parametrize("table", ["labour", "materials", "equipment", "production", "overheads"])
def test_every_table_is_needed(table: str) -> None:
    document = edition()
    document["tables"] = {name: rows for name, rows in document["tables"].items() if name != table}
    with pytest.raises(Refused) as refused:
        read_edition(EditionSource("e", 1, "company", document))
    assert [(p.pointer, p.code) for p in refused.value.problems] == [(f"/tables/{table}", "missing")]


def test_a_row_is_found_by_its_code_in_its_table() -> None:
    card = read_edition(EditionSource("e", 1, "company", edition(equipment=[lift()])))
    found = card.table_row("equipment", "lift")
    assert found is card.equipment[0]
    assert card.table_row("labour", "lift") is None
