"""The parts of an estimate on their pages: what a reader multiplies and sums comes out, lines are told apart."""

from __future__ import annotations

import re
import uuid
from decimal import Decimal
from typing import Any

import pytest

from estimating import snapshots
from estimating.models import EstimatePart
from tests.cast import Api, Office, lift_rules
from tests.http.test_assumptions import new_project, price
from tests.http.visitor import Job, Visitor

SIZE = {"quantity": 12, "width": "3 ft", "height": "4 ft", "kind": "window", "access": "lift"}
ROWS = [{"mark": "W1", "building": building, **SIZE} for building in "ABC"]


@pytest.fixture
def person(office: Office) -> Visitor:
    return Job(office).person("estimator")


def estimate_of(api: Api, office: Office, rows: list[dict[str, Any]]) -> str:
    made = api.post(new_project(api), {"openings": rows})
    assert made.status_code == 201, made.content
    return price(api, office, made.json()["id"])


def cells(text: str, caption: str) -> list[list[str]]:
    """The rows of a table by the name of its region, its heading and foot among them."""
    table = text[text.index(f'aria-label="{caption}"') :]
    rows = re.findall(r"<tr[^>]*>(.*?)</tr>", table[: table.index("</table>")], re.S)
    found = [re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row, re.S) for row in rows]
    return [[re.sub("<[^>]*>", "", cell).strip() for cell in row] for row in found]


def test_hours_by_mark_and_set_up_sum_to_the_standard_hours(api: Api, office: Office, person: Visitor) -> None:
    id = estimate_of(api, office, ROWS)
    hours = api.get(f"/v1/estimates/{id}/hours").json()
    text = person.see(f"/estimates/{id}")
    rows = cells(text, "By mark")
    column = rows[0].index("Hours")
    *parts, total = [Decimal(row[column]) for row in rows[1:]]
    assert abs(sum(parts) - total) <= Decimal("0.01") * len(parts)
    assert "Set-up, of no mark" in [row[0] for row in rows]
    assert total == round(Decimal(hours["standard"]), 2)
    shown = re.search(r"<dt>Paid hours</dt><dd><a[^>]*>([^<]*)</a>", text)
    assert shown and Decimal(shown[1]) == round(Decimal(hours["paid"]), 2)


def test_minutes_each_with_factors_times_openings_are_the_touch_minutes(
    api: Api, office: Office, person: Visitor
) -> None:
    """By hand: 12 minutes and 14 ft at 1.125 are 27.75, at least 30; from a lift, which counts 1.20, 36 each."""
    id = estimate_of(api, office, ROWS)
    head, *rows = cells(person.see(f"/estimates/{id}/openings"), "Openings")
    before, each, touch, count = (
        head.index(name)
        for name in ("Minutes each before factors", "Minutes each with factors", "Touch minutes", "Openings")
    )
    for row in rows:
        assert Decimal(row[each]) * int(row[count]) == Decimal(row[touch].replace(",", ""))
        assert (row[before], row[each], row[touch]) == ("30.00", "36.00", "432.00")


def test_a_building_tells_lines_apart_and_empty_columns_stay_out(api: Api, office: Office, person: Visitor) -> None:
    id = estimate_of(api, office, ROWS)
    assert [row["building"] for row in api.get(f"/v1/estimates/{id}/openings").json()["items"]] == ["A", "B", "C"]
    head, *rows = cells(person.see(f"/estimates/{id}/openings"), "Openings")
    assert [row[head.index("Building")] for row in rows] == ["A", "B", "C"]
    assert not {"Elevation", "Storey", "Not priced because"} & set(head)
    plain = [{name: value for name, value in ROWS[0].items() if name != "building"} | {"storey": "2"}]
    head, *_ = cells(person.see(f"/estimates/{estimate_of(api, office, plain)}/openings"), "Openings")
    assert "Storey" in head and "Building" not in head


def test_packs_times_their_price_sum_to_the_materials(api: Api, office: Office, person: Visitor) -> None:
    id = estimate_of(api, office, ROWS)
    head, *rows, foot = cells(person.see(f"/estimates/{id}/materials"), "Materials")
    packs, each, amount = head.index("Packs"), head.index("Each pack"), head.index("USD")
    for row in rows:
        if row[each] != "–":
            assert int(row[packs].split()[0]) * Decimal(row[each]) == Decimal(row[amount].replace(",", ""))
    amounts = [Decimal(row[amount].replace(",", "")) for row in rows]
    assert sum(amounts) == Decimal(foot[-1].replace(",", "")) > 0


