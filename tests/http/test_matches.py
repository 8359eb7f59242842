"""Proposed matches of two revisions over HTTP: confirmed, rejected, changed again, refused whole; who said it, when."""

from __future__ import annotations

import threading
import uuid
from typing import Any

import pytest
from django.db import connection

from estimating.models import LineMatch
from rates.actions import companies
from rates.identity import new_id
from rates.roles import Role
from tests.cast import NOW, Api, Office, make_office, make_person

LINE = {"mark": "W1", "quantity": 4, "width": "36 in", "height": "48 in", "access": "ground", "storey": "L1"}
OTHER = LINE | {"mark": "W2", "width": "60 in", "quantity": 2}
KEPT = LINE | {"mark": "W9", "width": "80 in"}
FIRST = [LINE, OTHER, KEPT]
SECOND = [KEPT, OTHER | {"mark": "B"}, LINE | {"mark": "A"}]  # proposals: 1-1 and 0-2


class Two:
    """A project with two revisions, and what is asked of them."""

    def __init__(self, api: Api) -> None:
        self.api = api
        self.project = api.post("/v1/projects", {"name": "Hall"}).headers["Location"] + "/opening-schedules"
        self.first, self.second = self.add(FIRST), self.add(SECOND)

    def add(self, lines: Any) -> str:
        made = self.api.post(self.project, lines)
        assert made.status_code == 201, made.content
        return str(made.json()["id"])

    @property
    def changes(self) -> str:
        return f"/v1/opening-schedules/{self.second}/changes?from={self.first}"

    def say(self, *pairs: tuple[Any, Any, Any], api: Api | None = None, since: Any = None, **fields: str) -> Any:
        told = [dict(zip(("before", "after", "same"), pair, strict=True)) for pair in pairs]
        path = f"/v1/opening-schedules/{self.second}/matches"
        return (api or self.api).post(path, {"from": since or self.first, "pairs": told}, **fields)


@pytest.fixture
def two(api: Api) -> Two:
    return Two(api)


def states(document: Any) -> list[tuple[int, int, str, str, str]]:
    """The proposals of a document in short."""
    names = ("before", "after", "mark_before", "mark_after", "state")
    return [tuple(p[name] for name in names) for p in document["proposals"]]


def lines(document: Any) -> list[tuple[Any, Any, str, bool]]:
    """The changed lines of a document in short."""
    return [(c["before"], c["after"], " ".join(c["classes"]), c["proposal"]) for c in document["lines"]]


def faults(answer: Any) -> list[tuple[str, str]]:
    """Pointers and codes of a refusal."""
    assert answer.status_code == 422, answer.content
    assert answer.headers["Content-Type"] == "application/problem+json"
    return [(e["pointer"], e["code"]) for e in answer.json()["errors"]]


def test_a_proposal_is_confirmed_and_another_rejected(two: Two, office: Office) -> None:
    found = two.api.get(two.changes).json()
    assert states(found) == [(1, 1, "W2", "B", "proposed"), (0, 2, "W1", "A", "proposed")]
    assert lines(found) == [(1, 1, "renumbered", True), (0, 2, "renumbered", True)]
    assert {(p["decided_by"], p["decided_at"]) for p in found["proposals"]} == {(None, None)}
    answer = two.say((0, 2, True), (1, 1, False))
    assert answer.status_code == 200, answer.content
    found = two.api.get(two.changes).json()
    assert answer.json() == {name: found[name] for name in ("before", "after", "proposals")}
    assert states(found) == [(1, 1, "W2", "B", "rejected"), (0, 2, "W1", "A", "confirmed")]
    assert lines(found) == [(None, 1, "added", False), (0, 2, "renumbered", False), (1, None, "removed", False)]
    assert {p["decided_by"] for p in found["proposals"]} == {str(office.drafter)}
    assert all(p["decided_at"].endswith("Z") for p in found["proposals"])
    assert found["unchanged"] == 1


