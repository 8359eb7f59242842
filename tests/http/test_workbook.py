"""The workbook over HTTP, linked from the page: for who may see costs, named by its estimate, refused until costed."""

from __future__ import annotations

import io

import openpyxl
import pytest

from estimating.queries import workbooks
from tests.cast import Api, Office, make_person
from tests.db.making import cost_golden
from tests.worked_cases import read_case


def test_it_has_the_worked_example_for_who_may_see_costs(api: Api, office: Office) -> None:
    estimate = cost_golden(office)
    answer = api.get(f"/v1/estimates/{estimate}/workbook.xlsx")
    assert answer.headers["Content-Disposition"].startswith('attachment; filename="estimate')
    book = openpyxl.load_workbook(io.BytesIO(answer.content), data_only=True)
    expected = read_case("golden", "expected.json")
    found = {row[2].value: row[8].value for row in book["Build-up"].iter_rows(min_row=2)}
    assert f"{found['Price']:.2f}" == expected["totals"]["price"] and found["Direct cost"] == 1269.40
    head = {row[0].value: row[1].value for row in book["Summary"].iter_rows()}
    assert head["Digest"] == api.get(f"/v1/estimates/{estimate}").json()["input_digest"]
    for role, status in (("estimator", 200), ("viewer", 403), ("sales", 403)):
        person = make_person(office, role, f"{role}@office.example")
        assert person.get(f"/v1/estimates/{estimate}/workbook.xlsx").status_code == status
        page = person.get(f"/estimates/{estimate}", Accept="text/html").content.decode()
        assert ("workbook.xlsx" in page) is (status == 200)


def test_it_waits_for_the_estimate_and_is_not_made_of_too_many_lines(
    api: Api, office: Office, monkeypatch: pytest.MonkeyPatch
) -> None:
    request = read_case("golden", "request.json") | {"edition": str(office.edition)}
    waiting = api.estimate(request, wait=None).json()["id"]
    assert api.get(f"/v1/estimates/{waiting}/workbook.xlsx").status_code == 409
    monkeypatch.setattr(workbooks, "MOST_LINES", 2)
    refused = api.get(f"/v1/estimates/{cost_golden(office)}/workbook.xlsx")
    assert refused.status_code == 409 and "2 lines" in refused.json()["detail"]