def test_pieces_and_rolls_say_what_they_are_cut_of(api: Api, office: Office, person: Visitor) -> None:
    id = estimate_of(api, office, ROWS)
    names = {row["code"]: row["title"] for row in api.get(f"/v1/estimates/{id}/materials").json()["items"]}
    head, *rows = cells(person.see(f"/estimates/{id}/pieces"), "Pieces to cut")
    assert rows and {row[head.index("Material")] for row in rows} <= set(names.values())
    for by, caption in (("rolls", "Roll by roll"), ("bundles", "Bundles by place and mark")):
        head, *rows = cells(person.see(f"/estimates/{id}/cut-plan?by={by}"), caption)
        assert rows and {row[head.index("Material")] for row in rows} <= set(names.values())


def test_pages_show_the_same_of_an_estimate_that_was_costed_before_its_brief_was_kept(
    api: Api, office: Office, person: Visitor
) -> None:
    """Paid hours, set-up, what lines say of access and the answers to doubts that the estimate remarks on."""
    project = new_project(api)
    door = {"mark": "D1", "kind": "door", "quantity": 2, "width": "3 ft", "height": "7 ft"}
    made = api.post(project, {"openings": [*ROWS, ROWS[0], door]}).json()
    path = f"/v1/opening-schedules/{made['id']}"
    asked = api.get(f"{path}/questions?open=true").json()["items"]
    told = {"duplicate_line": "keep_all", "door_sides": "all_sides", "access_missing": "ground"}
    answers = {one["id"]: told[one["code"]] for one in asked if one["code"] in told}
    answered = api.post(f"{path}/answers", {"answers": answers})
    assert answered.status_code == 201, answered.content
    id = price(api, office, answered.json()["id"])
    pages = (f"/estimates/{id}", f"/estimates/{id}/what-if")
    kept = [shown(person.see(page)) for page in pages]
    assert "Answered on the schedule: " in kept[0] and "Paid hours" in kept[0]
    assert "lift: 48 openings; ground: 2 openings" in kept[1]
    lift_rules()
    assert (
        EstimatePart.objects.of(office.company).filter(estimate_id=uuid.UUID(id), name=snapshots.BRIEF).delete()[0] == 1
    )
    assert [shown(person.see(page)) for page in pages] == kept


def shown(page: str) -> str:
    """A page without what differs each time that it is shown."""
    return re.sub(r'name="(once|csrfmiddlewaretoken)" value="[^"]*"', "", page)


def test_openings_have_their_sizes_and_marks_stay_whole(api: Api, office: Office, person: Visitor) -> None:
    lines = [
        {"mark": "W-1", "quantity": 2, "width": "3 ft", "height": "4 ft", "kind": "window", "access": "lift"},
        {"mark": "P-03", "quantity": 1, "diameter": "6 in", "kind": "pipe", "access": "ground"},
    ]
    id = estimate_of(api, office, lines)
    text = person.see(f"/estimates/{id}/openings")
    head, *rows = cells(text, "Openings")
    assert [row[head.index("Size")] for row in rows] == ["3'-0\" × 4'-0\"", 'diameter 6"']
    for page in (text, person.see(f"/estimates/{id}"), person.see(f"/estimates/{id}/pieces")):
        assert '<span class="t">W-1</span>' in page


def test_a_purchase_list_has_its_total_and_no_column_that_is_empty(api: Api, office: Office, person: Visitor) -> None:
    id = estimate_of(api, office, ROWS)
    items = api.get(f"/v1/estimates/{id}/purchase-list").json()["items"]
    assert items and not any(one["order_by"] for one in items)
    head, *_, foot = cells(person.see(f"/estimates/{id}/purchase-list"), "Purchase list")
    assert "Order by" not in head and len(foot) == len(head)
    assert Decimal(foot[head.index("USD")].replace(",", "")) == sum(Decimal(one["amount"]) for one in items) > 0
    assert ("One size alone" in head) == any(one["alternatives"] for one in items)
    sales = Job(office).person("sales")
    head, *rows = cells(sales.see(f"/estimates/{id}/purchase-list"), "Purchase list")
    assert "Total" not in sales.text and "USD" not in head and len(rows) == len(items)