def test_the_newest_word_counts_and_the_audit_keeps_all(two: Two, office: Office) -> None:
    other = Api(office.approver_key)
    two.say((0, 2, True))
    two.say((0, 2, False), (1, 1, True), api=other)
    found = two.api.get(two.changes).json()
    assert states(found) == [(1, 1, "W2", "B", "confirmed"), (0, 2, "W1", "A", "rejected")]
    assert {p["decided_by"] for p in found["proposals"]} == {str(office.approver)}
    assert LineMatch.objects.of(office.company).count() == 2
    entries = two.api.get(f"/v1/audit?subject={two.second}&action=decide-schedule-matches").json()["items"]
    assert [entry["member"] for entry in entries] == [str(office.drafter), str(office.approver)]

    def told(entry: Any, side: str) -> list[tuple[Any, ...]]:
        names = ("from", "before", "after", "state", "decided_by")
        return [tuple(m[name] for name in names) for m in entry[side]["matches"]]

    one, two_ = entries
    by = (str(office.drafter), str(office.approver))
    assert told(one, "before") == [(two.first, 0, 2, "proposed", None)]
    assert told(one, "after") == [(two.first, 0, 2, "confirmed", by[0])]
    assert told(two_, "before") == [(two.first, 1, 1, "proposed", None), (two.first, 0, 2, "confirmed", by[0])]
    assert told(two_, "after") == [(two.first, 1, 1, "confirmed", by[1]), (two.first, 0, 2, "rejected", by[1])]


def test_the_tag_of_the_changes_moves_with_each_decision_and_answers_304_between(two: Two) -> None:
    tags: list[str] = []
    for pairs in ([], [(0, 2, True)], [(0, 2, False)], [(0, 2, True)]):
        known = tags[-1] if tags else '"none"'
        if pairs:
            assert two.say(*pairs).status_code == 200
        fresh = two.api.get(two.changes, If_None_Match=known)
        tag = fresh.headers["ETag"]
        assert (fresh.status_code, tag[0], tag[-1]) == (200, '"', '"')
        again = two.api.get(two.changes, If_None_Match=f'"other", {tag}')
        assert (again.status_code, again.content, again.headers["ETag"]) == (304, b"", tag)
        tags.append(tag)
    assert len(set(tags)) == 4


def test_the_revision_the_other_way_round_shows_the_same_decisions(two: Two) -> None:
    two.say((0, 2, False), (1, 1, True))
    found = two.api.get(f"/v1/opening-schedules/{two.first}/changes?from={two.second}").json()
    assert states(found) == [(2, 0, "A", "W1", "rejected"), (1, 1, "B", "W2", "confirmed")]
    assert lines(found) == [(None, 0, "added", False), (1, 1, "renumbered", False), (2, None, "removed", False)]


def test_every_fault_is_told_at_once_and_nothing_is_stored(two: Two, office: Office) -> None:
    refused = two.say((0, 2, True), (1, 2, True), (0, 77, False), (2, 0, True))
    assert faults(refused) == [
        ("/pairs/1/after", "given_twice"),
        ("/pairs/1", "not_a_proposal"),
        ("/pairs/2/before", "given_twice"),
        ("/pairs/2/after", "not_found"),
        ("/pairs/3", "not_a_proposal"),
    ]
    assert refused.json()["errors"][0]["line"] == 1
    assert not LineMatch.objects.of(office.company).exists()
    assert two.api.get("/v1/audit?action=decide-schedule-matches").json()["items"] == []
    assert {p["state"] for p in two.api.get(two.changes).json()["proposals"]} == {"proposed"}


def test_a_revision_that_is_no_earlier_one_of_the_project_is_refused(two: Two, office: Office) -> None:
    elsewhere, theirs = Two(two.api), Two(Api(make_office("Stranger").key))
    third = two.add(SECOND)
    twice = ((0, 2, True), (1, 2, True))
    for since, code in (
        (str(new_id()), "not_found"),
        (theirs.first, "not_found"),
        (elsewhere.first, "not_found"),
        (two.second, "not_earlier"),
        (third, "not_earlier"),
    ):
        assert faults(two.say(*twice, since=since)) == [("/from", code), ("/pairs/1/after", "given_twice")]
    unknown = theirs.api.post(f"/v1/opening-schedules/{two.second}/matches", {"from": two.first, "pairs": [PAIR]})
    assert unknown.status_code == 404
    assert not LineMatch.objects.of(office.company).exists()


