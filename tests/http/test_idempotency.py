"""An Idempotency-Key's first answer is given again; nothing is done twice; no secret is kept."""

from __future__ import annotations

import datetime
import threading
import uuid
from collections import Counter
from typing import Any

from django.db import connection

from estimating.models import Project, Run
from estimating.work import queue
from rates.actions import idempotency
from rates.models import AccessKey, IdempotencyRecord
from tests.cast import Api, Office, make_person
from tests.db.making import golden_request


def test_the_first_answer_is_given_again(api: Api, office: Office) -> None:
    first = api.estimate(golden_request(office), key="k1")
    again = api.estimate(golden_request(office), key="k1")
    assert (first.status_code, again.status_code, again.content) == (201, 201, first.content)
    for name in ("Location", "ETag", "Content-Type", "Preference-Applied"):
        assert again.headers[name] == first.headers[name]
    assert again.headers["Idempotent-Replayed"] == "true"
    assert Run.objects.count() == 1


def test_a_202_is_given_again_as_it_was(api: Api, office: Office) -> None:
    first = api.estimate(golden_request(office), wait=None, key="k1")
    again = api.estimate(golden_request(office), wait=None, key="k1")
    assert (first.status_code, again.status_code, again.content) == (202, 202, first.content)
    assert (first.json()["state"], Run.objects.count()) == ("queued", 1)


def change_role(api: Api, email: str, role: str) -> None:
    (member,) = (one for one in api.get("/v1/members").json()["items"] if one["email"] == email)
    path = f"/v1/members/{member['id']}"
    assert api.send("PATCH", path, {"role": role}, If_Match=api.get(path).headers["ETag"]).status_code == 200


def test_a_replay_shows_what_the_caller_may_see_now(api: Api, office: Office) -> None:
    person = make_person(office, "estimator", "ann@office.example")
    first = person.estimate(golden_request(office), key="k1")
    compared = {"before": first.json()["id"], "after": first.json()["id"]}
    shown = person.post("/v1/comparisons", compared, Idempotency_Key="k2", Prefer="wait=10")
    assert first.json()["build_up"] and "cost" in first.json()["totals"] and "rate_rows" in shown.json()
    change_role(api, "ann@office.example", "sales")
    again = person.estimate(golden_request(office), key="k1")
    assert (again.status_code, again.headers["Idempotent-Replayed"]) == (201, "true")
    now = person.get(f"/v1/estimates/{first.json()['id']}")
    assert again.json() == now.json() and again.json()["build_up"] == [] and "cost" not in again.json()["totals"]
    assert again.headers["ETag"] == now.headers["ETag"] != first.headers["ETag"]
    again = person.post("/v1/comparisons", compared, Idempotency_Key="k2", Prefer="wait=10")
    assert again.json() == person.get(f"/v1/comparisons/{shown.json()['id']}").json()
    assert "rate_rows" not in again.json()
    twice = person.estimate(golden_request(office), key="k1")
    assert twice.json() == now.json()
    change_role(api, "ann@office.example", "viewer")
    assert person.estimate(golden_request(office), key="k1").status_code == 403
    change_role(api, "ann@office.example", "estimator")
    assert person.estimate(golden_request(office), key="k1").content == first.content


def test_another_body_is_refused(api: Api, office: Office) -> None:
    api.estimate(golden_request(office), key="k1")
    other = api.estimate(golden_request(office, work_date="2027-03-16"), key="k1")
    assert (other.status_code, other.json()["type"]) == (422, "/v1/docs#problem-key_reused")


def test_two_keys_of_a_company_do_not_meet(api: Api, office: Office) -> None:
    other = Api(office.approver_key)
    ids = {client.post("/v1/projects", {"name": "a"}, Idempotency_Key="k1").json()["id"] for client in (api, other)}
    assert len(ids) == 2


