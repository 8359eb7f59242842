"""Layers of rates: which layer's number counts, who is named as its source, what a layer may not say.

The order of override (project over branch over company) and "each number shows which layer supplied it" are the
trade's rules for rates; all figures are invented and followed by hand.
"""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.core.attribution import compare
from estimating.core.derivation import derive
from estimating.core.job import cost_request, read_request
from rates.core.bands import BAND, Band
from rates.core.card import EditionSource, read_edition
from rates.core.fields import Faults
from rates.core.layer_reading import read_layer
from rates.core.layers import merge
from rates.core.problems import Refused
from tests.core.invented import Document, edition, lift, opening, percent, production, request, worker


def company(**tables: Any) -> EditionSource:
    """The company's whole edition."""
    plain = {
        "labour": [worker(fringe="5"), worker("helper", "40")],
        "equipment": [lift()],
        "overheads": [percent("overhead", "10", "direct_cost"), percent("profit", "8", "cost", kind="markup")],
        "production": production(access={"lift": "1.2", "ground": "1"}, learning={"model": "none"}),
    }
    return EditionSource("c", 7, "company", edition(**plain | tables))


def layer(
    tables: Document, below: EditionSource | None = None, name: str = "branch", start: str = "2027-02-01"
) -> EditionSource:
    """A layer's edition on what is below it."""
    return EditionSource(name[0], 3, name, {"effective_from": start, "tables": tables}, below or company())


def faults(tables: Any, band: Band | None = None, below: EditionSource | None = None) -> list[tuple[str, str]]:
    """(pointer, code) of each fault of a layer."""
    try:
        read_layer(layer(tables, below), band)
    except Refused as refused:
        return [(p.pointer, p.code) for p in refused.problems]
    return []


def test_the_nearer_layer_overrides_the_farther_field_by_field() -> None:
    branch = layer({"labour": [{"code": "worker", "wage": "66", "fringe": "6"}]})
    project = layer({"labour": [{"code": "worker", "wage": "72"}]}, branch, "project", "2027-03-01")
    card = read_edition(project)
    row = card.labour[0]
    assert (row.wage, row.fringe, row.title, card.labour[1].wage) == (72, 6, "Invented worker", 40)
    assert [card.supplied("labour", "worker", f).layer for f in ("wage", "fringe", "title")] == [
        "project",
        "branch",
        "company",
    ]
    assert card.supplied("labour", "helper", "wage").described() == {
        "edition": "c",
        "number": 7,
        "effective_from": "2027-01-01",
        "layer": "company",
    }
    assert card.effective_from.isoformat() == "2027-03-01"


def test_the_estimate_and_its_derivation_use_the_layer() -> None:
    """30 minutes at 66.00 an hour and 5.00 fringe are 35.50; the wage's leaf names the branch's edition."""
    branch = layer({"labour": [{"code": "worker", "wage": "66"}]})
    estimate = cost_request(request(opening()), [branch])
    labour = next(line for line in estimate.up.lines if line.step == "labour")
    assert labour.amount_minor == 3550
    inputs: Any = derive(estimate, "labour.worker.rate")["inputs"]
    told = {i["name"]: i["source"] for i in inputs}
    assert (told["wage"]["layer"], told["wage"]["edition"], told["wage"]["number"]) == ("branch", "b", 3)
    assert (told["wage"]["table"], told["wage"]["row"], told["wage"]["value"]) == ("labour", "worker", "66")
    assert (told["fringe"]["layer"], told["fringe"]["edition"], told["fringe"]["number"]) == ("company", "c", 7)


def test_objects_merge_by_name_and_lists_are_taken_whole() -> None:
    branch = layer(
        {
            "production": {"access": {"lift": "1.3", "ladder": "1.1"}, "hours_per_day": "10"},
            "equipment": [
                {"code": "lift", "rental": [{"period": "day", "price": "210"}, {"period": "week", "price": "900"}]}
            ],
        }
    )
    card = read_edition(branch)
    access = dict(card.production.access)
    assert (float(access["lift"]), access["ground"], float(access["ladder"])) == (1.3, 1, 1.1)
    assert card.supplied("production", None, "access/lift").layer == "branch"
    assert card.supplied("production", None, "access/ground").layer == "company"
    assert card.equipment[0].rental == (("day", 210), ("week", 900))
    assert card.supplied("equipment", "lift", "rental/0/price").layer == "branch"


