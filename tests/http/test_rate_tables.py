"""The tables of an edition over HTTP as JSON, CSV and XLSX: out and in again with the same digest, faults by cell."""

from __future__ import annotations

import csv
import io
from typing import Any

import pytest

from rates.core.card import TABLES
from rates.core.grid import NumberText
from rates.sheets.edition_files import read_sheets
from rates.sheets.workbook_writing import write_workbook
from tests.cast import Api, Office
from tests.worked_cases import read_case

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
CSV = "text/csv"


def draft(api: Api, office: Office, **changes: Any) -> Any:
    """The response to a new draft with the golden tables."""
    document = read_case("golden", "edition.json") | changes
    response = api.post(f"/v1/rate-books/{office.rate_book}/editions", document)
    assert response.status_code == 201, response.content
    return response


def emptied(api: Api, office: Office) -> Any:
    """A draft of the same head with little in its tables."""
    tables = read_case("golden", "edition.json")["tables"]
    bare = {"labour": tables["labour"], "materials": [], "equipment": [], "overheads": []}
    production = {"opening_minutes": {"per_foot": "1"}}
    return draft(api, office, tables=bare | {"production": production})


def put(api: Api, edition: str, table: str, data: bytes, media: str, tag: str = "*") -> Any:
    """The response to a table sent as a file."""
    return api.send("PUT", f"/v1/editions/{edition}/{table}", data, If_Match=tag, Content_Type=media)


@pytest.mark.parametrize(("suffix", "media"), [("csv", CSV), ("xlsx", XLSX)])
def test_exports_put_back_give_the_same_digest(api: Api, office: Office, suffix: str, media: str) -> None:
    source, target = draft(api, office).json(), emptied(api, office).json()
    assert source["digest"] != target["digest"]
    for table in TABLES:
        sent = api.get(f"/v1/editions/{source['id']}/{table}.{suffix}")
        assert sent.headers["Content-Type"].startswith(media)
        kept = put(api, target["id"], table, sent.content, media)
        assert kept.status_code == 200, kept.content
    assert api.get(f"/v1/editions/{target['id']}").json()["digest"] == source["digest"]


def test_a_workbook_of_all_tables_goes_round_in_one_step(api: Api, office: Office) -> None:
    source, target = draft(api, office).json(), emptied(api, office).json()
    book = api.get(f"/v1/editions/{source['id']}/tables", Accept=XLSX)
    assert [sheet.name for sheet in read_sheets(book.content)] == list(TABLES)
    assert put(api, target["id"], "tables", book.content, XLSX).status_code == 200
    after = api.get(f"/v1/editions/{target['id']}").json()
    assert after["digest"] == source["digest"]
    steps = api.get(f"/v1/editions/{target['id']}/steps").json()["items"]
    assert [(s["step"], s["detail"]) for s in steps] == [("drafted", {}), ("tables_put", {"tables": sorted(TABLES)})]
    assert (steps[1]["before"], steps[1]["after"]) == (target["digest"], source["digest"])


def test_own_columns_and_missing_sheets_are_told_and_recorded(api: Api, office: Office) -> None:
    made = draft(api, office)
    sheets = {"labour": [["code", "title", "Supplier", "wage"], ["a", "A", "none", NumberText("10.50")]]}
    kept = put(api, made.json()["id"], "tables", write_workbook(sheets), XLSX)
    assert kept.status_code == 200, kept.content
    labour = [{"code": "a", "title": "A", "wage": "10.50"}]
    assert kept.json()["tables"]["labour"] == labour
    assert kept.json()["tables"]["equipment"] == made.json()["tables"]["equipment"]
    assert kept.json()["columns_aside"] == [{"sheet": "labour", "column": 3, "heading": "Supplier"}]
    assert kept.json()["missing_sheets"] == ["materials", "equipment", "production", "overheads"]
    one = put(api, made.json()["id"], "labour", b"code;title;wage;priced by\r\na;A;10.50;me\r\n", CSV)
    assert one.json() == {
        "tables": {"labour": labour},
        "columns_aside": [{"sheet": "labour", "column": 4, "heading": "priced by"}],
        "missing_sheets": [],
    }
    steps = api.get(f"/v1/editions/{made.json()['id']}/steps").json()["items"]
    assert [step["detail"] for step in steps[1:]] == [
        {"tables": ["labour"], "columns_aside": ["Supplier"]},
        {"tables": ["labour"], "columns_aside": ["priced by"]},
    ]


