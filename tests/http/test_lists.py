"""Lists: pages by cursor that inserts don't disturb, CSV and XLSX that no spreadsheet takes for formulas."""

from __future__ import annotations

import csv
import io
import zipfile
from typing import Any

import pytest

from rates.sheets.csv_writing import write_csv
from rates.sheets.formula_text import expose, protect
from rates.sheets.workbook_writing import write_workbook
from tests.cast import Api, Office
from tests.db.making import golden_request

HOSTILE = ("=1+1", "+1+1", "-1+1", "@SUM(A1)", "\t=1", "=cmd|' /C calc'!A0")


def names(api: Api, path: str) -> tuple[list[str], str | None]:
    document = api.get(path).json()
    return [item["name"] for item in document["items"]], document["next"]


def test_pages_follow_each_other_without_gap_or_double_while_rows_are_added(api: Api) -> None:
    for n in range(7):
        api.post("/v1/projects", {"name": f"p{n}"})
    seen, cursor = names(api, "/v1/projects?limit=3")
    while cursor is not None:
        api.post("/v1/projects", {"name": "a new one"})
        more, cursor = names(api, f"/v1/projects?limit=3&cursor={cursor}")
        seen += more
        if len(seen) > 20:
            break
    assert seen[:7] == [f"p{n}" for n in range(7)]
    assert len([name for name in seen if name.startswith("p")]) == 7


@pytest.mark.parametrize(
    ("ordering", "expected"),
    [("name", "aabbc"), ("-name", "cbbaa"), ("created_at", "babca"), ("-created_at", "acbab")],
)
def test_orderings_page_by_page(api: Api, ordering: str, expected: str) -> None:
    for name in "babca":
        api.post("/v1/projects", {"name": name})
    seen, cursor = names(api, f"/v1/projects?limit=2&ordering={ordering}")
    while cursor is not None:
        more, cursor = names(api, f"/v1/projects?limit=2&ordering={ordering}&cursor={cursor}")
        seen += more
    assert "".join(seen) == expected


def test_the_link_leads_to_the_next_page(api: Api) -> None:
    for n in range(3):
        api.post("/v1/projects", {"name": f"p{n}"})
    first = api.get("/v1/projects?limit=2&ordering=-name")
    link = first.headers["Link"]
    assert link.endswith('; rel="next"')
    second = api.get(link[1:].partition(">")[0])
    assert [item["name"] for item in second.json()["items"]] == ["p0"]
    assert "Link" not in second.headers


@pytest.mark.parametrize("cursor", ["x", "AAAA", "W10", "WyJuYW1lIiwiYSIsImIiXQ", "WyItbmFtZSJd", "bnVsbA", "e30"])
def test_a_cursor_of_another_make_is_refused(api: Api, cursor: str) -> None:
    answer = api.get(f"/v1/projects?cursor={cursor}&ordering=name")
    assert (answer.status_code, answer.json()["errors"][0]["pointer"]) == (422, "/query/cursor")


def test_a_long_part_is_paged_and_whole_as_a_table(api: Api, office: Office, settings: Any) -> None:
    settings.SMALL_RUN_LINES = 5000
    line = golden_request(office)["openings"][0]
    many = [line | {"mark": f"M{n}", "quantity": 1} for n in range(1203)]
    made = api.estimate(golden_request(office, openings=many))
    path = f"/v1/estimates/{made.json()['id']}/openings"
    marks: list[str] = []
    cursor: str | None = ""
    while cursor is not None:
        page = api.get(f"{path}?limit=400" + (f"&cursor={cursor}" if cursor else "")).json()
        marks += [item["mark"] for item in page["items"]]
        cursor = page["next"]
    assert marks == [f"M{n}" for n in range(1203)]
    table = list(csv.DictReader(io.StringIO(api.get(f"{path}.csv").content.decode(), newline="")))
    assert [row["mark"] for row in table] == marks


@pytest.mark.parametrize("text", HOSTILE)
def test_text_that_starts_a_formula_is_escaped_in_csv(text: str) -> None:
    cells = next(csv.reader(io.StringIO(write_csv([["name"], [text]]).decode().split("\r\n", 1)[1], newline="")))
    assert cells == ["'" + text]
    assert expose(cells[0]) == text


@pytest.mark.parametrize(
    ("text", "cell"), [("-271.82", "-271.82"), ("1655.00", "1655.00"), ("-", "'-"), ("-1-", "'-1-")]
)
def test_numbers_stay_numbers(text: str, cell: str) -> None:
    assert protect(text) == cell


def test_no_text_of_a_workbook_is_a_formula() -> None:
    data = write_workbook({"projects": [["name"], *([text] for text in HOSTILE)]})
    sheet = zipfile.ZipFile(io.BytesIO(data)).read("xl/worksheets/sheet1.xml").decode()
    assert "<f>" not in sheet and "<f " not in sheet
    assert sheet.count('t="inlineStr"') == len(HOSTILE) + 1
    assert "=1+1" in sheet


@pytest.mark.parametrize(("suffix", "accept"), [(".csv", ""), ("", "text/csv"), ("", "text/html, text/csv;q=0.9")])
def test_tables_by_suffix_and_by_accept(api: Api, suffix: str, accept: str) -> None:
    api.post("/v1/projects", {"name": "=1+1"})
    answer: Any = api.get(f"/v1/projects{suffix}", **({"Accept": accept} if accept else {}))
    assert answer.headers["Content-Type"] == "text/csv; charset=utf-8"
    assert answer.headers["Content-Disposition"] == 'attachment; filename="projects.csv"'
    assert "'=1+1" in answer.content.decode()


def test_a_workbook_of_a_list(api: Api) -> None:
    answer = api.get("/v1/rate-books.xlsx")
    assert answer.headers["Content-Type"].endswith("spreadsheetml.sheet")
    assert zipfile.is_zipfile(io.BytesIO(answer.content))
