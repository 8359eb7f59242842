"""The table of bad input over HTTP: status, pointer and code of every fault, no 5xx, and nothing stored.

The rows are those of the core's own table (tests/core/bad_documents.py, bad_texts.py): every edition that can't be
read is sent as a draft, every request as an estimate, every text as a schedule.
"""

from __future__ import annotations

import json
from typing import Any

from estimating.models import Estimate, Run, ScheduleRevision
from rates.core.card import EditionSource, read_edition
from rates.core.problems import Refused
from rates.models import Edition, IdempotencyRecord
from tests.cast import Api, Office, approve
from tests.core.bad_documents import ASSUMPTIONS, LINES, RATES, Bad, edited
from tests.core.bad_texts import CSV_TEXTS, JSON_TEXTS
from tests.worked_cases import read_case

DOCUMENTS = (*LINES, *ASSUMPTIONS, *RATES)
FOUND_BY_COSTING = {"mesh as narrow as its lap"}  # the core sees it only while it costs: the run ends refused

LEFT_TO_THE_REQUEST = {"no unit"}  # of bare numbers: a request may name it; test_schedules has what happens then
TOLD_ONCE = {"a heading alone in one cell"}  # no schedule of any form: one fault says so


def is_readable(document: Any) -> bool:
    """Whether an edition stands by itself."""
    try:
        read_edition(EditionSource("", 1, "company", document))
    except Refused:
        return False
    return True


def send(api: Api, office: Office, bad: Bad) -> tuple[Any, set[tuple[str, str]]]:
    """The response to a bad document where it is first refused, and the faults expected there."""
    document = edited(read_case("golden", "edition.json"), bad.edition)
    if not is_readable(document):
        expected = {(pointer, code) for where, pointer, code in bad.faults if where == "edition"}
        return api.post(f"/v1/rate-books/{office.rate_book}/editions", document), expected
    edition = office.edition
    if bad.edition:
        edition = approve(office.company, office.rate_book, office.drafter, office.approver, document)
    request = edited(read_case("golden", "request.json"), bad.request) | {"edition": str(edition)}
    return api.estimate(request), {(pointer, code) for _, pointer, code in bad.faults}


def test_the_table_is_long_enough() -> None:
    assert len(DOCUMENTS) + len(JSON_TEXTS) + len(CSV_TEXTS) >= 150


def test_every_bad_document_is_refused_with_every_fault(api: Api, office: Office) -> None:
    wrong = {}
    for bad in DOCUMENTS:
        response, expected = send(api, office, bad)
        document = json.loads(response.content)
        found = {(error["pointer"], error["code"]) for error in document.get("errors", ())}
        if bad.name in FOUND_BY_COSTING:
            found = {(problem["pointer"], problem["code"]) for problem in document["problems"]}
            assert (response.status_code, document["state"], found) == (202, "refused", expected)
        elif response.status_code != 422 or found != expected:
            wrong[bad.name] = (response.status_code, found, expected)
    assert wrong == {}
    assert Run.objects.count() == Estimate.objects.of(office.company).count() == len(FOUND_BY_COSTING)
    assert not Edition.objects.of(office.company).exclude(state="approved").exists()
    assert IdempotencyRecord.objects.of(office.company).count() == len(FOUND_BY_COSTING)


def test_every_bad_text_is_refused_at_its_place(api: Api, office: Office) -> None:
    path = f"{api.post('/v1/projects', {'name': 'Clinic'}).headers['Location']}/opening-schedules"
    wrong: dict[str, Any] = {}
    for bad in JSON_TEXTS:
        response = api.post(path, bad.data or b" ")
        errors = response.json()["errors"]
        found = [((e["line"], e["column"], e["pointer"]), e["code"]) for e in errors]
        if response.status_code != 400 or found != list(zip(bad.places, bad.codes, strict=True)):
            wrong[bad.name] = (response.status_code, found)
    for bad in CSV_TEXTS:
        if bad.name in LEFT_TO_THE_REQUEST:
            continue
        response = api.post(path, bad.data or b" ", Content_Type="text/csv")
        named = [(e["line"], e["column"], e["pointer"]) for e in response.json().get("errors", ())]
        places = list(bad.places)[:1] if bad.name in TOLD_ONCE else list(bad.places)
        if bad.asked:
            if response.status_code != 201 or response.json()["questions"]["blocks_costing"] != len(bad.places):
                wrong[bad.name] = (response.status_code, response.json(), bad.places)
        elif response.status_code != 422 or named != places:
            wrong[bad.name] = (response.status_code, named, bad.places)
    assert wrong == {}
    assert len(api.get("/v1/projects").json()["items"]) == 1
    stored = sum(bad.asked and bad.name not in LEFT_TO_THE_REQUEST for bad in CSV_TEXTS)
    assert ScheduleRevision.objects.of(office.company).count() == stored