def test_numbers_and_nulls_in_json_are_stored_in_the_one_form(api: Api, office: Office) -> None:
    made = draft(api, office).json()
    rows = [{"code": "a", "title": "A", "wage": 32, "fringe": None, "burden": []}]
    answer = api.send("PUT", f"/v1/editions/{made['id']}/labour", rows, If_Match="*")
    assert answer.json() == [{"code": "a", "title": "A", "wage": "32"}]


TWELVE = [  # a row of cells, and what is wrong with which column of it
    ({"title": "no code", "role": "mesh"}, [("code", "missing")]),
    ({"code": "m1", "title": "", "role": "mesh"}, [("title", "missing")]),
    ({"code": "m2", "title": "a", "role": "net"}, [("role", "unknown_choice")]),
    ({"code": "m3", "title": "a", "role": "mesh", "width": "9"}, [("width", "unit_missing")]),
    ({"code": "m4", "title": "a", "role": "mesh", "packs/1/price": "-1"}, [("packs/1/price", "too_small")]),
    ({"code": "m5", "title": "a", "role": "mesh", "packs/1/price": "1e5"}, [("packs/1/price", "not_a_number")]),
    ({"code": "m6", "title": "a", "role": "mesh", "packs/1/size": "150 furlong"}, [("packs/1/size", "unknown_unit")]),
    (
        {"code": "m7", "title": "a", "role": "mesh", "waste/kind": "gone", "waste/percent": "5"},
        [("waste/kind", "unknown_choice")],
    ),
    (
        {"code": "m8", "title": "a", "role": "mesh", "waste/kind": "lost", "waste/percent": "100"},
        [("waste/percent", "waste_lost_whole")],
    ),
    ({"code": "m9", "title": "a", "role": "mesh", "taxable": "perhaps"}, [("taxable", "not_true_or_false")]),
    ({"code": "m10", "title": "a", "role": "mesh", "solids_percent": "50"}, [("solids_percent", "not_for_role")]),
    ({"code": "m11", "title": "a", "role": "mesh", "packs/1/size": "1 gal"}, [("packs/1/size", "wrong_dimension")]),
]
HEADING = [
    "code",
    "title",
    "role",
    "width",
    "packs/1/size",
    "packs/1/price",
    "waste/kind",
    "waste/percent",
    "taxable",
    "solids_percent",
]
SOUND = {"width": "9 in", "packs/1/size": "150 ft", "packs/1/price": "58"}


def faulty_rows() -> list[list[str]]:
    """A sheet with twelve different faults, a row each."""
    rows = [{**SOUND, **row} for row, _ in TWELVE]
    return [HEADING, *([row.get(name, "") for name in HEADING] for row in rows)]


@pytest.mark.parametrize("media", [CSV, XLSX])
def test_twelve_faults_are_all_told_with_sheet_row_and_column_and_change_nothing(
    api: Api, office: Office, media: str
) -> None:
    made = draft(api, office)
    rows = faulty_rows()
    if media == CSV:
        held = io.StringIO(newline="")
        csv.writer(held).writerows(rows)
        data = held.getvalue().encode()
    else:
        data = write_workbook({"materials": rows})
    refused = put(api, made.json()["id"], "materials", data, media)
    assert refused.status_code == 422
    found = [(e["sheet"], e["line"], e["column"], e["code"]) for e in refused.json()["errors"]]
    expected = []
    for number, (_, faults) in enumerate(TWELVE, start=2):
        for column, code in faults:
            expected.append(("materials", number, HEADING.index(column) + 1, code))
    assert found == expected
    assert len(found) == 12
    after = api.get(f"/v1/editions/{made.json()['id']}")
    assert (after.json()["digest"], after.headers["ETag"]) == (made.json()["digest"], made.headers["ETag"])


