"""What changed between the rates of two jobs is said row by row, number by number; every rate is invented."""

from __future__ import annotations

import copy
from datetime import date
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.compared.rates import card_changes
from estimating.compared.values import Reader
from estimating.core.attribution import compare
from estimating.core.job import read_request
from estimating.outputs.comparison_answer import comparison_answer
from rates.core.card import TABLES, read_edition
from rates.core.changes import edition_changes
from rates.core.length_styles import LengthStyle
from tests.core.invented import Document, opening, percent, production, request, sources, worker
from tests.core.random_chance import Chance
from tests.core.random_editions import random_edition
from tests.core.test_compared_words import RATES


def of_rates(tables: Document) -> Any:
    """The comparison of one request under the plain rates and under changed ones."""
    one = request(opening("A", 3))
    before: Document = copy.deepcopy(dict(RATES[0].document))
    after = before | {"tables": before["tables"] | tables}
    return comparison_answer(compare(read_request(one, sources(before)), read_request(one, sources(after))))


def test_rows_of_rates_are_told_field_by_field() -> None:
    labour = [worker(wage="66", productive_share="0.9"), worker(code="foreman", title="Foreman", wage="80")]
    found = of_rates({"labour": labour, "overheads": [percent("profit", "12", "cost", kind="margin")]})
    by_cause = {row["cause"]: row for row in found["causes"]}
    assert [change["sentence"] for change in by_cause["rates"]["changes"]] == [
        "Invented worker, wage 66.00 an hour instead of 60.00 and productive share 0.9 instead of 1.",
        "Helper is no longer in the labour table.",
        "Foreman is new in the labour table.",
    ]
    assert by_cause["rates"]["sentence_without_costs"].count(":") == 0
    assert by_cause["overheads_and_profit"]["changes"][0]["sentence"] == (
        "Invented profit, percentage 12 % instead of 10 % and profit as margin instead of markup."
    )
    assert found["rate_rows"][0]["sentence"] == by_cause["rates"]["changes"][0]["sentence"]


def test_numbers_of_the_production_table_are_told_by_name() -> None:
    table = production(access={"lift": "1.25"}, shape={"round": "5"}, setup_hours={"elevation": "2"})
    found = of_rates({"production": table})
    said = [change["sentence"] for change in found["causes"][1]["changes"]]
    assert "Access factor for lift 1.25, not stated before." in said
    assert "Shape addition for round 5 minutes, not stated before." in said
    assert "Setup hours elevation 2 hours instead of 0." in said
    assert "Congestion factor for tight no longer stated, before 1.2." in said


@settings(max_examples=10)
@given(st.integers(0, 400), st.integers(0, 400))
def test_every_row_in_which_two_random_editions_differ_is_named(one: int, two: int) -> None:
    """The rows are those of another comparison, which reads the documents as they are written."""
    head = {"currency": "USD", "rounding": "half_up", "effective_from": "2027-01-01"}
    documents = [random_edition(Chance(seed), head) for seed in (one, two)]
    before, after = (read_edition(sources(document)[0]) for document in documents)
    said = [change.words for change in card_changes([(date(2027, 1, 1), before, after)], Reader(LengthStyle().show))]
    rows = [row for row in edition_changes(*documents) if row.code is not None and row.change != "moved"]
    for row in rows:
        tables = [{str(r["code"]): str(r["title"]) for r in d["tables"][row.table]} for d in documents]
        title = tables[1].get(str(row.code)) or tables[0][str(row.code)]
        fields = {change.field for change in row.fields}
        if not fields <= {"note", "source"}:
            assert any(words.startswith(title) for words in said), row
    assert bool(said) == (before.taking(after, TABLES) != before)