PAIR = {"before": 0, "after": 2, "same": True}


@pytest.mark.parametrize(
    ("body", "found"),
    [
        ({}, {("/from", "missing"), ("/pairs", "missing")}),
        ({"from": "x", "pairs": []}, {("/from", "not_an_id"), ("/pairs", "wrong_count")}),
        (
            {"from": 7, "pairs": [{"before": -1, "after": "x", "same": "perhaps"}, 3]},
            {
                ("/from", "not_an_id"),
                ("/pairs/0/before", "too_small"),
                ("/pairs/0/after", "not_a_number"),
                ("/pairs/0/same", "not_true_or_false"),
                ("/pairs/1", "not_an_object"),
            },
        ),
        (
            {"from": None, "pairs": {"a": 1}, "x": 1},
            {("/from", "missing"), ("/pairs", "not_a_list"), ("/x", "unknown_field")},
        ),
        ({"from": str(uuid.UUID(int=0)), "pairs": [PAIR | {"before": 10**30}]}, None),
        ({"from": str(uuid.UUID(int=0)), "pairs": [PAIR | {"before": 1.5}]}, None),
        ({"from": str(uuid.UUID(int=0)), "pairs": [PAIR] * 2001}, {("/pairs", "wrong_count")}),
        ([PAIR], {("", "not_an_object")}),
    ],
)
def test_a_body_that_does_not_fit_is_refused(two: Two, body: Any, found: set[tuple[str, str]] | None) -> None:
    told = set(faults(two.api.post(f"/v1/opening-schedules/{two.second}/matches", body)))
    assert found is None or told == found


def test_a_key_gives_the_first_answer_again(two: Two, office: Office) -> None:
    first = two.say((0, 2, True), Idempotency_Key="k")
    two.say((0, 2, False))
    again = two.say((0, 2, True), Idempotency_Key="k")
    assert (again.status_code, again.content, again.headers["Idempotent-Replayed"]) == (200, first.content, "true")
    assert states(two.api.get(two.changes).json())[1][-1] == "rejected", "what is given again is not done again"
    assert two.say((1, 1, True), Idempotency_Key="k").status_code == 422


@pytest.mark.parametrize("role", Role.values)
def test_estimators_and_above_decide_and_everybody_looks(two: Two, office: Office, role: str) -> None:
    person = make_person(office, role, "p@office.example")
    answer = two.say((0, 2, True), api=person)
    may = role not in ("viewer", "sales")
    assert answer.status_code == (200 if may else 403)
    found = person.get(two.changes)
    assert found.status_code == 200
    assert states(found.json())[1][-1] == ("confirmed" if may else "proposed")


def test_a_key_needs_the_scope_of_its_own(two: Two, office: Office) -> None:
    for scopes, status in ((["read", "estimate", "costs"], 403), (["matches"], 200)):
        made = companies.make_key(company=office.company, member=office.drafter, title="k", scopes=scopes, now=NOW)
        assert two.say((0, 2, True), api=Api(made.secret)).status_code == status


def test_many_at_once_leave_one_word_and_an_entry_each(two: Two, office: Office) -> None:
    answers: list[int] = []

    def send(same: bool) -> None:
        answers.append(two.say((0, 2, same), (1, 1, not same)).status_code)
        connection.close()

    threads = [threading.Thread(target=send, args=(n % 2 == 0,)) for n in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert answers == [200] * 8
    rows = LineMatch.objects.of(office.company).values_list("line_before", "same")
    assert len(rows) == 2 and len({same for _, same in rows}) == 2, "both of one sender"
    entries = two.api.get("/v1/audit?action=decide-schedule-matches").json()["items"]
    sides = [[[m["state"] for m in entry[side]["matches"]] for side in ("before", "after")] for entry in entries]
    assert sides[0][0] == ["proposed", "proposed"]
    assert [before for before, _ in sides[1:]] == [after for _, after in sides[:-1]]