def test_a_refused_request_may_be_mended_under_the_same_key(api: Api, office: Office) -> None:
    assert api.estimate(golden_request(office, method="glue"), key="k1").status_code == 422
    assert api.estimate(golden_request(office), key="k1").status_code == 201


def test_the_secret_of_a_key_is_never_kept(api: Api) -> None:
    body = {"title": "machine", "scopes": ["read"]}
    first = api.post("/v1/access-keys", body, Idempotency_Key="k1")
    again = api.post("/v1/access-keys", body, Idempotency_Key="k1")
    assert (first.status_code, again.status_code) == (201, 409)
    assert again.json()["type"] == "/v1/docs#problem-secret_shown_once"
    secret = first.json()["access_key"].split("_", 2)[2]
    assert secret.encode() not in again.content
    assert AccessKey.anywhere.filter(title="machine").count() == 1
    rows = IdempotencyRecord.objects.of(company_of(api)).values_list("body", flat=True)
    assert list(rows) == [None]


def company_of(api: Api) -> uuid.UUID:
    return uuid.UUID(api.get("/v1/company").json()["id"])


def test_a_request_in_flight_is_409(api: Api, office: Office) -> None:
    api.estimate(golden_request(office), key="k1")
    IdempotencyRecord.objects.of(office.company).update(status=None)
    again = api.estimate(golden_request(office), key="k1")
    assert (again.status_code, again.json()["type"]) == (409, "/v1/docs#problem-in_flight")
    assert again.headers["Retry-After"] == "1"


def test_when_the_sender_died_the_run_answers(api: Api, office: Office) -> None:
    first = api.estimate(golden_request(office), key="k1")
    hours_ago = datetime.datetime.now(datetime.UTC) - datetime.timedelta(hours=1)
    IdempotencyRecord.objects.of(office.company).update(status=None, created_at=hours_ago)
    again = api.estimate(golden_request(office), key="k1")
    assert (again.status_code, again.json()["id"]) == (201, first.json()["id"])
    assert api.estimate(golden_request(office), key="k1").headers["Idempotent-Replayed"] == "true"
    assert Run.objects.count() == 1


def test_record_and_run_are_stored_together_or_not_at_all(api: Api, office: Office, monkeypatch: Any) -> None:
    def break_down(**_: object) -> None:
        raise ZeroDivisionError

    with monkeypatch.context() as patch:
        patch.setattr(idempotency, "await_run", break_down)
        assert api.estimate(golden_request(office), key="k1").status_code == 500
    assert (Run.objects.count(), IdempotencyRecord.objects.of(office.company).count()) == (0, 0)
    with monkeypatch.context() as patch:
        patch.setattr(queue, "start_lease", break_down)
        assert api.estimate(golden_request(office), key="k1").status_code == 500
    assert (Run.objects.count(), IdempotencyRecord.objects.of(office.company).count()) == (0, 0)


def test_simultaneous_senders_make_one(api: Api, office: Office) -> None:
    answers: list[Any] = []

    def send(key: str) -> None:
        sender = Api(office.key)
        answers.append((key, sender.post("/v1/projects", {"name": key}, Idempotency_Key=key)))
        connection.close()

    threads = [threading.Thread(target=send, args=(f"k{n % 5}",)) for n in range(40)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert Counter(answer.status_code for _, answer in answers) == {201: 40}
    assert len({(key, answer.content) for key, answer in answers}) == 5
    assert Project.objects.of(office.company).count() == 5


def test_old_records_are_forgotten(api: Api, office: Office) -> None:
    api.post("/v1/projects", {"name": "a"}, Idempotency_Key="k1")
    now = datetime.datetime.now(datetime.UTC)
    assert idempotency.forget_old(company=office.company, now=now, most=9) == 0
    assert idempotency.forget_old(company=office.company, now=now + datetime.timedelta(hours=25), most=9) == 0
    assert idempotency.forget_old(company=office.company, now=now + datetime.timedelta(hours=49), most=9) == 1