@pytest.mark.parametrize(
    ("below", "own", "kept"),
    [
        ({"percent": "10", "on": "direct_cost"}, {"percent": None, "on": None, "amount": "500"}, ("rate", None)),
        ({"percent": "10", "on": "direct_cost"}, {"amount": "500", "on": None}, ("rate", None)),
    ],
)
def test_of_forms_that_exclude_each_other_the_nearer_one_stands_alone(below: Any, own: Any, kept: Any) -> None:
    rows = [{"code": "o", "title": "O", "step": "overhead"} | below]
    card = read_edition(layer({"overheads": [{"code": "o"} | own]}, company(overheads=rows)))
    assert (card.overheads[0].amount, getattr(card.overheads[0], kept[0])) == (500, kept[1])


def test_minutes_a_metre_replace_minutes_a_foot() -> None:
    card = read_edition(layer({"production": {"opening_minutes": {"per_metre": "4"}}}))
    assert (card.production.opening_minutes.per.unit, card.production.opening_minutes.per.minutes) == ("m", 4)
    assert card.production.opening_minutes.fixed == 12


def test_the_learning_model_is_taken_whole() -> None:
    card = read_edition(layer({"production": {"learning": {"model": "exponential", "first": "1.8", "tau": "10"}}}))
    nearer = layer({"production": {"learning": {"model": "unit_curve", "first": "2", "slope_percent": "85"}}})
    assert (card.production.learning.tau, read_edition(nearer).production.learning.tau) == (10, None)


def test_a_layer_adds_rows_of_its_own_and_names_itself_for_all_of_them() -> None:
    card = read_edition(layer({"labour": [worker("foreman", "80")]}))
    assert [row.code for row in card.labour] == ["worker", "helper", "foreman"]
    assert card.supplied("labour", "foreman", "productive_share").layer == "branch"


@pytest.mark.parametrize(
    ("tables", "expected"),
    [
        ({"labour": [{"code": "worker", "wage": "60.00"}]}, [("/tables/labour/0/wage", "no_difference")]),
        ({"labour": [{"code": "worker"}]}, [("/tables/labour/0", "no_difference")]),
        ({"labour": [{"code": "foreman", "wage": "80"}]}, [("/tables/labour/0/title", "missing")]),
        ({"labour": [{"code": "worker", "wage": "x"}]}, [("/tables/labour/0/wage", "not_a_number")]),
        ({"labour": [{"code": "worker", "pay": "1"}]}, [("/tables/labour/0/pay", "unknown_field")]),
        (
            {"labour": [{"code": "worker", "wage": "61"}, {"code": "worker", "fringe": "6"}]},
            [("/tables/labour/1/code", "duplicate_code")],
        ),
        ({"people": []}, [("/tables/people", "unknown_field")]),
        ({"labour": {}}, [("/tables/labour", "not_a_list")]),
        ({"production": {"access": {"rope": "2"}}}, [("/tables/production/access/rope", "unknown_choice")]),
        ({"production": {"access": {"lift": "1.20"}}}, [("/tables/production/access/lift", "no_difference")]),
        ({"production": {"pair": None}}, [("/tables/production/pair", "no_difference")]),
        (
            {"overheads": [{"code": "profit", "kind": "margin", "percent": "100"}]},
            [("/tables/overheads", "nothing_left")],
        ),
        ({"overheads": [{"code": "profit", "on": "price"}]}, [("/tables/overheads/0/on", "wrong_base")]),
        (
            {"labour": [{"code": "worker", "wage": None}], "equipment": [{"code": "lift", "rental": None}]},
            [("/tables/labour/0/wage", "missing"), ("/tables/equipment/0/rental", "missing")],
        ),
    ],
)
def test_faults_of_a_layer_are_told_where_its_own_document_says_them(tables: Any, expected: Any) -> None:
    assert faults(tables) == expected


def band(**fields: Any) -> Band:
    """A band as a company writes it."""
    found: Faults = []
    read = BAND.read(fields, "", found)
    assert isinstance(read, Band), found
    return read


@pytest.mark.parametrize(
    ("wage", "outside"), [("66", False), ("66.01", True), ("54", False), ("53.99", True), ("0", True)]
)
def test_ten_percent_of_sixty_is_from_54_to_66(wage: str, outside: bool) -> None:
    found = faults({"labour": [{"code": "worker", "wage": wage}]}, band(percent="10"))
    assert found == ([("/tables/labour/0/wage", "outside_band")] if outside else [])


