"""Job records over HTTP: what fits a zone, what is refused at its field, sent once, withdrawn; how far the job is."""

from __future__ import annotations

import datetime
from typing import Any

import pytest

from tests.cast import Api, Office, make_person
from tests.db.making import cost_golden, give_link, record_job


@pytest.fixture
def estimate(office: Office) -> str:
    return str(cost_golden(office))


def told(estimate: str, **said: Any) -> dict[str, Any]:
    """A record of the worked example: five of A in 2.5 hours."""
    counts = [{"mark": "A", "openings": 5}]
    work = {"estimate": estimate, "day": "2026-03-02", "zone": 1, "step": "both_coats", "hours": "2.5"}
    return work | {"counts": counts} | said


def test_hours_earned_of_the_worked_example(api: Api, estimate: str) -> None:
    # by hand: five of A at 30 minutes earn 2.5 h; told as 3 h the pace is 1.2; of 9.0025 touch hours 6.5025 are left,
    # 7.803 at that pace, and 3 h of set-up: 10.803, a day of two workers (16 h)
    assert api.post("/v1/job-records", told(estimate, hours="3"), Idempotency_Key="a").status_code == 201
    found = api.get(f"/v1/estimates/{estimate}/progress").json()
    assert found["target"] == "9.0025" and found["earned"] == "2.5" and found["spent"] == "3"
    assert found["pace"] == "1.2" and found["left"] == "6.5025" and found["forecast"] == "10.803"
    assert found["forecast_days"] == 1 and found["set_up_target"] == "3"
    assert found["days"] == [
        {"day": "2026-03-02", "earned": "2.5", "spent": "3", "set_up": "0", "earned_so_far": "2.5", "spent_so_far": "3"}
    ]
    assert found["items"][0] | {"earned": "2.5", "spent": "3"} == found["items"][0]
    table = api.get(f"/v1/estimates/{estimate}/progress.csv").content.decode()
    assert table.splitlines()[0].startswith("zone,elevation,storey,step,openings,counted,target,earned,spent")


@pytest.mark.parametrize(
    ("said", "pointer", "code"),
    [
        ({"zone": 99}, "/zone", "not_found"),
        ({"step": "tape"}, "/step", "not_here"),
        ({"day": "2999-01-01"}, "/day", "in_future"),
        ({"hours": "0", "counts": []}, "/hours", "empty"),
        ({"hours": "1.234"}, "/hours", "too_many_places"),
        ({"hours": "-1"}, "/hours", "too_small"),
        ({"counts": [{"mark": "Z", "openings": 1}]}, "/counts/0/mark", "not_found"),
        ({"counts": [{"mark": "A", "openings": 11}]}, "/counts/0/openings", "too_many"),
        ({"counts": [{"mark": "A", "openings": 1}] * 2}, "/counts/1/mark", "given_twice"),
        ({"step": "set_up"}, "/counts/0", "not_counted"),
    ],
)
def test_what_does_not_fit_is_refused_at_its_field(
    api: Api, estimate: str, said: dict[str, Any], pointer: str, code: str
) -> None:
    refused = api.post("/v1/job-records", told(estimate, **said), Idempotency_Key="b")
    assert refused.status_code == 422, refused.content
    assert {"pointer": pointer, "code": code}.items() <= refused.json()["errors"][0].items()
    assert api.get("/v1/job-records").json()["items"] == []


def test_a_record_is_stored_once_and_withdrawn_with_a_reason(api: Api, office: Office, estimate: str) -> None:
    first, again = (api.post("/v1/job-records", told(estimate), Idempotency_Key="same") for _ in range(2))
    assert first.json() == again.json() and len(api.get("/v1/job-records").json()["items"]) == 1
    assert api.post("/v1/job-records", told(estimate)).status_code == 400  # a machine needs its key
    path = first.headers["Location"]
    gone = api.post(f"{path}/withdraw", {"reason": "counted twice"}, If_Match=api.get(path).headers["ETag"])
    assert gone.json()["withdrawn_reason"] == "counted twice"
    assert api.post(f"{path}/withdraw", {"reason": "x"}, If_Match=gone.headers["ETag"]).status_code == 409
    assert api.get(f"/v1/estimates/{estimate}/progress").json()["earned"] == "0"
    viewer = make_person(office, "viewer", "v@office.example")
    assert viewer.get("/v1/job-records").json()["items"][0]["hours"] == "2.50"


