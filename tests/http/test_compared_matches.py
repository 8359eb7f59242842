"""Comparisons of estimates from stored schedules: computed with what was decided when they were asked for; so kept."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from estimating.models import Comparison
from estimating.work.execute import execute
from estimating.work.queue import claim_next
from tests.cast import Api, Office, make_person
from tests.db.making import golden_request
from tests.http.test_matches import LINE, Two


class Compared(Two):
    """Two revisions with a costed estimate of each."""

    def __init__(self, api: Api, office: Office) -> None:
        super().__init__(api)
        request = {name: value for name, value in golden_request(office).items() if name != "openings"}
        self.request = request
        self.one, self.two = (self.cost(schedule=id) for id in (self.first, self.second))

    def cost(self, **fields: Any) -> str:
        made = self.api.estimate(self.request | fields)
        assert made.status_code == 201, made.content
        return str(made.json()["id"])

    def compare(self, before: str, after: str, **fields: Any) -> Any:
        told = {"before": before, "after": after} | fields
        made = self.api.post("/v1/comparisons", told, Prefer="wait=10")
        assert (made.status_code, made.json()["state"]) == (201, "costed"), made.content
        return made.json()


@pytest.fixture
def two(api: Api, office: Office) -> Compared:
    return Compared(api, office)


def kinds(document: Any) -> list[tuple[Any, Any, str]]:
    """Which lines changed how."""
    return [(x["line_before"], x["line_after"], " ".join(x["classes"])) for x in document["lines"][:-1]]


def without_decisions(document: Any) -> dict[str, Any]:
    """What no decision may touch: prices and causes."""
    kept = {name: document[name] for name in ("before", "after", "change", "rate_rows", "currency")}
    return kept | {"causes": [(cause["cause"], cause["amount"]) for cause in document["causes"]]}


def test_a_rejected_pair_is_removed_and_added_and_all_still_sums(two: Compared, office: Office) -> None:
    plain = two.compare(two.one, two.two)
    assert plain["matches"] == []
    assert kinds(plain) == [(2, 2, "renumbered"), (1, 3, "renumbered")]
    two.say((0, 2, False), (1, 1, True))
    found = two.compare(two.one, two.two)
    assert kinds(found) == [(2, 2, "renumbered"), (None, 3, "added"), (1, None, "removed")]
    assert without_decisions(found) == without_decisions(plain)
    for document in (plain, found):
        assert sum(Decimal(x["amount"]) for x in document["lines"]) == Decimal(document["causes"][0]["amount"])
    assert [(m["line_before"], m["line_after"], m["state"], m["decided_by"]) for m in found["matches"]] == [
        (2, 2, "confirmed", str(office.drafter)),
        (1, 3, "rejected", str(office.drafter)),
    ]
    amounts = {x["classes"][0]: Decimal(x["amount"]) for x in found["lines"]}
    assert amounts["added"] > 0 > amounts["removed"] and amounts["renumbered"] == 0


def test_a_comparison_keeps_what_it_was_computed_with(two: Compared) -> None:
    two.say((0, 2, False))
    first = two.compare(two.one, two.two)
    two.say((0, 2, True))
    second = two.compare(two.one, two.two)
    assert two.api.get(f"/v1/comparisons/{first['id']}").json() == first
    assert [m["state"] for m in first["matches"]] == ["rejected"]
    assert [m["state"] for m in second["matches"]] == ["confirmed"]
    assert kinds(first) != kinds(second) == [(2, 2, "renumbered"), (1, 3, "renumbered")]


def work() -> None:
    """What a worker does with the one run that waits."""
    claim = claim_next()
    assert claim is not None and execute(claim) == "costed"


def test_what_is_decided_while_a_comparison_waits_does_not_reach_it(two: Compared, settings: Any) -> None:
    two.say((0, 2, False))
    settings.SMALL_RUN_LINES = 0
    queued = two.api.post("/v1/comparisons", {"before": two.one, "after": two.two})
    assert queued.status_code == 202 and [m["state"] for m in queued.json()["matches"]] == ["rejected"]
    two.say((0, 2, True))
    work()
    found = two.api.get(queued.headers["Location"]).json()
    assert [m["state"] for m in found["matches"]] == ["rejected"]
    assert kinds(found) == [(2, 2, "renumbered"), (None, 3, "added"), (1, None, "removed")]


def test_the_other_way_round(two: Compared) -> None:
    two.say((0, 2, False))
    found = two.compare(two.two, two.one)
    assert kinds(found) == [(None, 1, "added"), (2, 2, "renumbered"), (3, None, "removed")]
    assert [(m["line_before"], m["line_after"], m["state"]) for m in found["matches"]] == [(3, 1, "rejected")]


def test_other_assumptions_on_either_side_leave_the_decisions_on_their_lines(two: Compared) -> None:
    two.say((0, 2, False), (1, 1, True))
    deeper = two.cost(schedule=two.second, treated_depth="8 in", length_unit="mm", only_external=True)
    found = two.compare(two.one, deeper, attribution="in_order", smooth=True)
    assert kinds(found) == [(2, 2, "renumbered"), (None, 3, "added"), (1, None, "removed")]
    assert sum(Decimal(x["amount"]) for x in found["causes"]) == Decimal(found["change"])


def test_openings_that_came_inline_know_of_no_decision(two: Compared, office: Office) -> None:
    two.say((0, 2, False))
    inline = two.cost(openings=[LINE | {"mark": "A"}])
    assert two.compare(two.one, inline)["matches"] == []
    assert two.compare(two.two, two.two)["matches"] == []


def test_a_comparison_from_before_there_were_decisions_is_computed_and_shown(
    two: Compared, office: Office, settings: Any
) -> None:
    two.say((0, 2, False))
    settings.SMALL_RUN_LINES = 0
    path = two.api.post("/v1/comparisons", {"before": two.one, "after": two.two}).headers["Location"]
    rows = Comparison.objects.of(office.company)
    assert rows.update(choices={"attribution": "even_handed", "order": None, "smooth": False}) == 1
    work()
    found = two.api.get(path).json()
    assert (found["matches"], kinds(found)) == ([], [(2, 2, "renumbered"), (1, 3, "renumbered")])


def test_sales_see_the_decisions_of_a_comparison(two: Compared, office: Office) -> None:
    two.say((0, 2, False))
    made = two.compare(two.one, two.two)
    person = make_person(office, "sales", "s@office.example")
    assert person.get(f"/v1/comparisons/{made['id']}").json()["matches"] == made["matches"]
