"""Cut plan and purchase list over HTTP: as JSON, tables and PDF; no money where none may be seen."""

from __future__ import annotations

import csv
import io
from decimal import Decimal

import openpyxl
import pytest

from tests.cast import Api, Office, make_person
from tests.db.making import cost_golden, golden_request
from tests.pdf_texts import text_of_pdf
from tests.worked_cases import read_case

MONEY = ("174.00", "212.00", "58.00", "42.00")  # of packs of the worked example


def test_the_worked_example_as_json_and_tables(api: Api, office: Office) -> None:
    """122 pieces on three rolls, as tests/data/golden has them; a table has a row for each stretch of a roll."""
    path = f"/v1/estimates/{cost_golden(office)}/cut-plan"
    plan = api.get(path).json()
    (material,) = plan["materials"]
    assert (material["pieces"], material["rolls"], material["least_rolls"]) == (122, 3, 3)
    assert plan["cut_to"] == "0.125" and plan["cautions"]
    assert [plan["items"][0][name] for name in ("start_shown", "end_shown", "length_shown")] == [
        '0"',
        "29'-4\"",
        "7'-4\"",
    ]
    rows = list(csv.DictReader(io.StringIO(api.get(f"{path}.csv").content.decode(), newline="")))
    assert [(row["first_roll"], row["end"]) for row in rows] == [
        (str(item["first_roll"]), item["end"]) for item in plan["items"]
    ]
    book = openpyxl.load_workbook(io.BytesIO(api.get(f"{path}.xlsx").content))
    assert book.worksheets[0].max_row == len(rows) + 1
    expected = {item["length"]: item["count"] for item in read_case("golden", "expected.json")["pieces"]["items"]}
    counts = dict.fromkeys(expected, 0)
    for row in rows:
        counts[row["length"]] += int(row["count"]) * (int(row["last_roll"]) - int(row["first_roll"]) + 1)
    assert counts == expected


def test_a_price_by_the_cut_plan_is_what_its_purchase_list_buys(api: Api, office: Office) -> None:
    made = api.estimate(golden_request(office) | {"quantities_from": "cut_plan"}).json()
    path = f"/v1/estimates/{made['id']}"
    assert made["totals"]["price"] == "1655.00"
    rows = {row["code"]: row for row in api.get(f"{path}/purchase-list").json()["items"]}
    assert (rows["mesh-9"]["waste"], rows["mesh-9"]["packs"]) == ("cut plan", [{"size": "150 ft", "count": 3}])
    step = next(line for line in made["build_up"] if line["step"] == "materials")
    assert sum(Decimal(row["amount"]) for row in rows.values()) == Decimal(step["amount"])
    why = api.get(f"{path}/derivations/material.mesh-9.gross").json()
    assert (why["rule"], why["printed"]) == ("rolls_taken", "313.333333 ft")


@pytest.mark.parametrize("part", ["cut-plan", "purchase-list"])
def test_the_same_answer_twice_and_nothing_sent_again(api: Api, office: Office, part: str) -> None:
    path = f"/v1/estimates/{cost_golden(office)}/{part}"
    for end in ("", ".csv", ".pdf"):
        first = api.get(f"{path}{end}")
        assert api.get(f"{path}{end}", If_None_Match=first.headers["ETag"]).status_code == 304


def test_the_printed_plan_has_no_money_and_the_printed_list_is_for_who_sees_costs(api: Api, office: Office) -> None:
    path = f"/v1/estimates/{cost_golden(office)}"
    viewer = make_person(office, "viewer", "viewer@office.example")
    plan = " ".join(text_of_pdf(viewer.get(f"{path}/cut-plan.pdf").content).split())
    assert "No plan needs fewer than 3 rolls" in plan and "29'-4" in plan and "Bundles" in plan
    assert not [amount for amount in MONEY if amount in plan]
    bought = text_of_pdf(api.get(f"{path}/purchase-list.pdf").content)
    assert "174.00" in bought and "212.00" in bought and "414.00" in bought
    assert viewer.get(f"{path}/purchase-list.pdf").status_code == 403


def test_who_sees_no_costs_sees_what_to_buy_and_not_for_how_much(api: Api, office: Office) -> None:
    path = f"/v1/estimates/{cost_golden(office)}/purchase-list"
    sales = make_person(office, "sales", "sales@office.example")
    (row, *_) = sales.get(path).json()["items"]
    assert row["packs"] and row["need_by"] == "2027-03-15"
    assert not {"amount", "alternatives", "price_source", "priced_on"} & set(row)
    assert not [amount for amount in MONEY if amount in sales.get(f"{path}.csv").content.decode()]


def test_a_plan_waits_for_its_estimate(api: Api, office: Office) -> None:
    waiting = api.estimate(golden_request(office), wait=None).json()["id"]
    for part in ("cut-plan", "purchase-list", "cut-plan.pdf", "purchase-list.pdf"):
        assert api.get(f"/v1/estimates/{waiting}/{part}").status_code == 409


def test_the_plan_as_a_trial(api: Api, office: Office) -> None:
    """The worked example takes three rolls by waste and by the plan; the change is named."""
    found = api.post(f"/v1/estimates/{cost_golden(office)}/what-if", {"quantities_from": "cut_plan"}).json()
    assert found["feasible"]
    assert [change["pointer"] for change in found["changed"]] == ["/quantities_from"]
    assert {found["before"]["price"], found["after"]["price"]} == {"1655.00"}