def test_the_longest_stated_field_decides_and_an_unstated_one_is_free() -> None:
    wide = band(fields={"labour": "50", "labour/wage": "1", "equipment/rental/price": "5"})
    tables: Document = {
        "labour": [{"code": "worker", "wage": "61", "fringe": "7"}],
        "equipment": [{"code": "lift", "rental": [{"period": "day", "price": "211"}]}],
        "overheads": [{"code": "overhead", "percent": "99"}],
    }
    expected = [("/tables/labour/0/wage", "outside_band"), ("/tables/equipment/0/rental/0/price", "outside_band")]
    assert faults(tables, wide) == expected


def test_a_number_with_nothing_below_it_and_a_row_of_its_own_are_outside_a_closed_band() -> None:
    closed = band(percent="10", new_rows=False)
    tables = {"labour": [worker("foreman", "80"), {"code": "helper", "fringe": "1"}]}
    expected = [("/tables/labour/0", "row_of_its_own"), ("/tables/labour/1/fringe", "outside_band")]
    assert faults(tables, closed) == expected


def test_lengths_are_compared_as_lengths() -> None:
    below = company(production=production(geometry={"face_lap": "2 in", "turn_head": "50 mm"}))
    tables = {"production": {"geometry": {"face_lap": "55 mm", "turn_head": "2 1/4 in"}}}
    assert faults(tables, band(percent="10"), below) == [("/tables/production/geometry/turn_head", "outside_band")]


def test_another_currency_than_the_layer_below_is_refused() -> None:
    source = layer({"labour": [{"code": "worker", "wage": "61"}]})
    with pytest.raises(Refused) as refused:
        read_layer(EditionSource("b", 1, "branch", dict(source.document) | {"currency": "EUR"}, source.below), None)
    assert [(p.pointer, p.code) for p in refused.value.problems] == [("/currency", "other_currency")]


def test_a_change_that_only_a_layer_makes_is_the_rates_cause() -> None:
    """30 minutes at 66.00 instead of 60.00: 3.00 on labour, with 10 % overhead and 8 % markup on both: 3.56."""
    documents = [[company()], [layer({"labour": [{"code": "worker", "wage": "66"}]})]]
    before, after = (read_request(request(opening()), found) for found in documents)
    found = compare(before, after)
    change = found.after.up.price_minor - found.before.up.price_minor
    assert {cause: amount for cause, amount in found.causes if amount} == {"rates": change}
    assert change == 356
    assert [(row.table, row.code, row.amount_minor) for row in found.rows] == [("labour", "worker", change)]


def test_an_edition_without_layers_and_its_digest_are_what_they_were() -> None:
    """The same numbers by a layer or in the company's own edition are the same input."""
    whole = company(labour=[worker(wage="66", fringe="5"), worker("helper", "40")])
    branch = layer({"labour": [{"code": "worker", "wage": "66"}]}, start="2027-01-01")
    digests = {read_request(request(opening()), [source]).input_digest for source in (whole, branch)}
    assert len(digests) == 1
    assert (read_edition(whole).layers, [s.layer for s in read_edition(branch).layers]) == ((), ["branch"])


amounts = st.integers(1, 10**6).map(str)
tables = st.fixed_dictionaries(
    {},
    optional={
        "labour": st.dictionaries(
            st.sampled_from(["worker", "helper"]),
            st.fixed_dictionaries({}, optional={"wage": amounts, "fringe": amounts}),
        ).map(lambda rows: [{"code": code} | fields for code, fields in rows.items()]),
        "production": st.fixed_dictionaries(
            {}, optional={"hours_per_day": st.sampled_from(["6", "7", "9"]), "access": st.just({"lift": "2"})}
        ),
    },
)


@given(tables, tables)
def test_a_field_is_that_of_the_nearest_layer_that_says_it(branch: Document, project: Document) -> None:
    bottom = company()
    second = layer(branch, bottom)
    top = layer(project, second, "project")
    card = read_edition(top)
    for code in ("worker", "helper"):
        for name in ("wage", "fringe"):
            says = [
                (where, row[name])
                for where, t in (("branch", branch), ("project", project))
                for row in t.get("labour", [])
                if row["code"] == code and name in row
            ]
            row = next(r for r in card.labour if r.code == code)
            if says:
                assert (card.supplied("labour", code, name).layer, str(getattr(row, name))) == says[-1]
            else:
                assert card.supplied("labour", code, name).layer == "company"
    assert merge(layer({}, bottom))[0]["tables"] == bottom.document["tables"]