def test_faults_of_the_sheet_itself_come_with_those_of_its_values_and_nothing_is_kept(api: Api, office: Office) -> None:
    made = draft(api, office)
    data = b"code,title,wage,Fringes\r\na,A,x,1\r\nb,B,5,2\r\n"
    refused = put(api, made.json()["id"], "labour", data, CSV)
    assert [(e["line"], e["column"], e["code"]) for e in refused.json()["errors"]] == [
        (1, 4, "unknown_column"),
        (2, 3, "not_a_number"),
    ]
    only_form = put(api, made.json()["id"], "labour", b"code,title,wage,Fringes\r\nb,B,5,2\r\n", CSV)
    assert [(e["line"], e["column"], e["code"]) for e in only_form.json()["errors"]] == [(1, 4, "unknown_column")]
    assert api.get(f"/v1/editions/{made.json()['id']}").headers["ETag"] == made.headers["ETag"]


def test_a_fault_in_one_sheet_of_a_workbook_keeps_all_out(api: Api, office: Office) -> None:
    made = draft(api, office)
    sheets = {
        "labour": [["code", "title", "wage"], ["a", "A", "10"]],
        "equipment": [
            ["code", "title", "for_access/1", "rental/1/period", "rental/1/price"],
            ["l", "L", "crane", "day", "1"],
        ],
        "people": [["x"]],
    }
    refused = put(api, made.json()["id"], "tables", write_workbook(sheets), XLSX)
    assert [(e["sheet"], e["line"], e["column"], e["code"]) for e in refused.json()["errors"]] == [
        ("equipment", 2, 3, "unknown_choice"),
        ("people", 1, 1, "unknown_sheet"),
    ]
    assert api.get(f"/v1/editions/{made.json()['id']}").json()["tables"]["labour"][0]["code"] == "journeyman"


def test_if_match_is_asked_of_files_too_and_the_loser_sees_the_current_state(api: Api, office: Office) -> None:
    made = draft(api, office)
    data = b"code,title,wage\r\na,A,10\r\n"
    path = f"/v1/editions/{made.json()['id']}/labour"
    assert api.send("PUT", path, data, Content_Type=CSV).status_code == 428
    won = put(api, made.json()["id"], "labour", data, CSV, made.headers["ETag"])
    lost = put(api, made.json()["id"], "labour", data, CSV, made.headers["ETag"])
    assert (won.status_code, lost.status_code) == (200, 412)
    assert lost.json()["current"]["tables"]["labour"] == [{"code": "a", "title": "A", "wage": "10"}]


def change(api: Api, edition: Any, tag: str, preview: bool = False, **formula: Any) -> Any:
    """The response to a change of prices by formula."""
    body = {"formula": formula, "preview": preview}
    return api.post(f"/v1/editions/{edition['id']}/change_prices", body, If_Match=tag)


def test_all_mesh_four_percent_dearer_is_previewed_and_then_one_recorded_step(api: Api, office: Office) -> None:
    """58.00 × 1.04 = 60.32."""
    made = draft(api, office)
    formula = {"table": "materials", "price": "price", "role": "mesh", "change": "+4 %"}
    shown = change(api, made.json(), made.headers["ETag"], True, **formula)
    expected = [{"code": "mesh-9", "field": "packs/0/price", "before": "58.00", "after": "60.32"}]
    assert (shown.status_code, shown.json()["changes"], shown.headers["ETag"]) == (200, expected, made.headers["ETag"])
    assert api.get(f"/v1/editions/{made.json()['id']}").json()["digest"] == made.json()["digest"]
    done = change(api, made.json(), made.headers["ETag"], **formula)
    assert (done.json()["changes"], done.json()["preview"]) == (expected, False)
    after = api.get(f"/v1/editions/{made.json()['id']}").json()
    assert after["tables"]["materials"][1]["packs"][0]["price"] == "60.32"
    step = api.get(f"/v1/editions/{made.json()['id']}/steps").json()["items"][-1]
    assert (step["step"], step["detail"]) == ("prices_changed", {"formula": formula, "prices": expected})
    assert (step["before"], step["after"]) == (made.json()["digest"], after["digest"])
    changes = api.get(f"/v1/editions/{after['id']}/changes?from={office.edition}").json()["items"]
    assert changes == [
        {
            "table": "materials",
            "code": "mesh-9",
            "change": "changed",
            "fields": [{"field": "packs/0/price", "before": "58.00", "after": "60.32"}],
        }
    ]


