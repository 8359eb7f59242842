"""The texts of quotes as a page: written by the principal, read by others, picked by the next quote."""

from __future__ import annotations

import pytest

from tests.cast import Office
from tests.http.visitor import TEXTS, Job


@pytest.fixture
def job(office: Office) -> Job:
    return Job(office)


def test_texts_are_written_and_the_next_quote_picks_from_them(job: Job) -> None:
    principal = job.person("principal")
    page = principal.see("/texts")
    assert TEXTS["inclusions"][0]["text"] in page and 'value="method:fluid"' in page
    typed = {
        "exclusions_code_2": ["lifts"],
        "exclusions_text_2": ["Lifts by others."],
        "exclusions_when_2": ["access:lift, access:swing_stage"],
        "clarifications_code_0": ["hours"],
        "clarifications_text_0": ["Priced for working days."],
        "letterhead": ["12 Mill Road\nNorthfield"],
        "validity_days": ["45"],
    }
    assert principal.send("/texts", **typed) == "/texts?kept=yes"
    kept = job.api.get("/v1/quote-texts").json()
    assert [one["code"] for one in kept["exclusions"]] == ["permits", "power", "lifts"]
    assert kept["exclusions"][2]["when"] == ["access:lift", "access:swing_stage"]
    assert (kept["letterhead"], kept["validity_days"]) == (["12 Mill Road", "Northfield"], 45)
    body = {"estimate": job.estimate, "customer": {"name": "Northfield Builders"}}
    quote = job.api.post("/v1/quotes", body, Idempotency_Key="texts").json()
    assert "Lifts by others." in [one["text"] for one in quote["exclusions"]], "mark B is reached by a lift"
    assert "Put quote texts" in principal.see("/audit")


def test_a_row_left_blank_is_left_out(job: Job) -> None:
    principal = job.person("principal")
    principal.send("/texts", exclusions_code_0=[""], exclusions_text_0=[""])
    assert [one["code"] for one in job.api.get("/v1/quote-texts").json()["exclusions"]] == ["power"]


def test_faults_stand_at_the_rows_that_were_typed(job: Job) -> None:
    principal = job.person("principal")
    wrong = {"clarifications_text_1": ["No name."], "inclusions_when_0": ["colour:red"], "validity_days": ["0"]}
    page = principal.send("/texts", 422, **wrong)
    for field in ("clarifications_code_1", "inclusions_when_0", "validity_days"):
        assert f'href="#field-{field}"' in page, field
    twice = {"exclusions_code_4": ["power"], "exclusions_text_4": ["Again."]}
    page = principal.send("/texts", 422, exclusions_code_0=[""], exclusions_text_0=[""], **twice)
    assert 'href="#field-exclusions_code_4"' in page, "the second row that holds something is the fifth of the form"
    assert [one["code"] for one in job.api.get("/v1/quote-texts").json()["exclusions"]] == ["permits", "power"]


def test_who_lost_the_race_sees_what_is_stored_now(job: Job) -> None:
    principal = job.person("principal")
    principal.see("/texts")
    mine = principal.fields() | {"terms": ["Sixty days net."]}
    tag = job.api.get("/v1/quote-texts").headers["ETag"]
    job.api.send("PUT", "/v1/quote-texts", TEXTS | {"terms": "Ten days net."}, If_Match=tag)
    page = principal.send_again("/texts", mine, 422)
    assert "Sixty days net." in page and "Stored now: Ten days net." in page


def test_others_read_them_and_write_none(job: Job) -> None:
    sales = job.person("sales")
    page = sales.see("/texts")
    assert TEXTS["exclusions"][0]["text"] in page and "<form method" not in page
    assert sales.client.post("/texts", {"terms": "mine"}).status_code == 403
