"""The page of an estimate's assumptions: what was entered needs no signature, groups ticked whole, trade words."""

from __future__ import annotations

import re
from typing import Any

import pytest

from tests.cast import Api, Office
from tests.http.test_assumptions import new_project, price, take_in
from tests.http.visitor import Job

HAND = "MARK,QTY,WIDTH,HEIGHT,TYPE\nW1,2,3'-0\",4'-0\",window\nW1,5,3'-0\",4'-0\",window\nD1,1,3'-0\",7'-0\",door\n"
ANSWERS = {"duplicate_line": "keep_all", "access_missing": "step_ladder", "door_sides": "all_sides"}


@pytest.fixture
def estimate(api: Api, office: Office) -> str:
    """An estimate of a schedule with three questions answered; site and crew say method, depth, barrier."""
    made = take_in(api, new_project(api), HAND)
    asked = api.get(f"/v1/opening-schedules/{made['id']}/questions?open=true").json()["items"]
    answers = {one["id"]: ANSWERS.get(one["code"], "confirm") for one in asked}
    answered = api.post(f"/v1/opening-schedules/{made['id']}/answers", {"answers": answers})
    assert answered.status_code == 201, answered.content
    return price(api, office, answered.json()["id"])


def sign_offs(api: Api, estimate: str) -> dict[str, Any]:
    found: dict[str, Any] = api.get(f"/v1/estimates/{estimate}/sign-offs").json()
    return found


def test_what_was_entered_for_the_estimate_waits_for_nobody(api: Api, office: Office, estimate: str) -> None:
    found = {one["field"]: one for one in sign_offs(api, estimate)["items"]}
    for field in ("method", "treated_depth", "wall_barrier"):
        assert (found[field]["source"], found[field]["state"]) == ("request", "entered")
    text = Job(office).person("estimator").see(f"/estimates/{estimate}/assumptions")
    row = text[text.index("give no method of their own") :]
    row = row[: row.index("</tr>")]
    assert "entered for this estimate" in row and "fluid-applied" in row and "open" not in row.replace("opening", "")
    assert found["method"]["assumption"] not in text, "nothing to tick"


def test_no_code_stands_on_the_page(office: Office, estimate: str) -> None:
    text = Job(office).person("estimator").see(f"/estimates/{estimate}/assumptions")
    words = re.sub(r"<[^>]*>", " ", text[text.index("<main") :])
    assert not re.findall(r"\b[a-z]+_[a-z_]+\b", words)
    for said in ("all four sides", "keep all of them", "step ladder", "Nobody entered what decides how much mesh"):
        assert said in words, said


def test_one_tick_signs_the_whole_of_a_group_and_once_however_often_it_is_sent(
    api: Api, office: Office, estimate: str
) -> None:
    person, path = Job(office).person("estimator"), f"/estimates/{estimate}/assumptions"
    before = sign_offs(api, estimate)
    person.see(path)
    typed = person.fields() | {"whole": "unknown"}
    person.send_again(path, typed)
    after = sign_offs(api, estimate)
    signed = {one["assumption"] for one in after["items"] if one["state"] == "signed"}
    waiting = [one for one in before["items"] if one["state"] == "open"]
    assert signed == {one["assumption"] for one in waiting if one["moves"] == "unknown"} != set()
    assert after["open"] == len(waiting) - len(signed)
    person.send_again(path, typed)
    assert sign_offs(api, estimate) == after


def test_what_moves_the_price_says_by_how_much_and_is_ticked_one_by_one(
    api: Api, office: Office, estimate: str
) -> None:
    moving = [one for one in sign_offs(api, estimate)["items"] if one["moves"] == "price"]
    assert all(one["stake"] for one in moving)
    person, path = Job(office).person("estimator"), f"/estimates/{estimate}/assumptions"
    text = person.see(path)
    assert ("Known to move the price" in text) == bool(moving)
    refused = person.send(path, 422, whole="price")
    assert "tick the assumptions" in refused.casefold()


def test_a_doubt_that_the_schedule_answered_is_no_open_question_of_the_price(office: Office, estimate: str) -> None:
    text = Job(office).person("estimator").see(f"/estimates/{estimate}")
    remark = text[text.index("The same mark, place, size and source") :].split("</li>")[0]
    assert "Answered on the schedule: keep all of them." in remark
    assert ">question<" not in text[text.index("<h2>Remarks") :].split("</ul>")[0]


def test_tabs_stand_in_groups_and_name_what_holds_nothing(office: Office, estimate: str) -> None:
    text = Job(office).person("estimator").see(f"/estimates/{estimate}/hours")
    tabs = text[text.index('class="tabs grouped"') :].split("</nav>")[0]
    assert [part for part in ("For the yard", "For the site", "To sign") if part not in tabs] == []
    assert "/alternates" not in tabs and "/per-area" not in tabs
    nothing = text[text.index("Not part of this estimate:") :].split("</p>")[0]
    assert "/alternates" in nothing and "/per-area" in nothing