CSV = "day,zone,step,hours,mark,openings,note\n"


def test_a_table_is_taken_whole_and_sent_again_once(api: Api, estimate: str) -> None:
    path = f"/v1/estimates/{estimate}/job-records"
    rows = (
        f"{CSV}2026-03-02,1,both_coats,2.5,A,5,\n2026-03-02,1,set_up,1,,,\n2026-03-03,1,both_coats,1,A,2,rain at noon\n"
    )
    sent = {"Content_Type": "text/csv", "Idempotency_Key": "week"}
    made = [api.post(path, rows, **sent) for _ in range(2)]
    assert [one.status_code for one in made] == [201, 201] and made[0].json() == made[1].json()
    assert [one["hours"] for one in made[0].json()["items"]] == ["2.50", "1.00", "1.00"]
    found = api.get(f"/v1/estimates/{estimate}/progress").json()
    assert (found["earned"], found["spent"], found["set_up_spent"]) == ("3.5", "3.5", "1")  # 7 × 30 minutes, by hand
    as_json = {
        "items": [{"day": "2026-03-04", "zone": 1, "step": "both_coats", "hours": 1, "mark": "A", "openings": 1}]
    }
    assert api.post(path, as_json, Idempotency_Key="json").status_code == 201


def test_each_fault_of_a_table_stands_at_its_cell_and_nothing_is_stored(api: Api, estimate: str) -> None:
    path = f"/v1/estimates/{estimate}/job-records"
    rows = f"{CSV}2026-03-02,1,both_coats,2.5,A,99,\n2026-03-02,77,set_up,1,,,\n2026-03-02,1,set_up,1,,,\n"
    refused = api.post(path, rows, Content_Type="text/csv", Idempotency_Key="w")
    assert refused.status_code == 422, refused.content
    places = {(one["line"], one["column"], one["code"]) for one in refused.json()["errors"]}
    assert places == {(2, 6, "too_many"), (3, 2, "not_found")}
    unread = api.post(path, f"{CSV}yesterday,1,set_up,1,,,\n", Content_Type="text/csv", Idempotency_Key="v").json()
    assert [(one["line"], one["column"], one["pointer"]) for one in unread["errors"]] == [(2, 1, "/items/0/day")]
    other = api.post(path, "day,colour\n2026-03-02,red\n", Content_Type="text/csv", Idempotency_Key="u").json()
    assert (1, 2, "unknown_field") in {(one["line"], one["column"], one["code"]) for one in other["errors"]}
    assert api.get("/v1/job-records").json()["items"] == []


def test_records_are_found_by_estimate_and_day(api: Api, office: Office, estimate: str) -> None:
    other = str(cost_golden(office))
    for of, day in ((estimate, "2026-03-02"), (estimate, "2026-03-03"), (other, "2026-03-03")):
        record_job(office, of, day=day)
    for query, count in ((f"?estimate={estimate}", 2), ("?day_from=2026-03-03", 2), ("?day_to=2026-03-02", 1)):
        assert len(api.get(f"/v1/job-records{query}").json()["items"]) == count
    rows = api.get(f"/v1/job-records.csv?estimate={other}").content.decode().splitlines()
    assert len(rows) == 2 and "counts/1/mark" in rows[0]


def test_a_link_shows_its_address_once_and_ends(api: Api, office: Office, estimate: str) -> None:
    made = give_link(office, estimate)
    assert made["site_address"].startswith("/on-site/") and len(made["site_address"]) > 80
    shown = api.get(f"/v1/site-links/{made['id']}")
    assert "site_address" not in shown.json()
    audit = Api(office.approver_key).get("/v1/audit?action=make-site-link").content.decode()
    assert made["site_address"].rpartition("/")[2] not in audit
    far = {"estimate": estimate, "title": "x", "expires_at": "2999-01-01T00:00:00Z"}
    past = far | {"expires_at": (datetime.datetime.now(datetime.UTC) - datetime.timedelta(days=1)).isoformat()}
    for body in (far, past):
        assert api.post("/v1/site-links", body).json()["errors"][0]["pointer"] == "/expires_at"
    assert api.send("DELETE", f"/v1/site-links/{made['id']}", If_Match=shown.headers["ETag"]).status_code == 204
    assert api.get(f"/v1/site-links/{made['id']}").json()["revoked_at"] is not None