def test_a_formula_that_ends_below_nothing_changes_nothing(api: Api, office: Office) -> None:
    made = draft(api, office)
    refused = change(api, made.json(), made.headers["ETag"], table="labour", price="wage", change="-33")
    assert [(e["pointer"], e["code"]) for e in refused.json()["errors"]] == [("/tables/labour/0/wage", "too_small")]
    assert api.get(f"/v1/editions/{made.json()['id']}").headers["ETag"] == made.headers["ETag"]
    assert change(api, {"id": office.edition}, "*", table="labour", price="wage", change="+1").status_code == 409


def test_who_changed_prices_does_not_approve_even_where_another_changed_after(api: Api, office: Office) -> None:
    """Approval compares people: everybody who ever changed the draft is one of its authors."""
    approver = Api(office.approver_key)
    made = draft(api, office)
    mine = change(approver, made.json(), made.headers["ETag"], table="labour", price="wage", change="+1")
    theirs = change(api, made.json(), mine.headers["ETag"], table="labour", price="wage", change="+1")
    submitted = api.post(f"/v1/editions/{made.json()['id']}/submit", None, If_Match=theirs.headers["ETag"])
    body = {"digest": submitted.json()["digest"]}
    refused = approver.post(f"/v1/editions/{made.json()['id']}/approve", body, If_Match=submitted.headers["ETag"])
    assert (refused.status_code, refused.json()["errors"][0]["code"]) == (403, "own_edition")


def test_an_unknown_edition_to_compare_with_is_told(api: Api, office: Office) -> None:
    path = f"/v1/editions/{office.edition}/changes"
    assert api.get(path).status_code == 422
    unknown = api.get(f"{path}?from=01a214f1-cadc-707f-9454-a38905726110")
    assert [(e["pointer"], e["code"]) for e in unknown.json()["errors"]] == [("/query/from", "not_found")]
    assert api.get(f"{path}?from={office.edition}").json() == {"items": [], "next": None}


def test_every_step_of_an_edition_s_life_is_recorded_with_its_reason(api: Api, office: Office) -> None:
    approver = Api(office.approver_key)
    path = f"/v1/rate-books/{office.rate_book}/editions"
    answer = api.post(path, {"from": str(office.edition), "effective_from": "2028-01-01"})
    id = answer.json()["id"]
    for client, name, body in (
        (api, "submit", None),
        (approver, "send_back", {"reason": "lift?"}),
        (api, "submit", None),
        (approver, "approve", {"digest": answer.json()["digest"]}),
        (approver, "withdraw", {"reason": "wrong wage"}),
    ):
        answer = client.post(f"/v1/editions/{id}/{name}", body, If_Match=answer.headers["ETag"])
        assert answer.status_code == 200, answer.content
    steps = api.get(f"/v1/editions/{id}/steps").json()["items"]
    members = {str(office.drafter): "drafter", str(office.approver): "approver"}
    assert [(s["step"], members[s["member"]], s["reason"]) for s in steps] == [
        ("copied", "drafter", ""),
        ("submitted", "drafter", ""),
        ("sent_back", "approver", "lift?"),
        ("submitted", "drafter", ""),
        ("approved", "approver", ""),
        ("withdrawn", "approver", "wrong wage"),
    ]
    assert steps[0]["detail"] == {"from": str(office.edition)}
