"""The bid summary: cost, margin, build-up and checks for who may see costs, as PDF and HTML; nobody else gets it."""

from __future__ import annotations

from tests.cast import Api, Office, make_person
from tests.db.making import cost_golden
from tests.pdf_texts import text_of_pdf
from tests.worked_cases import read_case


def test_it_shows_the_worked_example_to_the_principal_alone(api: Api, office: Office) -> None:
    path = f"/v1/estimates/{cost_golden(office)}/summary"
    document = api.get(f"{path}.pdf")
    assert document.headers["Content-Disposition"].startswith('attachment; filename="bid-summary')
    pdf, page = text_of_pdf(document.content), api.get(f"{path}.html").content.decode()
    expected = read_case("golden", "expected.json")
    for text in (pdf, page):
        plain = text.replace(",", "")
        for figure in ("1655.00", "1269.40", "1464.38", *(row["amount"] for row in expected["build_up"])):
            assert figure in plain, figure
        for row in expected["by_mark"]:
            assert row["price"] in plain
        assert "For the office: shows cost and margin." in text
    assert "<svg" in page and "<script" not in page
    for role in ("viewer", "sales"):
        refused = make_person(office, role, f"{role}@office.example").get(f"{path}.pdf")
        assert refused.status_code == 403


def test_it_waits_for_the_estimate(api: Api, office: Office) -> None:
    request = read_case("golden", "request.json") | {"edition": str(office.edition)}
    waiting = api.estimate(request, wait=None).json()["id"]
    assert api.get(f"/v1/estimates/{waiting}/summary.pdf").status_code == 409
